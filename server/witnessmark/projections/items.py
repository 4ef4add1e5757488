"""Records as they are shown: the entry as it was made, and beside it what was recorded about it later."""

from __future__ import annotations

import json
from collections.abc import Sequence
from datetime import datetime, timedelta

from sqlalchemy import Connection, select

from witnessmark.log import read
from witnessmark.log.rows import Row
from witnessmark.projections import engine_types, facts, spoken, tables
from witnessmark.projections.batch import base_row, parts
from witnessmark.trade.engine.locations import place_name
from witnessmark.trade.record.lines import line
from witnessmark.trade.spoken.notes import SOUND

LATE_FROM_S = 60


def show(conn: Connection, workshop: str, rows: Sequence[int]) -> list[dict]:
    """The records under these row ids, in this order; the number of questions to the database does not grow with them.

    Persons and devices are given by id (`author`, `device`, `by`); whoever shows them knows their names.
    """
    base = base_row(conn, workshop)
    logged = {base + record.position: record for record in read.positions(conn, workshop, [row - base for row in rows])}
    filed = _filed(conn, list(logged))
    answers = answers_to(conn, workshop, [record.entry["id"] for record in logged.values()])
    targets = [record.entry["body"]["entry"] for record in logged.values() if record.entry["kind"] in facts.ANSWERS]
    related = _filed_by_id(conn, workshop, targets)
    notes = _notes(conn, workshop, [row for row in logged if logged[row].entry["kind"] == SOUND])
    jobs = of_ids(conn, workshop, {record.entry["job"] for record in logged.values()} - {None})
    types = engine_types.usable(conn, workshop, sorted({job["engine_type"] for job in jobs.values()}))
    return [
        _item(
            logged[row],
            filed.get(row),
            answers,
            related,
            jobs.get(logged[row].entry["job"]),
            types,
        )
        | {"spoken": notes.get(row)}
        for row in rows
        if row in logged
    ]


def _notes(conn: Connection, workshop: str, rows: list[int]) -> dict[int, dict]:
    """Row -> what is known of the sound there; what was recorded from it with its exhibit."""
    notes = spoken.of_rows(conn, rows)
    filed = _filed_by_id(
        conn, workshop, sorted({record["id"] for note in notes.values() for record in note["records"]})
    )
    for note in notes.values():
        open_records = note["query"]["records"] if note["query"] else []
        for record in (*note["records"], *open_records):
            record["exhibit"] = filed[record["id"]]["exhibit"]
    return notes


def signed(conn: Connection, workshop: str, id: str) -> dict | None:
    """What makes one record checkable: its bytes, signature, chain and the server's stamp; with its row."""
    log = read.by_id(conn, workshop, id)
    if log is None:
        return None
    entry = log.entry
    return {
        "row": base_row(conn, workshop) + log.position,
        "bytes": log.bytes.decode(),
        "signature": log.signature,
        "stamp": log.stamp.decode(),
        "previous": entry["previous"],
        "sequence": entry["sequence"],
    }


def of_ids(conn: Connection, workshop: str, ids: set[str]) -> dict[str, dict]:
    """Job id -> facts."""
    jobs = {}
    for part in parts(sorted(ids)):
        query = select(tables.job).where(tables.job.c.workshop == workshop, tables.job.c.id.in_(part))
        jobs.update((job["id"], dict(job)) for job in conn.execute(query).mappings())
    return jobs


def late_s(claimed: str, received: str, offset_ms: int | None) -> int:
    """Seconds from the claimed time, set right by the measured clock offset, to receipt; 0 when under a minute.

    It shows the reader that a record was received late; it decides nothing.
    """
    # The difference first: a clock may claim the last day of the calendar, to which nothing can be added.
    difference = datetime.fromisoformat(received) - datetime.fromisoformat(claimed)
    seconds = int((difference - timedelta(milliseconds=offset_ms or 0)).total_seconds())
    return seconds if seconds >= LATE_FROM_S else 0


def _item(log: Row, filed, answers: dict, related: dict, job: dict | None, types: dict) -> dict:
    entry = log.entry
    engine_type = types.get(job["engine_type"]) if job else None
    described = line(entry, engine_type)
    location = entry["location"] or {"place": "", "point": ""}
    answers_to_it = answers.get(entry["id"], [])
    withdrawals = [answer for answer in answers_to_it if answer["sort"] == "withdrawn" and not answer["withdrawn"]]
    return {
        "exhibit": filed.exhibit if filed else None,
        "position": log.position,
        "id": entry["id"],
        "hash": log.hash,
        "job": {name: job[name] for name in ("id", "number", "vehicle")} if job else None,
        "kind": entry["kind"],
        "title": described["title"],
        "text": described["text"],
        "stage": entry["stage"],
        "claimed": entry["claimed"],
        "received": log.received,
        "attested": None,
        "offset_ms": log.offset_ms,
        "author": entry["author"],
        "device": entry["device"],
        "place": location["place"],
        "place_name": place_name(engine_type, location["place"]) if location["place"] else "",
        "point": location["point"],
        "media": entry["media"],
        "body": entry["body"],
        "corrected_by": [answer for answer in answers_to_it if answer["sort"] == "corrected"],
        "corrects": related.get(entry["body"]["entry"]) if entry["kind"] in facts.ANSWERS else None,
        "withdrawn": withdrawals[-1] if withdrawals else None,
        "late_s": late_s(entry["claimed"], log.received, log.offset_ms),
    }


def _filed(conn: Connection, rows: list[int]) -> dict:
    """Row -> its line in the timeline."""
    by_row = {}
    for some in parts(rows):
        # Not by workshop as well: a row is one workshop's, and SQLite would read all of it instead.
        query = select(tables.timeline).where(tables.timeline.c.row.in_(some))
        by_row.update((filed.row, filed) for filed in conn.execute(query))
    return by_row


def _filed_by_id(conn: Connection, workshop: str, ids: list[str]) -> dict[str, dict]:
    """Record id -> {id, exhibit}."""
    base = base_row(conn, workshop)
    rows = [base + row.position for row in read.by_ids(conn, workshop, ids).values()]
    filed = _filed(conn, rows)
    return {row.id: {"id": row.id, "exhibit": row.exhibit} for row in filed.values()}


def answers_to(conn: Connection, workshop: str, ids: list[str]) -> dict[str, list[dict]]:
    """What was recorded about each of these records later, oldest first, and whether that was withdrawn in its turn."""
    c, filed = tables.answer.c, tables.timeline.c
    answers: dict[str, list[dict]] = {}
    while ids:
        new_answers = []
        for some in parts(ids):
            query = select(tables.answer, filed.exhibit).outerjoin(tables.timeline, filed.row == c.row)
            query = query.where(c.workshop == workshop, c.target.in_(some)).order_by(c.row)
            new_answers += [dict(answer) for answer in conn.execute(query).mappings()]
        for answer in new_answers:
            answer |= {"by": answer["author"], "changes": json.loads(answer["changes"])}
            answers.setdefault(answer["target"], []).append(answer)
        ids = [answer["id"] for answer in new_answers]
    in_order = sorted((answer for some in answers.values() for answer in some), key=lambda answer: answer["row"])
    for answer in reversed(in_order):
        # From the last to the first: whether a withdrawal holds must be known before it takes effect.
        later = answers.get(answer["id"], [])
        answer["withdrawn"] = any(other["sort"] == "withdrawn" and not other["withdrawn"] for other in later)
    return answers
