"""Reads the tables of the trade that lie in trade/data; the phone reads the same files."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

from witnessmark.trade.ground.sentences import table_words, worded

DATA = Path(__file__).resolve().parent.parent / "data"


@cache
def table(name: str) -> Any:
    """The table `data/<name>.json` in the workshop's language, read once. Callers share it and must not change it."""
    return worded(json.loads((DATA / f"{name}.json").read_text(encoding="utf-8")), table_words(name))


@cache
def tables(name: str) -> dict[str, Any]:
    """Every table `data/<name>/<code>.json` by its code, codes in alphabetical order. Shared as those of `table`."""
    return {path.stem: table(f"{name}/{path.stem}") for path in sorted((DATA / name).glob("*.json"))}
