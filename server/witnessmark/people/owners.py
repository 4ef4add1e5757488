"""Who owns the vehicle of a job. Personal data: stored beside the log, never in it, so that it can be erased."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import Connection, delete, insert, select

from witnessmark.people import tables
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say

LONGEST = 200


@dataclass(frozen=True)
class Owner:
    name: str = ""
    phone: str = ""
    mail: str = ""


def of_job(conn: Connection, workshop: str, job: str) -> Owner:
    """The owner noted for a job; empty when none is, or it was erased."""
    o = tables.owners.c
    columns = conn.execute(select(o.name, o.phone, o.mail).where(o.workshop == workshop, o.job == job)).first()
    return Owner(*columns) if columns else Owner()


def note(conn: Connection, workshop: str, job: str, owner: Owner) -> None:
    """Notes the owner of a job in place of what was noted before. Raises Refusal for a text that is too long."""
    for name, text in vars(owner).items():
        if len(text) > LONGEST:
            raise Refusal("too_long", name, say("server.people.owner_too_long", field=name, most=LONGEST))
    erase(conn, workshop, job)
    conn.execute(insert(tables.owners), {"workshop": workshop, "job": job, **vars(owner)})


def erase(conn: Connection, workshop: str, job: str) -> None:
    """Erases the owner's personal data of a job. The record of the engine stays as it is."""
    o = tables.owners.c
    conn.execute(delete(tables.owners).where(o.workshop == workshop, o.job == job))
