"""The figures of a job: its sheets, what they propose, and how they changed since the engine was here before."""

from __future__ import annotations

from typing import Any

from sqlalchemy import Connection

from witnessmark.projections import engine_types, job_list, measuring, readings, visits
from witnessmark.trade.measuring.known import Known, rules_of
from witnessmark.trade.proposals.all import proposals
from witnessmark.trade.sheets import job_sheets as trade
from witnessmark.trade.sheets.wear import wear

MOST_VISITS = 10  # earlier visits that are compared, the newest
# What an engine left with is compared to what it comes back with: the last state it was measured in.
LAST_STATES = ("built", "machined", "as_found")


def of_job(conn: Connection, workshop: str, id: str) -> dict[str, Any] | None:
    """{job, engine_type, readings, sheets, proposals, wear, rules, distance} of one job, None when no record names it.

    `readings` are the standing ones; `job` is as in the list of jobs. The number of questions to the database does
    not grow with the job.
    """
    job = job_list.by_id(conn, workshop, id)
    if job is None:
        return None
    before = _before(conn, workshop, job)
    read = readings.of_jobs(conn, workshop, [id, *(visit["id"] for visit in before)])
    known = measuring.known(conn, workshop)
    ids = sorted({job["engine_type"], *(visit["engine_type"] for visit in before)} - {""})
    types = engine_types.usable(conn, workshop, ids)
    engine_type = types.get(job["engine_type"])
    visited = [(visit, read[visit["id"]], types.get(visit["engine_type"])) for visit in before]
    made = trade.sheets(engine_type, read[id], known)
    return {
        "job": job,
        "engine_type": engine_type,
        "readings": read[id],
        "sheets": made,
        "proposals": proposals(made, known, engine_type),
        "wear": _wear(made, job, visited, known),
        "rules": rules_of(known),
        "distance": _distance(job),
    }


def _before(conn: Connection, workshop: str, job: dict) -> list[dict]:
    """Earlier visits of the same engine, the newest first."""
    visits_of_engine = visits.of_engine(conn, workshop, job["engine_key"])
    return [visit for visit in reversed(visits_of_engine) if visit["row"] < job["row"]][:MOST_VISITS]


def _wear(sheets: list[dict], job: dict, before: list[tuple[dict, list[dict], Any]], known: Known) -> list[dict]:
    """What each procedure's figures as found are beside those of every earlier visit, the newest visit first."""
    as_found = {sheet["procedure"]: sheet for sheet in sheets if sheet["state"] == "as_found" and sheet["procedure"]}
    compared = []
    for visit, read, engine_type in before if as_found else ():
        there = [reading for reading in read if reading["body"].get("procedure", "") in as_found]
        then = {(sheet["procedure"], sheet["state"]): sheet for sheet in trade.sheets(engine_type, there, known)}
        for code, now in as_found.items():
            state = next((state for state in LAST_STATES if (code, state) in then), None)
            changes = wear(now, _distance(job), then[code, state], _distance(visit)) if state else []
            if changes:
                compared.append(
                    {
                        "job": visit["id"],
                        "number": visit["number"],
                        "opened": visit["opened"],
                        "distance": _distance(visit),
                        "procedure": code,
                        "state": state,
                        "changes": changes,
                    }
                )
    return compared


def _distance(job: dict) -> str:
    """ "182400 km"; "" when none was recorded."""
    return f"{job['distance']} {job['distance_unit']}".strip() if job["distance"] else ""
