"""Entries of a job that a table of its own lists, as they stand: read from the log, corrections taken in."""

from __future__ import annotations

import json
from collections.abc import Sequence

from sqlalchemy import Connection, Table, select

from witnessmark.log import tables as log_tables
from witnessmark.projections import tables
from witnessmark.projections.batch import base_row
from witnessmark.trade.ground.corrections import Standing, fold

_log = log_tables.entries.c


def of_jobs(conn: Connection, workshop: str, table: Table, jobs: Sequence[str]) -> list[tuple[str, Standing]]:
    """(exhibit, entry as it stands) of all entries of these jobs that a table lists, in the order of the log; withdrawn
    ones too. The table has row, workshop and job.

    Two questions to the database, however many entries there are. At most a few hundred jobs.
    """
    base = base_row(conn, workshop)
    listed, answer = table.c, tables.answer.c
    read = select(listed.row, _log.bytes, tables.timeline.c.exhibit)
    read = read.join(tables.timeline, tables.timeline.c.row == listed.row)
    read = read.join(log_tables.entries, (_log.workshop == listed.workshop) & (_log.position == listed.row - base))
    answered = select(answer.row, _log.bytes)
    answered = answered.join(
        log_tables.entries, (_log.workshop == answer.workshop) & (_log.position == answer.row - base)
    )
    lines = conn.execute(read.where(listed.workshop == workshop, listed.job.in_(jobs))).all()
    exhibits = {line.row: line.exhibit for line in lines}
    entries = {line.row: json.loads(line.bytes) for line in lines}
    for line in conn.execute(answered.where(answer.workshop == workshop, answer.job.in_(jobs))):
        entries[line.row] = json.loads(line.bytes)
    rows = sorted(entries)
    folded = zip(rows, fold(entries[row] for row in rows), strict=True)
    return [(str(exhibits[row]), standing) for row, standing in folded if row in exhibits]
