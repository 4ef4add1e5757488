"""The parts a picture file is made of: which carry the picture and which carry words about it.

A copy for the customer keeps the first and drops the second, without decoding a pixel. The *scan hash* is SHA-256
over the bytes that carry the picture (JPEG: all from the first scan to the end of the image; PNG: the IDAT data;
WebP: the image chunks): equal for an original and its cleaned copy, so the one can be tied to the other.
"""

from __future__ import annotations

import hashlib
import re
import struct
import zlib
from typing import NamedTuple

from witnessmark.proof.sentences import say

JPEG, PNG, WEBP = "jpeg", "png", "webp"
PNG_SIGNATURE = b"\x89PNG\r\n\x1a\n"
PIECE = 1 << 20
EXIF_START = b"Exif\0\0"

SOI, EOI, SOS, COM, APP0, APP1, APP2, APP14, APP15 = 0xD8, 0xD9, 0xDA, 0xFE, 0xE0, 0xE1, 0xE2, 0xEE, 0xEF
# What may stand in a clean JPEG by ITU-T T.81, B.1: frames (SOF), tables (DHT, DQT, DAC), restart intervals (DRI),
# scans (SOS), numbers of lines (DNL) and hierarchies (DHP, EXP). No other segment, the reserved ones too, carries a
# picture.
JPEG_KEPT = {SOI, EOI, SOS, 0xC4, 0xCC, 0xDB, 0xDC, 0xDD, 0xDE, 0xDF}
JPEG_KEPT |= set(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}
# Inside a scan a marker is FF and anything but a stuffed zero, a restart marker or a fill byte.
_next_marker = re.compile(rb"\xff[^\x00\xff\xd0-\xd7]").search

PNG_KEPT = {b"IHDR", b"PLTE", b"IDAT", b"IEND", b"tRNS", b"gAMA", b"cHRM", b"sRGB", b"iCCP", b"cICP", b"sBIT", b"pHYs"}
PNG_KEPT |= {b"acTL", b"fcTL", b"fdAT", b"bKGD"}
WEBP_IMAGE = {b"VP8 ", b"VP8L", b"ALPH", b"ANMF"}
WEBP_KEPT = WEBP_IMAGE | {b"VP8X", b"ANIM", b"ICCP"}


class Part(NamedTuple):
    """One segment or chunk: its name, its place in the file with all its framing, and the place of its content."""

    name: int | bytes
    start: int
    end: int
    content: slice


def sort_of(data: bytes) -> str | None:
    """Which of the picture formats handled here `data` is, by its first bytes; None for any other."""
    if data[:3] == b"\xff\xd8\xff":
        return JPEG
    if data[:8] == PNG_SIGNATURE:
        return PNG
    if data[:4] == b"RIFF" and data[8:12] == b"WEBP":
        return WEBP
    return None


def parts(data: bytes) -> list[Part]:
    """The parts of the first picture in `data`, in order. What follows its end is no part. Raises ValueError for a
    file that is cut off or malformed."""
    walk = {JPEG: _jpeg_parts, PNG: _png_parts, WEBP: _webp_parts}.get(sort_of(data) or "")
    if walk is None:
        raise ValueError(say("proof.picture.unknown"))
    return walk(data)


def scan_hash(data: bytes, whole: list[Part] | None = None) -> str:
    """SHA-256 over the bytes that carry the picture, in hexadecimal; `whole` its parts, if they are known already.
    Raises ValueError as `parts` does."""
    digest = hashlib.sha256()
    sort, scanning, view = sort_of(data), False, memoryview(data)
    for part in whole or parts(data):
        if sort == JPEG:
            scanning = scanning or part.name == SOS
            if scanning and part.name in JPEG_KEPT:
                digest.update(view[part.start : part.end])
        elif part.name in ({b"IDAT", b"fdAT"} if sort == PNG else WEBP_IMAGE):
            digest.update(view[part.content])
    return digest.hexdigest()


def carries_picture(sort: str, part: Part, data: bytes) -> bool:
    """Whether a part is needed to show the picture as it is: its data, tables and colours, not words about it."""
    if sort == PNG:
        return part.name in PNG_KEPT
    if sort == WEBP:
        return part.name in WEBP_KEPT
    content = data[part.content]
    if part.name == APP2:
        return content.startswith(b"ICC_PROFILE\0")
    if part.name == APP14:
        return content.startswith(b"Adobe") and len(content) == 12
    return part.name in JPEG_KEPT


def orientation_only(orientation: int) -> bytes:
    """The smallest EXIF that says which way up a picture is (TIFF, one field). Requires 1 <= orientation <= 8."""
    return b"MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01" + struct.pack(">H", orientation) + b"\0\0\0\0\0\0"


