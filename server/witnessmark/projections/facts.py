"""The facts of a job as its records tell them, one record after the other."""

from __future__ import annotations

from typing import Any

from witnessmark.projections import tables
from witnessmark.projections.visits import engine_key

FACTS = (
    ("number", "vehicle", "registration", "engine_type", "engine_number")
    + ("distance", "distance_unit", "complaint", "received_as", "earlier_job")
)  # fmt: skip


def unknown(workshop: str, id: str, row: int) -> dict[str, Any]:
    """The facts of a job of which nothing is known yet but that a record names it."""
    facts: dict = {column.name: "" for column in tables.job.c}
    given = {"workshop": workshop, "id": id, "row": row, "opened": None}
    return facts | given | {"last_position": 0, "entries": 0, "pictures": 0}


def take_in(facts: dict[str, Any], entry: dict, position: int, received: str) -> None:
    """Brings the facts up to date with one more record of the job."""
    kind, body = entry["kind"], entry["body"]
    facts["entries"] += 1
    facts["last"], facts["last_position"] = received, position
    if kind == "photo_taken":
        facts["pictures"] += 1
    elif kind == "job_opened":
        facts.update((name, body[name]) for name in FACTS)
        facts["opened"] = entry["claimed"]
        facts["stage"] = facts["stage"] or entry["stage"] or "intake"
        facts["engine_key"] = engine_key(facts["engine_number"])
    elif kind == "job_amended":
        facts.update((name, new) for name, new in body["changes"].items() if name in FACTS)
        facts["engine_key"] = engine_key(facts["engine_number"])
    elif kind == "stage_reached":
        facts["stage"] = body["stage"]
