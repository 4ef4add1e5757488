"""Pages of records by keyset: the cost of a page does not grow with the log, and none is skipped or shown twice."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from sqlalchemy import Connection, select

from witnessmark.projections import tables
from witnessmark.projections.batch import base_row
from witnessmark.projections.filters import Filters
from witnessmark.projections.words import count, found_rows

COUNTED_UP_TO = 1000
NO_END = 2**62

# (above, below, limit, newest first) -> cursors of records strictly between the two
Take = Callable[[int, int, int, bool], list[int]]


@dataclass(frozen=True)
class Page:
    """Row ids as shown; the cursors to go on with on either side, None at an end; how many in all, None over 1000."""

    rows: list[int]
    next: int | None
    previous: int | None
    total: int | None


def of_job(
    conn: Connection,
    workshop: str,
    job: str,
    filters: Filters,
    after: int | None = None,
    before: int | None = None,
    around: int | None = None,
    limit: int = 50,
) -> Page:
    """A page of a job's timeline, oldest first. Cursors are exhibit numbers; `filters.job` must name the job."""
    if not filters.are_given:
        exhibits, following, preceding = _page(_exhibits(conn, workshop, job), after, before, around, limit)
        total = _counted(conn, workshop, job)
        return Page(_rows(conn, workshop, job, exhibits), following, preceding, total)
    match, base = filters.match(), base_row(conn, workshop)
    # Below `before` means: up to the exhibit before it, also when there are not as many.
    end = None if before is None else _row_at(conn, workshop, job, before - 1) + 1
    cursors = (_row_at(conn, workshop, job, after), end, _row_at(conn, workshop, job, around))
    rows, following, preceding = _page(_matching(conn, match), *cursors, limit)
    exhibits = _exhibits_of(conn, [row for row in (following, preceding) if row is not None])
    # A page that shows all there is needs no counting, which would read the index a second time.
    if following is None and preceding is None and (rows or (after, before, around) == (None, None, None)):
        total = len(rows)
    else:
        total = count(conn, match, COUNTED_UP_TO, base, base_row(conn, workshop, 1))
    return Page(rows, exhibits.get(following), exhibits.get(preceding), total)


def of_workshop(
    conn: Connection,
    workshop: str,
    filters: Filters,
    after: int | None = None,
    before: int | None = None,
    limit: int = 50,
) -> Page:
    """A page of what was found in all jobs, newest first. Cursors are positions."""
    base, end = base_row(conn, workshop), base_row(conn, workshop, 1)
    match = filters.match()
    if not match:
        return Page([], None, None, 0)
    newer, older = base + after if after is not None else base, base + before if before is not None else end
    if after is not None:
        rows = found_rows(conn, match, limit + 1, newer, end, newest_first=False)
        more, rows = len(rows) > limit, rows[:limit][::-1]
        return Page(rows, rows[-1] - base if rows else None, rows[0] - base if more else None, None)
    rows = found_rows(conn, match, limit + 1, base, older)
    more, rows = len(rows) > limit, rows[:limit]
    whole = before is None and not more
    total = len(rows) if whole else count(conn, match, COUNTED_UP_TO, base, end)
    return Page(rows, rows[-1] - base if more else None, rows[0] - base if rows and before else None, total)


@dataclass(frozen=True)
class Newer:
    """Row ids of what came in, oldest first, and the position up to which that is all."""

    rows: list[int]
    position: int


