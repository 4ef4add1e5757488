"""Reads a pack where it lies: the zip as it was given, or the folder it was unpacked into. Nothing is unpacked."""

from __future__ import annotations

import hashlib
import io
import os
import re
import stat
import zipfile
import zlib
from collections.abc import Iterator
from pathlib import Path

from witnessmark.proof import layout
from witnessmark.proof.faults import Report, Unreadable
from witnessmark.proof.sentences import say
from witnessmark.proof.zips import check_tiling

CHUNK = 1 << 20
SMALL = 64 << 20  # No file that is read as a whole, such as the list of receipts, is ever near this.
MOST_FILES = 1_000_000
# Deflate itself shrinks text some tenfold and photographs not at all. Far beyond that somebody is playing a trick.
STEEPEST = 200

_odd = re.compile(r"[\x00-\x1f\x7f\\:]")


class Damaged(Exception):
    """The bytes of one file could not be read."""


def unsafe(path: str) -> str | None:
    """What is wrong with a path in a pack, or None: it must stay inside the pack on every kind of machine."""
    if not path or path.startswith("/") or _odd.search(path):
        return say("proof.source.bad_path")
    if any(part in ("", ".", "..") for part in path.split("/")):
        return say("proof.source.leaves")
    return None


class FolderSource:
    """An unpacked pack."""

    def __init__(self, folder: Path, report: Report):
        self.folder = folder
        self.sizes: dict[str, int] = {}
        for here, folders, files in os.walk(folder):
            for name in [*folders, *files]:
                full = Path(here, name)
                path = full.relative_to(folder).as_posix()
                mode = full.lstat().st_mode
                if stat.S_ISREG(mode):
                    self.sizes[path] = full.stat().st_size
                elif not stat.S_ISDIR(mode):
                    report.fault(1, path, say("proof.common.ordinary_file"), say("proof.source.link_or_device"))
                if unsafe(path):
                    report.fault(1, path, say("proof.common.path_inside"), str(unsafe(path)))

    def chunks(self, path: str) -> Iterator[bytes]:
        """The bytes of `path`, a piece at a time. Raises Damaged."""
        try:
            with open(self.folder / path, "rb") as file:
                while piece := file.read(CHUNK):
                    yield piece
        except OSError as error:
            raise Damaged(str(error)) from None

    def close(self) -> None:
        """Nothing is held open."""


class ZipSource:
    """A pack as one zip file."""

    def __init__(self, path: Path, report: Report):
        try:
            self.zip = zipfile.ZipFile(path)
            members = self.zip.infolist()
        except (zipfile.BadZipFile, OSError, ValueError, NotImplementedError) as error:
            raise Unreadable(say("proof.source.no_zip", path=path, reason=error)) from None
        if len(members) > MOST_FILES:
            raise Unreadable(say("proof.source.too_many", path=path, count=len(members)))
        self._members: dict[str, zipfile.ZipInfo] = {}
        self._look_over(members, report)
        check_tiling(self.zip, report)
        top = self._top_folder(path)
        for name in sorted(self._members):
            if not name.startswith(top):
                report.fault(1, name, say("proof.source.one_folder"), say("proof.source.outside"))
        self._members = {name[len(top) :]: info for name, info in self._members.items() if name.startswith(top)}
        self.sizes = {name: info.file_size for name, info in self._members.items()}

    def _look_over(self, members: list[zipfile.ZipInfo], report: Report) -> None:
        seen: set[str] = set()
        for info in sorted(members, key=lambda info: info.header_offset):
            # The name as it is stored: zipfile cuts it at a zero byte, and what it hides must be named.
            name = info.orig_filename
            if unsafe(name.rstrip("/") if info.is_dir() else name):
                report.fault(1, name, say("proof.common.path_inside"), str(unsafe(name.rstrip("/"))))
            elif name.casefold() in seen:
                report.fault(1, name, say("proof.source.name_once"), say("proof.source.name_again"))
            elif info.flag_bits & 1:
                report.fault(1, name, say("proof.common.readable"), say("proof.source.locked"))
            elif stat.S_ISLNK(info.external_attr >> 16):
                report.fault(1, name, say("proof.common.ordinary_file"), say("proof.source.link"))
            elif info.file_size > STEEPEST * info.compress_size + CHUNK:
                unfolds = say("proof.source.unfolds", length=info.file_size, stored=info.compress_size)
                report.fault(1, name, say("proof.source.size"), unfolds)
            elif not info.is_dir():
                self._members[name] = info
            seen.add(name.casefold())

    def _top_folder(self, path: Path) -> str:
        tops = sorted(name[: -len(layout.BAGIT)] for name in self._members if name.split("/")[1:] == [layout.BAGIT])
        if len(tops) != 1:
            raise Unreadable(say("proof.source.no_top", path=path, file=layout.BAGIT))
        return tops[0]

    def chunks(self, path: str) -> Iterator[bytes]:
        """The bytes of `path`, a piece at a time. Raises Damaged."""
        try:
            with self.zip.open(self._members[path]) as file:
                while piece := file.read(CHUNK):
                    yield piece
        except (zipfile.BadZipFile, OSError, EOFError, zlib.error, NotImplementedError, RuntimeError) as error:
            raise Damaged(str(error)) from None

    def close(self) -> None:
        """Closes the file."""
        self.zip.close()


def open_source(path: Path, report: Report) -> FolderSource | ZipSource:
    """Opens a pack for reading. Raises Unreadable, naming what was looked for."""
    if path.is_dir():
        folder = path
        if not (folder / layout.BAGIT).is_file():
            inner = [sub for sub in sorted(path.iterdir()) if (sub / layout.BAGIT).is_file()]
            if len(inner) != 1:
                raise Unreadable(say("proof.source.no_bag", path=path, file=layout.BAGIT))
            folder = inner[0]
        return FolderSource(folder, report)
    if not path.exists():
        raise Unreadable(say("proof.source.no_path", path=path))
    return ZipSource(path, report)


def read_whole(source: FolderSource | ZipSource, path: str, most: int = SMALL) -> bytes:
    """All bytes of a file that must not be larger than `most`. Raises Damaged."""
    if source.sizes[path] > most:
        raise Damaged(say("proof.source.too_long", length=source.sizes[path]))
    return b"".join(source.chunks(path))


def lines_of(data: bytes) -> Iterator[bytes]:
    """One line after the other: a list of millions of empty ones is never made."""
    return (line.rstrip(b"\r\n") for line in io.BytesIO(data))


def hash_of(source: FolderSource | ZipSource, path: str) -> tuple[str, int]:
    """SHA-256 and length of a file, read a piece at a time. Raises Damaged."""
    digest, length = hashlib.sha256(), 0
    for piece in source.chunks(path):
        digest.update(piece)
        length += len(piece)
    return digest.hexdigest(), length
