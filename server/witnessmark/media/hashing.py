"""Hashing while receiving: SHA-256 of uploads under way, and the checksum a piece may bring with it."""

from __future__ import annotations

import base64
import hashlib
import hmac
import os
import threading
from collections import OrderedDict
from collections.abc import Iterable

from witnessmark.media.errors import MediaRefusal
from witnessmark.trade.ground.sentences import say

# A piece with its own checksum is held in memory until it is checked, twice for a moment; phones send 1 MiB.
LARGEST_CHECKED = 4 << 20
CHECKSUMS = {"sha256": hashlib.sha256, "sha1": hashlib.sha1}


class Running:
    """SHA-256 states of uploads under way, so that a file sent in pieces is hashed once.

    A state is only good for the very bytes it was fed: inode, length and time of change must still be what they
    were after our last write. Otherwise, and after a restart, the file is read again from the start.
    """

    KEPT = 256

    def __init__(self):
        self._lock = threading.Lock()
        self._states: OrderedDict[str, tuple] = OrderedDict()

    def take(self, fd: int, name: str, offset: int):
        with self._lock:
            stamp, running = self._states.pop(name, (None, None))
        if offset == 0:
            return hashlib.sha256()
        if running is not None and stamp == self._stamp(fd):
            return running
        return self.read_again(fd, offset)

    @staticmethod
    def read_again(fd: int, upto: int):
        running, at = hashlib.sha256(), 0
        while at < upto and (piece := os.pread(fd, min(1 << 20, upto - at), at)):
            running.update(piece)
            at += len(piece)
        return running

    def give(self, fd: int, name: str, offset: int, running) -> None:
        stamp = self._stamp(fd)
        if stamp[1] != offset:
            return
        with self._lock:
            self._states[name] = (stamp, running)
            while len(self._states) > self.KEPT:
                self._states.popitem(last=False)

    @staticmethod
    def _stamp(fd: int) -> tuple[int, int, int]:
        state = os.fstat(fd)
        return state.st_ino, state.st_size, state.st_mtime_ns


def parse_checksum(header: str | None) -> tuple[str, bytes] | None:
    """`sha256 <base64>` of the Upload-Checksum header. Raises MediaRefusal 400 when it says something else."""
    if not header:
        return None
    name, _, value = header.strip().partition(" ")
    try:
        if name in CHECKSUMS:
            return name, base64.b64decode(value.strip(), validate=True)
    except ValueError:  # of base64, or of characters that are no ASCII
        pass
    raise MediaRefusal(400, "checksum_unreadable", say("server.media.checksum_unreadable"))


def checked(pieces: Iterable[bytes], announced: int | None, checksum: tuple[str, bytes]) -> bytes:
    """The whole piece, once its checksum agrees: nothing of a wrong piece may reach the file."""
    if announced is None or announced > LARGEST_CHECKED:
        raise MediaRefusal(413, "piece_too_long", say("server.media.piece_too_long", most=LARGEST_CHECKED))
    whole = b"".join(pieces)
    name, expected = checksum
    if len(whole) != announced or not hmac.compare_digest(CHECKSUMS[name](whole).digest(), expected):
        raise MediaRefusal(460, "checksum_differs", say("server.media.piece_damaged"))
    return whole
