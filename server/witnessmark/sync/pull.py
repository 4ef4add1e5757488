"""What phones read back: pages of the log, proofs that it only grew, digests, and the state of each phone."""

from __future__ import annotations

import time
from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import Connection, Engine

from witnessmark.config import Settings
from witnessmark.db import moment, now, writing
from witnessmark.log import heads, read
from witnessmark.log.proofs import Tree
from witnessmark.people import devices, persons, workshops
from witnessmark.people.devices import Device
from witnessmark.sync import marks, office
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.ground.shapes import uuid

PROTOCOL = 1
MOST = 1000
SEEN_SECONDS = 60


@dataclass(frozen=True)
class Identity:
    """Who answers: sent with every answer, so that a foreign page is never taken for one."""

    server: str
    epoch: str


def identity(settings: Settings) -> Identity | None:
    """None before the workshop is founded."""
    try:
        keeper = office.keeper(settings)
    except FileNotFoundError:
        return None
    return Identity(keeper.signer.server_id, keeper.epoch)


def state(conn: Connection, settings: Settings, device: Device) -> dict:
    """What one phone needs to know: its chain as received here, the people, the head, what a backup holds.

    The head it returns is a promise, and noted as one.
    """
    workshop = workshops.only(conn)
    end = read.chain_end(conn, workshop.id, device.id)
    head = heads.in_epoch(conn, workshop.id, office.keeper(settings), now())
    marks.note_issued(settings, head.size)
    return {
        "workshop": {"id": workshop.id, "name": workshop.name},
        "device": {
            "id": device.id,
            "name": device.name,
            "letter": device.letter,
            "last_sequence": end.sequence,
            "last_hash": end.hash,
            "revoked": device.revoked is not None,
        },
        # PINs could be guessed at leisure from what checks them: a lost phone gets no more of it.
        "people": [] if device.revoked else [person.wire() for person in persons.everyone(conn, workshop.id)],
        "head": head.wire(),
        "size": head.size,
        "chunk_bytes": settings.chunk_bytes,
        "durable_size": min(marks.durable_size(settings, device.id), head.size),
        "build": settings.build,
    }


def note_seen(engine: Engine, device: Device) -> None:
    """Notes that the phone was in touch, at most once a minute: a phone that only polls should cause no writes."""
    if device.last_seen is None or device.last_seen < moment(time.time() - SEEN_SECONDS):
        with writing(engine) as conn:
            devices.seen(conn, device, now())


def pull(
    conn: Connection, settings: Settings, workshop: str, feed: str, after: int, before: int | None, limit: int
) -> dict:
    """A page of a feed: ascending after a position, or descending before one. A cursor never passes over an entry.

    `next` is the cursor to go on with. The head it returns is a promise, and noted as one. Raises Refusal for a
    feed that is none.
    """
    _check_feed(feed)
    limit = max(1, min(limit, MOST))
    if before is None:
        rows = read.feed_after(conn, workshop, feed, after, limit + 1)
    else:
        rows = read.feed_before(conn, workshop, feed, before, limit + 1)
    more, rows = len(rows) > limit, rows[:limit]
    head = heads.in_epoch(conn, workshop, office.keeper(settings), now())
    marks.note_issued(settings, head.size)
    return {
        "feed": feed,
        "entries": [
            {
                "position": row.position,
                "bytes": row.bytes.decode(),
                "signature": row.signature,
                "received": row.received,
                "offset_ms": row.offset_ms,
            }
            for row in rows
        ],
        "next": rows[-1].position if rows else (after if before is None else before),
        "more": more,
        "size": head.size,
        "head": head.wire(),
    }


def consistency(conn: Connection, workshop: str, old: int, new: int) -> list[str]:
    """Proof that the log of `new` entries begins with that of `old`. Raises Refusal for sizes it never had."""
    if not 0 < old <= new <= heads.size_of(conn, workshop):
        raise Refusal("no_such_size", "from", say("server.sync.no_such_size", old=old, new=new))
    return Tree(conn, workshop).consistency(old, new)


def inclusion(conn: Connection, workshop: str, size: int, positions: Sequence[int]) -> dict:
    """Proof that the log of `size` entries holds those at `positions`: "hashes", and for each position the places of
    its own among them ("paths"). Raises Refusal for a size it never had, or a position behind it."""
    if not 0 < max(positions, default=1) <= size <= heads.size_of(conn, workshop):
        raise Refusal("no_such_size", "size", say("server.sync.no_such_position", size=size))
    hashes, paths = Tree(conn, workshop).shared_inclusions(positions, size)
    return {"hashes": hashes, "paths": paths}


def digest(conn: Connection, workshop: str, feed: str, upto: int) -> dict:
    """Count and digest of a feed up to a position, to prove that a phone's copy is equal."""
    _check_feed(feed)
    count, total = read.digest(conn, workshop, feed, upto)
    return {"count": count, "digest": total}


def _check_feed(feed: str) -> None:
    if feed != read.SHARED and (not feed.startswith("job:") or uuid(feed.removeprefix("job:"))):
        raise Refusal("feed", "feed", say("server.sync.no_such_feed", feed=repr(feed[:60])))
