"""Colour profiles (ICC.1): what of one says how colours are to be shown, and nothing of who made it, when and on what
machine."""

from __future__ import annotations

import struct
import zlib

from witnessmark.proof.sentences import say

LARGEST = 4 << 20
MOST_TAGS = 100
HEADER = 128
D50 = struct.pack(">3I", 0xF6D6, 0x10000, 0xD32D)
CLASSES = {b"mntr", b"scnr", b"prtr", b"spac"}
SPACES, CONNECTIONS = {b"RGB ", b"GRAY", b"CMYK"}, {b"XYZ ", b"Lab "}
# The tags that turn numbers into colours.
TAGS = (b"wtpt", b"chad", b"cicp", b"rXYZ", b"gXYZ", b"bXYZ", b"rTRC", b"gTRC", b"bTRC", b"kTRC")
TABLES = (b"A2B0", b"A2B1", b"A2B2", b"B2A0", b"B2A1", b"B2A2")
PARAMETERS = (1, 3, 4, 5, 7)
# What a profile has to say of itself: its name and whose it is, in the form of version 2 and that of version 4.
NAMES = {
    2: (b"desc" + struct.pack(">II", 0, 2) + b"-\0" + bytes(78), b"text\0\0\0\0-\0"),
    4: (struct.pack(">4s3I4s2I", b"mluc", 0, 1, 12, b"enUS", 2, 28) + b"\0-",) * 2,
}


def plain(profile: bytes) -> bytes | None:
    """The profile without words; the same again for one without. None if it is no profile, so that nobody could go by
    it. Raises ValueError for one that colours may need and whose words cannot be told apart."""
    tags = _tags(profile)
    kept = {name: _shape(name, tags[name]) for name in TAGS + TABLES if name in tags}
    if not kept.keys() & {b"rTRC", b"kTRC", b"A2B0"}:
        return None
    names = NAMES[4 if profile[8] >= 4 else 2]
    kept |= {b"desc": names[0], b"cprt": names[1]}
    head, body, places = b"", b"", {}
    start = HEADER + 4 + 12 * len(kept)
    for name, content in kept.items():
        if content not in places:
            places[content] = start + len(body)
            body += content + bytes(-len(content) % 4)
        head += name + struct.pack(">II", places[content], len(content))
    intent = profile[64:68] if profile[64:68] in (struct.pack(">I", number) for number in range(4)) else bytes(4)
    header = struct.pack(">I4x", start + len(body)) + profile[8:10] + bytes(2) + profile[12:24] + bytes(12) + b"acsp"
    return header + bytes(24) + intent + D50 + bytes(48) + struct.pack(">I", len(kept)) + head + body


def _tags(profile: bytes) -> dict[bytes, bytes]:
    """The tags of a profile for pictures by their names; none if it is no such profile."""
    size = int.from_bytes(profile[:4], "big")
    if not HEADER + 4 <= size <= min(len(profile), LARGEST) or profile[36:40] != b"acsp":
        return {}
    if profile[12:16] not in CLASSES or profile[16:20] not in SPACES or profile[20:24] not in CONNECTIONS:
        return {}
    (count,) = struct.unpack_from(">I", profile, HEADER)
    if count > MOST_TAGS or HEADER + 4 + 12 * count > size:
        return {}
    tags: dict[bytes, bytes] = {}
    for number in range(count):
        name, at, length = struct.unpack_from(">4sII", profile, HEADER + 4 + 12 * number)
        if at + length > size:
            return {}
        tags.setdefault(name, profile[at : at + length])
    return tags


def _shape(name: bytes, tag: bytes) -> bytes:
    """A tag's content without what stands behind it (ICC.1, 10). Raises ValueError for a type not known here."""
    kind, length = tag[:4], 0
    tag = tag.ljust(52, b"\0")
    if kind == b"XYZ ":
        length = 20
    elif kind == b"sf32":
        length = 44 if name == b"chad" else 0
    elif kind == b"cicp":
        length = 12
    elif kind == b"curv":
        length = 12 + 2 * int.from_bytes(tag[8:12], "big")
    elif kind == b"para":
        sort = int.from_bytes(tag[8:10], "big")
        length = 12 + 4 * PARAMETERS[sort] if sort < len(PARAMETERS) else 0
    elif kind in (b"mft1", b"mft2") and name in TABLES and tag[8] <= 4 and tag[9] <= 4:
        into, out, grid = tag[8], tag[9], tag[10]
        if kind == b"mft1":
            length = 48 + 256 * into + grid**into * out + 256 * out
        else:
            first, last = struct.unpack_from(">HH", tag, 48)
            length = 52 + 2 * (first * into + grid**into * out + last * out)
    if not length or length > len(tag):
        raise ValueError(say("proof.picture.profile"))
    filling = {b"para": slice(10, 12), b"mft1": slice(11, 12), b"mft2": slice(11, 12)}.get(kind, slice(0))
    content = bytearray(kind + bytes(4) + tag[8:length])
    content[filling] = bytes(len(content[filling]))
    return bytes(content)


def unpacked(content: bytes) -> bytes:
    """The profile in a PNG's iCCP chunk: a name, a zero, the sort of packing, the packed profile. Empty if it is
    damaged."""
    name, _, packed = content.partition(b"\0")
    if len(name) > 79 or packed[:1] != b"\0":
        return b""
    try:
        return zlib.decompressobj().decompress(packed[1:], LARGEST)
    except zlib.error:
        return b""


def packed(profile: bytes) -> bytes:
    """The content of an iCCP chunk for `profile`, not made smaller: so it is the same by every maker of zlib."""
    blocks = [profile[at : at + 0xFFFF] for at in range(0, len(profile), 0xFFFF)]
    body = b"".join(
        struct.pack("<BHH", number == len(blocks) - 1, len(block), len(block) ^ 0xFFFF) + block
        for number, block in enumerate(blocks)
    )
    return b"icc\0\0\x78\x01" + body + struct.pack(">I", zlib.adler32(profile))
