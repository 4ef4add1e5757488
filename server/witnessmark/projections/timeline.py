"""The timeline: every record of a job under its exhibit number, in the order the server received them."""

from __future__ import annotations

from sqlalchemy import insert

from witnessmark.projections import tables
from witnessmark.projections.batch import Batch

VERSION = 1
TABLES = [tables.timeline]


def apply(batch: Batch) -> None:
    """Files each record of a job under its exhibit number."""
    filed = [
        {
            "row": record.row,
            "workshop": batch.workshop,
            "job": record.entry["job"],
            "exhibit": record.exhibit,
            "position": record.log.position,
            "id": record.entry["id"],
        }
        for record in batch.records
    ]
    if filed:
        batch.conn.execute(insert(tables.timeline), filed)
