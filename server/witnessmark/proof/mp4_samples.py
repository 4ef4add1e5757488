"""Which bytes of an MP4 recording are sound: by the table of each track (ISO 14496-12, 8.6 and 8.7), or by the
fragments that a recorder wrote as it went (8.8). What else lies in an `mdat` box no player reads.
"""

from __future__ import annotations

import struct
from collections.abc import Iterable

from witnessmark.proof.sentences import say

Piece = tuple[int, int]


def gaps(payloads: list[Piece], sound: Iterable[Piece]) -> list[Piece]:
    """What of `payloads` is not `sound`, both as (start, end). Raises ValueError for sound outside of them."""
    left: list[Piece] = []
    pieces = sorted(piece for piece in sound if piece[0] < piece[1])
    number = 0
    for start, end in sorted(payloads):
        at = start
        while number < len(pieces) and pieces[number][0] < end:
            first, last = pieces[number]
            if first < start or last > end:
                raise ValueError(say("proof.sound.outside"))
            if first > at:
                left.append((at, first))
            at, number = max(at, last), number + 1
        if at < end:
            left.append((at, end))
    if number < len(pieces):
        raise ValueError(say("proof.sound.outside"))
    return left


def _needs(fits: bool) -> None:
    if not fits:
        raise ValueError(say("proof.sound.mixed"))


class Table:
    """The samples of one track: their sizes, how many a chunk has, and where the chunks are."""

    def __init__(self) -> None:
        self.timed: int | None = None
        self.sizes: list[int] = []
        self.same = self.samples = 0
        self.runs: list[tuple[int, ...]] = []
        self.chunks: list[int] = []

    def read(self, name: bytes, content: bytes) -> None:
        """Takes in one of the boxes of the table. Raises ValueError for one with more in it than it needs."""
        _needs(len(content) >= 8 and content[:4] == bytes(4))
        (count,) = struct.unpack_from(">I", content, 4)
        rest = content[8:]
        if name == b"stsz":
            _needs(len(rest) >= 4)
            # One size for all of them, or a list.
            self.same, (self.samples,) = count, struct.unpack_from(">I", rest)
            _needs(len(rest) == (4 if self.same else 4 + 4 * self.samples))
            self.sizes = [size for (size,) in struct.iter_unpack(">I", rest[4:])]
            return
        width = {b"stts": 8, b"stsc": 12, b"stco": 4, b"co64": 8}[name]
        _needs(len(rest) == width * count)
        if name == b"stts":
            pairs = list(struct.iter_unpack(">II", rest))
            _needs(all(number for number, _ in pairs))
            self.timed = sum(number for number, _ in pairs)
        elif name == b"stsc":
            self.runs = list(struct.iter_unpack(">III", rest))
            firsts = [run[0] for run in self.runs]
            _needs(firsts == sorted(set(firsts)) and all(run[2] == 1 for run in self.runs))
        else:
            _needs(not self.chunks)
            self.chunks = [at for (at,) in struct.iter_unpack(">I" if name == b"stco" else ">Q", rest)]

    def pieces(self) -> list[Piece]:
        """Where the chunks begin and end. Raises ValueError for a table that contradicts itself."""
        _needs(self.timed is None or self.timed == self.samples)
        _needs(all(1 <= run[0] <= len(self.chunks) for run in self.runs))
        result: list[Piece] = []
        sample = 0
        bounds = [run[0] - 1 for run in self.runs[1:]] + [len(self.chunks)]
        _needs(not self.runs or self.runs[0][0] == 1)
        for place, run in enumerate(self.runs):
            for number in range(run[0] - 1, bounds[place]):
                _needs(0 < run[1] <= self.samples - sample)
                length = self.same * run[1] or sum(self.sizes[sample : sample + run[1]])
                result.append((self.chunks[number], self.chunks[number] + length))
                sample += run[1]
        _needs(sample == self.samples and len(result) == len(self.chunks))
        return result


class Fragments:
    """The samples of the fragments. What a fragment does not say itself the head of the file says for each track."""

    BOXES = (b"mehd", b"trex", b"mfhd", b"tfhd", b"tfdt", b"trun")

    def __init__(self) -> None:
        self.sound: list[Piece] = []
        self.defaults: dict[int, int] = {}
        self.start = self.base = self.at = 0
        self.size: int | None = None
        self.first = True

    def begin(self, start: int) -> None:
        """A fragment whose `moof` box begins at `start`."""
        self.start = self.at = start
        self.first, self.size = True, None

    def pieces(self) -> list[Piece]:
        return self.sound

    def read(self, name: bytes, content: bytes) -> None:
        """Takes in one of BOXES. Raises ValueError for one with more in it than it needs."""
        _needs(len(content) >= 8)
        flags = int.from_bytes(content[1:4], "big")
        if name == b"tfhd":
            self.head(flags, content)
        elif name == b"trun":
            self.run(flags, content)
        elif name == b"trex":
            _needs(len(content) == 24 and not flags)
            track, _, _, size, _ = struct.unpack_from(">5I", content, 4)
            _needs(track not in self.defaults)
            self.defaults[track] = size
        else:
            _needs(not flags and len(content) == (12 if content[0] == 1 and name != b"mfhd" else 8))

    def head(self, flags: int, content: bytes) -> None:
        wide = {1: 8, 2: 4, 8: 4, 0x10: 4, 0x20: 4}
        _needs(not flags & ~0x3003B and len(content) == 8 + sum(wide[bit] for bit in wide if flags & bit))
        (track,) = struct.unpack_from(">I", content, 4)
        _needs(track in self.defaults)
        self.size = self.defaults[track]
        # Places are counted from the fragment's own start, or from where the track before ended.
        self.base = self.start if self.first or flags & 0x20000 else self.at
        at = 8
        if flags & 1:
            (self.base,) = struct.unpack_from(">Q", content, at)
            at += 8
        at += (4 if flags & 2 else 0) + (4 if flags & 8 else 0)
        if flags & 0x10:
            (self.size,) = struct.unpack_from(">I", content, at)
        self.at, self.first = self.base, False

    def run(self, flags: int, content: bytes) -> None:
        _needs(self.size is not None and not flags & ~0xF05)
        (count,) = struct.unpack_from(">I", content, 4)
        at = 8
        if flags & 1:
            (offset,) = struct.unpack_from(">i", content.ljust(12, b"\0"), at)
            self.at, at = self.base + offset, at + 4
        at += 4 if flags & 4 else 0
        fields = [bit for bit in (0x100, 0x200, 0x400, 0x800) if flags & bit]
        _needs(len(content) == at + 4 * len(fields) * count)
        if 0x200 in fields:
            values = struct.unpack_from(f">{len(fields) * count}I", content, at)
            length = sum(values[fields.index(0x200) :: len(fields)])
        else:
            length = count * (self.size or 0)
        _needs(self.at >= 0)
        self.sound.append((self.at, self.at + length))
        self.at += length
