"""Slows down whoever guesses, without shutting out those whose name or address it is.

The wait grows with each failure and is stored. What a failed sign-in counts against depends on where it came from:

  pair      one name from one address where it never signed in: the guesser alone has to wait
  name      that name from all such addresses together: many addresses guess no faster, and the bound is one a minute
  address   all names from such an address: trying one password on every name is no way round
  place     one name from an address where that person did sign in before; nothing that happens elsewhere counts here
  loopback  one name on the server's own machine: slowed, never refused
  own       one's own password, which whoever is signed in gives again to change it
  code      joining codes from one address; a right one is taken all the same

So a name is guessed at most 30 times and then 1,440 times a day by strangers, and 2,880 times a day from each of its
`PLACES` places. On the server's own machine it is some 35,000 times, for whoever can read the data folder anyway.

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

FREE_TRIES = {"pair": 3, "name": 30, "address": 10, "place": 5, "loopback": 5, "own": 5, "code": 10}
LONGEST_WAIT = {"pair": 300, "name": 60, "address": 300, "place": 30, "loopback": 5, "own": 300, "code": 300}
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
    return count(conn, *whos)


def count(conn: Connection, *whos: str) -> Try:
    """As `begin`, whoever has to wait. Requires a connection from `db.writing`."""
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
    wait = wait_of(conn, *whos)
    if wait > 0:
        seconds = int(wait) + 1
        raise TooMany(seconds, say("server.people.too_many_tries", count=seconds))


def wait_of(conn: Connection, *whos: str) -> float:
    """Seconds until the last of `whos` may try again, 0 or less when all may."""
    a = tables.attempts.c
    return max(
        (
            _wait(attempt.who, attempt.failures, attempt.last)
            for attempt in conn.execute(select(a.who, a.failures, a.last).where(a.who.in_(whos)))
        ),
        default=0.0,
    )


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


def succeeded(conn: Connection, *whos: str) -> None:
    """Forgets the failures of `whos`. Those of an address stay: one right guess does not excuse the others."""
    conn.execute(delete(tables.attempts).where(tables.attempts.c.who.in_(whos)))


def _wait(who: str, failures: int, last: float) -> float:
    sort = who.partition(":")[0]
    over = failures - FREE_TRIES[sort]
    if over < 0:
        return 0.0
    return last + min(2.0 ** min(over, 10), LONGEST_WAIT[sort]) - time.time()
