"""Engines that came back: jobs that bear the same engine number."""

from __future__ import annotations

import re

from sqlalchemy import Connection, func, select

from witnessmark.projections import tables

_NOISE = re.compile(r"[\W_]+")


def engine_key(number: str) -> str:
    """An engine number as compared, letters and digits alone: "hv 29-0012" and "HV29/0012" are one engine."""
    return _NOISE.sub("", number).upper()


def of_engine(conn: Connection, workshop: str, key: str) -> list[dict]:
    """Every job on the engine, oldest first:
    {row, id, number, opened, engine_type, distance, distance_unit, complaint}."""
    if not key:
        return []
    c = tables.job.c
    query = select(c.row, c.id, c.number, c.opened, c.engine_type, c.distance, c.distance_unit, c.complaint)
    query = query.where(c.workshop == workshop, c.engine_key == key).order_by(c.row)
    return [dict(visit) for visit in conn.execute(query).mappings()]


def earlier(conn: Connection, workshop: str, jobs: list[dict]) -> dict[str, int]:
    """Job id -> how many jobs before it were on the same engine, for a page of jobs."""
    keys = {job["engine_key"] for job in jobs} - {""}
    this, other = tables.job.alias(), tables.job.alias()
    query = (
        select(this.c.id, func.count())
        .join(other, (other.c.workshop == this.c.workshop) & (other.c.engine_key == this.c.engine_key))
        .where(this.c.workshop == workshop, this.c.engine_key.in_(keys), other.c.row < this.c.row)
        .group_by(this.c.id)
    )
    counts = dict(tuple(line) for line in conn.execute(query))
    return {job["id"]: counts.get(job["id"], 0) for job in jobs}
