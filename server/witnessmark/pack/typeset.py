"""Sets the report of a pack as PDF/A-3a and PDF/UA-1, by Typst, from words and small pictures only.

It is set in a process of its own (typeset_worker) that ends with the report: Typst keeps what it has worked out once
for as long as its process lives, some hundred megabytes for a long report, and the worker lives for months.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from datetime import datetime
from pathlib import Path
from tempfile import TemporaryDirectory

from witnessmark.config import built_app_folder
from witnessmark.pack.errors import NotBuilt
from witnessmark.trade.ground.sentences import say

ROOM = Path(__file__).parent
PARTS = ["report.typ", "figures.typ", "joints.typ", "spoken.typ"]
STANDARDS = ["a-3a", "ua-1"]
SECONDS = 900  # for one report, on the clock: some 2,000 pictures on a slow machine; more is a fault
LAST_WORDS = 2000  # characters of what a failed process wrote


class NotSet(Exception):
    """The report could not be set: Typst refused it, or was ended. For server.log: the code its process ended with
    (None when it took longer than SECONDS), and what that wrote last."""


class Sheet:
    """The bench on which a report is set: small pictures are laid into its `folder`, then it is printed once.

    Use as a context manager; what lies on it is thrown away at the end.
    """

    def __enter__(self) -> Sheet:
        self._temporary = TemporaryDirectory(prefix="witnessmark-report-")
        self.folder = Path(self._temporary.name)
        return self

    def __exit__(self, *_error) -> None:
        self._temporary.cleanup()

    def print(self, contents: dict, moment: datetime) -> bytes:
        """The PDF. `contents` holds every word of it (see `report.report`); `moment` is the date of issue it bears."""
        for part in PARTS:
            shutil.copyfile(ROOM / part, self.folder / part)
        (self.folder / "contents.json").write_text(json.dumps(_printable(contents), ensure_ascii=False))
        wish = {
            "folder": str(self.folder),
            "fonts": str(fonts_folder()),
            "standards": STANDARDS,
            "timestamp": int(moment.timestamp()),
        }
        return _set(wish, self.folder / "report.pdf")


def _set(wish: dict, target: Path) -> bytes:
    """Has a process set the report into `target`; returns its bytes. Raises NotSet."""
    package = Path(__file__).resolve().parents[2]
    environment = {"PYTHONPATH": os.pathsep.join([str(package), *filter(None, sys.path)]), "PATH": os.defpath}
    try:
        subprocess.run(
            [sys.executable, "-m", "witnessmark.pack.typeset_worker"],
            input=json.dumps(wish), stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True, errors="replace",
            env=environment, timeout=SECONDS, check=True,
            start_new_session=True,  # Ctrl-C in the terminal is for the server
        )  # fmt: skip
    except subprocess.TimeoutExpired as error:
        raise NotSet(None, "") from error
    except subprocess.CalledProcessError as error:
        raise NotSet(error.returncode, error.stderr[-LAST_WORDS:]) from error
    return target.read_bytes()


def fonts_folder() -> Path:
    """The fonts of packs, built beside the app. Raises NotBuilt where they were not built."""
    folder = built_app_folder() / "fonts"
    if not folder.is_dir():
        raise NotBuilt("no_fonts", "fonts", say("pack.no_fonts", folder=folder))
    return folder


# Code points the two shipped fonts and the one inside Typst can set, found by trying; a test tries them all again.
_SET = [(0x20, 0x7E), (0xA1, 0x17F), (0x18F, 0x18F), (0x192, 0x192), (0x218, 0x21B), (0x2C6, 0x2DD)]
_SET += [(0x386, 0x386), (0x388, 0x38A), (0x38C, 0x38C), (0x38E, 0x3A1), (0x3A3, 0x3CE), (0x400, 0x45F)]
_SET += [(0x1E80, 0x1E85), (0x1EF2, 0x1EF3), (0x2010, 0x2015), (0x2018, 0x201E), (0x2020, 0x2022), (0x2026, 0x2026)]
_SET += [(0x2030, 0x2030), (0x2032, 0x2033), (0x2039, 0x203A), (0x2044, 0x2044), (0x20AC, 0x20AC), (0x2116, 0x2116)]
_SET += [(0x2122, 0x2122), (0x2126, 0x2126), (0x2190, 0x2195), (0x2200, 0x2200), (0x2202, 0x2202), (0x2206, 0x2206)]
_SET += [(0x220F, 0x220F), (0x2211, 0x2212), (0x221A, 0x221A), (0x221E, 0x221E), (0x222B, 0x222B), (0x2248, 0x2248)]
_SET += [(0x2260, 0x2260), (0x2264, 0x2265), (0x25CA, 0x25CA), (0x2300, 0x2300), (0x2327, 0x2327)]
SETTABLE = frozenset(point for first, last in _SET for point in range(first, last + 1))


def printable(text: str) -> str:
    """The text as it can be set. A PDF/A may not hold a character without a shape, so what no font here has is named
    by its number, such as [U+4E2D]; the exact text stands in the entry. Line ends become spaces."""
    if all(ord(character) in SETTABLE for character in text):
        return text
    spaced = " ".join(text.split()) if any(character.isspace() for character in text) else text
    return "".join(letter if ord(letter) in SETTABLE else f"[U+{ord(letter):04X}]" for letter in spaced)


def _printable(value):
    if isinstance(value, str):
        return printable(value)
    if isinstance(value, dict):
        return {key: _printable(part) for key, part in value.items()}
    if isinstance(value, (list, tuple)):
        return [_printable(part) for part in value]
    return value
