"""Which record names which file, so that phone and office know what is still on its way."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import Connection, column, distinct, func, insert, select
from sqlalchemy import table as named_table

from witnessmark.log import read
from witnessmark.projections import tables
from witnessmark.projections.batch import MOST_AT_ONCE, Batch, base_row, parts

VERSION = 2
TABLES = [tables.media_ref]

# The register of arrived originals belongs to media/; here it is only read.
MEDIA = named_table("media", column("sha256"))


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


def missing(conn: Connection, workshop: str, jobs: list[str]) -> dict[str, int]:
    """Job -> how many of the files its records name have not arrived; jobs that miss none are left out."""
    table = tables.media_ref
    arrived = select(MEDIA.c.sha256).where(MEDIA.c.sha256 == table.c.sha256).exists()
    query = select(table.c.job, func.count(distinct(table.c.sha256)))
    query = query.where(table.c.workshop == workshop, table.c.job.in_(jobs), ~arrived).group_by(table.c.job)
    return dict(tuple(line) for line in conn.execute(query))


def is_named(conn: Connection, workshop: str, sha256: str) -> bool:
    """Whether any record of this workshop names the file: only then may its people see it."""
    table = tables.media_ref
    query = select(table.c.row).where(table.c.sha256 == sha256, table.c.workshop == workshop).limit(1)
    return conn.scalar(query) is not None


def first_device(conn: Connection, workshop: str, sha256: str) -> str | None:
    """The device whose record was the first of this workshop to name the file; None when no record names it."""
    table = tables.media_ref
    row = conn.scalar(select(func.min(table.c.row)).where(table.c.sha256 == sha256, table.c.workshop == workshop))
    if row is None:
        return None
    return read.positions(conn, workshop, [row - base_row(conn, workshop)])[0].device


def unnamed(conn: Connection, wanted: Sequence[str]) -> set[str]:
    """Those of `wanted` that no record of any workshop names."""
    column_sha = tables.media_ref.c.sha256
    left = set(wanted)
    for some in parts(list(wanted), MOST_AT_ONCE):
        left.difference_update(conn.scalars(select(column_sha).where(column_sha.in_(some))))
    return left


def exhibits(conn: Connection, workshop: str, files: Sequence[str]) -> list[tuple[str, str, int]]:
    """(SHA-256, job number, exhibit) of every record of a job that names one of these files, in the order of the log.
    A job whose opening is still on its way has its id for a number."""
    ref, line, job = tables.media_ref.c, tables.timeline.c, tables.job.c
    rows = []
    for some in parts(sorted(set(files))):
        query = select(ref.row, ref.sha256, job.number, job.id, line.exhibit)
        query = query.join(tables.timeline, line.row == ref.row)
        query = query.join(tables.job, (job.workshop == line.workshop) & (job.id == line.job))
        rows += conn.execute(query.where(ref.workshop == workshop, ref.sha256.in_(some))).all()
    return [(at.sha256, at.number or at.id, at.exhibit) for at in sorted(rows)]
