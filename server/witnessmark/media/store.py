"""The originals: files named by the SHA-256 of their bytes, written once and never changed.

`Folder` is the only thing that knows where bytes lie; an object store would offer the same five methods.
A file is 'here' when its bytes, its name and its row are all safe on the disk, in that order. A crash between
any two of these leaves either a partial upload or a file without a row; both are found again.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
import secrets
from collections.abc import Iterable
from pathlib import Path
from typing import BinaryIO

from sqlalchemy import Connection, Engine, delete, select
from sqlalchemy.dialects import postgresql, sqlite

from witnessmark.config import Settings
from witnessmark.db import now, reading, writing
from witnessmark.media.errors import MediaRefusal, OriginalMissing
from witnessmark.media.sniff import HEAD_BYTES, PICTURES, sniff
from witnessmark.media.tables import media
from witnessmark.trade.ground.sentences import say

HEX = frozenset("0123456789abcdef")
READ_BYTES = 1 << 20


def is_sha256(text: object) -> bool:
    """True for 64 lower-case hex digits: the only thing that is ever turned into a path."""
    return isinstance(text, str) and len(text) == 64 and HEX.issuperset(text)


class Folder:
    """Originals in a folder of a local disk, `ab/<sha256>`: few folders, so that few need syncing."""

    def __init__(self, root: Path):
        self.root = root
        self._safe: set[Path] = set()  # folders whose own names are known to be on the disk

    def path(self, sha256: str) -> Path:
        """Where the file lies or would lie. Raises ValueError for anything that is not a SHA-256."""
        if not is_sha256(sha256):
            raise ValueError(f"not a SHA-256 in lower-case hex: {sha256!r}")
        return self.root / sha256[:2] / sha256

    def has(self, sha256: str) -> bool:
        """True when a file of that name is there (its bytes were checked when it was placed)."""
        return self.path(sha256).is_file()

    def open(self, sha256: str) -> BinaryIO:
        """The bytes, for reading. Raises OriginalMissing."""
        try:
            return self.path(sha256).open("rb")
        except FileNotFoundError:
            raise OriginalMissing(sha256) from None

    def place(self, finished: Path, sha256: str) -> Path:
        """Moves a file whose bytes are checked AND already synced to its place, and syncs the way to it.

        Requires: same file system. After the return a power cut does not lose the file.
        """
        target = self.path(sha256)
        folder = target.parent
        with contextlib.suppress(FileExistsError):
            folder.mkdir()
        os.replace(finished, target)
        sync_folder(folder)
        # A new folder is only there after a crash if the folder above it was synced as well. Whether another process
        # that just made it has come that far, nobody knows: so each makes sure once.
        if folder not in self._safe:
            sync_folder(self.root)
            self._safe.add(folder)
        return target

    def names(self) -> Iterable[str]:
        """The SHA-256 of every file in the folder, in no order. For sweeps and the doctor."""
        return (p.name for p in self.root.glob("??/*") if is_sha256(p.name))


def folder(settings: Settings) -> Folder:
    """The store these settings name."""
    return Folder(settings.data / "media")


def path_of(settings: Settings, sha256: str) -> Path:
    """Where the original with this SHA-256 lies or would lie."""
    return folder(settings).path(sha256)


def open_original(settings: Settings, sha256: str) -> BinaryIO:
    """The bytes of an original. Raises OriginalMissing when they are not here."""
    return folder(settings).open(sha256)


def has(conn: Connection, sha256: str) -> bool:
    """True when the original is here: bytes checked, synced and in the register."""
    return conn.execute(select(media.c.sha256).where(media.c.sha256 == sha256)).first() is not None


def which(conn: Connection, wanted: Iterable[str]) -> set[str]:
    """Those of `wanted` that are here."""
    names = [name for name in set(wanted) if is_sha256(name)]
    result: set[str] = set()
    for at in range(0, len(names), 500):
        rows = conn.execute(select(media.c.sha256).where(media.c.sha256.in_(names[at : at + 500])))
        result.update(row.sha256 for row in rows)
    return result


def lengths(conn: Connection, wanted: Iterable[str]) -> dict[str, int]:
    """SHA-256 -> length in bytes, for those of `wanted` that are here. For the files of one record."""
    query = select(media.c.sha256, media.c.length).where(media.c.sha256.in_(list(wanted)))
    return {row.sha256: row.length for row in conn.execute(query)}


def faults(conn: Connection, wanted: Iterable[str]) -> dict[str, str]:
    """SHA-256 -> what is wrong with the original, a sentence, for those of `wanted` that are here and have a fault."""
    names, fault_of = list(set(wanted)), {}
    for at in range(0, len(names), 500):
        query = select(media.c.sha256, media.c.fault).where(media.c.sha256.in_(names[at : at + 500]))
        fault_of.update((row.sha256, row.fault) for row in conn.execute(query.where(media.c.fault.is_not(None))))
    return fault_of


def type_of(conn: Connection, sha256: str) -> str | None:
    """The type the server found in the first bytes; None when the original is not here."""
    return conn.execute(select(media.c.type).where(media.c.sha256 == sha256)).scalar()


def forget(conn: Connection, damaged: Iterable[str]) -> None:
    """Takes originals out of the register whose bytes are gone or damaged, so that phones are asked for them again."""
    for sha256 in damaged:
        conn.execute(delete(media).where(media.c.sha256 == sha256))


def register(conn: Connection, sha256: str, length: int, head: bytes) -> str:
    """Writes the row of an original that lies in its place; the same again changes nothing. Returns its type."""
    kind = sniff(head)
    insert = postgresql.insert if conn.dialect.name == "postgresql" else sqlite.insert
    moment = now()
    # Only a picture waits for someone to look at it.
    row = {"sha256": sha256, "length": length, "type": kind, "received": moment}
    row["looked"] = None if kind in PICTURES else moment
    conn.execute(insert(media).on_conflict_do_nothing(), row)
    return kind


def register_found(settings: Settings, engine: Engine) -> int:
    """Registers originals that lie in their place and are in no register; returns how many.

    So it is when the server died between the two, and when somebody puts an older database back by hand: phones were
    told that these are here, and may have given their own copies up. The bytes are hashed first; what is damaged stays
    out. To be called when a server starts.
    """
    shelf = folder(settings)
    with reading(engine) as conn:
        registered = set(conn.execute(select(media.c.sha256)).scalars())
    registered_now = 0
    for sha256 in [name for name in shelf.names() if name not in registered]:
        path = shelf.path(sha256)
        if hash_file(path) != sha256:
            continue
        with path.open("rb") as stream, writing(engine) as conn:
            register(conn, sha256, path.stat().st_size, stream.read(HEAD_BYTES))
        registered_now += 1
    return registered_now


def adopt(settings: Settings, conn: Connection, source: Path | bytes, sha256: str | None = None) -> tuple[str, int]:
    """Takes a file (or bytes) of this machine as an original; returns (sha256, length).

    The source is copied, never moved. Given `sha256`, refuses bytes that are not it. Requires a writing
    connection. The file is safe on the disk on return, the row when the caller's transaction commits.
    """
    shelf = folder(settings)
    uploads = settings.data / "uploads"
    uploads.mkdir(parents=True, exist_ok=True)
    shelf.root.mkdir(parents=True, exist_ok=True)
    temporary = uploads / f"adopt-{secrets.token_hex(8)}"
    running, length, head = hashlib.sha256(), 0, b""
    try:
        with temporary.open("xb") as out:
            for piece in _pieces(source):
                head = head or piece[:HEAD_BYTES]
                running.update(piece)
                length += len(piece)
                out.write(piece)
            out.flush()
            os.fchmod(out.fileno(), 0o444)
            os.fsync(out.fileno())
        digest = running.hexdigest()
        if sha256 and digest != sha256:
            raise MediaRefusal(
                422, "hash_differs", say("server.media.other_file", found=digest[:12], wanted=sha256[:12])
            )
        if shelf.has(digest):
            temporary.unlink()
        else:
            shelf.place(temporary, digest)
    except BaseException:
        temporary.unlink(missing_ok=True)
        raise
    register(conn, digest, length, head)
    return digest, length


def _pieces(source: Path | bytes) -> Iterable[bytes]:
    if isinstance(source, bytes):
        yield source
        return
    with source.open("rb") as stream:
        while piece := stream.read(READ_BYTES):
            yield piece


def hash_file(path: Path) -> str:
    """SHA-256 of a whole file, in hex."""
    with path.open("rb") as stream:
        return hashlib.file_digest(stream, "sha256").hexdigest()


def sync_folder(path: Path) -> None:
    """Makes the names in a folder survive a power cut."""
    fd = os.open(path, os.O_RDONLY | os.O_DIRECTORY)
    try:
        os.fsync(fd)
    finally:
        os.close(fd)
