"""What is stored beside an original about transcribing it: how long it is, what was wrong, and with which recognisers
it was tried, so that nothing is tried for ever and everything again once there is a better recogniser."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable

from sqlalchemy import Connection, select, update

from witnessmark.db import now
from witnessmark.media.sniff import PICTURES
from witnessmark.media.tables import media
from witnessmark.speech.states import State


def key(usable: Iterable[State]) -> str:
    """A short name for a set of recognisers with their models."""
    usable_here = sorted((state.id, state.version, state.model_sha256) for state in usable)
    return hashlib.sha256(json.dumps(usable_here).encode()).hexdigest()[:16]


def tried(conn: Connection, wanted: Iterable[str]) -> dict[str, str]:
    """SHA-256 of an original -> `key` of the recognisers that it was tried with; those never tried are left out."""
    names, by_sha256 = list(set(wanted)), {}
    for at in range(0, len(names), 500):
        query = select(media.c.sha256, media.c.facts).where(media.c.sha256.in_(names[at : at + 500]))
        for sha256, facts in conn.execute(query):
            if recognisers := json.loads(facts or "{}").get("tried"):
                by_sha256[sha256] = recognisers
    return by_sha256


def note(conn: Connection, sha256: str, seconds: float, fault: str, by: str) -> None:
    """Notes that the original was listened to: decoded length, a sentence or '', `key` of who was there to
    listen, '' when one of them could and it need not be noted."""
    row = conn.execute(select(media.c.type, media.c.facts, media.c.fault).where(media.c.sha256 == sha256)).first()
    if row is None:
        return
    facts = json.loads(row.facts or "{}") | {"seconds": f"{seconds:.3f}", "tried": by}
    seen = {"facts": json.dumps(facts, sort_keys=True), "fault": fault or None}
    if row.type in PICTURES:
        # Some entry calls a picture a sound. What is known of the picture stays.
        seen["fault"] = row.fault or seen["fault"]
    else:
        seen["looked"] = now()
    conn.execute(update(media).where(media.c.sha256 == sha256), seen)
