"""What each part of a picture is in a copy that carries nothing but the picture, by the second rule: the parts that a
decoder needs, once, each of the length that its standard gives it. A copy is clean when every part is that already.
"""

from __future__ import annotations

import struct
import zlib
from collections.abc import Iterator

from witnessmark.proof import colours
from witnessmark.proof.jpeg_shapes import plain_jpeg
from witnessmark.proof.parts import JPEG, PNG, Part, is_orientation
from witnessmark.proof.sentences import say


def plain_parts(sort: str, data: bytes, parts: list[Part]) -> Iterator[bytes]:
    """For each part of a picture what stands there in a clean copy: its very bytes, a shorter part, or nothing. Raises
    ValueError where that cannot be without touching what the scan hash covers, and for moving pictures."""
    return {JPEG: plain_jpeg, PNG: _png}.get(sort, _webp)(data, parts)


# By PNG (third edition), 11.2.1: channels by colour type.
CHANNELS = {0: 1, 2: 3, 3: 1, 4: 2, 6: 4}
# Length of chunks by colour type; no length, no such chunk. A palette and its transparency are looked at by themselves.
LENGTHS = {
    b"tRNS": {0: 2, 2: 6}, b"bKGD": {0: 2, 2: 6, 3: 1, 4: 2, 6: 6}, b"sBIT": {0: 1, 2: 3, 3: 3, 4: 2, 6: 4},
    b"gAMA": dict.fromkeys(CHANNELS, 4), b"cHRM": dict.fromkeys(CHANNELS, 32), b"sRGB": dict.fromkeys(CHANNELS, 1),
    b"cICP": dict.fromkeys(CHANNELS, 4), b"pHYs": dict.fromkeys(CHANNELS, 9),
}  # fmt: skip
# The primaries are given in hundred-thousandths and lie within one.
LARGEST_PRIMARY = 100_000
PASSES = ((0, 0, 8, 8), (4, 0, 8, 8), (0, 4, 4, 8), (2, 0, 4, 4), (0, 2, 2, 4), (1, 0, 2, 2), (0, 1, 1, 2))


def png_chunk(name: bytes, content: bytes) -> bytes:
    return struct.pack(">I", len(content)) + name + content + struct.pack(">I", zlib.crc32(name + content))


def unpacked_length(head: bytes) -> int:
    """How many bytes the pixels of a PNG unpack to, by its IHDR. Raises ValueError for one that is not valid."""
    if len(head) != 13 or head[9] not in CHANNELS or head[8] not in (1, 2, 4, 8, 16) or head[12] > 1:
        raise ValueError(say("proof.picture.no_image"))
    width, height = struct.unpack_from(">II", head)
    bits = head[8] * CHANNELS[head[9]]
    length = 0
    for left, top, across, down in PASSES if head[12] else ((0, 0, 1, 1),):
        columns, rows = -(-(width - left) // across), -(-(height - top) // down)
        if columns > 0 and rows > 0:
            length += rows * (1 + (columns * bits + 7) // 8)
    return length


def _png(data: bytes, parts: list[Part]) -> Iterator[bytes]:
    head = data[parts[0].content]
    if parts[0].name != b"IHDR":
        raise ValueError(say("proof.picture.no_image"))
    unpacked_length(head)
    seen: set[bytes] = set()
    for part in parts:
        name, content = part.name, data[part.content]
        if name == b"fdAT":
            raise ValueError(say("proof.picture.moving"))
        if name == b"IDAT":
            if data[part.start : part.end] != png_chunk(name, content):
                raise ValueError(say("proof.picture.false_checksum"))
            yield data[part.start : part.end]
            continue
        kept = None if name in seen else _png_content(name, content, head)
        if kept is not None:
            seen.add(name)
        yield b"" if kept is None else png_chunk(name, kept)


def _png_content(name: bytes, content: bytes, head: bytes) -> bytes | None:
    """What stays of a chunk; None for nothing."""
    depth, colour = head[8], head[9]
    if name in (b"IHDR", b"IEND"):
        return head if name == b"IHDR" else b""
    if name == b"PLTE":
        entries = min(len(content), 3 << depth)
        return content[:entries] if colour == 3 and depth <= 8 and entries and entries % 3 == 0 else None
    if name == b"tRNS" and colour == 3:
        return content if len(content) <= 1 << depth else None
    if name == b"iCCP":
        profile = colours.plain(colours.unpacked(content))
        return profile and colours.packed(profile)
    if name == b"eXIf":
        return content if is_orientation(content) else None
    if len(content) != LENGTHS.get(name, {}).get(colour):
        return None
    if name == b"cHRM" and max(struct.unpack(">8I", content)) > LARGEST_PRIMARY:
        return None
    return content


# WebP container: flags of VP8X.
PROFILE, ALPHA, EXIF = 0x20, 0x10, 8


def _webp(data: bytes, parts: list[Part]) -> Iterator[bytes]:
    names = [part.name for part in parts]
    extended = names[0] == b"VP8X"
    flags = data[parts[0].content][:1] if extended else b"\0"
    alpha = bool(flags and flags[0] & ALPHA)
    _check_webp(names, alpha)
    contents: list[bytes | None] = []
    seen: set[bytes | int] = set()
    for part in parts:
        content = None if part.name in seen else _webp_content(part.name, data[part.content], extended)
        contents.append(content)
        if content is not None:
            seen.add(part.name)
    for number, name in enumerate(names):
        content = contents[number]
        if content is not None and name == b"VP8X":
            shown = (PROFILE if b"ICCP" in seen else 0) | (ALPHA if alpha else 0) | (EXIF if b"EXIF" in seen else 0)
            content = bytes([shown, 0, 0, 0]) + content[4:10]
        yield b"" if content is None else webp_chunk(bytes(name), content)


def _check_webp(names: list[int | bytes], alpha: bool) -> None:
    """Raises ValueError unless there is one still picture, with transparency only where it belongs to it."""
    if b"ANMF" in names or b"ANIM" in names:
        raise ValueError(say("proof.picture.moving"))
    pictures = [number for number, name in enumerate(names) if name in (b"VP8 ", b"VP8L")]
    if len(pictures) != 1 or names[0] != b"VP8X" and pictures != [0]:
        raise ValueError(say("proof.picture.no_image"))
    translucent = [number for number, name in enumerate(names) if name == b"ALPH"]
    if translucent and not (alpha and names[pictures[0]] == b"VP8 " and translucent == [pictures[0] - 1]):
        raise ValueError(say("proof.picture.stray"))


def webp_chunk(name: bytes, content: bytes) -> bytes:
    return name + struct.pack("<I", len(content)) + content + bytes(len(content) & 1)


def _webp_content(name: bytes | int, content: bytes, extended: bool) -> bytes | None:
    if name == b"VP8X":
        if len(content) < 10:
            raise ValueError(say("proof.picture.no_image"))
        return content
    if name in (b"VP8 ", b"VP8L", b"ALPH"):
        return content
    if name == b"ICCP":
        return colours.plain(content) if extended else None
    return content if name == b"EXIF" and is_orientation(content) else None
