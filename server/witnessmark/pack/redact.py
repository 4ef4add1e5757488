"""Copies for the customer: what a file says of place, device and owner is taken out, what it shows or plays is not
touched. No picture is decoded: the parts that carry it are copied byte for byte.
"""

from __future__ import annotations

import hashlib
import struct
from dataclasses import dataclass, field

from witnessmark.proof import jpeg_shapes, pictures, shapes, sounds
from witnessmark.proof.parts import Part
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
    parts = pictures.parts(data)
    kept = list(shapes.plain_parts(pictures.JPEG, data, parts))
    orientation = 1
    for number, part in enumerate(parts):
        content = data[part.content]
        if part.name == pictures.APP1 and content.startswith(pictures.EXIF_START) and not kept[number]:
            orientation = orientation_of(content[len(pictures.EXIF_START) :]) or orientation
    removed = _removed(data, parts, kept)
    segments = [segment for segment in kept if segment]
    if orientation != 1:
        turned = jpeg_shapes.segment(pictures.APP1, pictures.EXIF_START + pictures.orientation_only(orientation))
        # JFIF asks to stand first; EXIF readers look right behind it.
        segments.insert(2 if segments[1][:2] == b"\xff\xe0" else 1, turned)
    return Copy(b"".join(segments), pictures.scan_hash(data, parts), removed)


def _png(data: bytes) -> Copy:
    parts = pictures.parts(data)
    kept = list(shapes.plain_parts(pictures.PNG, data, parts))
    removed = _removed(data, parts, kept)
    if not any(part.name == b"eXIf" and kept[number] for number, part in enumerate(parts)):
        for number, part in enumerate(parts):
            orientation = orientation_of(data[part.content]) if part.name == b"eXIf" else None
            if orientation and orientation != 1:
                kept[number] = shapes.png_chunk(b"eXIf", pictures.orientation_only(orientation))
                break
    return Copy(pictures.PNG_SIGNATURE + b"".join(kept), pictures.scan_hash(data, parts), removed)


def _webp(data: bytes) -> Copy:
    parts = pictures.parts(data)
    kept = list(shapes.plain_parts(pictures.WEBP, data, parts))
    removed, turned = _removed(data, parts, kept), b""
    for number, part in enumerate(parts):
        if part.name == b"EXIF" and not kept[number] and not turned:
            orientation = orientation_of(data[part.content].removeprefix(pictures.EXIF_START))
            if orientation and orientation != 1:
                turned = shapes.webp_chunk(b"EXIF", pictures.orientation_only(orientation))
    if turned and kept[0][:4] == b"VP8X":
        kept[0] = kept[0][:8] + bytes([kept[0][8] | shapes.EXIF]) + kept[0][9:]
    body = b"WEBP" + b"".join(kept) + turned
    return Copy(b"RIFF" + struct.pack("<I", len(body)) + body, pictures.scan_hash(data, parts), removed)


def _removed(data: bytes, parts: list[Part], kept: list[bytes]) -> list[str]:
    """What of each part does not stay, in words."""
    removed = []
    for number, part in enumerate(parts):
        content, surplus = data[part.content], part.end - part.start - len(kept[number])
        if not kept[number]:
            removed.append(_removed_words(part, content))
        elif surplus > 0 and part.name == pictures.APP0:
            removed.append(say("pack.redact.thumbnail", length=surplus))
        elif data[part.start : part.end] != kept[number]:
            removed.append(say("pack.redact.surplus", name=pictures.name_of(part), length=max(surplus, 0)))
    return removed + _trailer(data, parts)


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
