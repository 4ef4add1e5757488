"""Small pictures for the page and the PDF, at most 640 points along the longer edge, made from the server's own
previews or from the originals. What a phone sent as a preview is never one of them: nothing ties it to an original.

They are drawings after the originals and say so; what counts are the files beside them. A picture that cannot be
drawn costs itself alone, and the reason stands beside it.
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
from witnessmark.media.previews import Bench, in_words, own
from witnessmark.media.store import path_of
from witnessmark.pack.media import MediaFile

# Printed 65 mm wide, 640 points are 250 to the inch.
EDGE, SMALLEST = 640, 240
# The typesetter unfolds all pictures at once: beyond this many they get smaller, so that its memory does not grow.
AT_FULL_SIZE = 300
MOST_PIXELS = 40_000_000
QUALITY = 80
CHECKED_AT = 80  # points; the whole file is read at any size, and a damaged one would stop the typesetter
# Two: decoding lets other threads run, and the machine has other work.
HANDS = 2


class Plate(NamedTuple):
    """A small picture on the typesetter's bench, and its width to height."""

    path: Path
    ratio: float


class Drawing:
    """Draws the small pictures beside whatever else is being done, from the moment it is entered.

    `here` are the originals that have arrived; `faults` says of those that could not be drawn before why not,
    SHA-256 -> sentence. Leaving it early throws away what is not drawn yet.
    """

    def __init__(
        self, settings: Settings, files: list[MediaFile], here: set[str], faults: dict[str, str], folder: Path
    ):
        self._settings, self._files, self._here, self._folder = settings, files, here, folder
        self._faults = faults
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

    def each(self) -> Iterator[tuple[MediaFile, Plate | None, str]]:
        """Every file in order with its small picture; or with None and the reason, '' for one that is no picture or
        has not arrived."""
        for file, drawn in zip(self._files, self._drawn, strict=True):
            yield file, *drawn.result()

    def _draw(self, file: MediaFile) -> tuple[Plate | None, str]:
        target = self._folder / f"{file.sha256}.jpg"
        at_hand = own(self._settings, file.sha256, EDGE) if self._edge == EDGE else None
        if at_hand and (made := taken(at_hand, target)):
            return made, ""
        preview = own(self._settings, file.sha256, 1600)
        if preview and (made := plate(preview, target, self._edge)):
            return made, ""
        source, fault = self._draw_preview(file)
        if source and (made := plate(source, target, self._edge)):
            return made, ""
        return None, fault

    def _draw_preview(self, file: MediaFile) -> tuple[Path | None, str]:
        """For an original nobody has looked at yet, or whose preview is damaged: a preview of it, or why not."""
        if file.sha256 not in self._here or not file.type.startswith("image/"):
            return None, ""
        if fault := self._faults.get(file.sha256):
            return None, fault
        target = Path(self._fresh.name) / f"{file.sha256}.jpg"
        answer = self._bench.look(path_of(self._settings, file.sha256), {1600: target})
        fault = in_words(answer.get("fault"))
        return (None, fault) if fault else (target, "")


def edge_for(count: int) -> int:
    """The longer edge in points when `count` pictures are wanted."""
    return max(SMALLEST, int(EDGE * min(1, AT_FULL_SIZE / max(count, 1)) ** 0.5))


def taken(source: Path, target: Path) -> Plate | None:
    """A preview of the right size as it lies there; None if it cannot be drawn."""
    decoded = _decoded(source, CHECKED_AT)
    if decoded is None:
        return None
    shutil.copyfile(source, target)
    return Plate(target, decoded.ratio)


def plate(source: Path, target: Path, edge: int) -> Plate | None:
    """Draws a preview as a JPEG of at most `edge` points, without a word of metadata; None if it cannot be drawn."""
    decoded = _decoded(source, edge)
    if decoded is None:
        return None
    small = decoded.picture
    small.thumbnail((edge, edge), Image.Resampling.BILINEAR)
    # Pillow hands a comment on to what is made of a picture; nothing but the points is wanted here.
    small.info = {}
    small.save(target, "JPEG", quality=QUALITY)
    return Plate(target, small.width / small.height)


class Decoded(NamedTuple):
    """A picture decoded to its end, at some size, and its width to height in full."""

    picture: Image.Image
    ratio: float


def _decoded(source: Path, edge: int) -> Decoded | None:
    """A JPEG at `edge` points or more, as far as its decoder can do that cheaply; None if it cannot be decoded."""
    try:
        with Image.open(source, formats=("JPEG",)) as picture:
            width, height = picture.size
            if width * height > MOST_PIXELS:
                return None
            # Half or a quarter of the size costs a decoder next to nothing; only the rest is worked out.
            picture.draft("RGB", (edge, edge * 3 // 4))
            return Decoded(picture.convert("RGB"), width / height)
    except Exception:
        # A decoder may raise anything at all: then this picture cannot be drawn, and the pack is none the worse.
        return None
