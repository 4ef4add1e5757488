"""The checklist of a job: the last word on each item, by order of arrival."""

from __future__ import annotations

from sqlalchemy import Connection, delete, insert, select, tuple_

from witnessmark.projections import tables
from witnessmark.projections.batch import Batch, parts

VERSION = 1
TABLES = [tables.tick]


def apply(batch: Batch) -> None:
    """Keeps the newest tick of each checklist item."""
    newest = {}
    for record in batch.records:
        if record.entry["kind"] != "checklist_ticked":
            continue
        body = record.entry["body"]
        newest[record.entry["job"], body["stage"], body["item"]] = {
            "workshop": batch.workshop,
            "job": record.entry["job"],
            "stage": body["stage"],
            "item": body["item"],
            "ticked": body["ticked"],
            "note": body.get("note", ""),
            "author": record.entry["author"],
            "claimed": record.entry["claimed"],
            "position": record.log.position,
        }
    table = tables.tick
    for some in parts(list(newest), 100):
        key = tuple_(table.c.job, table.c.stage, table.c.item)
        batch.conn.execute(delete(table).where(table.c.workshop == batch.workshop, key.in_(some)))
    if newest:
        batch.conn.execute(insert(table), list(newest.values()))


def of_job(conn: Connection, workshop: str, job: str) -> dict[tuple[str, str], dict]:
    """(stage, item) -> {ticked, note, author, claimed} of one job."""
    table = tables.tick
    query = select(table).where(table.c.workshop == workshop, table.c.job == job)
    return {(row["stage"], row["item"]): dict(row) for row in conn.execute(query).mappings()}
