"""Receiving a batch from a phone, in numbered steps. Each entry gets its own answer; none can block the others."""

from __future__ import annotations

import logging
from collections.abc import Sequence
from dataclasses import dataclass, field

from sqlalchemy import Connection, Engine

from witnessmark.config import Settings
from witnessmark.db import now, writing
from witnessmark.log import heads, read
from witnessmark.log.append import append, keep_refused, keep_strays
from witnessmark.log.heads import Head
from witnessmark.log.read import ChainEnd
from witnessmark.log.rows import Item, Row
from witnessmark.people import devices, workshops
from witnessmark.people.devices import Device
from witnessmark.people.errors import NotAllowed
from witnessmark.projections.apply import apply
from witnessmark.sync import marks, office
from witnessmark.sync.clock import offset_ms
from witnessmark.sync.desk import Pen
from witnessmark.sync.rules import Rules
from witnessmark.sync.unpack import Candidate, Reader
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say

log = logging.getLogger(__name__)

UNKNOWN_HASH = "0" * 64
LONGEST_REASON = 1000
SHUT_OUT = say("server.phones.blocked")


@dataclass
class Push:
    """A batch as it came in. `lost` are running numbers whose entries the phone can no longer bring."""

    entries: Sequence[object]
    device_time: str
    announced: int
    lost: frozenset[int] = frozenset()


@dataclass
class Answer:
    """What a phone is told. `results` are in the order of the entries it sent."""

    results: list[dict]
    head: Head
    last_sequence: int


@dataclass
class _Work:
    """One batch on its way through the writing transaction."""

    conn: Connection
    workshop: str
    device: Device
    received: str
    offset_ms: int | None
    pen: Pen
    rules: Rules
    end: ChainEnd
    here: dict[str, Row]
    turned_away: dict[str, dict]
    items: list[Item] = field(default_factory=list)
    refused: list[dict] = field(default_factory=list)
    strays: list[dict] = field(default_factory=list)
    # Index in `items` of what was accepted, by entry id.
    accepted: dict[str, int] = field(default_factory=dict)


def receive(engine: Engine, settings: Settings, device: Device, push: Push) -> Answer:
    """Takes in a batch. What it reports as stored is on the disk, in the log and in every projection.

    Raises NotAllowed for a phone that was shut out. An error of the database fails the whole batch: then
    nothing of it is stored and the phone sends it again.
    """
    # 1. Size and shape of the whole were checked by the web; 2. so was the token. Shut out in the meantime?
    if device.revoked:
        raise NotAllowed("phone_shut_out", "device", SHUT_OUT)
    offset = offset_ms(push.device_time)
    # 3. to 5. Canonical bytes, hash, signature, envelope: the slow part, done before anybody has to wait for us.
    reader = Reader(device)
    candidates = reader.read_all(push.entries)
    with writing(engine) as conn:
        device = devices.get(conn, device.workshop, device.id)
        if device.revoked:
            raise NotAllowed("phone_shut_out", "device", SHUT_OUT)
        work = _begin(conn, settings, device, candidates, offset)
        # 6. to 8. Known already? Next in the chain? Acceptable to the workshop?
        results = [_take(work, candidate, push.lost) for candidate in candidates]
        _take_lost(work, push.lost)
        # 9. to 10. Into the log and into every projection, in this one transaction.
        rows, head = _store(work, settings)
        devices.seen(conn, device, work.received, push.announced, offset)
    marks.note_issued(settings, head.size)
    # 11. Receipts, now that the transaction is on the disk.
    for result in results:
        row = rows[result["row"]] if isinstance(result["row"], int) else result["row"]
        del result["row"]
        result |= {"position": row and row.position, "received": row and row.received}
        result["stamp"] = row and row.stamp.decode()
    return Answer(results, head, work.end.sequence)


def _begin(
    conn: Connection, settings: Settings, device: Device, candidates: Sequence[Candidate], offset: int | None
) -> _Work:
    workshop = device.workshop
    ids = [candidate.id for candidate in candidates if not candidate.fault]
    return _Work(
        conn,
        workshop,
        device,
        now(),
        offset,
        Pen(conn, settings, workshops.only(conn)),
        Rules(conn, workshop),
        read.chain_end(conn, workshop, device.id),
        read.by_ids(conn, workshop, ids),
        read.refused_by_id(conn, workshop, ids),
    )


