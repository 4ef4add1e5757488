"""The workshop this data folder belongs to."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import Connection, insert, select

from witnessmark.people import tables


@dataclass(frozen=True)
class Workshop:
    """`desk` is the device id under which the office itself writes entries."""

    id: str
    name: str
    desk: str
    founded: str


def add(conn: Connection, workshop: Workshop) -> None:
    conn.execute(insert(tables.workshops), vars(workshop))


def only(conn: Connection) -> Workshop | None:
    """The workshop of this folder, or None before it is founded."""
    w = tables.workshops.c
    columns = conn.execute(select(w.id, w.name, w.desk, w.founded).limit(1)).first()
    return Workshop(*columns) if columns else None
