"""The places in an MP4 recording that may hold words about it, by the second rule (ISO 14496-12 and -14): all but the
boxes that a player needs for tracks of sound, each where and as it should be, and the bytes of `mdat` that are sound.
"""

from __future__ import annotations

import struct
from collections.abc import Iterator

from witnessmark.proof.containers import Words
from witnessmark.proof.mp4_samples import Fragments, Table, gaps
from witnessmark.proof.sentences import say

# What may stand in a box, by its name; the file itself has none.
INSIDE = {
    b"": {b"ftyp", b"moov", b"moof", b"mdat"},
    b"moov": {b"mvhd", b"trak", b"mvex"},
    b"trak": {b"tkhd", b"edts", b"mdia"},
    b"edts": {b"elst"},
    b"mdia": {b"mdhd", b"hdlr", b"minf"},
    b"minf": {b"smhd", b"dinf", b"stbl"},
    b"dinf": {b"dref"},
    b"stbl": {b"stsd", b"stts", b"stsc", b"stsz", b"stco", b"co64"},
    b"mvex": {b"mehd", b"trex"},
    b"moof": {b"mfhd", b"traf"},
    b"traf": {b"tfhd", b"tfdt", b"trun"},
}
# Any other box stands once in what holds it.
REPEATED = {b"trak", b"moof", b"mdat", b"trex", b"traf", b"trun"}
BRANDS = {b"M4A ", b"M4B ", b"mp41", b"mp42", b"avc1", b"dash", b"qt  ", b"3gp4", b"3gp5", b"3gp6", b"msdh", b"cmfc"}
BRANDS |= {b"isom", b"iso2", b"iso3", b"iso4", b"iso5", b"iso6", b"iso7", b"iso8", b"iso9", b"hlsf"}
UNTURNED = struct.pack(">9I", 0x10000, 0, 0, 0, 0x10000, 0, 0, 0, 0x40000000)
NO_LANGUAGE = b"\x55\xc4\0\0"
SAME_FILE = b"\0\0\0\0\0\0\0\1\0\0\0\x0curl \0\0\0\1"
MOST_EDITS = 3
# The longest head of an AAC decoder (ISO 14496-3, 1.6.2.1) without comments in it.
LONGEST_AAC_HEAD = 8


def places(data: bytes) -> list[Words]:
    """All places for words, in order. Raises ValueError for a file that is damaged, holds more than sound, or is made
    in a way whose words cannot be told apart."""
    reader = _Reader(data)
    reader.boxes(b"", 0, len(data))
    if not reader.tables:
        # HEIC and its like are made of the same boxes: their picture hangs on the very box that would be blanked.
        raise ValueError(say("proof.sound.no_sound"))
    sound = [piece for table in reader.tables for piece in table.pieces()] + reader.fragments.pieces()
    if not sound:
        raise ValueError(say("proof.sound.no_sound"))
    for start, end in gaps(reader.payloads, sound):
        reader.blank("mdat", start, end, bytes(end - start))
    return sorted(reader.words, key=lambda place: place.start)


