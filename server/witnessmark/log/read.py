"""Reading the log back: by position, by id, page by page, device by device, job by job."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from sqlalchemy import Connection, Select, func, select, union_all

from witnessmark.log import tables
from witnessmark.log.rows import Row, row_from

PAGE = 500
SHARED = "workshop"
_c = tables.entries.c
_ROW = (_c.workshop, _c.position, _c.hash, _c.signature, _c.received, _c.offset_ms, _c.bytes)


@dataclass(frozen=True)
class ChainEnd:
    """The last number of a device that is accounted for here, and its hash ("" if that entry was lost)."""

    sequence: int
    hash: str


FIRST = ChainEnd(0, "0" * 64)


def by_id(conn: Connection, workshop: str, entry_id: str) -> Row | None:
    return _row_or_none(conn, select(*_ROW).where(_c.workshop == workshop, _c.id == entry_id))


def by_ids(conn: Connection, workshop: str, ids: Sequence[str]) -> dict[str, Row]:
    """The entries among `ids` that are here, by id. Any number of ids."""
    rows = {}
    for some in _slices(ids):
        query = select(_c.id, *_ROW).where(_c.workshop == workshop, _c.id.in_(some))
        rows |= {columns["id"]: row_from(columns) for columns in conn.execute(query).mappings()}
    return rows


def positions(conn: Connection, workshop: str, wanted: Sequence[int]) -> list[Row]:
    """The entries at these positions, ascending; missing ones are left out."""
    rows = []
    for some in _slices(sorted(wanted)):
        query = select(*_ROW).where(_c.workshop == workshop, _c.position.in_(some)).order_by(_c.position)
        rows += [row_from(columns) for columns in conn.execute(query).mappings()]
    return rows


def feed_after(conn: Connection, workshop: str, feed: str, after: int, limit: int = PAGE) -> list[Row]:
    """Entries of a feed with positions above `after`, oldest first. Feed: "workshop" or "job:<uuid>"."""
    query = _feed(workshop, feed).where(_c.position > after).order_by(_c.position).limit(limit)
    return _many(conn, query)


def feed_before(conn: Connection, workshop: str, feed: str, before: int, limit: int = PAGE) -> list[Row]:
    """Entries of a feed with positions below `before`, newest first."""
    query = _feed(workshop, feed).where(_c.position < before).order_by(_c.position.desc()).limit(limit)
    return _many(conn, query)


def digest(conn: Connection, workshop: str, feed: str, upto: int) -> tuple[int, str]:
    """How many entries a feed has up to a position, and SHA-256 over their hashes (hex, in order)."""
    query = _feed(workshop, feed, _c.hash).where(_c.position <= upto).order_by(_c.position)
    count, total = 0, hashlib.sha256()
    for (entry_hash,) in conn.execute(query):
        count += 1
        total.update(entry_hash.encode())
    return count, total.hexdigest()


def whole_log(conn: Connection, workshop: str, after: int = 0, page: int = 2000) -> Iterator[Row]:
    """Every entry above `after`, oldest first, read page by page so that memory stays small."""
    while True:
        query = select(*_ROW).where(_c.workshop == workshop, _c.position > after).order_by(_c.position).limit(page)
        rows = _many(conn, query)
        yield from rows
        if len(rows) < page:
            return
        after = rows[-1].position


def holding(conn: Connection, workshop: str, text: str) -> Iterator[Row]:
    """Every entry whose bytes hold a text, oldest first. It looks through the whole log: for rare questions."""
    query = select(*_ROW).where(_c.workshop == workshop, func.instr(_c.bytes, text.encode()) > 0)
    for columns in conn.execute(query.order_by(_c.position)).mappings():
        yield row_from(columns)


def job_entries(conn: Connection, workshop: str, job: str, page: int = PAGE) -> Iterator[Row]:
    """Every entry of one job, oldest first, page by page."""
    after = 0
    while rows := feed_after(conn, workshop, f"job:{job}", after, page):
        yield from rows
        after = rows[-1].position


def device_chain(conn: Connection, workshop: str, device: str, after: int = 0) -> Iterator[Row]:
    """What is logged of one device, by its own numbers; numbers that were refused or lost are missing here."""
    while True:
        query = (
            select(_c.sequence, *_ROW)
            .where(_c.workshop == workshop, _c.device == device, _c.sequence > after)
            .order_by(_c.sequence)
            .limit(PAGE)
        )
        page = conn.execute(query).mappings().all()
        yield from (row_from(columns) for columns in page)
        if len(page) < PAGE:
            return
        after = page[-1]["sequence"]


def chain_end(conn: Connection, workshop: str, device: str) -> ChainEnd:
    """Where a device's chain stands here, refused and lost numbers counted."""
    r = tables.refused.c
    logged = select(_c.sequence, _c.hash).where(_c.workshop == workshop, _c.device == device)
    refused = select(r.sequence, r.hash).where(r.workshop == workshop, r.device == device)
    both = union_all(
        select(logged.order_by(_c.sequence.desc()).limit(1).subquery()),
        select(refused.order_by(r.sequence.desc()).limit(1).subquery()),
    ).subquery()
    newest = conn.execute(select(both.c.sequence, both.c.hash).order_by(both.c.sequence.desc()).limit(1)).first()
    return ChainEnd(newest.sequence, newest.hash) if newest else FIRST


