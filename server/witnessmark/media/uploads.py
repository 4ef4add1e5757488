"""Uploads that may be broken off at any byte and go on later: the core of tus 1.0, without HTTP.

An upload is named by what it will be, `<sha256>.<length>`, so a phone that forgot everything but the file can
go on. The partial file is the whole state: its length is how far the upload has come. It lies in its sender's own
folder: nobody can spoil what another has half sent, and how much each has under way is counted by looking. Nothing
is locked while waiting for the network. Instead each piece is appended only if the file still ends where this
request stopped; of two requests for one upload the slower one gets an error. Several server processes may share the
folder.

Bytes count as received when they are in the file; the file counts as here only when its length and its SHA-256
are the ones announced. A body that ends early looks like a normal end to a WSGI application, so nothing here
ever concludes anything from the end of a body.
"""

from __future__ import annotations

import contextlib
import fcntl
import os
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import Engine

from witnessmark.config import Settings
from witnessmark.db import reading, writing
from witnessmark.media import room
from witnessmark.media.errors import MediaRefusal
from witnessmark.media.hashing import Running, checked
from witnessmark.media.sniff import HEAD_BYTES
from witnessmark.media.store import Folder, folder, has, hash_file, is_sha256, register
from witnessmark.trade.ground.sentences import say

LARGEST = 2 << 30  # one original, bytes: an hour of video; more is a mistake
# Smaller ones cost a change of threads each; what a broken connection leaves of one is stored all the same.
PIECE = 1 << 20
EXPIRES_AFTER = 14 * 24 * 3600  # seconds without a byte
# What one sender may have under way: a phone sends two files at a time, and leaves a few where the signal broke off.
MOST_OPEN = 40
MOST_OPEN_BYTES = 2 * LARGEST  # as announced, so that room once promised is there
# Seconds without a byte after which an upload gives way to another of the same sender that finds no room.
GIVES_WAY_AFTER = 3600


@dataclass(frozen=True)
class Upload:
    """What will be here when the upload is done. `owner`: the id of the phone or person who sends it."""

    sha256: str
    length: int
    owner: str = ""

    @property
    def name(self) -> str:
        return f"{self.sha256}.{self.length}"


@dataclass(frozen=True)
class Progress:
    """How far an upload has come. `kind` is the type the server found, once the file is here."""

    offset: int
    here: bool
    expires: float | None = None  # Unix time, None once the file is here
    kind: str | None = None


def named(name: str, owner: str = "") -> Upload:
    """The upload of `owner` that `<sha256>.<length>` names. Raises MediaRefusal 404 for anything else."""
    sha256, _, length = name.partition(".")
    if not is_sha256(sha256) or not length.isascii() or not length.isdigit() or len(length) > 12:
        raise MediaRefusal(404, "no_such_upload", say("server.media.bad_name"))
    return Upload(sha256, int(length), owner)


