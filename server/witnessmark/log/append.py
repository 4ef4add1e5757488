"""The only writer of the log."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence

from sqlalchemy import Connection, insert, select

from witnessmark.db import add_rows
from witnessmark.log import heads, job_counts, tables, tree
from witnessmark.log.heads import Head, Keeper
from witnessmark.log.rows import KINDS_FOR_EVERYONE, CheckedEntry, Row

COLUMNS = [column.name for column in tables.entries.columns]


def append(
    conn: Connection, workshop: str, entries: Sequence[CheckedEntry], received: str, keeper: Keeper
) -> tuple[list[Row], Head]:
    """Gives the entries the next positions, in this order, and signs one head over the grown log.

    `received` is RFC 3339 in UTC with milliseconds; where the server's clock was set back, the last stamp is used, so
    that no stamp runs backwards.

    Requires a connection from `db.writing`, at least one entry, and that every check has been made: the log
    itself knows only that no id and no number of a device comes twice. Positions are read inside the writing
    transaction, which only one writer holds at a time, so no reader's cursor can pass over a late commit.
    """
    if not entries:
        raise ValueError("append: no entries; a head is signed only when the log has grown.")
    size, peaks, stamped = _end_of(conn, workshop)
    received = max(received, stamped)
    new_nodes: list[tuple[int, int, bytes]] = []
    rows: list[Row] = []
    values: list[tuple] = []
    for checked in entries:
        position = size + 1
        row = Row(workshop, position, checked.hash, checked.signature, received, checked.offset_ms, checked.bytes)
        row.entry = checked.entry
        leaf = hashlib.sha256(b"\x00" + row.stamp).digest()
        tree.grow(peaks, size, leaf, new_nodes)
        size = position
        rows.append(row)
        values.append(_values(row, leaf))
    add_rows(conn, tables.entries, COLUMNS, values)
    if new_nodes:
        conn.execute(
            insert(tables.nodes),
            [{"workshop": workshop, "level": level, "place": place, "hash": node} for level, place, node in new_nodes],
        )
    jobs = job_counts.note(conn, workshop, rows)
    head = heads.sign_head(workshop, size, tree.root_of(peaks), received, keeper, jobs)
    conn.execute(
        insert(tables.heads),
        {
            "workshop": workshop,
            "size": head.size,
            "root": head.root,
            "time": head.time,
            "epoch": head.epoch,
            "bytes": head.bytes,
            "signature": head.signature,
            "peaks": tree.pack_peaks(peaks),
        },
    )
    return rows, head


def store_refused(conn: Connection, values: Sequence[dict]) -> None:
    """Stores refused entries whole, one dict of `tables.refused` columns each."""
    if values:
        conn.execute(insert(tables.refused), list(values))


def store_strays(conn: Connection, values: Sequence[dict]) -> None:
    """Stores bytes that could not be chained; the same bytes are stored once."""
    for stray in values:
        conn.execute(insert(tables.strays).prefix_with("OR IGNORE", dialect="sqlite"), stray)


def _end_of(conn: Connection, workshop: str) -> tuple[int, list[bytes], str]:
    """How long the log is, the peaks of its tree, and when its last entries were received."""
    c = tables.heads.c
    query = select(c.size, c.peaks, c.time).where(c.workshop == workshop).order_by(c.size.desc()).limit(1)
    newest = conn.execute(query).first()
    return (newest.size, tree.unpack_peaks(newest.peaks), newest.time) if newest else (0, [], "")


def _values(row: Row, leaf: bytes) -> tuple:
    """A row of `tables.entries`, in the order of its columns."""
    entry = row.entry
    job = entry["job"]
    return (
        row.workshop,
        row.position,
        entry["id"],
        entry["device"],
        entry["sequence"],
        job,
        job is None or entry["kind"] in KINDS_FOR_EVERYONE,
        row.hash,
        row.bytes,
        row.signature,
        row.received,
        row.offset_ms,
        leaf,
    )
