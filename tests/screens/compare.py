"""Compares two folders of pictures made by `python -m tests.screens FOLDER`, picture by picture.

Clocks and ages written on the screens differ from run to run, so the result is a list to look through and no verdict.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from PIL import Image, ImageChops

# A pixel differs when one of its channels differs by more than this, of 255: letters are smoothed a little differently
# from run to run.
NOTICED = 24
WORTH_SEEING = 0.0005
LISTED = 25
DIFFERING = (214, 40, 90)
SPACE = 12


@dataclass(frozen=True)
class Pair:
    """`share` of pixels that differ, 0 to 1; pictures of different size differ wholly outside what both cover."""

    name: str
    share: float


def compare(before: Path, after: Path, beside: Path) -> list[Pair]:
    """Pairs the pictures by name, worst first. Writes before, after and the difference side by side into `beside`,
    for each that differs. Raises ValueError when there is no pair."""
    names = {path.name for path in before.glob("*.png")} & {path.name for path in after.glob("*.png")}
    if not names:
        raise ValueError(f"no picture of {before} has its like in {after}")
    beside.mkdir(parents=True, exist_ok=True)
    pairs = [_pair(name, before, after, beside) for name in sorted(names)]
    return sorted(pairs, key=lambda pair: -pair.share)


def _pair(name: str, before: Path, after: Path, beside: Path) -> Pair:
    with Image.open(before / name) as first, Image.open(after / name) as second:
        old, new = first.convert("RGB"), second.convert("RGB")
    size = (max(old.width, new.width), max(old.height, new.height))
    differing = ImageChops.difference(_on(size, old), _on(size, new, paper=(255, 255, 255)))
    bands = [band.point(lambda value: 255 if value > NOTICED else 0) for band in differing.split()]
    mask = ImageChops.lighter(ImageChops.lighter(bands[0], bands[1]), bands[2])
    share = mask.histogram()[255] / (size[0] * size[1])
    if share > WORTH_SEEING:
        _side_by_side(_on(size, old), _on(size, new), mask).save(beside / name)
    return Pair(name.removesuffix(".png"), share)


def _on(size: tuple[int, int], picture: Image.Image, paper: tuple[int, int, int] = (0, 0, 0)) -> Image.Image:
    sheet = Image.new("RGB", size, paper)
    sheet.paste(picture, (0, 0))
    return sheet


def _side_by_side(old: Image.Image, new: Image.Image, mask: Image.Image) -> Image.Image:
    width, height = old.size
    sheet = Image.new("RGB", (3 * width + 2 * SPACE, height), (128, 128, 128))
    marked = Image.blend(new, Image.new("RGB", new.size, (255, 255, 255)), 0.7)
    marked.paste(DIFFERING, mask=mask)
    for at, picture in enumerate((old, new, marked)):
        sheet.paste(picture, (at * (width + SPACE), 0))
    return sheet


def report(before: Path, after: Path) -> None:
    """Prints what share of pixels differs, the worst pictures, and which have no like in the other folder."""
    beside = after / "compared"
    pairs = compare(before, after, beside)
    unlike = [pair for pair in pairs if pair.share > WORTH_SEEING]
    mean = sum(pair.share for pair in pairs) / len(pairs)
    print(f"{len(pairs)} pairs; {len(unlike)} differ; {mean:.2%} of all pixels differ. Side by side in {beside}")
    for pair in unlike[:LISTED]:
        print(f"{pair.share:8.2%}  {pair.name}")
    for folder, other in ((before, after), (after, before)):
        alone = sorted({p.stem for p in folder.glob("*.png")} - {p.stem for p in other.glob("*.png")})
        if alone:
            print(f"only in {folder}: {', '.join(alone)}")
