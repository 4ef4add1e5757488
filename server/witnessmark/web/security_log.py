"""Who was let in, who was turned away and what was changed that decides about it: one line each in the server's log.

A line names the event and then facts as JSON, which has no line breaks, so that nobody can write lines of their own.
Never in it: passwords, PINs, tokens, codes, and the name typed at sign-in, in whose field passwords are typed too.
"""

from __future__ import annotations

import json
import logging

from flask import g, request

from witnessmark.trade.ground.errors import Refusal

log = logging.getLogger(__name__)
log.setLevel(logging.INFO)  # who came in is written down as well, not only who was turned away

# Every open page of an office whose session is over gets this one each time it looks for news.
NOT_LOGGED = {"not_signed_in"}
TURNED_AWAY = (401, 403, 429)


def note(event: str, **facts: object) -> None:
    """Writes one event; who, from where and by which request are added."""
    log.info("%s %s", event, _facts(facts))


def turned_away(status: int, error: Refusal) -> None:
    """Writes down that a request was refused for who makes it, if that is why."""
    if status in TURNED_AWAY and error.code not in NOT_LOGGED:
        log.warning("turned_away %s", _facts({"code": error.code, "status": status}))


def _facts(facts: dict[str, object]) -> str:
    person, device = g.get("person"), g.get("device")
    whose = {"person": person.id} if person else {"device": device.id} if device else {}
    return json.dumps(
        facts | whose | {"from": request.remote_addr or "", "request": f"{request.method} {request.path}"[:200]}
    )
