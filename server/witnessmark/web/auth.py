"""Who is asking: a phone by its token, a person by the session of the office. Sets `flask.g` for the views.

After `require_device`: g.device, g.workshop (its id). After `require_person`: g.person, g.workshop.
After `require_person_or_device`: both g.person and g.device, one of them None.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps

from flask import current_app, g, request

from witnessmark.config import Settings
from witnessmark.db import db, reading
from witnessmark.people import devices, sessions
from witnessmark.people.devices import Device
from witnessmark.people.errors import NotAllowed, NotSignedIn
from witnessmark.people.persons import Person
from witnessmark.trade.ground.sentences import say

MARK = "X-Witnessmark"
UNATTENDED = "Witnessmark-Unattended"  # sent by a page that looks for news while nobody touches it
PHONE_BLOCKED = say("server.phones.blocked")


def settings() -> Settings:
    """The settings of the running app."""
    return current_app.config["WITNESSMARK"]


def require_person(role: str | None = None) -> Callable:
    """For signed-in people only, of this role if one is named. 401 without a session, 403 for another role."""

    def wrap(view):
        @wraps(view)
        def guarded(*args, **kwargs):
            g.person = _person()
            g.workshop = g.person.workshop
            if role and g.person.role != role:
                raise NotAllowed("role", "role", say("server.people.role_needed", role=role))
            return view(*args, **kwargs)

        return guarded

    return wrap


def require_device(blocked_too: bool = False) -> Callable:
    """For phones of the workshop only; one that was blocked gets 403 unless the view wants it too."""

    def wrap(view):
        @wraps(view)
        def guarded(*args, **kwargs):
            g.device = _device(blocked_too)
            g.workshop = g.device.workshop
            return view(*args, **kwargs)

        return guarded

    return wrap


def require_person_or_device() -> Callable:
    """For a phone that brings its token, or else a signed-in person."""

    def wrap(view):
        @wraps(view)
        def guarded(*args, **kwargs):
            g.device = g.person = None
            if "Authorization" in request.headers:
                g.device = _device(False)
                g.workshop = g.device.workshop
            else:
                g.person = _person()
                g.workshop = g.person.workshop
            return view(*args, **kwargs)

        return guarded

    return wrap


def cookie_name() -> str:
    """The session cookie's name. Browsers keep one jar for all ports of a host: the port in the name keeps two
    workshops on one machine from signing each other out."""
    _, _, port = request.host.rpartition(":")
    return f"witnessmark_session_{port}" if port.isascii() and port.isdigit() else "witnessmark_session"


def session_token() -> str:
    """The token in the session cookie, or an empty text."""
    return request.cookies.get(cookie_name(), "")


def require_mark() -> None:
    """Raises NotAllowed unless the request was made by our own page: no other site can set this header."""
    if request.headers.get(MARK) != "office":
        raise NotAllowed("mark", MARK, say("server.people.not_our_page"))


def _person() -> Person:
    if request.method not in ("GET", "HEAD"):
        require_mark()
    if not session_token():
        raise NotSignedIn("not_signed_in", "session", say("server.people.not_signed_in"))
    with reading(db.engine) as conn:
        session = sessions.session_of(conn, session_token())
    if UNATTENDED not in request.headers:
        sessions.note_use(db.engine, session_token(), session)
    return session.person


def _device(blocked_too: bool) -> Device:
    kind, _, token = request.headers.get("Authorization", "").partition(" ")
    with reading(db.engine) as conn:
        device = devices.by_token(conn, token.strip() if kind.lower() == "bearer" else "")
    if device.revoked and not blocked_too:
        raise NotAllowed("phone_shut_out", "device", PHONE_BLOCKED)
    return device
