"""Corrections and withdrawals: which record answers which. Both stay readable, so nothing here changes a record."""

from __future__ import annotations

import json

from sqlalchemy import insert

from witnessmark.projections import tables
from witnessmark.projections.batch import Batch

VERSION = 3
TABLES = [tables.answer]

SORTS = {"entry_corrected": "corrected", "entry_withdrawn": "withdrawn"}


def changes_of(body: dict) -> dict:
    """What a correction puts in place of what stood there; a new place under `location`."""
    changes = dict(body.get("changes") or {})
    if body.get("location"):
        changes["location"] = body["location"]
    return changes


def apply(batch: Batch) -> None:
    """Ties each correction and withdrawal to the record it names."""
    tied = [
        {
            "row": row,
            "workshop": batch.workshop,
            "job": entry["job"],
            "target": entry["body"]["entry"],
            "root": batch.roots[entry["id"]],
            "sort": SORTS[entry["kind"]],
            "id": entry["id"],
            "author": entry["author"],
            "reason": entry["body"].get("reason", ""),
            "changes": json.dumps(changes_of(entry["body"]), ensure_ascii=False, sort_keys=True),
        }
        for row, _log, entry in batch.rows
        if entry["kind"] in SORTS
    ]
    if tied:
        batch.conn.execute(insert(tables.answer), tied)
