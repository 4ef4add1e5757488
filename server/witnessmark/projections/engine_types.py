"""The engine types of a workshop: every description ever given, the newest of which counts."""

from __future__ import annotations

import json

from sqlalchemy import Connection, func, insert, select

from witnessmark.projections import described, tables
from witnessmark.projections.batch import Batch

VERSION = 1
TABLES = [tables.engine_type]


def apply(batch: Batch) -> None:
    """Keeps each description under its id and position."""
    new_rows = []
    for _row, log, entry in batch.rows:
        if entry["kind"] != "engine_type_described":
            continue
        data = entry["body"]["engine_type"]
        new_rows.append(
            {
                "workshop": batch.workshop,
                "id": data["id"],
                "position": log.position,
                "name": data.get("name", ""),
                "author": entry["author"],
                "received": log.received,
                "data": described.write(data),
            }
        )
    if new_rows:
        batch.conn.execute(insert(tables.engine_type), new_rows)


def every(conn: Connection, workshop: str) -> list[dict]:
    """The newest description of each engine type, by name: {id, name, descriptions, author, received, data}."""
    table = tables.engine_type
    newest = (
        select(table.c.id, func.max(table.c.position).label("position"), func.count().label("descriptions"))
        .where(table.c.workshop == workshop)
        .group_by(table.c.id)
        .subquery()
    )
    query = (
        select(table, newest.c.descriptions)
        .join(newest, (table.c.id == newest.c.id) & (table.c.position == newest.c.position))
        .where(table.c.workshop == workshop)
        .order_by(table.c.name, table.c.id)
    )
    return [dict(row) | {"data": json.loads(row["data"])} for row in conn.execute(query).mappings()]


def newest(conn: Connection, workshop: str, id: str) -> dict | None:
    """The newest description of one engine type, or None when the workshop has none of that id."""
    return named(conn, workshop, [id]).get(id)


def named(conn: Connection, workshop: str, ids: list[str]) -> dict[str, dict]:
    """id -> newest description, for those of `ids` that are described."""
    return {id: json.loads(data) for id, data in _texts(conn, workshop, ids)}


def usable(conn: Connection, workshop: str, ids: list[str]) -> dict[str, dict | None]:
    """id -> newest description to name places by; None for one with faults."""
    return {id: described.usable(data) for id, data in _texts(conn, workshop, ids)}


def _texts(conn: Connection, workshop: str, ids: list[str]) -> list[tuple[str, str]]:
    table = tables.engine_type
    wanted = select(table.c.id, func.max(table.c.position)).where(table.c.workshop == workshop, table.c.id.in_(ids))
    pairs = wanted.group_by(table.c.id).subquery()
    query = select(table.c.id, table.c.data).join(pairs, (table.c.id == pairs.c[0]) & (table.c.position == pairs.c[1]))
    return [tuple(line) for line in conn.execute(query.where(table.c.workshop == workshop))]


def history(conn: Connection, workshop: str, id: str) -> list[dict]:
    """Every description of one engine type, newest first: {position, author, received, name}."""
    table = tables.engine_type
    query = select(table.c.position, table.c.author, table.c.received, table.c.name)
    query = query.where(table.c.workshop == workshop, table.c.id == id).order_by(table.c.position.desc())
    return [dict(row) for row in conn.execute(query).mappings()]
