"""What a phone sends that cannot be tied to its chain: kept for whoever looks into it, and only so much of it."""

from __future__ import annotations

from enum import Enum

from sqlalchemy import Connection

from witnessmark.log import read
from witnessmark.log.append import store_strays
from witnessmark.people.devices import Device
from witnessmark.sync.unpack import Candidate

# No entry is longer than this: what is has nothing in it that a workshop could need, and its hash proves it was sent.
LONGEST_KEPT = 64 << 10
# For one phone, all time. A phone that is merely broken sends a handful; an enrolled one must not fill the disk.
MOST_KEPT = 500
MOST_BYTES_KEPT = 4 << 20


class Kept(Enum):
    """How much of a stray the server holds; the value is the sentence that tells the phone."""

    WHOLE = "server.sync.show_kept"
    HASH = "server.sync.show_hash"
    NOTHING = "server.sync.show_full"


class Strays:
    """The strays of one phone, those of the batch under way added to those in the log. Requires a writing connection;
    nothing is written before `store`."""

    def __init__(self, conn: Connection, device: Device, received: str) -> None:
        self._conn, self._device, self._received = conn, device, received
        self._new: dict[str, dict] = {}
        self._totals: tuple[int, int] | None = None

    def add(self, candidate: Candidate, code: str) -> Kept:
        """Keeps a candidate that has bytes, whole or by its hash, as far as there is room; returns how much is kept."""
        if (known := self._known(candidate.hash)) is not None:
            return Kept.WHOLE if known else Kept.HASH
        count, total = self._totals or read.stray_totals(self._conn, self._device.workshop, self._device.id)
        if count >= MOST_KEPT:
            self._totals = count, total
            return Kept.NOTHING
        length = len(candidate.data)
        whole = length <= LONGEST_KEPT and total + length <= MOST_BYTES_KEPT
        self._totals = count + 1, total + (length if whole else 0)
        self._new[candidate.hash] = {
            "workshop": self._device.workshop,
            "device": self._device.id,
            "hash": candidate.hash,
            "bytes": candidate.data if whole else b"",
            "signature": candidate.signature[:200],
            "code": code,
            "received": self._received,
        }
        return Kept.WHOLE if whole else Kept.HASH

    def store(self) -> None:
        store_strays(self._conn, list(self._new.values()))

    def _known(self, hash: str) -> int | None:
        """The length of what is kept under this hash: 0 for the hash alone, None for nothing."""
        if hash in self._new:
            return len(self._new[hash]["bytes"])
        return read.stray_length(self._conn, self._device.workshop, self._device.id, hash)
