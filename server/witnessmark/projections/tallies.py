"""How many records a job has at each place, of each kind, by each person, from each device and in each stage.

Kept as counters so that no screen ever counts rows. A place corrected later is counted as well as the first one:
the record can be found at both.
"""

from __future__ import annotations

from collections import Counter

from sqlalchemy import Connection, bindparam, insert, select, update

from witnessmark.projections import tables
from witnessmark.projections.batch import Batch

VERSION = 1
TABLES = [tables.tally]


def apply(batch: Batch) -> None:
    """Adds the batch to the counters of its jobs."""
    counted: Counter[tuple[str, str, str]] = Counter()
    for record in batch.records:
        job, entry = record.entry["job"], record.entry
        counted[job, "kind", entry["kind"]] += 1
        counted[job, "person", entry["author"]] += 1
        counted[job, "device", entry["device"]] += 1
        if entry["stage"]:
            counted[job, "stage", entry["stage"]] += 1
        for place in places_of(entry):
            counted[job, "place", place] += 1
    _add(batch, counted)


def places_of(entry: dict) -> list[str]:
    """The places a record is about: its own, and the one a correction replaces it with."""
    locations = [entry["location"], entry["body"].get("location")]
    return list(dict.fromkeys(location["place"] for location in locations if location))


def _add(batch: Batch, counted: Counter) -> None:
    table = tables.tally
    here = [table.c.workshop == batch.workshop, table.c.job.in_(list(batch.jobs))]
    known = {tuple(row) for row in batch.conn.execute(select(table.c.job, table.c.sort, table.c.value).where(*here))}
    new, more = [], []
    for key, entries in counted.items():
        (more if key in known else new).append(dict(zip("jsvn", (*key, entries), strict=True)))
    if new:
        names = {"job": bindparam("j"), "sort": bindparam("s"), "value": bindparam("v"), "entries": bindparam("n")}
        batch.conn.execute(insert(table).values(workshop=batch.workshop, **names), new)
    if more:
        which = [table.c.job == bindparam("j"), table.c.sort == bindparam("s"), table.c.value == bindparam("v")]
        change = update(table).where(table.c.workshop == batch.workshop, *which)
        batch.conn.execute(change.values(entries=table.c.entries + bindparam("n")), more)


def of_job(conn: Connection, workshop: str, job: str) -> dict[str, dict[str, int]]:
    """{"place": {code: n}, "kind": {...}, "person": {...}, "device": {...}, "stage": {...}} of one job."""
    table = tables.tally
    counters: dict[str, dict[str, int]] = {sort: {} for sort in ("place", "kind", "person", "device", "stage")}
    query = select(table.c.sort, table.c.value, table.c.entries)
    for sort, value, entries in conn.execute(query.where(table.c.workshop == workshop, table.c.job == job)):
        counters[sort][value] = entries
    return counters
