"""The ten stages of a job, the plain checklist of each and the cautions shown with it."""

from __future__ import annotations

from typing import Any

from witnessmark.trade.ground.tables import table

STAGES: list[dict[str, Any]] = table("stages")["stages"]
CODES: tuple[str, ...] = tuple(stage["code"] for stage in STAGES)
WORDS: dict[str, str] = {stage["code"]: stage["words"] for stage in STAGES}
CHECKLISTS: dict[str, list[dict[str, str]]] = {stage["code"]: stage["checklist"] for stage in STAGES}
CAUTIONS: dict[str, list[str]] = {stage["code"]: stage["cautions"] for stage in STAGES}
# Stands with every list of cautions.
ALWAYS: str = table("stages")["always"]

_ITEMS = {(stage["code"], item["item"]): item["words"] for stage in STAGES for item in stage["checklist"]}


def stage_words(code: str) -> str:
    """The stage as it is said ("clean and measure"); a code nobody knows is shown as it stands."""
    return WORDS.get(code, code)


def item_words(stage: str, item: str) -> str:
    """The checklist item as it is read; an item of an older list is shown by its code."""
    return _ITEMS.get((stage, item)) or item.replace("_", " ")
