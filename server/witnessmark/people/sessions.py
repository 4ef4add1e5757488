"""Sessions of the office: whose they are, and when nobody has used one for too long."""

from __future__ import annotations

import time
from contextlib import suppress
from dataclasses import dataclass

from sqlalchemy import Connection, Engine, select, update
from sqlalchemy.exc import OperationalError

from witnessmark.db import writing
from witnessmark.people import persons, secrets, tables
from witnessmark.people.errors import NotSignedIn
from witnessmark.people.persons import Person
from witnessmark.trade.ground.sentences import say

# A session ends when nobody has used it for so long: the office's computer stands where customers come by. Longer than
# a form or a meal takes; what was typed stays on the page behind the sign-in. However much it is used, it ends after
# Settings.session_seconds.
IDLE_SECONDS = 2 * 3600
SEEN_SECONDS = 60  # between two notes that it is used


@dataclass(frozen=True)
class Session:
    """`seen` is when it was last used, Unix time, exact to SEEN_SECONDS."""

    person: Person
    seen: float


def session_of(conn: Connection, token: str) -> Session:
    """The session of this token, with who is signed in. Raises NotSignedIn if it is over or lay idle for too long."""
    s, now = tables.sessions.c, time.time()
    query = select(s.workshop, s.person, s.seen).where(
        s.token == secrets.keep_token(token), s.expires > now, s.seen > now - IDLE_SECONDS
    )
    columns = conn.execute(query).first() if token else None
    person = persons.get(conn, columns.workshop, columns.person) if columns else None
    if person is None or not person.active:
        raise NotSignedIn("not_signed_in", "session", say("server.people.signed_out"))
    return Session(person, columns.seen)


def note_use(engine: Engine, token: str, session: Session) -> None:
    """Notes that somebody uses the session, at most once a minute: reading should cause no writes."""
    now = time.time()
    if session.seen > now - SEEN_SECONDS:
        return
    s = tables.sessions
    # On a full disk reading goes on all the same, and the session ends early.
    with suppress(OperationalError), writing(engine) as conn:
        conn.execute(update(s).where(s.c.token == secrets.keep_token(token)).values(seen=now))
