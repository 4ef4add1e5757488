"""A log that somebody who holds the server's key writes again."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from contextlib import closing

from sqlalchemy import delete

from tests.support.workshop import Office
from witnessmark.db import writing
from witnessmark.log import tables
from witnessmark.log.append import append
from witnessmark.log.rows import CheckedEntry, Row
from witnessmark.projections import apply as projections
from witnessmark.sync import office as server_office


def rewrite(office: Office, rows: Sequence[Row]) -> None:
    """The whole log again from these rows: new positions, new tree, new heads, rightly signed, and nothing else."""
    with closing(sqlite3.connect(office.settings.data / "witnessmark.db", timeout=10)) as raw:
        for (name,) in raw.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
            raw.execute(f"DROP TRIGGER {name}")
        raw.commit()
    with writing(office.engine) as conn:
        for table in (tables.heads, tables.nodes, tables.entries, tables.jobs, tables.job_nodes):
            conn.execute(delete(table))
        for row in rows:
            checked = CheckedEntry(row.bytes, row.hash, row.signature, row.entry, row.offset_ms)
            append(conn, office.workshop.id, [checked], row.received, server_office.keeper(office.settings))
        projections.rebuild(conn)
