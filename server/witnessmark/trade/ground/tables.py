"""Reads the tables of the trade that lie in trade/data; the phone reads the same files."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

DATA = Path(__file__).resolve().parent.parent / "data"


@cache
def table(name: str) -> Any:
    """The table `data/<name>.json`, read once. Callers share it and must not change it."""
    return json.loads((DATA / f"{name}.json").read_text(encoding="utf-8"))


@cache
def tables(name: str) -> dict[str, Any]:
    """Every table `data/<name>/<code>.json` by its code, codes in alphabetical order. Shared as those of `table`."""
    return {path.stem: table(f"{name}/{path.stem}") for path in sorted((DATA / name).glob("*.json"))}
