"""What the readers of sound files share: the places that may hold words, and the framing of EBML, Ogg and Opus."""

from __future__ import annotations

import struct
import zlib
from typing import NamedTuple

from witnessmark.proof.sentences import say


class Words(NamedTuple):
    """A place that may hold words, and what stands there when it holds none."""

    name: str
    start: int
    end: int
    blank: bytes


def vint(data: bytes, at: int, keep_marker: bool) -> tuple[int, int]:
    """An EBML number (RFC 8794, 4) and the place behind it. Raises ValueError where there is none."""
    width = 9 - data[at].bit_length() if at < len(data) else 9
    if width > 8 or at + width > len(data):
        raise ValueError(say("proof.sound.no_element", at=at))
    value = int.from_bytes(data[at : at + width], "big")
    return (value if keep_marker else value - (1 << 7 * width)), at + width


def void(length: int) -> bytes:
    """An EBML Void element of `length` bytes in all, at least 2."""
    if length < 9:
        return b"\xec" + bytes([0x80 | (length - 2)]) + bytes(length - 2)
    return b"\xec\x01" + (length - 9).to_bytes(7, "big") + bytes(length - 9)


def ogg_page_end(data: bytes, at: int) -> int:
    """The end of the Ogg page that begins at `at` (RFC 3533, 6). Raises ValueError where there is none or it is cut."""
    if data[at : at + 4] != b"OggS" or at + 27 > len(data):
        raise ValueError(say("proof.sound.no_page", at=at))
    count = data[at + 26]
    end = at + 27 + count + sum(data[at + 27 : at + 27 + count])
    if end > len(data):
        raise ValueError(say("proof.sound.cut"))
    return end


_MIRRORED = bytes(int(f"{byte:08b}"[::-1], 2) for byte in range(256))


def ogg_checksum(page: bytes) -> int:
    """The checksum of a page whose own four bytes for it are zero (RFC 3533: polynomial 04C11DB7, no reflection, start
    and end with zero). It is zlib's of mirrored bytes, mirrored."""
    mirrored = zlib.crc32(page.translate(_MIRRORED), 0xFFFFFFFF) ^ 0xFFFFFFFF
    return int.from_bytes(mirrored.to_bytes(4, "little").translate(_MIRRORED), "big")


def ogg_comments(data: bytes, first: int) -> list[Words]:
    """The places for words in the page of an Opus stream that begins at `first` and holds its comments, alone
    (RFC 7845, 5.2). Raises ValueError for any other page."""
    end = ogg_page_end(data, first)
    lacing = data[first + 27 : first + 27 + data[first + 26]]
    start = first + 27 + len(lacing)
    length = end - start
    alone = lacing[-1:] != b"\xff" and all(size == 255 for size in lacing[:-1])
    if data[start : start + 8] != b"OpusTags" or not alone or length < 16:
        raise ValueError(say("proof.sound.mixed"))
    packet = b"OpusTags" + struct.pack("<I", length - 16) + b" " * (length - 16) + bytes(4)
    page = data[first : first + 22] + bytes(4) + data[first + 26 : start] + packet
    return [
        Words(say("proof.sound.checksum"), first + 22, first + 26, struct.pack("<I", ogg_checksum(page))),
        Words(say("proof.sound.comments"), start, end, packet),
    ]


def is_opus_head(packet: bytes) -> bool:
    """Whether `packet` is the identification header of an Opus stream (RFC 7845, 5.1) and not a byte more."""
    if packet[:8] != b"OpusHead" or len(packet) < 19:
        return False
    channels, family = packet[9], packet[18]
    return len(packet) == (19 if family == 0 else 21 + channels)
