"""The parts of picture files: what they are called, and the one thing beside the picture that a clean copy may say."""

from __future__ import annotations

import struct
from typing import NamedTuple

JPEG, PNG, WEBP = "jpeg", "png", "webp"
EXIF_START = b"Exif\0\0"

SOI, EOI, SOS, COM, APP0, APP1, APP2, APP14, APP15 = 0xD8, 0xD9, 0xDA, 0xFE, 0xE0, 0xE1, 0xE2, 0xEE, 0xEF
DHT, DAC, DQT, DNL, DRI, DHP, EXP = 0xC4, 0xCC, 0xDB, 0xDC, 0xDD, 0xDE, 0xDF
# The heads of frames; C8 is reserved.
FRAMES = set(range(0xC0, 0xD0)) - {DHT, 0xC8, DAC}
# What may stand in a clean JPEG by ITU-T T.81, B.1: frames, tables, restart intervals (DRI), scans (SOS), numbers of
# lines (DNL) and hierarchies (DHP, EXP). No other segment, the reserved ones too, carries a picture.
JPEG_KEPT = {SOI, EOI, SOS, DHT, DAC, DQT, DNL, DRI, DHP, EXP} | FRAMES


class Part(NamedTuple):
    """One segment or chunk: its name, its place in the file with all its framing, and the place of its content."""

    name: int | bytes
    start: int
    end: int
    content: slice


def orientation_only(orientation: int) -> bytes:
    """The smallest EXIF that says which way up a picture is (TIFF, one field). Requires 1 <= orientation <= 8."""
    return b"MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01" + struct.pack(">H", orientation) + b"\0\0\0\0\0\0"


def is_orientation(content: bytes) -> bool:
    """Whether EXIF says nothing but which way up a picture is."""
    return content in [orientation_only(number) for number in range(1, 9)]
