"""How the files of a backup lie in its folder: as they are, or encrypted. Each is checked as it is written and read."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import BinaryIO

from witnessmark.media.store import READ_BYTES, hash_file, sync_folder
from witnessmark.operate import encryption
from witnessmark.operate.encryption import Damaged, FolderKey
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say

REPORT = "backup.json"
DATABASE = "witnessmark.db"


class BackupFolder:
    """Files under names such as `media/ab/<sha256>`, as they are. `EncryptedFolder` does the same with a key."""

    def __init__(self, root: Path) -> None:
        self.root = root

    def path(self, name: str) -> Path:
        """Where the file of this name lies or would lie."""
        return self.root / name

    def names(self, beginning: str) -> list[str]:
        """The names of what lies under `beginning`, a file or a folder with folders; none when nothing does."""
        here = self.root / beginning
        files = [here] if here.is_file() else sorted(path for path in here.rglob("*") if path.is_file())
        return [path.relative_to(self.root).as_posix() for path in files]

    def holds(self, name: str, sha256: str) -> bool:
        """Whether the file is there, byte for byte: it is read to its end."""
        return self.path(name).is_file() and self._hash(self.path(name), name) == sha256

    def put(self, source: Path, name: str, sha256: str | None = None, mode: int = 0o444) -> int | None:
        """Copies a file into the backup and reads it back; returns its length, or None when it is gone, is not the one
        of this SHA-256, or cannot be read back."""
        try:
            with source.open("rb") as stream:
                return self._put(_pieces(stream), name, sha256, mode)
        except FileNotFoundError:
            return None

    def put_bytes(self, data: bytes, name: str, mode: int = 0o600) -> None:
        """Writes a small file. Raises OSError if it cannot be read back."""
        if self._put([data], name, None, mode) is None:
            raise OSError(say("server.backup.not_read_back", file=self.path(name)))

    def get(self, name: str, target: Path, sha256: str) -> int | None:
        """Copies a file out of the backup and checks both what was read and what was written; returns its length, or
        None when it is gone or damaged."""
        try:
            with self.path(name).open("rb") as stream:
                length, read = _write(self._read(stream, name), target, 0o444)
        except (FileNotFoundError, Damaged):
            return None
        fresh = _fresh(target)
        if read != sha256 or hash_file(fresh) != sha256:
            fresh.unlink()
            return None
        fresh.replace(target)
        return length

    def get_file(self, name: str, target: Path) -> None:
        """Copies a file whose hash nobody noted, with its mode. Raises Refusal when it is gone or damaged."""
        try:
            with self.path(name).open("rb") as stream:
                _write(self._read(stream, name), target, self.path(name).stat().st_mode & 0o777)
        except (FileNotFoundError, Damaged):
            raise Refusal("damaged", "folder", say("server.backup.part_damaged", file=self.path(name))) from None
        _fresh(target).replace(target)

    def get_bytes(self, name: str) -> bytes:
        """A small file. Raises Refusal when it is gone or damaged."""
        try:
            with self.path(name).open("rb") as stream:
                return b"".join(self._read(stream, name))
        except (FileNotFoundError, Damaged):
            raise Refusal("damaged", "folder", say("server.backup.part_damaged", file=self.path(name))) from None

    def take(self, finished: Path, name: str) -> None:
        """Puts a finished file of this folder's own disk in its place. Raises OSError if it cannot be read back."""
        finished.replace(self.path(name))
        sync_folder(self.root)

    def _put(self, pieces: Iterable[bytes], name: str, sha256: str | None, mode: int) -> int | None:
        target = self.path(name)
        running, length = hashlib.sha256(), 0

        def counted() -> Iterator[bytes]:
            nonlocal length
            for piece in pieces:
                running.update(piece)
                length += len(piece)
                yield piece

        fresh = _open_fresh(target)
        with fresh.open("wb") as out:
            self._encode(counted(), out, name)
            _finish(out, mode)
        if running.hexdigest() != (sha256 or running.hexdigest()) or self._hash(fresh, name) != running.hexdigest():
            fresh.unlink()
            return None
        fresh.replace(target)
        return length

    def _hash(self, path: Path, name: str) -> str | None:
        """SHA-256 of what a file of the backup holds; None when it cannot be read."""
        running = hashlib.sha256()
        try:
            with path.open("rb") as stream:
                for piece in self._read(stream, name):
                    running.update(piece)
        except Damaged:
            return None
        return running.hexdigest()

    def _encode(self, pieces: Iterable[bytes], out: BinaryIO, name: str) -> None:
        for piece in pieces:
            out.write(piece)

    def _read(self, stream: BinaryIO, name: str) -> Iterator[bytes]:
        return _pieces(stream)


