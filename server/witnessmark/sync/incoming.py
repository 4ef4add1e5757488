"""One batch of a phone on its way through the writing transaction: steps 6 to 10 of `receive`."""

from __future__ import annotations

import logging
from collections.abc import Sequence

from sqlalchemy import Connection

from witnessmark.config import Settings
from witnessmark.db import now
from witnessmark.log import heads, read
from witnessmark.log.append import append, store_refused
from witnessmark.log.heads import Head
from witnessmark.log.read import ChainEnd
from witnessmark.log.rows import CheckedEntry, Row
from witnessmark.people import workshops
from witnessmark.people.devices import Device
from witnessmark.projections.apply import apply
from witnessmark.sync import office
from witnessmark.sync.desk import DeskSigner
from witnessmark.sync.rules import Rules
from witnessmark.sync.strays import Strays
from witnessmark.sync.unpack import Candidate
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say

log = logging.getLogger(__name__)

UNKNOWN_HASH = "0" * 64
LONGEST_REASON = 1000


class IncomingBatch:
    """The entries of one push, sorted into those for the log, those refused and those outside the phone's chain.

    Call `process` for each candidate in order, then `skip_lost`, then `store`. Requires a connection from
    `db.writing`. `end` is the end of the phone's chain as far as it has been processed.
    """

    def __init__(
        self,
        conn: Connection,
        settings: Settings,
        device: Device,
        candidates: Sequence[Candidate],
        *,
        offset_ms: int | None,
        lost: frozenset[int],
    ) -> None:
        ids = [candidate.id for candidate in candidates if not candidate.fault]
        self.received = now()
        self.end = read.chain_end(conn, device.workshop, device.id)
        self._conn = conn
        self._settings = settings
        self._workshop = device.workshop
        self._device = device
        self._offset_ms = offset_ms
        self._lost = lost
        self._signer = DeskSigner(conn, settings, workshops.only(conn))
        self._rules = Rules(conn, device.workshop)
        self._stored_before = read.by_ids(conn, device.workshop, ids)
        self._refused_by_id = read.refused_by_id(conn, device.workshop, ids)
        self._for_the_log: list[CheckedEntry] = []
        self._refused: list[dict] = []
        self._strays = Strays(conn, device, self.received)
        self._stray_faults: list[str] = []
        # Index in `_for_the_log` of what was accepted, by entry id.
        self._accepted: dict[str, int] = {}

    def process(self, candidate: Candidate) -> dict:
        """Steps 6 to 8 for one entry; returns its result, with the log row (or its index in the batch) under "row"."""
        if candidate.fault:
            return self._stray(candidate, *candidate.fault)
        # 6. Known already? The same bytes are a duplicate, other bytes under the same id an alarm.
        if (result := self._known_already(candidate)) is not None:
            return result
        # 7. Next in the chain of this phone?
        sequence = candidate.entry["sequence"]
        self.skip_lost(before=sequence)
        if sequence > self.end.sequence + 1:
            missing = self.end.sequence + 1
            return _result(candidate, "later", "gap", say("server.sync.gap", number=missing))
        if sequence <= self.end.sequence:
            return self._stray(candidate, "fork", say("server.sync.fork", number=sequence))
        if self.end.hash not in (candidate.entry["previous"], ""):
            return self._stray(candidate, "fork", say("server.sync.other_previous", number=sequence - 1))
        # 8. Acceptable to the workshop? If not, it is stored whole among the refused and the chain goes on.
        try:
            self._rules.check_from_phone(candidate.entry, len(candidate.data))
        except Refusal as refusal:
            return self._refuse(candidate, refusal)
        return self._accept(candidate)

    def skip_lost(self, before: int | None = None) -> None:
        """Passes over the numbers the phone declared lost, as far as they come next (and below `before`)."""
        while (sequence := self.end.sequence + 1) in self._lost and (before is None or sequence < before):
            # Plain text: the shape of an entry takes no subclass of it.
            self._record_refusal(sequence, Candidate(b"", ""), "lost", str(say("server.sync.lost")))
            # Its hash is not known here: the next entry may name whatever came before it.
            self.end = ChainEnd(sequence, "")

    def store(self) -> tuple[list[Row], Head]:
        """Steps 9 and 10: writes the log and every projection; returns the new rows and the newest head."""
        store_refused(self._conn, self._refused)
        self._strays.store()
        if self._stray_faults:
            # One line for a batch: a phone must not fill the disk through server.log either.
            count, first = len(self._stray_faults), self._stray_faults[0]
            log.warning("phone %s: %d records outside its chain, the first: %s", self._device.id, count, first)
        keeper = office.keeper(self._settings)
        if not self._for_the_log:
            return [], heads.in_epoch(self._conn, self._workshop, keeper, self.received)
        rows, head = append(self._conn, self._workshop, self._for_the_log, self.received, keeper)
        apply(self._conn, rows)
        return rows, head

    def _known_already(self, candidate: Candidate) -> dict | None:
        if candidate.id in self._accepted:
            index = self._accepted[candidate.id]
            known_hash, row = self._for_the_log[index].hash, index
        elif candidate.id in self._stored_before:
            row = self._stored_before[candidate.id]
            known_hash = row.hash
        elif candidate.id in self._refused_by_id:
            earlier = self._refused_by_id[candidate.id]
            if earlier["hash"] == candidate.hash:
                return _result(candidate, "refused", earlier["code"], earlier["reason"])
            known_hash, row = earlier["hash"], None
        else:
            return None
        if known_hash == candidate.hash:
            return _result(candidate, "duplicate", row=row)
        return self._stray(candidate, "other_bytes", say("server.sync.other_bytes"))

    def _accept(self, candidate: Candidate) -> dict:
        index = self._accepted[candidate.id] = len(self._for_the_log)
        self._for_the_log.append(
            CheckedEntry(candidate.data, candidate.hash, candidate.signature, candidate.entry, self._offset_ms)
        )
        self._rules.note(candidate.entry, candidate.hash)
        self.end = ChainEnd(candidate.entry["sequence"], candidate.hash)
        return _result(candidate, "stored", row=index)

    def _refuse(self, candidate: Candidate, refusal: Refusal) -> dict:
        sequence, reason = candidate.entry["sequence"], _printable(refusal.message)
        self._record_refusal(sequence, candidate, refusal.code, reason)
        self.end = ChainEnd(sequence, candidate.hash)
        self._refused_by_id[candidate.id] = self._refused[-1]
        return _result(candidate, "refused", refusal.code, reason)

    def _record_refusal(self, sequence: int, candidate: Candidate, code: str, reason: str) -> None:
        self._refused.append(
            {
                "workshop": self._workshop,
                "device": self._device.id,
                "sequence": sequence,
                "id": candidate.id,
                "hash": candidate.hash,
                "bytes": candidate.data,
                "signature": candidate.signature,
                "code": code,
                "reason": reason,
                "received": self.received,
            }
        )
        body = {
            "device": self._device.id,
            "sequence": sequence,
            "entry_hash": candidate.hash or UNKNOWN_HASH,
            "code": code,
            "reason": reason,
        }
        self._for_the_log.append(self._signer.entry(self._signer.desk_author, "entry_refused", body=body))

    def _stray(self, candidate: Candidate, code: str, message: str) -> dict:
        """Refuses what cannot be tied to the chain; it is kept for whoever looks into it, as far as there is room."""
        self._stray_faults.append(f"{code}: {_printable(message)}")
        advice = self._strays.add(candidate, code).value if candidate.data else "server.sync.show_keep"
        message = say(advice, fault=_printable(message).rstrip("."))
        return _result(candidate, "refused", code, message)


def _printable(reason: str) -> str:
    """A reason fit for the log: replaces unprintable characters quoted from the entry, and cuts it to length."""
    return "".join(c if c.isprintable() else "\N{REPLACEMENT CHARACTER}" for c in reason[:LONGEST_REASON])


def _result(candidate: Candidate, result: str, code: str = "", message: str = "", row: Row | int | None = None) -> dict:
    return {
        "id": candidate.id,
        "hash": candidate.hash,
        "result": result,
        "code": code,
        "message": message,
        "row": row,
    }
