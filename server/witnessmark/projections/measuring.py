"""What the workshop stated about its gauges, limits, sheets, tools …: every statement, in the order of the log."""

from __future__ import annotations

import json
from collections.abc import Iterator

from sqlalchemy import Connection, insert, select

from witnessmark.projections import tables
from witnessmark.projections.batch import Batch
from witnessmark.trade.measuring import known as trade
from witnessmark.trade.measuring.known import FIELD, Known
from witnessmark.trade.tightening import known as tightening_known

VERSION = 2
TABLES = [tables.statement]

STATED = FIELD | tightening_known.FIELD
OWN = "own_"  # how the codes of a workshop's own procedures begin

_c = tables.statement.c


def apply(batch: Batch) -> None:
    """Stores each statement under what it is about."""
    new_rows = []
    for row, log, entry in batch.rows:
        if entry["kind"] not in STATED:
            continue
        what = entry["body"][STATED[entry["kind"]]]
        new_rows.append(
            {
                "row": row,
                "workshop": batch.workshop,
                "kind": entry["kind"],
                "subject": subject(entry["kind"], what),
                "engine_type": what.get("engine_type", ""),
                "position": log.position,
                "id": entry["id"],
                "author": entry["author"],
                "claimed": entry["claimed"],
                "received": log.received,
                "data": json.dumps(what, ensure_ascii=False, sort_keys=True),
            }
        )
    if new_rows:
        batch.conn.execute(insert(tables.statement), new_rows)


def subject(kind: str, what: dict) -> str:
    """What later statements replace this one by: an identifier, a procedure's code, "" for the rules."""
    if kind == "procedure_described":
        return what["code"]
    return what.get("id", "")


def known(conn: Connection, workshop: str) -> Known:
    """All of measuring that counts now and was stated before, with one query of the database."""
    return trade.known(_entries(conn, workshop, FIELD))


def known_tightening(conn: Connection, workshop: str) -> tightening_known.Known:
    """The tightening sheets and torque tools that count now and were stated before, with one query."""
    return tightening_known.known(_entries(conn, workshop, tightening_known.FIELD))


def _entries(conn: Connection, workshop: str, fields: dict[str, str]) -> Iterator[dict]:
    query = select(_c.id, _c.kind, _c.claimed, _c.data).where(_c.workshop == workshop, _c.kind.in_(list(fields)))
    for columns in conn.execute(query.order_by(_c.row)):
        body = {fields[columns.kind]: json.loads(columns.data)}
        yield {"id": columns.id, "kind": columns.kind, "claimed": columns.claimed, "body": body}


def procedure_name(batch: Batch, row: int, entry: dict) -> str:
    """The name that the workshop had given its own procedure when a reading was taken by it; "" for anything else."""
    code = entry["body"].get("procedure", "") if entry["kind"] == "measured" else ""
    if not code.startswith(OWN):
        return ""
    if code not in batch.procedures:
        query = select(_c.row, _c.data).where(_c.workshop == batch.workshop, _c.kind == "procedure_described")
        editions = batch.conn.execute(query.where(_c.subject == code).order_by(_c.row.desc()))
        batch.procedures[code] = [(line.row, json.loads(line.data)["name"]) for line in editions]
    # Only earlier statements: a later edition in the same batch must not count here.
    return next((name for at, name in batch.procedures[code] if at < row), "")


def own_procedure(conn: Connection, workshop: str, code: str, before: int) -> dict | None:
    """A procedure of the workshop's own as it had described it before a row; None for any other code."""
    if not code.startswith(OWN):
        return None
    query = select(_c.data).where(_c.workshop == workshop, _c.kind == "procedure_described", _c.subject == code)
    data = conn.scalar(query.where(_c.row < before).order_by(_c.row.desc()).limit(1))
    return json.loads(data) if data else None


def statements(
    conn: Connection, workshop: str, kind: str, subject: str | None = None, engine_type: str = ""
) -> list[dict]:
    """Every statement of a kind, oldest first: {subject, position, id, author, claimed, received, what}.

    Only what is about one subject, or one engine type, if that is given.
    """
    query = select(_c.subject, _c.position, _c.id, _c.author, _c.claimed, _c.received, _c.data)
    query = query.where(_c.workshop == workshop, _c.kind == kind).order_by(_c.row)
    if subject is not None:
        query = query.where(_c.subject == subject)
    if engine_type:
        query = query.where(_c.engine_type == engine_type)
    rows = [dict(row) for row in conn.execute(query).mappings()]
    return [{name: row[name] for name in row if name != "data"} | {"what": json.loads(row["data"])} for row in rows]


def by_subject(stated: list[dict]) -> dict[str, list[dict]]:
    """The statements about each subject, the newest first; subjects in the order in which they first came up."""
    newest_first: dict[str, list[dict]] = {}
    for statement in stated:
        newest_first.setdefault(statement["subject"], []).insert(0, statement)
    return newest_first
