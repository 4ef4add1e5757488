"""The facts of a job as its records give them, one record after the other."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from witnessmark.projections import tables
from witnessmark.projections.visits import engine_key
from witnessmark.trade.record.jobs import DECIDING, FACTS, job_facts
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


def recompute(facts: dict[str, Any], entries: Iterable[dict]) -> None:
    """Recomputes the facts after something they rest on was corrected or withdrawn.

    Requires, in order, every record of the job so far that is DECIDING or ANSWERS.
    """
    standing_facts = job_facts(entries)
    if standing_facts is None:
        return  # the opening itself was withdrawn: its words are all there is to name the job by
    facts.update(standing_facts)
    facts["stage"] = standing_facts["stage"] or FIRST_STAGE
    facts["engine_key"] = engine_key(facts["engine_number"])
