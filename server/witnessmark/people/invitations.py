"""One-time codes with which a phone joins the workshop."""

from __future__ import annotations

import time
from dataclasses import dataclass

from sqlalchemy import Connection, delete, insert, select, update

from witnessmark.db import moment
from witnessmark.people import secrets, tables
from witnessmark.people.errors import NotAllowed
from witnessmark.trade.ground.sentences import say


@dataclass(frozen=True)
class Invitation:
    """`expires` is RFC 3339, UTC."""

    code: str
    expires: str


def invite(conn: Connection, workshop: str, person: str, seconds: int) -> Invitation:
    """A fresh code, good for one phone and `seconds`; codes that ran out are swept away."""
    code = secrets.new_code()
    until = time.time() + seconds
    conn.execute(delete(tables.invitations).where(tables.invitations.c.expires < time.time() - seconds))
    conn.execute(
        insert(tables.invitations),
        {
            "code": secrets.keep_code(code),
            "workshop": workshop,
            "invited_by": person,
            "expires": until,
            "used_by": None,
        },
    )
    return Invitation(code, moment(until))


def inviter(conn: Connection, workshop: str, code: str) -> str:
    """The person who gave out a code that is still good. Raises NotAllowed, in the same words whatever is wrong."""
    i = tables.invitations.c
    query = select(i.invited_by).where(
        i.workshop == workshop, i.code == secrets.keep_code(code), i.expires > time.time(), i.used_by.is_(None)
    )
    inviter_id = conn.execute(query).scalar()
    if inviter_id is None:
        raise NotAllowed("code", "code", say("server.phones.wrong_code"))
    return inviter_id


def is_known(conn: Connection, workshop: str, code: str) -> bool:
    """Whether this code was given out and has not run out; it may be used up."""
    i = tables.invitations.c
    query = select(i.code).where(i.workshop == workshop, i.code == secrets.keep_code(code), i.expires > time.time())
    return conn.execute(query).first() is not None


def used_with(conn: Connection, workshop: str, code: str) -> str | None:
    """The phone that joined with this code, while the code has not run out."""
    i = tables.invitations.c
    query = select(i.used_by).where(
        i.workshop == workshop, i.code == secrets.keep_code(code), i.expires > time.time(), i.used_by.is_not(None)
    )
    return conn.execute(query).scalar()


def use(conn: Connection, workshop: str, code: str, device: str) -> None:
    """Uses the code up for `device`. Requires the transaction in which `inviter` found it good."""
    i = tables.invitations.c
    conn.execute(
        update(tables.invitations)
        .where(i.workshop == workshop, i.code == secrets.keep_code(code))
        .values(used_by=device)
    )
