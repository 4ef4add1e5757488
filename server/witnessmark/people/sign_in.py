"""Signing in to the office and out again."""

from __future__ import annotations

import time

from sqlalchemy import Connection, Engine, delete, insert, select

from witnessmark.db import reading, writing
from witnessmark.people import persons, secrets, tables, throttle
from witnessmark.people.errors import NotSignedIn
from witnessmark.people.persons import Person
from witnessmark.trade.ground.sentences import say


def sign_in(engine: Engine, workshop: str, name: str, password: str, address: str, seconds: int) -> tuple[str, Person]:
    """A new session token, good for `seconds`, and whose it is.

    Raises NotSignedIn, in the same words for a wrong name and a wrong password, and TooMany while the name or
    the address has to wait. The slow hash is worked out outside the writing transaction.
    """
    whos = (f"name:{persons.fold(name)[:80]}", f"address:{address}")
    p = tables.persons.c
    with writing(engine) as conn:
        tried = throttle.begin(conn, *whos)
    with reading(engine) as conn:
        query = select(p.id, p.password).where(
            p.workshop == workshop, p.sign_in_name == persons.fold(name), p.active.is_(True)
        )
        columns = conn.execute(query).first()
    if not secrets.password_is_right(columns.password if columns else None, password):
        raise NotSignedIn("sign_in", "password", say("server.people.wrong_password"))
    token = secrets.new_token()
    with writing(engine) as conn:
        throttle.take_back(conn, tried)
        throttle.succeeded(conn, whos[0])
        now = time.time()
        conn.execute(delete(tables.sessions).where(tables.sessions.c.expires < now))
        conn.execute(
            insert(tables.sessions),
            {
                "token": secrets.keep_token(token),
                "workshop": workshop,
                "person": columns.id,
                "expires": now + seconds,
                "seen": now,
            },
        )
        return token, persons.get(conn, workshop, columns.id)


def sign_out(conn: Connection, token: str) -> None:
    """Ends a session; one that is unknown or over is no error."""
    conn.execute(delete(tables.sessions).where(tables.sessions.c.token == secrets.keep_token(token)))
