"""Where the readings of a job lie in the log, so that its figures are made without reading the job's whole record."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from sqlalchemy import Connection, select

from witnessmark.db import add_rows
from witnessmark.projections import folded, items, tables
from witnessmark.projections.batch import Batch

VERSION = 1
TABLES = [tables.reading]

_c = tables.reading.c


def apply(batch: Batch) -> None:
    """Files each reading under its job and its gauge."""
    filed = [
        (
            record.row,
            batch.workshop,
            record.entry["job"],
            record.entry["id"],
            record.entry["body"].get("procedure", ""),
            (record.entry["location"] or {"place": ""})["place"],
            record.entry["body"].get("gauge_id", ""),
            record.entry["claimed"],
        )
        for record in batch.records
        if record.entry["kind"] == "measured"
    ]
    if filed:
        names = ("row", "workshop", "job", "id", "procedure", "place", "gauge", "claimed")
        add_rows(batch.conn, tables.reading, names, filed)


def of_job(conn: Connection, workshop: str, job: str) -> list[dict]:
    """The standing readings of one job, as `of_jobs` gives them."""
    return of_jobs(conn, workshop, [job])[job]


def of_jobs(conn: Connection, workshop: str, jobs: Sequence[str]) -> dict[str, list[dict]]:
    """Job -> its standing readings in the order of the log, as trade.sheets takes them:
    {id, exhibit, place, point, body, claimed}, corrections applied, withdrawn ones left out.

    Two questions to the database, however many readings there are. At most a few hundred jobs.
    """
    standing: dict[str, list[dict]] = {job: [] for job in jobs}
    for exhibit, standing_reading in folded.of_jobs(conn, workshop, tables.reading, jobs):
        if standing_reading.withdrawn_by is None:
            location = standing_reading.location or {"place": "", "point": ""}
            standing[standing_reading.entry["job"]].append(
                {
                    "id": standing_reading.entry["id"],
                    "exhibit": exhibit,
                    "place": location["place"],
                    "point": location["point"],
                    "body": standing_reading.body,
                    "claimed": standing_reading.entry["claimed"],
                }
            )
    return standing


def by_gauge(conn: Connection, workshop: str, gauge: str, due: str = "") -> list[dict]:
    """What was read with a gauge, job by job, oldest first: {job, procedure, readings, overdue}, the latter those that
    were made after the day `due`. As the readings were made; withdrawn ones are left out.
    """
    query = select(_c.id, _c.job, _c.procedure, _c.claimed).where(_c.workshop == workshop, _c.gauge == gauge)
    lines = conn.execute(query.order_by(_c.row)).all()
    answers = items.answers_to(conn, workshop, [line.id for line in lines])
    read: Counter[tuple[str, str]] = Counter()
    late: Counter[tuple[str, str]] = Counter()
    for line in lines:
        answers_here = answers.get(line.id, [])
        if any(answer["sort"] == "withdrawn" and not answer["withdrawn"] for answer in answers_here):
            continue
        read[line.job, line.procedure] += 1
        late[line.job, line.procedure] += bool(due) and line.claimed[:10] > due
    return [
        {"job": job, "procedure": procedure, "readings": count, "overdue": late[job, procedure]}
        for (job, procedure), count in read.items()
    ]
