"""Writes a BagIt bag (RFC 8493) straight into a zip: every file is read once, hashed on its way, and listed."""

from __future__ import annotations

import hashlib
import os
import secrets
import zipfile
from collections.abc import Iterable
from datetime import datetime
from pathlib import Path
from typing import BinaryIO

from witnessmark.proof import layout

CHUNK = 1 << 20


class Bag:
    """A bag being filled. Files are stored, not compressed: photographs gain nothing, and anyone can look inside.

    Use as a context manager: leaving it by an error leaves no file behind; `finish` seals and puts it in its place.
    """

    def __init__(self, out: Path, top: str, moment: datetime):
        self.out = out
        self._top = top
        self._date = max(moment.timetuple()[:6], (1980, 1, 1, 0, 0, 0))
        self._partial = out.with_name(f"{out.name}.{secrets.token_hex(4)}.part")
        self._file = self._partial.open("xb")
        self._zip = zipfile.ZipFile(self._file, "w", zipfile.ZIP_STORED, allowZip64=True)
        self.hashes: dict[str, str] = {}
        self.payload_bytes = 0

    def __enter__(self) -> Bag:
        return self

    def __exit__(self, kind, *_rest) -> None:
        if kind is not None:
            self._zip.fp = None  # The list of contents of a pack that will not be is not worth writing.
        self._file.close()
        self._partial.unlink(missing_ok=True)

    def add(self, path: str, data: bytes) -> str:
        """Adds a file; returns its SHA-256."""
        return self._write(path, len(data), [data])

    def stream(self, path: str, source: BinaryIO, length: int) -> str:
        """Adds a file a piece at a time; returns its SHA-256. `length` bytes are expected, for the zip's header."""
        return self._write(path, length, iter(lambda: source.read(CHUNK), b""))

    def finish(self, info: list[tuple[str, str]], tags: list[tuple[str, bytes]], seal) -> str:
        """Writes the tag files and both manifests, has the tag manifest sealed by `seal` (bytes -> DER signature),
        and puts the bag in its place, safe on the disk. Returns the SHA-256 of the tag manifest."""
        self.add(layout.BAGIT, layout.BAGIT_TEXT)
        for path, data in tags:
            self.add(path, data)
        payload = {path: digest for path, digest in self.hashes.items() if path.startswith("data/")}
        oxum = ("Payload-Oxum", f"{self.payload_bytes}.{len(payload)}")
        self.add(layout.BAG_INFO, "".join(f"{name}: {value}\n" for name, value in [*info, oxum]).encode())
        self.add(layout.MANIFEST, _manifest(payload))
        manifest = _manifest({path: digest for path, digest in self.hashes.items() if path not in payload})
        digest = self.add(layout.TAG_MANIFEST, manifest)
        # The seal cannot stand in the list it seals.
        self.add(layout.SEAL, seal(manifest))
        self._zip.close()
        self._file.flush()
        os.fsync(self._file.fileno())
        os.replace(self._partial, self.out)
        return digest

    def _write(self, path: str, length: int, pieces: Iterable[bytes]) -> str:
        info = zipfile.ZipInfo(f"{self._top}/{path}", self._date)
        info.external_attr = 0o644 << 16
        info.file_size = length
        digest, written = hashlib.sha256(), 0
        with self._zip.open(info, "w") as file:
            for piece in pieces:
                digest.update(piece)
                file.write(piece)
                written += len(piece)
        self.hashes[path] = digest.hexdigest()
        if path.startswith("data/"):
            self.payload_bytes += written
        return self.hashes[path]


def _manifest(hashes: dict[str, str]) -> bytes:
    return "".join(f"{digest}  {path}\n" for path, digest in sorted(hashes.items())).encode()
