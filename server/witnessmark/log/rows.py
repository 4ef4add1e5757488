"""One entry as the log holds it: the phone's bytes and signature, and what the server adds beside them."""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import cached_property

from sqlalchemy import RowMapping

from witnessmark.trade.record.kinds import KINDS

# What every phone receives, whatever jobs it follows: the facts that make the list of jobs.
KINDS_FOR_EVERYONE = frozenset(kind.name for kind in KINDS.values() if kind.in_workshop_feed)


@dataclass(frozen=True)
class CheckedEntry:
    """An entry that passed every check and waits for its position. `entry` is `bytes`, read."""

    bytes: bytes
    hash: str
    signature: str
    entry: dict
    offset_ms: int | None = None


@dataclass
class Row:
    """An entry with its position. `offset_ms`: server clock minus device clock as measured when it came in."""

    workshop: str
    position: int
    hash: str
    signature: str
    received: str
    offset_ms: int | None
    bytes: bytes

    @cached_property
    def entry(self) -> dict:
        return json.loads(self.bytes)

    @property
    def id(self) -> str:
        return self.entry["id"]

    @property
    def device(self) -> str:
        return self.entry["device"]

    @property
    def sequence(self) -> int:
        return self.entry["sequence"]

    @property
    def job(self) -> str | None:
        return self.entry["job"]

    @property
    def stamp(self) -> bytes:
        return stamp(self.hash, self.offset_ms, self.position, self.received, self.signature)


def stamp(entry_hash: str, offset_ms: int | None, position: int, received: str, signature: str) -> bytes:
    """The server's stamp, canonical JSON (RFC 8785): the data of this entry's leaf in the tree.

    Written out by hand because every value is plain ASCII without quotes; a test holds it against the encoder.
    """
    offset = "null" if offset_ms is None else offset_ms
    return (
        f'{{"entry":"{entry_hash}","offset_ms":{offset},"position":{position},'
        f'"received":"{received}","signature":"{signature}"}}'
    ).encode()


def row_from(columns: RowMapping) -> Row:
    return Row(
        columns["workshop"],
        columns["position"],
        columns["hash"],
        columns["signature"],
        columns["received"],
        columns["offset_ms"],
        columns["bytes"],
    )
