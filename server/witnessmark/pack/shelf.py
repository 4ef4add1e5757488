"""Packs asked for in the office: how far each is, and where it lies when it is ready.

A pack is cut by a worker, may be left and come back to, and is begun again if the worker was cut off: until it is
ready it is nothing but a file under a provisional name.
"""

from __future__ import annotations

import uuid
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import (
    BigInteger,
    Column,
    Connection,
    Engine,
    Index,
    Integer,
    String,
    Table,
    Text,
    insert,
    select,
    update,
)

from witnessmark.config import Settings
from witnessmark.db import db, now, reading, writing
from witnessmark.trade.ground.sentences import say

packs = Table(
    "packs",
    db.metadata,
    Column("workshop", String(36), nullable=False),
    Column("id", String(36), primary_key=True),
    Column("job", String(36), nullable=False),
    Column("sort", String(12), nullable=False),
    Column("asked_by", String(36), nullable=False),
    Column("created", String(24), nullable=False),
    Column("state", String(12), nullable=False),  # waiting | working | ready | failed
    Column("done", Integer, nullable=False),
    Column("total", Integer, nullable=False),
    Column("words", Text, nullable=False),  # what is being done, or why it failed
    Column("name", Text, nullable=False),
    Column("size", BigInteger),
    Column("sha256", String(64)),
    Index("packs_of_a_job", "workshop", "job", "created"),
    Index("packs_by_state", "state", "created"),
)


@dataclass(frozen=True)
class Pack:
    """`done` of `total` steps; `name`, `size` in bytes and `sha256` of the file once it is ready."""

    workshop: str
    id: str
    job: str
    sort: str
    asked_by: str
    created: str
    state: str
    done: int
    total: int
    words: str
    name: str
    size: int | None
    sha256: str | None


def request(conn: Connection, workshop: str, job: str, sort: str, person: str) -> Pack:
    """Notes that a pack is wanted; one of that sort already on its way for the job is given back instead."""
    p = packs.c
    under_way = select(p.id).where(p.workshop == workshop, p.job == job, p.sort == sort)
    known = conn.scalar(under_way.where(p.state.in_(("waiting", "working"))).limit(1))
    if known:
        return get(conn, workshop, known)
    id, created = str(uuid.uuid4()), now()
    values = {"workshop": workshop, "id": id, "job": job, "sort": sort, "asked_by": person, "created": created}
    values |= {
        "state": "waiting",
        "done": 0,
        "total": 0,
        "words": say("pack.issue.waiting"),
        "size": None,
        "sha256": None,
    }
    conn.execute(insert(packs), values | {"name": ""})
    return get(conn, workshop, id)


def get(conn: Connection, workshop: str, id: str) -> Pack | None:
    """One pack, or None."""
    row = conn.execute(select(packs).where(packs.c.workshop == workshop, packs.c.id == id)).first()
    return Pack(**row._mapping) if row else None


def of_job(conn: Connection, workshop: str, job: str) -> list[Pack]:
    """Every pack asked for a job, newest first."""
    query = select(packs).where(packs.c.workshop == workshop, packs.c.job == job)
    return [Pack(**row._mapping) for row in conn.execute(query.order_by(packs.c.created.desc(), packs.c.id))]


def waiting(engine: Engine) -> list[str]:
    """Ids of packs nobody has begun, oldest first."""
    with reading(engine) as conn:
        return list(conn.scalars(select(packs.c.id).where(packs.c.state == "waiting").order_by(packs.c.created)))


def put_back(engine: Engine) -> int:
    """To be called when the worker starts: what was under way when it stopped waits again. Returns how many."""
    with writing(engine) as conn:
        again = {"state": "waiting", "done": 0, "words": say("pack.issue.restarted")}
        return conn.execute(update(packs).where(packs.c.state == "working").values(**again)).rowcount


def begin(engine: Engine, id: str) -> Pack | None:
    """Takes a waiting pack in hand; None when somebody else has."""
    with writing(engine) as conn:
        taken = update(packs).where(packs.c.id == id, packs.c.state == "waiting").values(state="working")
        if conn.execute(taken).rowcount == 0:
            return None
        return Pack(**conn.execute(select(packs).where(packs.c.id == id)).one()._mapping)


def note(engine: Engine, id: str, **changes) -> None:
    """Notes how far a pack is (`done`, `total`, `words`) or what became of it (`state`, `size`, `sha256`)."""
    with writing(engine) as conn:
        note_in(conn, id, **changes)


def note_in(conn: Connection, id: str, **changes) -> None:
    """As `note`, inside a transaction under way."""
    conn.execute(update(packs).where(packs.c.id == id).values(**changes))


def folder_of(settings: Settings, id: str) -> Path:
    """The folder in which a pack is cut and then lies. `id` is one this program made."""
    return settings.packs / str(uuid.UUID(id))


def file_of(settings: Settings, pack: Pack) -> Path:
    """Where a ready pack lies."""
    return folder_of(settings, pack.id) / pack.name
