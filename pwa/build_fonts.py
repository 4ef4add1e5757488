"""Lays out the fonts of packs from the font packages of the phone app: TrueType for the report, WOFF2 for the page.

The packages carry WOFF, cut into an alphabet each; typesetters want one TrueType file a face.
"""

from __future__ import annotations

import logging
import shutil
from pathlib import Path

from fontTools.merge import Merger

NEXT, MONO = "atkinson-hyperlegible-next", "atkinson-hyperlegible-mono"
ALPHABETS = ("latin", "latin-ext")
REPORT = ((NEXT, "400-normal"), (NEXT, "400-italic"), (NEXT, "700-normal"), (MONO, "400-normal"), (MONO, "700-normal"))
PAGE = {
    "page-regular.woff2": f"{NEXT}/files/{NEXT}-latin-400-normal.woff2",
    "page-bold.woff2": f"{NEXT}/files/{NEXT}-latin-700-normal.woff2",
    "page-mono.woff2": f"{MONO}/files/{MONO}-latin-400-normal.woff2",
}


def lay_out(packages: Path, target: Path) -> None:
    """Fills `target` from the folder `packages` that holds the two font packages."""
    logging.getLogger("fontTools").setLevel(logging.ERROR)
    target.mkdir(parents=True, exist_ok=True)
    for family, face in REPORT:
        parts = [packages / family / "files" / f"{family}-{alphabet}-{face}.woff" for alphabet in ALPHABETS]
        font = Merger().merge([str(part) for part in parts])
        font.flavor = None
        font.save(target / f"{family}-{face}.ttf")
    for name, source in PAGE.items():
        shutil.copyfile(packages / source, target / name)
    shutil.copyfile(packages / NEXT / "LICENSE", target / "LICENSE.txt")
