"""The process that sets one report and ends. Started by pack.typeset; nothing else of the server is loaded into it.

One JSON object comes in: {"folder", "fonts", "standards": [...], "timestamp": seconds since 1970}. It sets `report.typ`
of the folder into `report.pdf` beside it. What goes wrong is written to standard error, and the code is not 0.
"""

from __future__ import annotations

import ctypes
import json
import os
import resource
import signal
import sys
from pathlib import Path

import typst

PR_SET_PDEATHSIG = 1  # prctl(2)


def main() -> None:
    if sys.platform == "linux":
        # Nobody waits for the report of a worker that was stopped.
        ctypes.CDLL(None).prctl(PR_SET_PDEATHSIG, signal.SIGKILL)
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    os.nice(10)  # people who wait for an answer come first
    wish = json.load(sys.stdin)
    folder = Path(wish["folder"])
    typst.compile(
        str(folder / "report.typ"),
        output=str(folder / "report.pdf"),
        root=str(folder),
        font_paths=[wish["fonts"]],
        # The report must come out the same on every machine.
        ignore_system_fonts=True,
        pdf_standards=wish["standards"],
        timestamp=wish["timestamp"],
    )


if __name__ == "__main__":
    main()
