"""All projections, and the two ways to fill them: as records arrive, and again from the whole log.

Nothing here is evidence. Every table of this room can be dropped; `rebuild` makes the same rows again.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from itertools import groupby

from sqlalchemy import Connection, delete, insert, inspect, select

from witnessmark.log import read
from witnessmark.log import tables as log_tables
from witnessmark.log.rows import Row
from witnessmark.projections import (
    answers,
    engine_types,
    jobs,
    measuring,
    media_refs,
    readings,
    runs,
    search,
    spoken,
    tables,
    tallies,
    ticks,
    timeline,
)
from witnessmark.projections.batch import Batch

# In this order: engine types and job facts are looked up by those that follow.
PROJECTIONS = {
    "engine_types": engine_types,
    "jobs": jobs,
    "timeline": timeline,
    "answers": answers,
    "tallies": tallies,
    "ticks": ticks,
    "media_refs": media_refs,
    "measuring": measuring,
    "readings": readings,
    "runs": runs,
    "search": search,
    "spoken": spoken,
}
VERSIONS = {name: projection.VERSION for name, projection in PROJECTIONS.items()}

REPLAYED_AT_ONCE = 2000


def apply(conn: Connection, rows: Sequence[Row]) -> None:
    """Brings every projection up to date with freshly appended rows; call it in the transaction that appended them.

    When the tables are missing or of an older version they are rebuilt from the log first, which holds these rows
    already. An error leaves the whole transaction to be rolled back: the projections are never half a batch behind.
    """
    if not rows:
        return
    if not is_current(conn):
        rebuild(conn)
        return
    _apply_to_all(conn, rows)


def is_current(conn: Connection) -> bool:
    """Whether every projection's tables are there in the version this program writes."""
    if not inspect(conn).has_table(tables.version.name):
        return False
    return {name: number for name, number in conn.execute(select(tables.version))} == VERSIONS


def prepare(conn: Connection) -> bool:
    """Makes the tables and fills them from the log if they are missing or outdated; returns whether it had to."""
    if is_current(conn):
        return False
    rebuild(conn)
    return True


def rebuild(conn: Connection, on_progress: Callable[[int], None] = lambda done: None) -> int:
    """Drops every projection and replays the log; returns the number of records replayed.

    Requires a writing connection. Readers see the old rows until it commits. `on_progress` is called with the number
    of records done so far.
    """
    for projection in reversed(PROJECTIONS.values()):
        for table in reversed(projection.TABLES):
            table.drop(conn, checkfirst=True)
    for table in (tables.version, tables.workshop_number):
        table.create(conn, checkfirst=True)
    for projection in PROJECTIONS.values():
        for table in projection.TABLES:
            table.create(conn, checkfirst=True)
    done = 0
    for workshop in workshops(conn):
        for run in _runs(read.whole_log(conn, workshop), REPLAYED_AT_ONCE):
            _apply_to_all(conn, run)
            done += len(run)
            on_progress(done)
    conn.execute(delete(tables.version))
    conn.execute(insert(tables.version), [{"name": name, "version": number} for name, number in VERSIONS.items()])
    return done


def workshops(conn: Connection) -> list[str]:
    """The workshops that have a log here: numbered ones first, as numbered."""
    numbered = list(conn.scalars(select(tables.workshop_number.c.workshop).order_by(tables.workshop_number.c.number)))
    logged = conn.scalars(select(log_tables.entries.c.workshop).distinct().order_by(log_tables.entries.c.workshop))
    return [*numbered, *(workshop for workshop in logged if workshop not in numbered)]


def _apply_to_all(conn: Connection, rows: Sequence[Row]) -> None:
    for workshop, logged in groupby(rows, key=lambda row: row.workshop):
        batch = Batch(conn, workshop, list(logged))
        for projection in PROJECTIONS.values():
            projection.apply(batch)


def _runs(rows: Iterable[Row], size: int) -> Iterable[list[Row]]:
    run: list[Row] = []
    for row in rows:
        run.append(row)
        if len(run) == size:
            yield run
            run = []
    if run:
        yield run