def leftovers(data: bytes, whole: list[Part] | None = None) -> list[str]:
    """What a customer's copy still carries beyond its picture, in words; empty when it is clean; `whole` as above.
    Raises ValueError."""
    sort, leftover = sort_of(data) or "", []
    whole = whole or parts(data)
    for part in whole:
        content = data[part.content]
        plain_jfif = part.name == APP0 and content[:5] == b"JFIF\0" and len(content) == 14
        upright = any(
            content in (EXIF_START + orientation_only(n), orientation_only(n)) and part.name in (APP1, b"eXIf", b"EXIF")
            for n in range(1, 9)
        )
        if not (carries_picture(sort, part, data) or plain_jfif or upright):
            leftover.append(say("proof.common.with_length", name=name_of(part), length=part.end - part.start))
    if sort == PNG and (surplus := _after_the_pixels(data, whole)):
        leftover.append(say("proof.picture.after_pixels", length=surplus))
    if whole[-1].end != len(data):
        leftover.append(say("proof.picture.after_end", length=len(data) - whole[-1].end))
    return leftover


def _after_the_pixels(data: bytes, whole: list[Part]) -> int:
    """How many bytes of a PNG's IDAT chunks lie behind the end of its compressed stream, where nothing shows them. The
    pixels are unpacked and thrown away. Raises ValueError when they are more than the picture has."""
    head = next((data[part.content] for part in whole if part.name == b"IHDR"), b"")
    if len(head) < 13:
        raise ValueError(say("proof.picture.no_image"))
    width, height, depth = *struct.unpack(">II", head[:8]), head[8]
    # Four channels at the most, a byte before each line, and the lines of seven passes where it is interlaced.
    most = (width * depth * 4 // 8 + 2) * (height + 7) * 2
    stream, length, surplus = zlib.decompressobj(), 0, 0
    for part in whole:
        if part.name != b"IDAT":
            continue
        left = data[part.content]
        while left and not stream.eof:
            try:
                length += len(stream.decompress(left, PIECE))
            except zlib.error as error:
                raise ValueError(str(error)) from None
            if length > most:
                raise ValueError(say("proof.picture.too_many_pixels"))
            left = stream.unused_data if stream.eof else stream.unconsumed_tail
        surplus += len(left)
    return surplus


def name_of(part: Part) -> str:
    """A part's name as its format's standard writes it."""
    if isinstance(part.name, bytes):
        return part.name.decode("ascii", "replace").strip()
    if part.name == COM:
        return say("proof.picture.comment")
    if APP0 <= part.name <= APP15:
        return f"APP{part.name - APP0}"
    return say("proof.picture.marker", code=f"{part.name:02X}")


def _jpeg_parts(data: bytes) -> list[Part]:
    segments = [Part(SOI, 0, 2, slice(2, 2))]
    at = 2
    while True:
        start = at
        while data[at : at + 2] == b"\xff\xff":
            at += 1
        if len(data) < at + 2 or data[at] != 0xFF:
            raise ValueError(say("proof.picture.no_marker", at=at))
        marker = data[at + 1]
        if marker == EOI:
            if not any(part.name == SOS for part in segments):
                raise ValueError(say("proof.picture.no_scan"))
            return [*segments, Part(EOI, start, at + 2, slice(at + 2, at + 2))]
        length = int.from_bytes(data[at + 2 : at + 4], "big")
        end = at + 2 + length
        if length < 2 or end > len(data):
            raise ValueError(say("proof.picture.segment", at=at))
        content = slice(at + 4, end)
        if marker == SOS:
            following = _next_marker(data, end)
            if following is None:
                raise ValueError(say("proof.picture.cut_in_scan"))
            end = following.start()
        segments.append(Part(marker, start, end, content))
        at = end


def _png_parts(data: bytes) -> list[Part]:
    result, at = [], 8
    while True:
        length = int.from_bytes(data[at : at + 4], "big")
        end = at + 12 + length
        if at + 8 > len(data) or end > len(data):
            raise ValueError(say("proof.picture.chunk", at=at))
        result.append(Part(data[at + 4 : at + 8], at, end, slice(at + 8, end - 4)))
        if result[-1].name == b"IEND":
            return result
        at = end


def _webp_parts(data: bytes) -> list[Part]:
    whole = int.from_bytes(data[4:8], "little") + 8
    if whole > len(data):
        raise ValueError(say("proof.picture.cut"))
    result, at = [], 12
    while at + 8 <= whole:
        length = int.from_bytes(data[at + 4 : at + 8], "little")
        end = at + 8 + length + (length & 1)
        if end > whole + (length & 1):
            raise ValueError(say("proof.picture.chunk", at=at))
        result.append(Part(data[at : at + 4], at, min(end, len(data)), slice(at + 8, at + 8 + length)))
        at = end
    if not any(part.name in WEBP_IMAGE for part in result):
        raise ValueError(say("proof.picture.no_image"))
    return result