class _Reader:
    def __init__(self, data: bytes) -> None:
        self.data = data
        self.words: list[Words] = []
        self.payloads: list[tuple[int, int]] = []
        self.tables: list[Table] = []
        self.fragments = Fragments()
        self.leaves = {
            b"ftyp": self.brands, b"mvhd": self.movie, b"tkhd": self.track, b"mdhd": self.media, b"hdlr": self.handler,
            b"elst": self.edits, b"smhd": self.balance, b"dref": self.references, b"stsd": self.codings,
        }  # fmt: skip

    def blank(self, name: str, start: int, end: int, blank: bytes) -> None:
        if start < end:
            self.words.append(Words(name, start, end, blank))

    def boxes(self, parent: bytes, at: int, end: int) -> None:
        """Walks through the boxes between `at` and `end`, which `parent` holds."""
        seen: set[bytes] = set()
        for name, start, content, behind in self.each(at, end):
            if name not in INSIDE[parent] or name in seen and name not in REPEATED:
                if content - start == 16:
                    raise ValueError(say("proof.sound.four_gigabytes"))
                self.blank(name.decode("ascii", "replace"), start + 4, behind, b"free" + bytes(behind - content))
                continue
            seen.add(name)
            self.box(name, start, content, behind)
        self.needs(parent != b"mdia" or b"hdlr" in seen)

    def each(self, at: int, end: int) -> Iterator[tuple[bytes, int, int, int]]:
        """Name, start, start of the content, and end of each box. Raises ValueError for one that is cut."""
        while at < end:
            size, name, header = int.from_bytes(self.data[at : at + 4], "big"), self.data[at + 4 : at + 8], 8
            if size == 1:
                size, header = int.from_bytes(self.data[at + 8 : at + 16], "big"), 16
            behind = end if size == 0 and end == len(self.data) else at + size
            if behind > end or behind < at + header:
                raise ValueError(say("proof.sound.box", at=at))
            yield name, at, at + header, behind
            at = behind

    def box(self, name: bytes, start: int, content: int, end: int) -> None:
        if name == b"mdat":
            self.payloads.append((content, end))
        elif name == b"trak":
            self.tables.append(Table())
            self.boxes(name, content, end)
        elif name == b"moof":
            self.fragments.begin(start)
            self.boxes(name, content, end)
        elif name in INSIDE:
            self.boxes(name, content, end)
        elif name in self.leaves:
            self.leaves[name](content, end)
        elif name in Fragments.BOXES:
            self.fragments.read(name, self.data[content:end])
        elif not self.tables:
            raise ValueError(say("proof.sound.mixed"))
        else:
            self.tables[-1].read(name, self.data[content:end])

    def needs(self, fits: bool) -> None:
        if not fits:
            raise ValueError(say("proof.sound.mixed"))

    def versioned(self, at: int, end: int, lengths: tuple[int, ...], flags: int = 0) -> int:
        """The version of a box whose content is `lengths[version]` long, and has no other flags than these."""
        self.needs(end - at >= 4)
        version = self.data[at]
        given = int.from_bytes(self.data[at + 1 : at + 4], "big")
        self.needs(version < len(lengths) and end - at == lengths[version] and not given & ~flags)
        return version

    def brands(self, at: int, end: int) -> None:
        # Brand, its version, and what else the file agrees with.
        self.needs(end - at >= 8 and (end - at) % 4 == 0 and self.data[at : at + 4] in BRANDS)
        self.blank("ftyp", at + 4, at + 8, bytes(4))
        for place in range(at + 8, end, 4):
            brand = self.data[place : place + 4]
            self.blank("ftyp", place, place + 4, brand if brand in BRANDS else b"isom")

    def times(self, name: str, at: int, version: int) -> int:
        """Blanks when it was made and changed; returns the place behind."""
        behind = at + (12 if version == 0 else 20)
        self.blank(name, at + 4, behind, bytes(behind - at - 4))
        return behind

    def movie(self, at: int, end: int) -> None:
        version = self.versioned(at, end, (100, 112))
        # Behind: clock, length, speed, volume; unused fields; the number of the next track.
        behind = self.times("mvhd", at, version) + (8 if version == 0 else 12) + 6
        self.blank("mvhd", behind, end - 4, bytes(10) + UNTURNED + bytes(24))

    def track(self, at: int, end: int) -> None:
        version = self.versioned(at, end, (84, 96), flags=15)
        behind = self.times("tkhd", at, version) + 4
        self.blank("tkhd", behind, behind + 4, bytes(4))
        behind += 4 + (4 if version == 0 else 8)
        # Unused, layer, group; the volume stays; unused, how it is turned, and its size as a picture.
        self.blank("tkhd", behind, behind + 12, bytes(12))
        self.blank("tkhd", behind + 14, end, bytes(2) + UNTURNED + bytes(8))

    def media(self, at: int, end: int) -> None:
        version = self.versioned(at, end, (24, 36))
        behind = self.times("mdhd", at, version) + (8 if version == 0 else 12)
        self.blank("mdhd", behind, end, NO_LANGUAGE)

    def handler(self, at: int, end: int) -> None:
        if self.data[at + 8 : at + 12] != b"soun" or end - at < 24:
            raise ValueError(say("proof.sound.more"))
        self.blank("hdlr", at, at + 8, bytes(8))
        self.blank("hdlr", at + 12, end, bytes(end - at - 12))

    def edits(self, at: int, end: int) -> None:
        count = int.from_bytes(self.data[at + 4 : at + 8], "big")
        self.needs(count <= MOST_EDITS)
        self.versioned(at, end, (8 + 12 * count, 8 + 20 * count))

    def balance(self, at: int, end: int) -> None:
        self.versioned(at, end, (8,))
        self.blank("smhd", at + 6, end, bytes(2))

    def references(self, at: int, end: int) -> None:
        self.needs(end - at == len(SAME_FILE))
        self.blank("dref", at, end, SAME_FILE)

    def codings(self, at: int, end: int) -> None:
        """What the samples are coded in (ISO 14496-12, 8.5.2 and 12.2.3)."""
        self.needs(self.data[at : at + 8] == b"\0\0\0\0\0\0\0\1")
        entries = list(self.each(at + 8, end))
        self.needs(len(entries) == 1)
        coding, start, content, behind = entries[0]
        heads = {b"mp4a": b"esds", b"Opus": b"dOps", b"alac": b"alac"}
        self.needs(coding in heads and behind - content >= 28 and self.data[content + 6 : content + 8] == b"\0\1")
        self.needs(self.data[content + 8 : content + 10] == b"\0\0" and content - start == 8)
        # Unused fields, and who made the coder; channels, bits and rate stay.
        self.blank("stsd", content, content + 6, bytes(6))
        self.blank("stsd", content + 10, content + 16, bytes(6))
        self.blank("stsd", content + 20, content + 24, bytes(4))
        headed = False
        for name, inner, head, tail in self.each(content + 28, behind):
            if name == heads[coding] and not headed and head - inner == 8:
                headed = True
                self.needs(HEADS[name](self.data[head:tail]))
            else:
                self.needs(head - inner == 8)
                self.blank(name.decode("ascii", "replace"), inner + 4, tail, b"free" + bytes(tail - head))
        self.needs(headed)