def last_of_job(conn: Connection, workshop: str, device: str, job: str) -> Row | None:
    """The newest entry that a device has in the log of a job."""
    query = _feed(workshop, f"job:{job}").where(_c.device == device).order_by(_c.position.desc()).limit(1)
    return _row_or_none(conn, query)


def refused_by_id(conn: Connection, workshop: str, ids: Sequence[str]) -> dict[str, dict]:
    """What was refused for good among `ids`, by id, as dicts of `tables.refused`."""
    refused = {}
    for some in _slices(ids):
        r = tables.refused.c
        query = select(tables.refused).where(r.workshop == workshop, r.id.in_(some))
        refused |= {columns["id"]: dict(columns) for columns in conn.execute(query).mappings()}
    return refused


def all_refused(conn: Connection, workshop: str) -> list[dict]:
    """Everything refused for good, oldest first, bytes included."""
    r = tables.refused.c
    query = select(tables.refused).where(r.workshop == workshop).order_by(r.received, r.device, r.sequence)
    return [dict(line) for line in conn.execute(query).mappings()]


def stray_counts(conn: Connection, workshop: str) -> dict[tuple[str, str], int]:
    """(device, code) -> how many offered bytes are stored that could not be tied to that device's chain."""
    s = tables.strays.c
    query = select(s.device, s.code, func.count()).where(s.workshop == workshop).group_by(s.device, s.code)
    return {(device, code): count for device, code, count in conn.execute(query)}


def stray_totals(conn: Connection, workshop: str, device: str) -> tuple[int, int]:
    """How many strays of a device are stored, and how many bytes of them."""
    s = tables.strays.c
    query = select(func.count(), func.coalesce(func.sum(func.length(s.bytes)), 0))
    count, total = conn.execute(query.where(s.workshop == workshop, s.device == device)).one()
    return count, total


def stray_length(conn: Connection, workshop: str, device: str, hash: str) -> int | None:
    """How many bytes are stored of the stray with this hash: 0 when only its hash is; None when nothing is."""
    s = tables.strays.c
    query = select(func.length(s.bytes)).where(s.workshop == workshop, s.device == device, s.hash == hash)
    return conn.scalar(query)


def _feed(workshop: str, feed: str, *columns) -> Select:
    query = select(*(columns or _ROW)).where(_c.workshop == workshop)
    if feed == SHARED:
        return query.where(_c.shared.is_(True))
    return query.where(_c.job == feed.removeprefix("job:"))


def _row_or_none(conn: Connection, query: Select) -> Row | None:
    columns = conn.execute(query).mappings().first()
    return row_from(columns) if columns else None


def _many(conn: Connection, query: Select) -> list[Row]:
    return [row_from(columns) for columns in conn.execute(query).mappings()]


def _slices(values: Iterable, size: int = 500) -> Iterator[list]:
    values = list(values)
    for start in range(0, len(values), size):
        yield values[start : start + size]
