"""Slows down whoever guesses: the wait grows with each failure, for a name and for an address, and is stored.

A try counts as failed from its beginning, before the slow hash is worked out, and is taken back when it was right:
else a hundred guesses made at one moment would all be judged before the first of them was counted.
"""

from __future__ import annotations

import time
from dataclasses import dataclass

from sqlalchemy import Connection, case, delete, select, update
from sqlalchemy.dialects.sqlite import insert

from witnessmark.people import tables
from witnessmark.people.errors import TooMany
from witnessmark.trade.ground.sentences import say

FREE_TRIES = {"name": 3, "address": 10, "code": 10}
LONGEST_WAIT = 300
FORGOTTEN_AFTER = 24 * 3600


@dataclass(frozen=True)
class Try:
    """A try under way: when it began, and when each of those it counts against had failed last."""

    at: float
    before: dict[str, float]


def begin(conn: Connection, *whos: str) -> Try:
    """Counts a try against each of `whos` in advance. Requires a connection from `db.writing`.

    Raises TooMany, and then counts nothing, while any of them has to wait.
    """
    check(conn, *whos)
    a = tables.attempts.c
    known = {attempt.who: attempt.last for attempt in conn.execute(select(a.who, a.last).where(a.who.in_(whos)))}
    return Try(failed(conn, *whos), {who: known.get(who, 0.0) for who in whos})


def take_back(conn: Connection, tried: Try) -> None:
    """Undoes what `begin` counted: the try was right, or no guess. What failed in the meantime stays counted."""
    a = tables.attempts.c
    for who, last in tried.before.items():
        changes = {"failures": a.failures - 1, "last": case((a.last == tried.at, last), else_=a.last)}
        conn.execute(update(tables.attempts).where(a.who == who).values(**changes))
    conn.execute(delete(tables.attempts).where(a.who.in_(tried.before), a.failures < 1))


def check(conn: Connection, *whos: str) -> None:
    """Raises TooMany while any of `whos` ("name:ida", "address:10.0.0.7") has to wait. Writes nothing."""
    a = tables.attempts.c
    wait = max(
        (
            _wait(attempt.who, attempt.failures, attempt.last)
            for attempt in conn.execute(select(a.who, a.failures, a.last).where(a.who.in_(whos)))
        ),
        default=0.0,
    )
    if wait > 0:
        seconds = int(wait) + 1
        raise TooMany(seconds, say("server.people.too_many_tries", count=seconds))


def failed(conn: Connection, *whos: str) -> float:
    """Counts one more failure for each of `whos`; returns the moment that is noted with it."""
    now = time.time()
    table = tables.attempts
    conn.execute(delete(table).where(table.c.last < now - FORGOTTEN_AFTER))
    for who in whos:
        added = insert(table).values(who=who, failures=1, last=now)
        conn.execute(
            added.on_conflict_do_update(index_elements=["who"], set_={"failures": table.c.failures + 1, "last": now})
        )
    return now


def succeeded(conn: Connection, who: str) -> None:
    """Forgets the failures of one name. Those of an address stay: one right guess does not excuse the others."""
    conn.execute(delete(tables.attempts).where(tables.attempts.c.who == who))


def _wait(who: str, failures: int, last: float) -> float:
    over = failures - FREE_TRIES[who.split(":")[0]]
    if over < 0:
        return 0.0
    return last + min(2.0**over, LONGEST_WAIT) - time.time()
