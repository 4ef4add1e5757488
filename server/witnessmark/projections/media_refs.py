"""Which record names which file, so that phone and office know what is still on its way."""

from __future__ import annotations

from sqlalchemy import Connection, distinct, func, insert, select

from witnessmark.projections import tables
from witnessmark.projections.batch import Batch

VERSION = 1
TABLES = [tables.media_ref]


def apply(batch: Batch) -> None:
    """Notes every file the batch names."""
    named = [
        {
            "row": row,
            "number": number,
            "workshop": batch.workshop,
            "job": entry["job"],
            "sha256": media["sha256"],
            "length": media["length"],
            "type": media["type"],
            "role": media["role"],
        }
        for row, _log, entry in batch.rows
        for number, media in enumerate(entry["media"])
    ]
    if named:
        batch.conn.execute(insert(tables.media_ref), named)


def of_jobs(conn: Connection, workshop: str, jobs: list[str]) -> dict[str, set[str]]:
    """job -> SHA-256 of every file its records name."""
    table = tables.media_ref
    query = select(table.c.job, table.c.sha256).where(table.c.workshop == workshop, table.c.job.in_(jobs))
    found: dict[str, set[str]] = {job: set() for job in jobs}
    for job, sha256 in conn.execute(query):
        found[job].add(sha256)
    return found


def is_named(conn: Connection, workshop: str, sha256: str) -> bool:
    """Whether any record of this workshop names the file: only then may its people see it."""
    table = tables.media_ref
    query = select(table.c.row).where(table.c.sha256 == sha256, table.c.workshop == workshop).limit(1)
    return conn.scalar(query) is not None


def named_by_job(conn: Connection, workshop: str, job: str) -> int:
    """How many different files the records of a job name."""
    table = tables.media_ref
    return conn.scalar(
        select(func.count(distinct(table.c.sha256))).where(table.c.workshop == workshop, table.c.job == job)
    )