class Uploads:
    """The uploads of one data folder, seen from one process."""

    def __init__(self, settings: Settings, engine: Engine, reserve: int | None = None):
        self.engine = engine
        self.shelf: Folder = folder(settings)
        self.partial = settings.uploads
        self.reserve = reserve
        self._running = Running()
        for needed in (self.partial, self.shelf.root):
            needed.mkdir(parents=True, exist_ok=True)

    def create(self, upload: Upload) -> Progress:
        """Begins an upload, or finds it again.

        Raises MediaRefusal 413 (too long), 429 (its sender has too much under way) or 507 (disk full).
        """
        if upload.length > LARGEST:
            raise MediaRefusal(
                413,
                "too_long",
                say("server.media.file_too_long", length=upload.length, most=LARGEST),
            )
        part = self._part(upload)
        if self._is_here(upload):
            part.unlink(missing_ok=True)  # another sender was quicker
            return Progress(upload.length, True)
        part.parent.mkdir(exist_ok=True)
        if not part.exists():
            self._check_open(upload)
        room.check(self.partial, upload.length - (part.stat().st_size if part.exists() else 0), self.reserve)
        fd = os.open(part, os.O_RDWR | os.O_CREAT, 0o600)
        try:
            os.utime(fd)
            size = os.fstat(fd).st_size
        finally:
            os.close(fd)
        return self._settled(upload) if size == upload.length else Progress(size, False, time.time() + EXPIRES_AFTER)

    def progress(self, upload: Upload) -> Progress:
        """How far it has come. Raises MediaRefusal 404 when the upload was never begun, or was swept away."""
        try:
            part = self._part(upload).stat()
        except FileNotFoundError:
            if self._is_here(upload):
                return Progress(upload.length, True)
            raise _unknown(upload) from None
        if part.st_size == upload.length:
            return self._settled(upload)
        return Progress(part.st_size, False, part.st_mtime + EXPIRES_AFTER)

    def append(
        self,
        upload: Upload,
        offset: int,
        read: Callable[[int], bytes],
        announced: int | None,
        checksum: tuple[str, bytes] | None = None,
    ) -> Progress:
        """Adds what `read` gives, up to `announced` bytes; when the file is complete, checks it and keeps it.

        Raises MediaRefusal: 404 not begun, 409 the upload is not at `offset` (or another sender overtook),
        413 more than was announced at creation, 460 a checksum differs, 507 the disk is full.
        After 460 for the whole file the partial is thrown away; after 460 for a piece only that piece is.
        """
        try:
            fd = os.open(self._part(upload), os.O_RDWR)
        except FileNotFoundError:
            if self._is_here(upload):
                raise _elsewhere(upload.length) from None
            raise _unknown(upload) from None
        try:
            if (size := os.fstat(fd).st_size) != offset:
                raise _elsewhere(size)
            left = upload.length - offset
            if announced is not None and announced > left:
                raise MediaRefusal(
                    413, "beyond_the_end", say("server.media.beyond_the_end", sent=announced, missing=left)
                )
            room.check(self.partial, left, self.reserve)
            running = self._running.take(fd, upload.name, offset)
            pieces = _pieces(read, left if announced is None else announced)
            if checksum:
                pieces = iter([checked(pieces, announced, checksum)])
            at = offset
            for piece in pieces:
                # Others' uploads grow meanwhile: what was free at the beginning may be gone.
                room.check(self.partial, len(piece), self.reserve)
                _add(fd, at, piece)
                running.update(piece)
                at += len(piece)
            if at == upload.length:
                return self._finish(fd, upload, running)
            self._running.give(fd, upload.name, at, running)
            return Progress(at, False, time.time() + EXPIRES_AFTER)
        except OSError as reason:
            if reason.errno in room.FULL:
                raise room.full() from reason
            raise
        finally:
            os.close(fd)

    def sweep(self, older_than: float = EXPIRES_AFTER) -> int:
        """Throws away partial files that have not grown for `older_than` seconds; returns how many."""
        gone = 0
        for part in [*self.partial.glob("*"), *self.partial.glob("*/*")]:
            gone += part.is_file() and _cleared(part, older_than)
        return gone

    def _finish(self, fd: int, upload: Upload, running) -> Progress:
        """The order matters: bytes checked, bytes synced, name synced, row committed; only then it is here."""
        part = self._part(upload)
        with _exclusive_lock(fd):
            if not _still_named(fd, part):
                raise _elsewhere(upload.length if self.shelf.has(upload.sha256) else 0)
            if running.hexdigest() != upload.sha256:
                part.unlink()
                raise MediaRefusal(
                    460,
                    "hash_differs",
                    say("server.media.arrived_differs", length=upload.length, file=upload.sha256[:12]),
                    upload.sha256,
                )
            head = os.pread(fd, HEAD_BYTES, 0)
            os.fsync(fd)
            self.shelf.place(part, upload.sha256)
            # Only now: a partial that a crash left behind has to be opened for writing again.
            os.fchmod(fd, 0o444)
        with writing(self.engine) as conn:
            kind = register(conn, upload.sha256, upload.length, head)
        return Progress(upload.length, True, None, kind)

    def _settled(self, upload: Upload) -> Progress:
        """Finishes an upload whose bytes are all there: an empty file, or the server died before the check."""
        try:
            fd = os.open(self._part(upload), os.O_RDWR)
        except FileNotFoundError:
            return self.progress(upload)
        try:
            return self._finish(fd, upload, self._running.read_again(fd, upload.length))
        except MediaRefusal:
            # Another sender was just finishing it.
            if self._is_here(upload):
                return Progress(upload.length, True)
            raise
        finally:
            os.close(fd)

    def _is_here(self, upload: Upload) -> bool:
        path = self.shelf.path(upload.sha256)
        if not path.is_file():
            return False
        with reading(self.engine) as conn:
            if has(conn, upload.sha256):
                return path.stat().st_size == upload.length
        # In its place but not in the register: the server died between the two. Look at the bytes again.
        if path.stat().st_size != upload.length or hash_file(path) != upload.sha256:
            return False
        with path.open("rb") as stream, writing(self.engine) as conn:
            register(conn, upload.sha256, upload.length, stream.read(HEAD_BYTES))
        return True

    def _part(self, upload: Upload) -> Path:
        return self.partial / upload.owner / f"{upload.name}.part"

    def _check_open(self, upload: Upload) -> None:
        """Raises MediaRefusal 429 when the sender has too much under way to begin another; what it has left alone for
        a while gives way first."""
        open_parts = _open_parts(self._part(upload).parent)
        while open_parts and (
            len(open_parts) >= MOST_OPEN or sum(open_parts.values()) + upload.length > MOST_OPEN_BYTES
        ):
            oldest = next(iter(open_parts))
            if not _cleared(oldest, GIVES_WAY_AFTER):
                words = say("server.media.too_much_open", count=len(open_parts))
                raise MediaRefusal(429, "too_much_open", words, upload.name, room.RETRY_AFTER)
            del open_parts[oldest]


