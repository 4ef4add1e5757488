"""Signed heads: the server's word on how long the log is and what it holds."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from sqlalchemy import Connection, select

from witnessmark.log import tables
from witnessmark.proof import heads as proof_heads
from witnessmark.proof.heads import Jobs


class Signer(Protocol):
    """The server's key, as far as the log needs to know it. `sign` gives raw r||s in standard base64."""

    server_id: str

    def sign(self, message: bytes) -> str: ...


@dataclass(frozen=True)
class Keeper:
    """Who signs the heads, and in which epoch."""

    signer: Signer
    epoch: str


@dataclass(frozen=True)
class Head:
    size: int
    root: str
    time: str
    epoch: str
    bytes: bytes
    signature: str

    def wire(self) -> dict:
        return {"bytes": self.bytes.decode(), "signature": self.signature}


def sign_head(workshop: str, size: int, root: bytes, time: str, keeper: Keeper, jobs: Jobs | None) -> Head:
    data = proof_heads.make(keeper.epoch, root, keeper.signer.server_id, size, time, workshop, jobs)
    return Head(size, root.hex(), time, keeper.epoch, data, keeper.signer.sign(data))


def latest(conn: Connection, workshop: str) -> Head | None:
    """The newest signed head, or None while the log is empty."""
    return _head_or_none(conn, _of(workshop).order_by(tables.heads.c.size.desc()).limit(1))


def in_epoch(conn: Connection, workshop: str, keeper: Keeper, time: str) -> Head | None:
    """The newest head as phones are to have it. After a restore the log's own was signed in an epoch that is over,
    which a phone must not believe: until the log grows again, its size and root are signed once more, at `time`."""
    head = latest(conn, workshop)
    if head is None or head.epoch == keeper.epoch:
        return head
    return sign_head(workshop, head.size, bytes.fromhex(head.root), time, keeper, proof_heads.read(head.bytes).jobs)


def at(conn: Connection, workshop: str, size: int) -> Head | None:
    """The head signed at exactly this size, if a batch ended there."""
    return _head_or_none(conn, _of(workshop).where(tables.heads.c.size == size))


def all_since(conn: Connection, workshop: str, size: int = 0) -> list[Head]:
    """Every head at `size` and later, oldest first."""
    query = _of(workshop).where(tables.heads.c.size >= size).order_by(tables.heads.c.size)
    return [_head(columns) for columns in conn.execute(query)]


def size_of(conn: Connection, workshop: str) -> int:
    head = latest(conn, workshop)
    return head.size if head else 0


def _of(workshop: str):
    c = tables.heads.c
    return select(c.size, c.root, c.time, c.epoch, c.bytes, c.signature).where(c.workshop == workshop)


def _head_or_none(conn: Connection, query) -> Head | None:
    columns = conn.execute(query).first()
    return _head(columns) if columns else None


def _head(columns) -> Head:
    return Head(*columns)
