"""The tightening runs of a job: each by the sheet it was begun by, with what is missing before it may be closed."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

from sqlalchemy import Connection

from witnessmark.projections import engine_types, job_list, measuring, readings, runs, ticks
from witnessmark.trade.record import runs as tightening_job
from witnessmark.trade.sheets import job_sheets as measurement


def of_job(conn: Connection, workshop: str, id: str, managers: Collection[str]) -> list[dict[str, Any]] | None:
    """The runs of one job in the order in which they came up, as trade/record/runs.py gives them; None when no
    record names the job. `managers` are those who may answer what needs a manager."""
    job = job_list.by_id(conn, workshop, id)
    if job is None:
        return None
    engine_type = engine_types.usable(conn, workshop, [job["engine_type"]]).get(job["engine_type"])
    ticked = {f"{stage}/{item}" for (stage, item), tick in ticks.of_job(conn, workshop, id).items() if tick["ticked"]}

    def measured(procedures: Collection[str]) -> list[dict[str, Any]]:
        return _measured(conn, workshop, id, engine_type, procedures)

    runs_by_id, known = runs.of_job(conn, workshop, id), measuring.known_tightening(conn, workshop)
    return tightening_job.runs(
        runs_by_id.values(), known, engine_type, measured, ticked, managers, runs.counted_by_then(conn, workshop, id)
    )


def _measured(
    conn: Connection, workshop: str, job: str, engine_type: dict | None, procedures: Collection[str]
) -> list[dict[str, Any]]:
    """The job's measurement sheets of some procedures."""
    read, known = readings.of_job(conn, workshop, job), measuring.known(conn, workshop)
    states = {(reading["body"].get("procedure", ""), reading["body"].get("state", "as_found")) for reading in read}
    wanted = sorted((code, state) for code, state in states if code in procedures)
    return [measurement.sheet(engine_type, read, known, code, state) for code, state in wanted]
