"""The tables of the log. Rows are added, never changed: the database itself refuses UPDATE and DELETE."""

from __future__ import annotations

from sqlalchemy import (
    DDL,
    Boolean,
    Column,
    Index,
    Integer,
    LargeBinary,
    PrimaryKeyConstraint,
    String,
    Table,
    Text,
    UniqueConstraint,
    event,
)

from witnessmark.db import db


class Bytes(LargeBinary):
    """Bytes as the driver takes them: wrapping each value costs more than inserting it."""

    cache_ok = True

    def bind_processor(self, dialect):
        return None


entries = Table(
    "log_entries",
    db.metadata,
    Column("workshop", String(36), nullable=False),
    Column("position", Integer, nullable=False),
    Column("id", String(36), nullable=False),
    Column("device", String(36), nullable=False),
    Column("sequence", Integer, nullable=False),
    Column("job", String(36)),
    # True for what every phone needs to know: entries without a job, and the facts that make the list of jobs.
    Column("shared", Boolean, nullable=False),
    Column("hash", String(64), nullable=False),
    Column("bytes", Bytes, nullable=False),
    Column("signature", String(88), nullable=False),
    Column("received", String(24), nullable=False),
    Column("offset_ms", Integer),
    Column("leaf", Bytes(32), nullable=False),
    PrimaryKeyConstraint("workshop", "position"),
    UniqueConstraint("workshop", "id"),
    UniqueConstraint("workshop", "device", "sequence"),
    Index("log_entries_of_a_job", "workshop", "job", "position"),
    Index("log_entries_for_everyone", "workshop", "shared", "position"),
)

# What a phone signed and chained rightly but the workshop could not accept. Kept whole: it is somebody's work.
# For a number the phone declared lost, id and hash are empty and there are no bytes.
refused = Table(
    "log_refused",
    db.metadata,
    Column("workshop", String(36), nullable=False),
    Column("device", String(36), nullable=False),
    Column("sequence", Integer, nullable=False),
    Column("id", String(36), nullable=False),
    Column("hash", String(64), nullable=False),
    Column("bytes", Bytes, nullable=False),
    Column("signature", Text, nullable=False),
    Column("code", String(40), nullable=False),
    Column("reason", Text, nullable=False),
    Column("received", String(24), nullable=False),
    PrimaryKeyConstraint("workshop", "device", "sequence"),
    Index("log_refused_by_id", "workshop", "id"),
)

# Bytes that could not even be chained: a bad signature, a fork, another's workshop. Kept for whoever looks into it;
# of what is too long, or too much from one phone, the hash alone, with no bytes.
strays = Table(
    "log_strays",
    db.metadata,
    Column("workshop", String(36), nullable=False),
    Column("device", String(36), nullable=False),
    Column("hash", String(64), nullable=False),
    Column("bytes", Bytes, nullable=False),
    Column("signature", Text, nullable=False),
    Column("code", String(40), nullable=False),
    Column("received", String(24), nullable=False),
    PrimaryKeyConstraint("workshop", "device", "hash"),
)

heads = Table(
    "log_heads",
    db.metadata,
    Column("workshop", String(36), nullable=False),
    Column("size", Integer, nullable=False),
    Column("root", String(64), nullable=False),
    Column("time", String(24), nullable=False),
    Column("epoch", String(64), nullable=False),
    Column("bytes", Bytes, nullable=False),
    Column("signature", String(88), nullable=False),
    # Hashes of the perfect subtrees that make up the tree, largest first: enough to go on adding leaves.
    Column("peaks", Bytes, nullable=False),
    PrimaryKeyConstraint("workshop", "size"),
)

# Perfect subtrees of 256 leaves and more; smaller ones are worked out from the leaves.
nodes = Table(
    "log_nodes",
    db.metadata,
    Column("workshop", String(36), nullable=False),
    Column("level", Integer, nullable=False),
    Column("place", Integer, nullable=False),
    Column("hash", Bytes(32), nullable=False),
    PrimaryKeyConstraint("workshop", "level", "place"),
)

# How many entries each job has and the tree over that: worked out from the entries, and changed as they come.
jobs = Table(
    "log_jobs",
    db.metadata,
    Column("workshop", String(36), nullable=False),
    Column("job", String(36), nullable=False),
    Column("place", Integer, nullable=False),
    Column("count", Integer, nullable=False),
    Column("last", String(64), nullable=False),
    PrimaryKeyConstraint("workshop", "job"),
)
job_nodes = Table(
    "log_job_nodes",
    db.metadata,
    Column("workshop", String(36), nullable=False),
    Column("level", Integer, nullable=False),
    Column("place", Integer, nullable=False),
    Column("hash", Bytes(32), nullable=False),
    PrimaryKeyConstraint("workshop", "level", "place"),
)

KEPT_FOR_EVER = (entries, refused, strays, heads, nodes)


def refusals(table: str) -> list[str]:
    """The two SQLite triggers that make a table add-only."""
    return [
        f"CREATE TRIGGER {table}_never_{verb.lower()} BEFORE {verb} ON {table} "
        f"BEGIN SELECT RAISE(ABORT, '{table}: evidence is added, never changed'); END"
        for verb in ("UPDATE", "DELETE")
    ]


for _table in KEPT_FOR_EVER:
    for _statement in refusals(_table.name):
        event.listen(_table, "after_create", DDL(_statement).execute_if(dialect="sqlite"))