class EncryptedFolder(BackupFolder):
    """The same under a key. What names an original or a pack would give away stands under another name as well."""

    ENDING = ".enc"
    HIDDEN = ("media/", "packs/")

    def __init__(self, root: Path, key: FolderKey) -> None:
        super().__init__(root)
        self._key = key

    def path(self, name: str) -> Path:
        if name.startswith(self.HIDDEN):
            hidden = self._key.name_of(name)
            return self.root / "files" / hidden[:2] / f"{hidden}{self.ENDING}"
        return self.root / f"{name}{self.ENDING}"

    def names(self, beginning: str) -> list[str]:
        if self.path(beginning).is_file():
            return [beginning]
        return [name.removesuffix(self.ENDING) for name in super().names(beginning)]

    def take(self, finished: Path, name: str) -> None:
        if self.put(finished, name, mode=0o600) is None:
            raise OSError(say("server.backup.not_read_back", file=self.path(name)))
        sync_folder(self.root)

    def _encode(self, pieces: Iterable[bytes], out: BinaryIO, name: str) -> None:
        self._key.write(pieces, out, name)

    def _read(self, stream: BinaryIO, name: str) -> Iterator[bytes]:
        return self._key.read(stream, name)


def to_fill(root: Path, passphrase: str) -> BackupFolder:
    """The folder as a backup is made or renewed in it: encrypted if there is a passphrase.

    Raises Refusal for a folder that holds a backup of the other sort, and for a wrong or short passphrase.
    """
    if not passphrase:
        if encryption.is_encrypted(root):
            raise Refusal("passphrase", "passphrase", say("server.backup.passphrase_needed", folder=root))
        return BackupFolder(root)
    if encryption.is_encrypted(root):
        return EncryptedFolder(root, encryption.known_key(root, passphrase))
    if any((root / name).exists() for name in (REPORT, DATABASE, "media", "keys")):
        raise Refusal("not_encrypted", "folder", say("server.backup.not_encrypted", folder=root))
    key, facts = encryption.new_key(root, passphrase)
    BackupFolder(root).put_bytes(facts, encryption.FACTS)
    sync_folder(root)
    return EncryptedFolder(root, key)


def to_read(root: Path, passphrase: str) -> BackupFolder:
    """The folder as a backup is restored from it. Raises Refusal for an encrypted one without its passphrase."""
    if not encryption.is_encrypted(root):
        return BackupFolder(root)
    if not passphrase:
        raise Refusal("passphrase", "passphrase", say("server.backup.passphrase_needed", folder=root))
    return EncryptedFolder(root, encryption.known_key(root, passphrase))


def _pieces(stream: BinaryIO) -> Iterator[bytes]:
    while piece := stream.read(READ_BYTES):
        yield piece


def _write(pieces: Iterable[bytes], target: Path, mode: int) -> tuple[int, str]:
    """Writes a fresh copy beside `target`; returns its length and SHA-256. Nothing of it stays when it fails."""
    fresh = _open_fresh(target)
    running, length = hashlib.sha256(), 0
    try:
        with fresh.open("wb") as out:
            for piece in pieces:
                running.update(piece)
                length += len(piece)
                out.write(piece)
            _finish(out, mode)
    except BaseException:
        fresh.unlink(missing_ok=True)
        raise
    return length, running.hexdigest()


def _fresh(target: Path) -> Path:
    return target.with_name(target.name + ".new")


def _open_fresh(target: Path) -> Path:
    target.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    fresh = _fresh(target)
    # A copy that a crash cut short may be closed against writing already, or be linked to something else.
    fresh.unlink(missing_ok=True)
    # Nobody else may read it even while it is written.
    os.close(os.open(fresh, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600))
    return fresh


def _finish(out: BinaryIO, mode: int) -> None:
    out.flush()
    os.fchmod(out.fileno(), mode)
    os.fsync(out.fileno())
