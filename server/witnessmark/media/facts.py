"""What a picture says of itself: size, times, camera, and whether more than one picture is hidden in the file.

Nothing here is believed: it is shown beside what the workshop measured itself. Runs in the fenced-in process.
"""

from __future__ import annotations

import re
from typing import Any

from PIL import ExifTags, Image

# ITU-T T.81, B.1.1.3: after SOS, FF00 is stuffing, FFD0..D7 restart marks and FFFF fill; anything else ends the scan.
_SCAN_END = re.compile(rb"\xff[^\x00\xd0-\xd7\xff]", re.DOTALL)
_TEXT_LIMIT = 80


def of_picture(picture: Image.Image, data: bytes) -> dict[str, Any]:
    """Facts of an opened picture and its bytes: only what is there, as JSON values.

    `width`, `height` in pixels as a viewer shows them; `taken`, `digitised`, `changed` as RFC 3339 where the file
    states the offset, else local time without one; `make`, `model`; `pictures` when more than one; `trailer`
    {"bytes", "video"} for what follows the first picture.
    """
    exif = picture.getexif()
    detail = exif.get_ifd(ExifTags.IFD.Exif)
    width, height = picture.size
    if exif.get(ExifTags.Base.Orientation) in (5, 6, 7, 8):
        width, height = height, width
    facts: dict[str, Any] = {"width": width, "height": height}
    tags = ExifTags.Base
    times = {
        "taken": (detail, tags.DateTimeOriginal, tags.SubsecTimeOriginal, tags.OffsetTimeOriginal),
        "digitised": (detail, tags.DateTimeDigitized, tags.SubsecTimeDigitized, tags.OffsetTimeDigitized),
        "changed": (exif, tags.DateTime, tags.SubsecTime, tags.OffsetTime),
    }
    for name, (part, stamp, fraction, offset) in times.items():
        if value := exif_time(part.get(stamp), detail.get(fraction), detail.get(offset)):
            facts[name] = value
    for name, tag in (("make", tags.Make), ("model", tags.Model)):
        if value := _text(exif.get(tag)):
            facts[name] = value
    if (count := getattr(picture, "n_frames", 1)) > 1:
        facts["pictures"] = count
    if data.startswith(b"\xff\xd8") and (end := end_of_first_jpeg(data)) and (rest := data[end:]).strip(b"\x00"):
        facts["trailer"] = {"bytes": len(rest), "video": b"ftyp" in rest}
    return facts


def exif_time(stamp: object, fraction: object = None, offset: object = None) -> str | None:
    """`2026:05:14 10:38:07`, `120`, `+01:00` as `2026-05-14T10:38:07.120+01:00`; None for what is no time."""
    match = re.fullmatch(r"(\d{4}):(\d\d):(\d\d) (\d\d:\d\d:\d\d)", _text(stamp))
    if not match or match[1] == "0000":
        return None
    text = f"{match[1]}-{match[2]}-{match[3]}T{match[4]}"
    if re.fullmatch(r"\d{1,9}", digits := _text(fraction)):
        text += f".{digits[:3].ljust(3, '0')}"
    if re.fullmatch(r"[+-]\d\d:\d\d", zone := _text(offset)):
        text += zone
    return text


def end_of_first_jpeg(data: bytes) -> int | None:
    """The offset just past the end-of-image mark of the first picture; None when the walk finds no such mark."""
    at = 2
    while at + 4 <= len(data):
        if data[at] != 0xFF:
            return None
        mark = data[at + 1]
        if mark == 0xD9:
            return at + 2
        if mark == 0xFF:
            at += 1
            continue
        at += 2 + int.from_bytes(data[at + 2 : at + 4], "big")
        if mark == 0xDA:
            match = _SCAN_END.search(data, at)
            if not match:
                return None
            at = match.start()
    return at + 2 if data[at : at + 2] == b"\xff\xd9" else None


def _text(value: object) -> str:
    if isinstance(value, bytes):
        value = value.decode("ascii", "ignore")
    if not isinstance(value, str):
        return ""
    return "".join(c for c in value if c.isprintable()).strip()[:_TEXT_LIMIT]
