"""The facts of a job as its records give them, one record after the other."""

from __future__ import annotations

from typing import Any

from witnessmark.projections import tables
from witnessmark.projections.fact_fold import FactFold
from witnessmark.projections.visits import engine_key
from witnessmark.trade.record.jobs import DECIDING, FACTS
from witnessmark.trade.record.kinds import ABOUT, drawn_as

FIRST_STAGE = "intake"
ANSWERS = ABOUT["record"]
PICTURED = drawn_as("picture")


def unknown(workshop: str, id: str, row: int) -> dict[str, Any]:
    """The facts of a job of which only the id is known yet."""
    facts: dict = {column.name: "" for column in tables.job.c}
    given = {"workshop": workshop, "id": id, "row": row, "opened": None}
    return facts | given | {"last_position": 0, "entries": 0, "pictures": 0}


def apply_entry(facts: dict[str, Any], entry: dict, position: int, received: str) -> None:
    """Brings the facts up to date with one more record of the job that answers no other."""
    kind, body = entry["kind"], entry["body"]
    facts["entries"] += 1
    facts["last"], facts["last_position"] = received, position
    if kind in PICTURED:
        facts["pictures"] += 1
    elif kind in DECIDING:
        if kind == "stage_reached":
            facts["stage"] = body["stage"]
        elif kind == "job_amended":
            facts.update((name, new) for name, new in body["changes"].items() if name in FACTS)
        elif facts["opened"] is None:
            facts.update((name, body[name]) for name in FACTS)
            facts["opened"] = entry["claimed"]
            facts["stage"] = facts["stage"] or FIRST_STAGE
        facts["engine_key"] = engine_key(facts["engine_number"])


def needs_fold(facts: dict[str, Any], entry: dict) -> bool:
    """Whether a record that gives facts can be judged only with all that came before it: a second opening counts
    when the first was withdrawn."""
    return entry["kind"] == "job_opened" and facts["opened"] is not None


def apply_fold(facts: dict[str, Any], fold: FactFold) -> None:
    """Brings the facts up to date with what stands after corrections and withdrawals."""
    facts.update(fold.facts())
    if facts["opened"] is not None:
        facts["stage"] = facts["stage"] or FIRST_STAGE
    facts["engine_key"] = engine_key(facts["engine_number"])
