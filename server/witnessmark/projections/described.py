"""Engine types as text in a table and as data in hand."""

from __future__ import annotations

import json
from functools import lru_cache

from witnessmark.trade.engine.types import check


def write(engine_type: dict) -> str:
    """An engine type as it is stored: the same text for the same data."""
    return json.dumps(engine_type, ensure_ascii=False, sort_keys=True)


@lru_cache(maxsize=128)
def usable(text: str | None) -> dict | None:
    """The engine type in such a text, shared by all callers; None for one with faults.

    A faulty description stays in the log and in the list, but no place is named after it.
    """
    engine_type = json.loads(text) if text else None
    return engine_type if engine_type and not check(engine_type) else None
