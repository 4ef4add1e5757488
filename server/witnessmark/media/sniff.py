"""What kind of file this is, by its first bytes alone. What a phone or a person claims is never used.

The answer decides what a browser is given, so it is one of a short list; anything else is `OTHER`, which is
only ever offered for saving, never shown.
"""

from __future__ import annotations

OTHER = "application/octet-stream"
HEAD_BYTES = 512

PICTURES = {"image/jpeg", "image/png", "image/webp", "image/heic", "image/heif", "image/avif", "image/tiff"}
SOUND_AND_VIDEO = {"audio/mp4", "audio/webm", "audio/ogg", "audio/wav", "video/mp4"}
DOCUMENTS = {"application/pdf"}
SHOWN = PICTURES | SOUND_AND_VIDEO | DOCUMENTS

# ISO 14496-12 'ftyp': the major brand, else the first compatible brand we know.
_BRANDS = {
    b"heic": "image/heic", b"heix": "image/heic", b"heim": "image/heic", b"heis": "image/heic",
    b"hevc": "image/heic", b"hevx": "image/heic", b"mif1": "image/heif", b"msf1": "image/heif",
    b"avif": "image/avif", b"avis": "image/avif",
    b"M4A ": "audio/mp4", b"M4B ": "audio/mp4",
    b"isom": "video/mp4", b"iso2": "video/mp4", b"iso4": "video/mp4", b"iso5": "video/mp4", b"iso6": "video/mp4",
    b"mp41": "video/mp4", b"mp42": "video/mp4", b"avc1": "video/mp4", b"dash": "video/mp4", b"M4V ": "video/mp4",
    b"qt  ": "video/mp4", b"3gp4": "video/mp4", b"3gp5": "video/mp4",
}  # fmt: skip

_GENERIC = (b"mif1", b"msf1")


def sniff(head: bytes) -> str:
    """The media type of a file that begins with `head` (at least HEAD_BYTES, or the whole file if shorter)."""
    if head.startswith(b"\xff\xd8\xff"):
        return "image/jpeg"
    if head.startswith(b"\x89PNG\r\n\x1a\n"):
        return "image/png"
    if head.startswith((b"II*\x00", b"MM\x00*", b"II+\x00", b"MM\x00+")):
        return "image/tiff"
    if head.startswith(b"%PDF-"):
        return "application/pdf"
    if head.startswith(b"OggS"):
        return "audio/ogg"
    if head.startswith(b"\x1aE\xdf\xa3") and b"webm" in head[:64]:
        return "audio/webm"
    if head[:4] == b"RIFF":
        return {b"WEBP": "image/webp", b"WAVE": "audio/wav"}.get(head[8:12], OTHER)
    if head[4:8] == b"ftyp":
        return _by_brand(head)
    return OTHER


def _by_brand(head: bytes) -> str:
    size = min(int.from_bytes(head[:4], "big"), len(head))
    brands = [head[8:12]] + [head[at : at + 4] for at in range(16, size - 3, 4)]
    if brands[0] in _GENERIC:
        # The generic still-picture brands: a more exact one among the others says which coder it needs.
        brands.sort(key=_GENERIC.__contains__)
    return next((_BRANDS[brand] for brand in brands if brand in _BRANDS), OTHER)
