"""Slows down whoever guesses: the wait grows with each failure, for a name and for an address, and is kept."""

from __future__ import annotations

import time

from sqlalchemy import Connection, delete, select
from sqlalchemy.dialects.sqlite import insert

from witnessmark.people import tables
from witnessmark.people.errors import TooMany

FREE_TRIES = {"name": 3, "address": 10, "code": 10}
LONGEST_WAIT = 300
FORGOTTEN_AFTER = 24 * 3600


def check(conn: Connection, *whos: str) -> None:
    """Raises TooMany while any of `whos` ("name:ida", "address:10.0.0.7") has to wait. Writes nothing."""
    a = tables.attempts.c
    wait = max(
        (
            _wait(found.who, found.failures, found.last)
            for found in conn.execute(select(a.who, a.failures, a.last).where(a.who.in_(whos)))
        ),
        default=0.0,
    )
    if wait > 0:
        seconds = int(wait) + 1
        raise TooMany(seconds, f"Too many wrong tries. Wait {seconds} seconds, then try again.")


def failed(conn: Connection, *whos: str) -> None:
    """Counts one more failure for each of `whos`."""
    now = time.time()
    table = tables.attempts
    conn.execute(delete(table).where(table.c.last < now - FORGOTTEN_AFTER))
    for who in whos:
        added = insert(table).values(who=who, failures=1, last=now)
        conn.execute(
            added.on_conflict_do_update(index_elements=["who"], set_={"failures": table.c.failures + 1, "last": now})
        )


def succeeded(conn: Connection, who: str) -> None:
    """Forgets the failures of one name. Those of an address stay: one right guess does not excuse the others."""
    conn.execute(delete(tables.attempts).where(tables.attempts.c.who == who))


def _wait(who: str, failures: int, last: float) -> float:
    over = failures - FREE_TRIES[who.split(":")[0]]
    if over < 0:
        return 0.0
    return last + min(2.0**over, LONGEST_WAIT) - time.time()
