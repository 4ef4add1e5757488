"""The timeline: every record of a job under its exhibit number, in the order the server received them."""

from __future__ import annotations

from witnessmark.db import add_rows
from witnessmark.projections import tables
from witnessmark.projections.batch import Batch

VERSION = 1
TABLES = [tables.timeline]


def apply(batch: Batch) -> None:
    """Files each record of a job under its exhibit number."""
    filed = [
        (record.row, batch.workshop, record.entry["job"], record.exhibit, record.log.position, record.entry["id"])
        for record in batch.records
    ]
    if filed:
        add_rows(batch.conn, tables.timeline, ("row", "workshop", "job", "exhibit", "position", "id"), filed)