def newer(conn: Connection, workshop: str, job: str, after: int | None, limit: int = 100) -> Newer:
    """What came in after a position, of one job or (job "") of all; without a position: only where the log stands.

    Meant to be called every other second: when nothing came in it is one look at one row.
    """
    c, base = tables.timeline.c, base_row(conn, workshop)
    if job:
        jobs = tables.job.c
        latest = conn.scalar(select(jobs.last_position).where(jobs.workshop == workshop, jobs.id == job)) or 0
    else:
        row = conn.scalar(select(c.row).where(c.row < base_row(conn, workshop, 1)).order_by(c.row.desc()).limit(1))
        latest = max(row - base, 0) if row else 0
    if after is None or after >= latest:
        return Newer([], latest)
    query = select(c.row).where(c.row > base + after, c.row <= base + latest).order_by(c.row)
    if job:
        of_job = (c.workshop == workshop, c.job == job)
        seen = select(c.exhibit).where(*of_job, c.row <= base + after).order_by(c.exhibit.desc()).limit(1)
        query = select(c.row).where(*of_job, c.exhibit > (conn.scalar(seen) or 0)).order_by(c.exhibit)
    rows = list(conn.scalars(query.limit(limit + 1)))
    if len(rows) > limit:
        return Newer(rows[:limit], rows[limit - 1] - base)
    return Newer(rows, latest)


def rows_at(conn: Connection, workshop: str, positions: Sequence[int]) -> list[int]:
    """The row ids of records by their positions."""
    base = base_row(conn, workshop)
    return [base + position for position in positions]


def _page(take: Take, after: int | None, before: int | None, around: int | None, limit: int) -> tuple:
    """(cursors oldest first, cursor to go on after, cursor to go back before)."""
    if around is not None:
        earlier = take(-1, around, limit // 2 + 1, True)
        later = take(around - 1, NO_END, limit - limit // 2 + 1, False)
        less, more = len(earlier) > limit // 2, len(later) > limit - limit // 2
        page = earlier[: limit // 2][::-1] + later[: limit - limit // 2]
    elif before is not None:
        page = take(-1, before, limit + 1, True)
        less, more = len(page) > limit, True
        page = page[:limit][::-1]
    else:
        page = take(-1 if after is None else after, NO_END, limit + 1, False)
        less, more = bool(after), len(page) > limit
        page = page[:limit]
    if not page:
        return [], None, None
    return page, page[-1] if more else None, page[0] if less else None


def _exhibits(conn: Connection, workshop: str, job: str) -> Take:
    c = tables.timeline.c

    def take(above: int, below: int, limit: int, newest_first: bool) -> list[int]:
        query = select(c.exhibit).where(c.workshop == workshop, c.job == job, c.exhibit > above, c.exhibit < below)
        return list(conn.scalars(query.order_by(c.exhibit.desc() if newest_first else c.exhibit).limit(limit)))

    return take


def _matching(conn: Connection, match: str) -> Take:
    def take(above: int, below: int, limit: int, newest_first: bool) -> list[int]:
        return found_rows(conn, match, limit, above, below, newest_first)

    return take


def _rows(conn: Connection, workshop: str, job: str, exhibits: list[int]) -> list[int]:
    if not exhibits:
        return []
    c = tables.timeline.c
    query = select(c.row).where(c.workshop == workshop, c.job == job)
    return list(conn.scalars(query.where(c.exhibit.between(exhibits[0], exhibits[-1])).order_by(c.exhibit)))


def _row_at(conn: Connection, workshop: str, job: str, exhibit: int | None) -> int | None:
    """The row of an exhibit; of the last one when there are not as many, and 0 below the first."""
    if exhibit is None:
        return None
    c = tables.timeline.c
    query = select(c.row).where(c.workshop == workshop, c.job == job, c.exhibit <= exhibit)
    return conn.scalar(query.order_by(c.exhibit.desc()).limit(1)) or 0


def _exhibits_of(conn: Connection, rows: list[int]) -> dict[int | None, int]:
    c = tables.timeline.c
    return dict(tuple(line) for line in conn.execute(select(c.row, c.exhibit).where(c.row.in_(rows))))


def _counted(conn: Connection, workshop: str, job: str) -> int:
    c = tables.job.c
    return conn.scalar(select(c.entries).where(c.workshop == workshop, c.id == job)) or 0
