"""Small pictures for the page and the PDF, at most 640 points along the longer edge, made from the previews at hand.

They are drawings after the originals and say so; what counts are the files beside them.
"""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

from PIL import Image

from witnessmark.config import Settings
from witnessmark.media.previews import Bench, find
from witnessmark.media.store import path_of
from witnessmark.pack.media import MediaFile

# Printed 65 mm wide, 640 points are 250 to the inch.
EDGE, SMALLEST = 640, 240
# The typesetter unfolds all pictures at once: beyond this many they get smaller, so that its memory does not grow.
AT_FULL_SIZE = 300
MOST_PIXELS = 40_000_000
QUALITY = 80
# Two: decoding lets other threads run, and the machine has other work.
HANDS = 2


class Plate(NamedTuple):
    """A small picture on the typesetter's bench, and its width to height."""

    path: Path
    ratio: float


class Drawing:
    """Draws the small pictures beside whatever else is being done, from the moment it is entered.

    Leaving it early throws away what is not drawn yet.
    """

    def __init__(self, settings: Settings, files: list[MediaFile], here: set[str], folder: Path):
        self._settings, self._files, self._here, self._folder = settings, files, here, folder
        self._edge = edge_for(len(files))

    def __enter__(self) -> Drawing:
        self._bench = Bench()
        self._fresh = TemporaryDirectory(prefix="witnessmark-plates-")
        self._hands = ThreadPoolExecutor(HANDS)
        self._drawn = [self._hands.submit(self._draw, file) for file in self._files]
        return self

    def __exit__(self, *_error) -> None:
        self._hands.shutdown(cancel_futures=True)
        self._bench.close()
        self._fresh.cleanup()

    def each(self) -> Iterator[tuple[MediaFile, Plate | None]]:
        """Every file in order with its small picture; None for one that is no picture or cannot be drawn."""
        for file, drawn in zip(self._files, self._drawn, strict=True):
            yield file, drawn.result()

    def _draw(self, file: MediaFile) -> Plate | None:
        at_hand = find(self._settings, file.sha256, EDGE) if self._edge == EDGE else None
        if at_hand and at_hand.final:
            return taken(at_hand.path, self._folder / f"{file.sha256}.jpg")
        preview = find(self._settings, file.sha256, 1600)
        source = preview.path if preview else self._draw_preview(file)
        return plate(source, self._folder / f"{file.sha256}.jpg", self._edge) if source else None

    def _draw_preview(self, file: MediaFile) -> Path | None:
        """For an original nobody has looked at yet."""
        if file.sha256 not in self._here or not file.type.startswith("image/"):
            return None
        target = Path(self._fresh.name) / f"{file.sha256}.jpg"
        answer = self._bench.look(path_of(self._settings, file.sha256), {1600: target})
        return target if not answer.get("fault") and target.is_file() else None


def edge_for(count: int) -> int:
    """The longer edge in points when `count` pictures are wanted."""
    return max(SMALLEST, int(EDGE * min(1, AT_FULL_SIZE / max(count, 1)) ** 0.5))


def taken(source: Path, target: Path) -> Plate | None:
    """A preview of the right size as it lies there; None if it is no picture."""
    try:
        with Image.open(source, formats=("JPEG",)) as picture:
            ratio = picture.width / picture.height
    except (OSError, ValueError, SyntaxError):
        return None
    shutil.copyfile(source, target)
    return Plate(target, ratio)


def plate(source: Path, target: Path, edge: int) -> Plate | None:
    """Draws a preview as a JPEG of at most `edge` points, without a word of metadata; None if it cannot be drawn."""
    try:
        with Image.open(source, formats=("JPEG",)) as picture:
            if picture.width * picture.height > MOST_PIXELS:
                return None
            # Half or a quarter of the size costs a decoder next to nothing; only the rest is worked out.
            picture.draft("RGB", (edge, edge * 3 // 4))
            small = picture.convert("RGB")
    except (OSError, ValueError, SyntaxError):
        return None
    small.thumbnail((edge, edge), Image.Resampling.BILINEAR)
    # Pillow hands a comment on to what is made of a picture; nothing but the points is wanted here.
    small.info = {}
    small.save(target, "JPEG", quality=QUALITY)
    return Plate(target, small.width / small.height)
