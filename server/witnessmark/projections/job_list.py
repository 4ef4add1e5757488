"""The list of jobs and one job's facts, read from the projections."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import Connection, select

from witnessmark.projections import engine_types, media_refs, tables, tallies, ticks, visits
from witnessmark.projections.batch import base_row
from witnessmark.projections.filters import word_query
from witnessmark.projections.words import JOB_WORDS, STAGE, tag


@dataclass(frozen=True)
class JobPage:
    jobs: list[dict]
    next: int | None


def page(
    conn: Connection, workshop: str, words: str = "", stage: str = "", before: int | None = None, limit: int = 50
) -> JobPage:
    """Jobs, the one opened last first. `before` and `next` are the position of a job's first record.

    The order is that of opening, not of the last record: a list that shuffles while it is read skips jobs.
    """
    c, base = tables.job.c, base_row(conn, workshop)
    query = select(tables.job).where(c.workshop == workshop).order_by(c.row.desc()).limit(limit + 1)
    below = base + before if before is not None else base_row(conn, workshop, 1)
    if match_words := word_query(words):
        match = f"words : ({match_words})" + (f" AND tags : {tag(STAGE, stage)}" if stage else "")
        query = query.where(c.row.in_(JOB_WORDS.rows(conn, match, limit + 1, base, below)))
    elif stage:
        query = query.where(c.stage == stage)
    jobs = [dict(job) for job in conn.execute(query.where(c.row < below)).mappings()]
    more, jobs = len(jobs) > limit, jobs[:limit]
    return JobPage(with_context(conn, workshop, jobs), jobs[-1]["row"] - base if more else None)


def by_id(conn: Connection, workshop: str, id: str) -> dict | None:
    """The facts of one job as in the list, or None when no record names it."""
    c = tables.job.c
    columns = conn.execute(select(tables.job).where(c.workshop == workshop, c.id == id)).mappings().first()
    return with_context(conn, workshop, [dict(columns)])[0] if columns else None


def with_screen(conn: Connection, workshop: str, id: str) -> dict | None:
    """One job with all its screen shows: engine_type_data, counters by sort, ticks, visits of its engine."""
    job = by_id(conn, workshop, id)
    if job is None:
        return None
    return job | {
        "engine_type_data": engine_types.newest(conn, workshop, job["engine_type"]),
        "counters": tallies.of_job(conn, workshop, id),
        "ticks": ticks.of_job(conn, workshop, id),
        "visits": visits.of_engine(conn, workshop, job["engine_key"]),
    }


def with_context(conn: Connection, workshop: str, jobs: list[dict]) -> list[dict]:
    """Adds to each job what other tables know: engine_type_name, missing_media, earlier_visits."""
    ids = [job["id"] for job in jobs]
    types = engine_types.named(conn, workshop, sorted({job["engine_type"] for job in jobs}))
    missing = media_refs.missing(conn, workshop, ids)
    earlier = visits.earlier(conn, workshop, jobs)
    return [
        job
        | {
            "engine_type_name": types.get(job["engine_type"], {}).get("name", ""),
            "missing_media": missing.get(job["id"], 0),
            "earlier_visits": earlier[job["id"]],
        }
        for job in jobs
    ]
