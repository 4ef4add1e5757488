"""Receiving a batch from a phone, in numbered steps. Each entry gets its own answer; none can block the others."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import Connection, Engine

from witnessmark.config import Settings
from witnessmark.db import reading, writing
from witnessmark.log.heads import Head
from witnessmark.log.proofs import Tree
from witnessmark.people import devices
from witnessmark.people.devices import Device
from witnessmark.people.errors import NotAllowed
from witnessmark.sync import marks
from witnessmark.sync.clock import offset_ms
from witnessmark.sync.incoming import IncomingBatch
from witnessmark.sync.unpack import Reader
from witnessmark.trade.ground.sentences import say


@dataclass
class Push:
    """A batch as it came in. `lost` are running numbers whose entries the phone can no longer bring."""

    entries: Sequence[object]
    device_time: str
    announced: int
    lost: frozenset[int] = frozenset()


@dataclass
class Answer:
    """What goes back to the phone. `results` are in the order of the entries it sent; the "path" of each is given as
    places among `hashes`, and leads from its stamp to the root of `head`."""

    results: list[dict]
    hashes: list[str]
    head: Head
    last_sequence: int


def receive(engine: Engine, settings: Settings, device: Device, push: Push) -> Answer:
    """Receives a batch. What it reports as stored is on the disk, in the log and in every projection.

    Raises NotAllowed for a phone that was blocked. An error of the database fails the whole batch: then
    nothing of it is stored and the phone sends it again.
    """
    # 1. Size and shape of the whole were checked by the web; 2. so was the token. Blocked in the meantime?
    _refuse_blocked(device)
    offset = offset_ms(push.device_time)
    # 3. to 5. Canonical bytes, hash, signature, envelope: the slow part, done before anybody has to wait for us.
    candidates = Reader(device).read_all(push.entries)
    with writing(engine) as conn:
        device = devices.get(conn, device.workshop, device.id)
        _refuse_blocked(device)
        batch = IncomingBatch(conn, settings, device, candidates, offset_ms=offset, lost=push.lost)
        # 6. to 8. Known already? Next in the chain? Acceptable to the workshop?
        results = [batch.process(candidate) for candidate in candidates]
        batch.skip_lost()
        # 9. to 10. Into the log and into every projection, in this one transaction.
        rows, head = batch.store()
        devices.seen(conn, device, batch.received, push.announced, offset)
    marks.note_issued(settings, head.size)
    # 11. Receipts, now that the transaction is on the disk.
    for result in results:
        row = rows[result["row"]] if isinstance(result["row"], int) else result["row"]
        del result["row"]
        result |= {"position": row and row.position, "received": row and row.received}
        result["stamp"] = row and row.stamp.decode()
    # 12. What makes a receipt of each: its way up to the signed head.
    with reading(engine) as conn:
        hashes = _add_paths(conn, device.workshop, results, head)
    return Answer(results, hashes, head, batch.end.sequence)


def _add_paths(conn: Connection, workshop: str, results: Sequence[dict], head: Head) -> list[str]:
    in_log = [result for result in results if result["position"]]
    hashes, paths = Tree(conn, workshop).shared_inclusions([result["position"] for result in in_log], head.size)
    for result in results:
        result["path"] = None
    for result, path in zip(in_log, paths, strict=True):
        result["path"] = path
    return hashes


def _refuse_blocked(device: Device) -> None:
    if device.revoked:
        raise NotAllowed("phone_shut_out", "device", say("server.phones.blocked"))
