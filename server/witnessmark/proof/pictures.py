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

from witnessmark.proof import layout
from witnessmark.proof.parts import (
    APP0,
    APP1,
    APP2,
    APP14,
    APP15,
    COM,
    EOI,
    EXIF_START,
    JPEG,
    JPEG_KEPT,
    PNG,
    SOI,
    SOS,
    WEBP,
    Part,
    orientation_only,
)  # fmt: skip
from witnessmark.proof.sentences import say
from witnessmark.proof.shapes import plain_parts, unpacked_length

PNG_SIGNATURE = b"\x89PNG\r\n\x1a\n"
PIECE = 1 << 20
# Inside a scan a marker is FF and anything but a stuffed zero, a restart marker or a fill byte.
_next_marker = re.compile(rb"\xff[^\x00\xff\xd0-\xd7]").search

PNG_KEPT = {b"IHDR", b"PLTE", b"IDAT", b"IEND", b"tRNS", b"gAMA", b"cHRM", b"sRGB", b"iCCP", b"cICP", b"sBIT", b"pHYs"}
PNG_KEPT |= {b"acTL", b"fcTL", b"fdAT", b"bKGD"}
WEBP_IMAGE = {b"VP8 ", b"VP8L", b"ALPH", b"ANMF"}
WEBP_KEPT = WEBP_IMAGE | {b"VP8X", b"ANIM", b"ICCP"}


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


def leftovers(data: bytes, whole: list[Part] | None = None, rule: int = layout.RULE) -> list[str]:
    """What a customer's copy still carries beyond its picture by `rule` (one of layout.RULES), in words; empty when it
    is clean; `whole` as above. Raises ValueError."""
    sort, whole = sort_of(data) or "", whole or parts(data)
    found = _first_rule(sort, data, whole) if rule == 1 else _second_rule(sort, data, whole)
    if sort == PNG:
        surplus, more = _after_the_pixels(data, whole)
        if surplus:
            found.append(say("proof.picture.after_pixels", length=surplus))
        if more and rule > 1:
            found.append(say("proof.picture.more_pixels", length=more))
    if whole[-1].end != len(data):
        found.append(say("proof.picture.after_end", length=len(data) - whole[-1].end))
    return found


def _first_rule(sort: str, data: bytes, whole: list[Part]) -> list[str]:
    """The parts that are not needed to show the picture, by their names."""
    found = []
    for part in whole:
        content = data[part.content]
        plain_jfif = part.name == APP0 and content[:5] == b"JFIF\0" and len(content) == 14
        upright = any(
            content in (EXIF_START + orientation_only(n), orientation_only(n)) and part.name in (APP1, b"eXIf", b"EXIF")
            for n in range(1, 9)
        )
        if not (carries_picture(sort, part, data) or plain_jfif or upright):
            found.append(say("proof.common.with_length", name=name_of(part), length=part.end - part.start))
    return found


def _second_rule(sort: str, data: bytes, whole: list[Part]) -> list[str]:
    """The parts that are not, byte for byte, what they are in a clean copy."""
    found = []
    for number, plain in enumerate(plain_parts(sort, data, whole)):
        part = whole[number]
        if data[part.start : part.end] != plain:
            found.append(say("proof.common.with_length", name=name_of(part), length=part.end - part.start))
    return found


def _after_the_pixels(data: bytes, whole: list[Part]) -> tuple[int, int]:
    """How many bytes of a PNG's IDAT chunks lie behind the end of its compressed stream, where nothing shows them, and
    how many more pixels than the picture has, in bytes, are in it. They are unpacked and thrown away. Raises ValueError
    when they are far more."""
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
    return surplus, max(0, length - unpacked_length(head)) if len(head) == 13 else 0


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
    found = [Part(SOI, 0, 2, slice(2, 2))]
    at = 2
    while True:
        start = at
        while data[at : at + 2] == b"\xff\xff":
            at += 1
        if len(data) < at + 2 or data[at] != 0xFF:
            raise ValueError(say("proof.picture.no_marker", at=at))
        marker = data[at + 1]
        if marker == EOI:
            if not any(part.name == SOS for part in found):
                raise ValueError(say("proof.picture.no_scan"))
            return [*found, Part(EOI, start, at + 2, slice(at + 2, at + 2))]
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
        found.append(Part(marker, start, end, content))
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