def _take(work: _Work, candidate: Candidate, lost: frozenset[int]) -> dict:
    """Steps 6 to 8 for one entry; returns its result, with the log row (or its index in the batch) under "row"."""
    if candidate.fault:
        return _stray(work, candidate, *candidate.fault)
    # 6. Known already? The same bytes are a duplicate, other bytes under the same id an alarm.
    if (known := _known(work, candidate)) is not None:
        return known
    # 7. Next in the chain of this phone?
    sequence = candidate.entry["sequence"]
    _take_lost(work, lost, before=sequence)
    if sequence > work.end.sequence + 1:
        missing = work.end.sequence + 1
        return _result(candidate, "later", "gap", say("server.sync.gap", number=missing))
    if sequence <= work.end.sequence:
        return _stray(work, candidate, "fork", say("server.sync.fork", number=sequence))
    if work.end.hash not in (candidate.entry["previous"], ""):
        return _stray(work, candidate, "fork", say("server.sync.other_previous", number=sequence - 1))
    # 8. Acceptable to the workshop? If not, it is kept whole and the chain goes on.
    try:
        work.rules.check_from_phone(candidate.entry)
    except Refusal as refusal:
        return _refuse(work, candidate, refusal)
    work.accepted[candidate.id] = len(work.items)
    work.items.append(Item(candidate.data, candidate.hash, candidate.signature, candidate.entry, work.offset_ms))
    work.rules.note(candidate.entry, candidate.hash)
    work.end = ChainEnd(sequence, candidate.hash)
    return _result(candidate, "stored", row=work.accepted[candidate.id])


def _known(work: _Work, candidate: Candidate) -> dict | None:
    if candidate.id in work.accepted:
        index = work.accepted[candidate.id]
        known_hash, row = work.items[index].hash, index
    elif candidate.id in work.here:
        row = work.here[candidate.id]
        known_hash = row.hash
    elif candidate.id in work.turned_away:
        before = work.turned_away[candidate.id]
        if before["hash"] == candidate.hash:
            return _result(candidate, "refused", before["code"], before["reason"])
        known_hash, row = before["hash"], None
    else:
        return None
    if known_hash == candidate.hash:
        return _result(candidate, "duplicate", row=row)
    return _stray(work, candidate, "other_bytes", say("server.sync.other_bytes"))


def _refuse(work: _Work, candidate: Candidate, refusal: Refusal) -> dict:
    sequence, reason = candidate.entry["sequence"], _plain(refusal.message)
    _turn_away(work, sequence, candidate, refusal.code, reason)
    work.end = ChainEnd(sequence, candidate.hash)
    work.turned_away[candidate.id] = work.refused[-1]
    return _result(candidate, "refused", refusal.code, reason)


def _plain(reason: str) -> str:
    """A reason fit for the log: it may quote the entry, and what was wrong with that must not be wrong here too."""
    return "".join(c if c.isprintable() else "\N{REPLACEMENT CHARACTER}" for c in reason[:LONGEST_REASON])


def _take_lost(work: _Work, lost: frozenset[int], before: int | None = None) -> None:
    """Passes over the numbers the phone declared lost, as far as they come next (and below `before`)."""
    while (sequence := work.end.sequence + 1) in lost and (before is None or sequence < before):
        _turn_away(work, sequence, Candidate(b"", ""), "lost", say("server.sync.lost"))
        # Nobody here knows its hash: the next entry may name whatever came before it.
        work.end = ChainEnd(sequence, "")


def _turn_away(work: _Work, sequence: int, candidate: Candidate, code: str, reason: str) -> None:
    work.refused.append(
        {
            "workshop": work.workshop,
            "device": work.device.id,
            "sequence": sequence,
            "id": candidate.id,
            "hash": candidate.hash,
            "bytes": candidate.data,
            "signature": candidate.signature,
            "code": code,
            "reason": reason,
            "received": work.received,
        }
    )
    body = {
        "device": work.device.id,
        "sequence": sequence,
        "entry_hash": candidate.hash or UNKNOWN_HASH,
        "code": code,
        "reason": reason,
    }
    work.items.append(work.pen.entry(work.pen.itself, "entry_refused", body=body))


def _stray(work: _Work, candidate: Candidate, code: str, message: str) -> dict:
    """Refuses what cannot be tied to the chain; its bytes are kept for whoever looks into it."""
    log.warning("phone %s: %s: %s", work.device.id, code, message)
    advice = "server.sync.show_kept" if candidate.data else "server.sync.show_keep"
    message = say(advice, fault=_plain(message).rstrip("."))
    if candidate.data:
        work.strays.append(
            {
                "workshop": work.workshop,
                "device": work.device.id,
                "hash": candidate.hash,
                "bytes": candidate.data,
                "signature": candidate.signature[:200],
                "code": code,
                "received": work.received,
            }
        )
    return _result(candidate, "refused", code, message)


def _store(work: _Work, settings: Settings) -> tuple[list[Row], Head]:
    keep_refused(work.conn, work.refused)
    keep_strays(work.conn, work.strays)
    if not work.items:
        return [], heads.latest(work.conn, work.workshop)
    rows, head = append(work.conn, work.workshop, work.items, work.received, office.keeper(settings))
    apply(work.conn, rows)
    return rows, head


def _result(candidate: Candidate, result: str, code: str = "", message: str = "", row: Row | int | None = None) -> dict:
    return {
        "id": candidate.id,
        "hash": candidate.hash,
        "result": result,
        "code": code,
        "message": message,
        "row": row,
    }
