"""What each segment of a JPEG is in a copy that carries nothing but the picture (ITU-T T.81, annex B)."""

from __future__ import annotations

import struct
from collections.abc import Iterator

from witnessmark.proof import colours
from witnessmark.proof.parts import (
    APP0,
    APP1,
    APP2,
    APP14,
    DAC,
    DHP,
    DHT,
    DNL,
    DQT,
    DRI,
    EOI,
    EXIF_START,
    EXP,
    FRAMES,
    JPEG_KEPT,
    SOI,
    SOS,
    Part,
    is_orientation,
)  # fmt: skip
from witnessmark.proof.sentences import say

PROGRESSIVE, ARITHMETIC = {0xC2, 0xC6, 0xCA, 0xCE}, set(range(0xC9, 0xD0))
# Markers that stand alone. As segments they are damage, and a decoder may read on in another place.
WITHOUT_LENGTH = {0, 1} | set(range(0xD0, 0xD8))
PROFILE_START = b"ICC_PROFILE\0"
LARGEST_SEGMENT = 0xFFFF - 2
# Adobe's note as it is written today; its last byte, how colours are coded, is the picture's own.
ADOBE = b"Adobe\0\x64\0\0\0\0"

Tables = dict[int, bytes]


def segment(marker: int, content: bytes) -> bytes:
    return bytes([0xFF, marker]) + struct.pack(">H", len(content) + 2) + content


def plain_jpeg(data: bytes, parts: list[Part]) -> Iterator[bytes]:
    """For each part what stands there in a clean copy. Raises ValueError as `shapes.plain_parts` does."""
    jpeg = _Jpeg(data, parts)
    scanning = False
    _needs(not any(part.name in WITHOUT_LENGTH for part in parts))
    for number, part in enumerate(parts):
        scanning = scanning or part.name == SOS
        yield jpeg.scanned(number, part) if scanning else jpeg.before(part)


def _needs(fits: bool) -> None:
    if not fits:
        raise ValueError(say("proof.picture.shape"))


