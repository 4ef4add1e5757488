"""How many records each job has, as a tree whose root each head carries: what is left out of a job's end is missed too.

The leaf of a job says how many entries it has and which is the newest; jobs stand in the order of their first entry.
Its nodes are kept so that an append touches a number of rows that grows with the logarithm of the jobs. All of it can
be worked out from the entries again, and is, where a log from before this has none.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from sqlalchemy import Connection, func, select

from witnessmark.log import tables
from witnessmark.log.rows import Row
from witnessmark.proof import entries as proof_entries
from witnessmark.proof.heads import Jobs
from witnessmark.proof.merkle import node_hash

_jobs, _nodes, _entries = tables.jobs.c, tables.job_nodes.c, tables.entries.c


def note(conn: Connection, workshop: str, rows: Sequence[Row]) -> Jobs | None:
    """Counts new entries, which stand in the log already, and returns the jobs' tree; None while there is no job."""
    number = _count(conn, workshop)
    if number == 0:
        number = _count_all(conn, workshop)
    else:
        number = _add(conn, workshop, number, ((row.entry["job"], row.hash) for row in rows))
    return Jobs(number, _root(conn, workshop, number)) if number else None


def proof(conn: Connection, workshop: str, job: str) -> dict | None:
    """What the newest head says of a job: "count", "last" (the hash of its newest entry), its "place" among the jobs
    and the hex hashes that lead to their root ("path"). None for a job without an entry, or a head without jobs."""
    query = select(_jobs.place, _jobs.count, _jobs.last).where(_jobs.workshop == workshop, _jobs.job == job)
    row = conn.execute(query).first()
    if row is None:
        return None
    number, path, place = _count(conn, workshop), [], row.place
    for level in range(_top(number)):
        beside = _node(conn, workshop, level, (place >> level) ^ 1)
        if beside is not None:  # at the right edge a subtree without a neighbour is taken over as it is
            path.append(beside.hex())
    return {"count": row.count, "last": row.last, "path": path, "place": place}


def _add(conn: Connection, workshop: str, number: int, entries: Iterable[tuple[str | None, str]]) -> int:
    """Counts entries, as (job, hash) in the order of the log; returns how many jobs there are then."""
    added: dict[str, tuple[int, str]] = {}
    for job, name in entries:
        if job is not None:
            added[job] = added.get(job, (0, ""))[0] + 1, name
    touched = []
    for job, (count, last) in added.items():
        query = select(_jobs.place, _jobs.count).where(_jobs.workshop == workshop, _jobs.job == job)
        row = conn.execute(query).first()
        place, count = (row.place, row.count + count) if row else (number, count)
        number += row is None
        _put(conn, tables.jobs, {"workshop": workshop, "job": job}, {"place": place, "count": count, "last": last})
        _put_node(conn, workshop, 0, place, proof_entries.job_leaf(job, count, last))
        touched.append(place)
    for level in range(1, _top(number) + 1):
        # Also the right edge, which grew: the newest job is among those touched whenever there is a new one.
        for place in sorted({place >> level for place in touched}):
            left = _node(conn, workshop, level - 1, 2 * place)
            right = _node(conn, workshop, level - 1, 2 * place + 1)
            _put_node(conn, workshop, level, place, left if right is None else node_hash(left, right))
    return number


def _count_all(conn: Connection, workshop: str) -> int:
    """Counts the whole log: a log from before jobs were counted, or its first entry of a job."""
    query = select(_entries.job, _entries.hash).where(_entries.workshop == workshop, _entries.job.is_not(None))
    return _add(conn, workshop, 0, ((row.job, row.hash) for row in conn.execute(query.order_by(_entries.position))))


def _count(conn: Connection, workshop: str) -> int:
    return conn.execute(select(func.count()).select_from(tables.jobs).where(_jobs.workshop == workshop)).scalar_one()


def _root(conn: Connection, workshop: str, number: int) -> bytes:
    return _node(conn, workshop, _top(number), 0)


def _top(number: int) -> int:
    """The level at which one node stands over `number` leaves."""
    return (number - 1).bit_length()


def _node(conn: Connection, workshop: str, level: int, place: int) -> bytes | None:
    query = select(_nodes.hash).where(_nodes.workshop == workshop, _nodes.level == level, _nodes.place == place)
    return conn.execute(query).scalar()


def _put_node(conn: Connection, workshop: str, level: int, place: int, node: bytes) -> None:
    _put(conn, tables.job_nodes, {"workshop": workshop, "level": level, "place": place}, {"hash": node})


def _put(conn: Connection, table, key: dict, values: dict) -> None:
    where = [table.c[name] == value for name, value in key.items()]
    if not conn.execute(table.update().where(*where).values(values)).rowcount:
        conn.execute(table.insert().values(key | values))