def _open_parts(folder: Path) -> dict[Path, int]:
    """A sender's partial files with the lengths announced, the one that has not grown for longest first."""
    parts = []
    for part in folder.glob("*.part"):
        with contextlib.suppress(FileNotFoundError):
            parts.append((part.stat().st_mtime, part))
    return {part: int(part.name.split(".")[1]) for _, part in sorted(parts)}


def _cleared(part: Path, older_than: float) -> bool:
    """Throws a partial file away if it has not grown for `older_than` seconds; returns whether it did."""
    with _opened(part) as fd:
        if fd is None or time.time() - os.fstat(fd).st_mtime <= older_than:
            return False
        part.unlink(missing_ok=True)
        return True


def _pieces(read: Callable[[int], bytes], most: int) -> Iterator[bytes]:
    while most > 0 and (piece := read(min(PIECE, most))):
        yield piece
        most -= len(piece)


def _add(fd: int, at: int, piece: bytes) -> None:
    with _exclusive_lock(fd):
        if (size := os.fstat(fd).st_size) != at:
            raise _elsewhere(size)
        view = memoryview(piece)
        while view:
            done = os.pwrite(fd, view, at)
            view, at = view[done:], at + done


@contextmanager
def _exclusive_lock(fd: int) -> Iterator[None]:
    """Holds this file against every other process and thread that opened it for itself."""
    fcntl.flock(fd, fcntl.LOCK_EX)
    try:
        yield
    finally:
        fcntl.flock(fd, fcntl.LOCK_UN)


@contextmanager
def _opened(part: Path) -> Iterator[int | None]:
    """The partial file, held; None when it is gone meanwhile."""
    try:
        fd = os.open(part, os.O_RDONLY)
    except FileNotFoundError:
        yield None
        return
    try:
        with _exclusive_lock(fd):
            yield fd if _still_named(fd, part) else None
    finally:
        os.close(fd)


def _still_named(fd: int, part: Path) -> bool:
    """False when somebody finished or threw away this partial while we were reading from the network."""
    try:
        return os.path.samestat(os.fstat(fd), part.stat())
    except FileNotFoundError:
        return False


def _unknown(upload: Upload) -> MediaRefusal:
    return MediaRefusal(
        404, "no_such_upload", say("server.media.no_such_upload"),
        upload.name,
    )  # fmt: skip


def _elsewhere(size: int) -> MediaRefusal:
    return MediaRefusal(409, "offset_differs", say("server.media.other_offset", size=size))