def _aac(content: bytes) -> bool:
    """Whether an `esds` box (ISO 14496-1, 7.2.6) says how to decode, and not a byte more."""
    stream = _descriptor(content[4:], 3)
    if content[:4] != bytes(4) or stream is None or stream[1] or stream[0][2:3] != b"\0":
        return False
    decoder = _descriptor(stream[0][3:], 4)
    if decoder is None or _descriptor(decoder[1], 6) != (b"\x02", b""):
        return False
    inner = decoder[0][13:]
    head = _descriptor(inner, 5) if inner else (b"", b"")
    return len(decoder[0]) >= 13 and head is not None and len(head[0]) <= LONGEST_AAC_HEAD and not head[1]


def _descriptor(data: bytes, tag: int) -> tuple[bytes, bytes] | None:
    """The content of the descriptor that `data` begins with, and what stands behind it; None if it is another."""
    if data[:1] != bytes([tag]):
        return None
    length, at = 0, 1
    while at < 5 and at < len(data):
        length, at = length << 7 | data[at] & 0x7F, at + 1
        if not data[at - 1] & 0x80:
            return (data[at : at + length], data[at + length :]) if at + length <= len(data) else None
    return None


def _opus(content: bytes) -> bool:
    """Whether a `dOps` box is an identification header and not a byte more."""
    return len(content) >= 11 and len(content) == (11 if content[10] == 0 else 13 + content[1])


def _alac(content: bytes) -> bool:
    return len(content) == 28 and content[:4] == bytes(4)


HEADS = {b"esds": _aac, b"dOps": _opus, b"alac": _alac}
