"""The committed clips of synthetic speech, for every test that needs a sound; see tests/clips/README.md."""

from __future__ import annotations

import json
from pathlib import Path

FOLDER = Path(__file__).resolve().parents[1] / "clips"
CLIPS = {clip["file"]: clip for clip in json.loads((FOLDER / "clips.json").read_text())["clips"]}


def clip(file: str = "bore_3_thrust.webm") -> bytes:
    """The bytes of one clip."""
    return (FOLDER / file).read_bytes()
