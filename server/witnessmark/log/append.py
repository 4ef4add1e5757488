"""The only writer of the log."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence

from sqlalchemy import Connection, insert, select

from witnessmark.db import add_rows
from witnessmark.log import heads, tables, tree
from witnessmark.log.heads import Head, Keeper
from witnessmark.log.rows import KINDS_FOR_EVERYONE, Item, Row

COLUMNS = [column.name for column in tables.entries.columns]


def append(
    conn: Connection, workshop: str, items: Sequence[Item], received: str, keeper: Keeper
) -> tuple[list[Row], Head]:
    """Gives the items the next positions, in this order, and signs one head over the grown log.

    Requires a connection from `db.writing`, at least one item, and that every check has been made: the log
    itself knows only that no id and no number of a device comes twice. Positions are read inside the writing
    transaction, which only one writer holds at a time, so no reader's cursor can pass over a late commit.
    """
    if not items:
        raise ValueError("append: no items; a head is signed only when the log has grown.")
    size, peaks = _where_we_are(conn, workshop)
    kept: list[tuple[int, int, bytes]] = []
    rows: list[Row] = []
    values: list[tuple] = []
    for item in items:
        position = size + 1
        row = Row(workshop, position, item.hash, item.signature, received, item.offset_ms, item.bytes)
        row.entry = item.entry
        leaf = hashlib.sha256(b"\x00" + row.stamp).digest()
        tree.grow(peaks, size, leaf, kept)
        size = position
        rows.append(row)
        values.append(_values(row, leaf))
    add_rows(conn, tables.entries, COLUMNS, values)
    if kept:
        conn.execute(
            insert(tables.nodes),
            [{"workshop": workshop, "level": level, "place": place, "hash": node} for level, place, node in kept],
        )
    head = heads.sign_head(workshop, size, tree.root_of(peaks), received, keeper)
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


def keep_refused(conn: Connection, values: Sequence[dict]) -> None:
    """Keeps refused entries whole, one dict of `tables.refused` columns each."""
    if values:
        conn.execute(insert(tables.refused), list(values))


def keep_strays(conn: Connection, values: Sequence[dict]) -> None:
    """Keeps bytes that could not be chained; the same bytes are kept once."""
    for one in values:
        conn.execute(insert(tables.strays).prefix_with("OR IGNORE", dialect="sqlite"), one)


def _where_we_are(conn: Connection, workshop: str) -> tuple[int, list[bytes]]:
    c = tables.heads.c
    query = select(c.size, c.peaks).where(c.workshop == workshop).order_by(c.size.desc()).limit(1)
    found = conn.execute(query).first()
    return (found.size, tree.unpack_peaks(found.peaks)) if found else (0, [])


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
