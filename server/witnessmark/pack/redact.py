"""Copies for the customer: what a file says of place, device and owner is taken out, what it shows or plays is not
touched. No picture is decoded: the parts that carry it are copied byte for byte.
"""

from __future__ import annotations

import hashlib
import struct
import zlib
from dataclasses import dataclass, field

from witnessmark.proof import pictures, sounds
from witnessmark.proof.pictures import Part
from witnessmark.trade.ground.sentences import say

# What takes longer to read through than anyone would record in a workshop is left out rather than half cleaned.
LARGEST = 256 << 20


class CannotClean(Exception):
    """The file cannot be cleaned without touching what it shows; it says why, in words for the pack's reader."""


@dataclass(frozen=True)
class Copy:
    """A cleaned copy. `scan_sha256` is the original's too; `removed` says in words what was taken out."""

    data: bytes
    scan_sha256: str
    removed: list[str] = field(default_factory=list)

    @property
    def sha256(self) -> str:
        return hashlib.sha256(self.data).hexdigest()


def clean(data: bytes) -> Copy:
    """The copy of a picture or sound that carries nothing else. Raises CannotClean for another kind of file, a
    damaged one, or one whose words about itself cannot be told apart from the rest."""
    if len(data) > LARGEST:
        raise CannotClean(say("pack.redact.too_large", size=LARGEST >> 20))
    sort = pictures.sort_of(data)
    try:
        if sort is None:
            copy = Copy(sounds.blanked(data), sounds.scan_hash(data), sounds.leftovers(data))
            same, left = sounds.scan_hash(copy.data), sounds.leftovers(copy.data)
        else:
            copy = {pictures.JPEG: _jpeg, pictures.PNG: _png, pictures.WEBP: _webp}[sort](data)
            whole = pictures.parts(copy.data)
            same, left = pictures.scan_hash(copy.data, whole), pictures.leftovers(copy.data, whole)
    except ValueError as error:
        raise CannotClean(str(error)) from None
    except Exception as error:
        # A reader of foreign files may raise anything at all: this file is left out, the pack is none the worse.
        raise CannotClean(f"{type(error).__name__}: {error}") from None
    # Held against the verifier's own eyes before it leaves the house.
    if left:
        raise CannotClean(say("pack.redact.left", what=", ".join(left)))
    if same != copy.scan_sha256:
        raise CannotClean(say("pack.redact.other_picture"))
    return copy


def _jpeg(data: bytes) -> Copy:
    parts, removed = pictures.parts(data), []
    orientation, kept, view = 1, [], memoryview(data)
    for part in parts:
        content = data[part.content]
        if part.name == pictures.APP0 and content.startswith(b"JFIF\0") and len(content) >= 14:
            # The density stays, a thumbnail in it goes.
            kept.append(_segment(pictures.APP0, content[:12] + b"\0\0"))
            if len(content) > 14:
                removed.append(say("pack.redact.thumbnail", length=len(content) - 14))
        elif pictures.carries_picture(pictures.JPEG, part, data):
            kept.append(view[part.start : part.end])
        else:
            if part.name == pictures.APP1 and content.startswith(pictures.EXIF_START):
                orientation = orientation_of(content[len(pictures.EXIF_START) :]) or orientation
            removed.append(_removed_words(part, content))
    if orientation != 1:
        turned = _segment(pictures.APP1, pictures.EXIF_START + pictures.orientation_only(orientation))
        # JFIF asks to stand first; EXIF readers look right behind it.
        first = 2 if bytes(kept[1][:2]) == b"\xff\xe0" else 1
        kept.insert(first, turned)
    return Copy(b"".join(kept), pictures.scan_hash(data, parts), removed + _trailer(data, parts))


def _png(data: bytes) -> Copy:
    parts, kept, removed = pictures.parts(data), [pictures.PNG_SIGNATURE], []
    for part in parts:
        content = data[part.content]
        if pictures.carries_picture(pictures.PNG, part, data):
            kept.append(data[part.start : part.end])
            continue
        removed.append(_removed_words(part, content))
        orientation = orientation_of(content) if part.name == b"eXIf" else None
        if orientation and orientation != 1:
            body = b"eXIf" + pictures.orientation_only(orientation)
            kept.append(struct.pack(">I", len(body) - 4) + body + struct.pack(">I", zlib.crc32(body)))
    return Copy(b"".join(kept), pictures.scan_hash(data, parts), removed + _trailer(data, parts))


def _webp(data: bytes) -> Copy:
    parts, kept, removed, turned = pictures.parts(data), [], [], b""
    for part in parts:
        content = data[part.content]
        if pictures.carries_picture(pictures.WEBP, part, data):
            kept.append(bytearray(data[part.start : part.end]))
            continue
        removed.append(_removed_words(part, content))
        if part.name == b"EXIF":
            orientation = orientation_of(content.removeprefix(pictures.EXIF_START))
            if orientation and orientation != 1:
                body = pictures.orientation_only(orientation)
                turned = b"EXIF" + struct.pack("<I", len(body)) + body
    if kept and kept[0][:4] == b"VP8X":
        # Its flags say what follows: EXIF is 08, XMP 04.
        kept[0][8] = kept[0][8] & ~0x0C | (0x08 if turned else 0)
    body = b"WEBP" + b"".join(kept) + turned
    whole = b"RIFF" + struct.pack("<I", len(body)) + body
    return Copy(whole, pictures.scan_hash(data, parts), removed + _trailer(data, parts))


def orientation_of(tiff: bytes) -> int | None:
    """Which way up, 1 to 8, by the first directory of a TIFF block (EXIF 2.32, 4.6.5); None if it does not say."""
    order = {b"II": "<", b"MM": ">"}.get(tiff[:2])
    if order is None:
        return None
    try:
        (at,) = struct.unpack_from(order + "I", tiff, 4)
        (count,) = struct.unpack_from(order + "H", tiff, at)
        for number in range(count):
            tag, kind, _, value = struct.unpack_from(order + "HHIH", tiff, at + 2 + 12 * number)
            if tag == 0x0112 and kind == 3:
                return value if 1 <= value <= 8 else None
    except struct.error:
        return None
    return None


def _segment(marker: int, content: bytes) -> bytes:
    return bytes([0xFF, marker]) + struct.pack(">H", len(content) + 2) + content


def _removed_words(part: Part, content: bytes) -> str:
    name = pictures.name_of(part)
    for start, words in (
        (pictures.EXIF_START, "EXIF"),
        (b"http://ns.adobe.com/xap/1.0/\0", "XMP"),
        (b"http://ns.adobe.com/xmp/extension/\0", "XMP"),
        (b"MPF\0", say("pack.redact.more_pictures")),
        (b"Photoshop 3.0\0", "captions"),
        (b"JFXX\0", "thumbnail"),
    ):
        if content.startswith(start):
            name = words
    return say("pack.redact.segment", name=name, length=len(content))


def _trailer(data: bytes, parts: list[Part]) -> list[str]:
    after = data[parts[-1].end :]
    if not after:
        return []
    inside = "film" if b"ftyp" in after else "picture" if b"\xff\xd8\xff" in after else "other"
    return [say("pack.redact.after_the_end", length=len(after), inside=inside)]
