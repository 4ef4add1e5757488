"""Small pictures for the page and the PDF, 800 points along the longer edge, made from the previews at hand.

They are drawings after the originals and say so; what counts are the files beside them.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

from PIL import Image

from witnessmark.config import Settings
from witnessmark.media.previews import Bench, find
from witnessmark.media.sniff import PICTURES
from witnessmark.media.store import path_of
from witnessmark.pack.media import MediaFile

EDGE = 800
MOST_PIXELS = 40_000_000
QUALITY = 80
# Two: decoding lets other threads run, and the machine has other work.
HANDS = 2


class Plate(NamedTuple):
    """A small picture and its width to height."""

    jpeg: bytes
    ratio: float


def draw_all(settings: Settings, files: list[MediaFile], here: set[str]) -> Iterator[tuple[MediaFile, Plate | None]]:
    """The small picture of each file in order, None for one that is no picture or cannot be drawn."""
    bench = Bench()
    try:
        with TemporaryDirectory(prefix="witnessmark-plates-") as folder, ThreadPoolExecutor(HANDS) as hands:

            def draw(file: MediaFile) -> Plate | None:
                preview = find(settings, file.sha256, 1600)
                path = preview.path if preview else _fresh(settings, bench, file, Path(folder), here)
                return plate(path) if path else None

            # A batch at a time, so that finished plates do not pile up while the bag is being written.
            for start in range(0, len(files), 8):
                batch = files[start : start + 8]
                yield from zip(batch, hands.map(draw, batch), strict=True)
    finally:
        bench.close()


def plate(path: Path) -> Plate | None:
    """A preview as a JPEG of at most 800 points, without a word of metadata; None if it cannot be drawn."""
    try:
        with Image.open(path, formats=("JPEG",)) as picture:
            if picture.width * picture.height > MOST_PIXELS:
                return None
            picture.draft("RGB", (EDGE, EDGE * 3 // 4))
            small = picture.convert("RGB")
    except (OSError, ValueError, SyntaxError):
        return None
    small.thumbnail((EDGE, EDGE))
    # Pillow hands a comment on to what is made of a picture; nothing but the points is wanted here.
    small.info = {}
    made = io.BytesIO()
    small.save(made, "JPEG", quality=QUALITY)
    return Plate(made.getvalue(), small.width / small.height)


def _fresh(settings: Settings, bench: Bench, file: MediaFile, folder: Path, here: set[str]) -> Path | None:
    if file.sha256 not in here or not file.type.startswith("image/") and file.type not in PICTURES:
        return None
    target = folder / f"{file.sha256}.jpg"
    told = bench.look(path_of(settings, file.sha256), {1600: target})
    return target if not told.get("fault") and target.is_file() else None