class _Jpeg:
    def __init__(self, data: bytes, parts: list[Part]) -> None:
        self.data = data
        self.parts = parts
        self.seen: set[int | bytes] = set()
        self.scans = [part for part in parts if part.name == SOS]
        self.heads = [part for part in parts if part.start < self.scans[0].start]
        frames = [part for part in self.heads if part.name in FRAMES]
        _needs(len(frames) == 1)
        self.frame = frames[0]
        head = data[self.frame.content]
        _needs(len(head) >= 6 and 1 <= head[5] <= 4 and len(head) >= 6 + 3 * head[5])
        self.components = [head[6 + 3 * number : 9 + 3 * number] for number in range(head[5])]
        self.quantisers = {component[2] for component in self.components}
        self.coders = self.used_coders()
        self.last = {DQT: self.last_tables(DQT), DHT: self.last_tables(DHT)}
        self.profiles = [part for part in self.heads if self.is_profile(part)]
        self.profile = self.profile_segments()

    def used_coders(self) -> set[int]:
        """The Huffman tables that scans name: class (0 for DC, 16 for AC) and number."""
        used: set[int] = set()
        names = {component[0] for component in self.components}
        for scan in self.scans:
            head = self.data[scan.content]
            count = head[0] if head else 0
            _needs(1 <= count <= 4 and len(head) == 4 + 2 * count and set(head[1 : 1 + 2 * count : 2]) <= names)
            first, refined = head[-3], head[-1] >> 4
            for pair in head[2 : 2 + 2 * count : 2]:
                if self.frame.name in ARITHMETIC:
                    continue
                if self.frame.name not in PROGRESSIVE:
                    used |= {pair >> 4, 16 | pair & 15}
                elif first:
                    used.add(16 | pair & 15)
                elif not refined:
                    used.add(pair >> 4)
        return used

    def tables(self, part: Part) -> Tables:
        """The tables of a DQT or DHT segment by number. Raises ValueError for a segment that is not made of tables."""
        content, at = self.data[part.content], 0
        tables: Tables = {}
        while at < len(content):
            number = content[at]
            if part.name == DQT:
                length = 129 if number >> 4 else 65
            else:
                length = 17 + sum(content[at + 1 : at + 17])
            fits = at + length <= len(content) and number & 15 < 4 and number >> 4 < 2
            _needs(fits and (part.name == DQT or length <= 17 + 256))
            tables[number & 15 if part.name == DQT else number] = content[at : at + length]
            at += length
        return tables

    def last_tables(self, name: int) -> Tables:
        """The tables that hold when the first scan begins, of those that are used."""
        held: Tables = {}
        for part in self.heads:
            if part.name == name:
                held.update(self.tables(part))
        used = self.quantisers if name == DQT else self.coders
        return {number: table for number, table in held.items() if number in used}

    def profile_segments(self) -> list[bytes]:
        """The segments of the picture's colour profile without words, none if it has none that is valid."""
        pieces = [self.data[part.content] for part in self.profiles]
        numbers = [piece[12:14] for piece in pieces]
        if numbers != [bytes([number + 1, len(pieces)]) for number in range(len(pieces))]:
            return []
        profile = colours.plain(b"".join(piece[14:] for piece in pieces)) or b""
        most = LARGEST_SEGMENT - 14
        plain = [profile[at : at + most] for at in range(0, len(profile), most)]
        return [
            segment(APP2, PROFILE_START + bytes([number + 1, len(plain)]) + piece) for number, piece in enumerate(plain)
        ]

    def before(self, part: Part) -> bytes:
        """A segment in front of the first scan, which the scan hash does not cover."""
        name, content = part.name, self.data[part.content]
        if name == SOI:
            return self.data[part.start : part.end]
        if name in self.last:
            tables = self.last[name]
            kept = [number for number, table in self.tables(part).items() if tables.get(number) == table]
            return segment(name, b"".join(tables.pop(number) for number in kept)) if kept else b""
        if self.is_profile(part):
            # As many segments as it takes; with the last one that the file has, all that are left.
            last = part is self.profiles[-1]
            piece, self.profile = (self.profile, []) if last else (self.profile[:1], self.profile[1:])
            return b"".join(piece)
        kept = self.lone(int(name), content)
        if kept is None or name in self.seen:
            return b""
        self.seen.add(int(name))
        return segment(int(name), kept)

    def lone(self, name: int, content: bytes) -> bytes | None:
        """What stays of a segment that stands once; None for nothing."""
        _needs(name not in (DHP, EXP))
        if name == APP1:
            return content if content[:6] == EXIF_START and is_orientation(content[6:]) else None
        if name == APP0:
            # The density stays, a thumbnail in it goes.
            return content[:12] + b"\0\0" if content.startswith(b"JFIF\0") and len(content) >= 14 else None
        if name == APP14:
            return ADOBE + content[11:12] if content.startswith(b"Adobe") and len(content) >= 12 else None
        if name in FRAMES:
            return content[: 6 + 3 * len(self.components)]
        if name == DRI or name == DAC and self.frame.name in ARITHMETIC:
            # A second would hold in place of the first.
            _needs(name not in self.seen and len(content) >= 2)
            return content[:2] if name == DRI else content[: len(content) & ~1]
        return None

    def is_profile(self, part: Part) -> bool:
        return part.name == APP2 and self.data[part.content].startswith(PROFILE_START)

    def scanned(self, number: int, part: Part) -> bytes:
        """A segment from the first scan on: the scan hash covers it, so it is as it should be or the file stays out."""
        name, content = part.name, self.data[part.content]
        if name not in JPEG_KEPT:
            return b""
        if name == DQT:
            fits = set(self.tables(part)) <= self.quantisers
        elif name == DHT:
            fits = set(self.tables(part)) <= self.coders
        elif name == DNL:
            fits = len(content) == 2 and self.parts[number - 1] is self.scans[0]
        elif name == DAC:
            fits = self.frame.name in ARITHMETIC and len(content) % 2 == 0
        else:
            fits = name in (EOI, SOS) or name == DRI and len(content) == 2
        _needs(fits)
        return self.data[part.start : part.end]
