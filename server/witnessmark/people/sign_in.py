"""Signing in to the office and out again."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from ipaddress import ip_address

from sqlalchemy import Connection, Engine, delete, insert, select
from sqlalchemy.dialects.sqlite import insert as upsert

from witnessmark.db import reading, writing
from witnessmark.people import persons, secrets, tables, throttle
from witnessmark.people.errors import NotSignedIn, TooMany
from witnessmark.people.persons import Person
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say

PLACES = 8  # addresses remembered of each person, the newest
AT_LOOPBACK = 2  # that may be slowed at once, each of which holds a thread for throttle.LONGEST_WAIT["loopback"]

_slowed = threading.BoundedSemaphore(AT_LOOPBACK)


def sign_in(
    engine: Engine,
    workshop: str,
    name: str,
    password: str,
    address: str,
    seconds: int,
    pause: Callable[[float], None] = time.sleep,
) -> tuple[str, Person]:
    """A new session token, good for `seconds`, and whose it is.

    Raises NotSignedIn, in the same words for a wrong name and a wrong password, and TooMany while whoever tries has to
    wait; on the server's own machine it is judged after a `pause` instead. The slow hash is worked out outside the
    writing transaction.
    """
    name = persons.fold(name)
    p = tables.persons.c
    with reading(engine) as conn:
        query = select(p.id, p.password).where(p.workshop == workshop, p.sign_in_name == name, p.active.is_(True))
        columns = conn.execute(query).first()
        whos = _whos(
            name[: persons.LONGEST_NAME],
            address,
            columns is not None and _was_here(conn, workshop, columns.id, address),
        )
    with _judged(engine, whos, pause) as tried:
        right = secrets.password_is_right(columns.password if columns else None, password)
    if not right:
        raise NotSignedIn("sign_in", "password", say("server.people.wrong_password"))
    token = secrets.new_token()
    with writing(engine) as conn:
        throttle.take_back(conn, tried)
        throttle.succeeded(conn, *(who for who in whos if not who.startswith("address:")))
        _remember_place(conn, workshop, columns.id, address)
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


def confirm(engine: Engine, person: Person, password: str) -> None:
    """Makes sure that who is signed in knows the person's present password.

    Raises Refusal if not, and TooMany while the person has to wait: a session left open must be no place to guess at.
    """
    if not password:
        raise Refusal("old_password", "old_password", say("server.people.old_password_needed"))
    p = tables.persons.c
    with writing(engine) as conn:
        tried = throttle.begin(conn, f"own:{person.id}")
        stored = conn.scalar(select(p.password).where(p.workshop == person.workshop, p.id == person.id))
    if not secrets.password_is_right(stored, password):
        raise Refusal("old_password", "old_password", say("server.people.wrong_old_password"))
    with writing(engine) as conn:
        throttle.take_back(conn, tried)


def _whos(name: str, address: str, known: bool) -> list[str]:
    """What a failure counts against, see `throttle`."""
    if _is_loopback(address):
        return [f"loopback:{name}"]
    if known:
        return [f"place:{name}|{address}"]
    return [f"pair:{name}|{address}", f"name:{name}", f"address:{address}"]


@contextmanager
def _judged(engine: Engine, whos: list[str], pause: Callable[[float], None]) -> Iterator[throttle.Try]:
    """The try, counted in advance; within the block it is judged."""
    if not whos[0].startswith("loopback:"):
        with writing(engine) as conn:
            tried = throttle.begin(conn, *whos)
        yield tried
        return
    with reading(engine) as conn:
        wait = throttle.wait_of(conn, *whos)
    if wait > 0:
        if not _slowed.acquire(blocking=False):
            seconds = throttle.LONGEST_WAIT["loopback"]
            raise TooMany(seconds, say("server.people.too_many_tries", count=seconds))
        try:
            pause(wait)
        finally:
            _slowed.release()
    with writing(engine) as conn:
        tried = throttle.count(conn, *whos)
    yield tried


def _is_loopback(address: str) -> bool:
    try:
        return ip_address(address).is_loopback
    except ValueError:
        return False


def _was_here(conn: Connection, workshop: str, person: str, address: str) -> bool:
    s = tables.sign_in_places.c
    query = select(s.last).where(s.workshop == workshop, s.person == person, s.address == address)
    return conn.execute(query).first() is not None


def _remember_place(conn: Connection, workshop: str, person: str, address: str) -> None:
    if _is_loopback(address) or not address:
        return
    table, now = tables.sign_in_places, time.time()
    place = {"workshop": workshop, "person": person, "address": address[:64], "last": now}
    conn.execute(
        upsert(table).values(place).on_conflict_do_update(index_elements=table.primary_key, set_={"last": now})
    )
    theirs = (table.c.workshop == workshop, table.c.person == person)
    newest = select(table.c.address).where(*theirs).order_by(table.c.last.desc()).limit(PLACES)
    conn.execute(delete(table).where(*theirs, table.c.address.not_in(newest.scalar_subquery())))


def sign_out(conn: Connection, token: str) -> None:
    """Ends a session; one that is unknown or over is no error."""
    conn.execute(delete(tables.sessions).where(tables.sessions.c.token == secrets.keep_token(token)))
