"""Sounds and what is known of them, for showing them, transcribing them and finding those not transcribed yet."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, and_, func, or_, select

from witnessmark.log import read
from witnessmark.projections import engine_types, items, measuring, spoken, tables
from witnessmark.projections.batch import base_row
from witnessmark.trade.spoken.notes import SOUND, screen_of

QUERY = "query"  # as a state to filter by: whatever the transcript, something about it is open

_c = tables.spoken.c


@dataclass(frozen=True)
class Sound:
    """A sound with all that its recognisers may be given: the screen it was spoken to, the engine and the workshop's
    own words as they are now. Never what was recorded from it, nor any limit."""

    id: str
    hash: str
    job: str
    location: dict | None
    stage: str | None
    sha256: str
    duration_ms: int  # as the phone gave it, 0 when it did not know
    screen: dict[str, Any]
    engine_type: dict | None
    own: list[dict]


def about(conn: Connection, workshop: str, id: str) -> Sound | None:
    """One sound as it stands; None when there is no sound with this id."""
    row = read.by_id(conn, workshop, id)
    if row is None or row.entry["kind"] != SOUND:
        return None
    standing = next(candidate for candidate in spoken.standings(conn, workshop, id) if candidate.entry["id"] == id)
    job = items.of_ids(conn, workshop, {row.entry["job"]})[row.entry["job"]]
    procedures = {code: statement.data for code, statement in measuring.known(conn, workshop).procedures.items()}
    return Sound(
        id,
        row.hash,
        row.entry["job"],
        standing.location,
        job["stage"] or None,
        row.entry["media"][0]["sha256"],
        row.entry["body"]["duration_ms"],
        screen_of({"body": standing.body, "location": standing.location}, procedures),
        engine_types.usable(conn, workshop, [job["engine_type"]]).get(job["engine_type"]),
        spoken.words_before(conn, workshop),
    )


def transcripts_of(conn: Connection, workshop: str, id: str) -> list[dict]:
    """The bodies of all transcripts of a sound that were not withdrawn, oldest first."""
    standings = spoken.standings(conn, workshop, id)
    made = (standing for standing in standings if standing.entry["kind"] == "transcript_made")
    return [standing.body for standing in made if standing.withdrawn_by is None]


def without_transcript(
    conn: Connection, again: bool = False, id: str = "", sha256: str = ""
) -> list[tuple[str, str, str]]:
    """(workshop, id, SHA-256 of the file) of the sounds not transcribed yet, oldest first: of all, or of those with
    this id or this file. Withdrawn ones are left out. With `again` these and those transcribed before come too. Whether
    the file has arrived is not known here."""
    query = select(_c.workshop, _c.id, _c.sha256).order_by(_c.row)
    if not again:
        query = query.where(_c.due)
    if id:
        query = query.where(_c.id == id)
    if sha256:
        query = query.where(_c.sha256 == sha256)
    return [tuple(line) for line in conn.execute(query)]


def with_words(conn: Connection, workshop: str, note: Mapping[str, Any]) -> dict[str, Any]:
    """The note with the words that each recogniser heard and their times, out of the entry that has them."""
    row = read.by_id(conn, workshop, note["transcript"]) if note["transcript"] else None
    results = row.entry["body"]["results"] if row else []
    words = next((result["words"] for result in results if result["engine"] == note["engine"]), [])
    return {**note, "results": results, "words": words}


@dataclass(frozen=True)
class Page:
    """Row ids of sounds, those with an open query first, then the newest; where to go on, "" at the end."""

    rows: list[int]
    next: str


def page(conn: Connection, workshop: str, state: str = "", job: str = "", after: str = "", limit: int = 50) -> Page:
    """`state` is one of trade/spoken/notes or "query"; `after` what the page before gave as `next`.

    Errors: ValueError for an `after` that no page gave.
    """
    base = base_row(conn, workshop)
    query = select(_c.row, _c.open).where(_c.workshop == workshop)
    if state == QUERY:
        query = query.where(_c.open)
    elif state:
        query = query.where(_c.state == state)
    if job:
        query = query.where(_c.job == job)
    if after:
        was_open, position = (int(part) for part in after.split("-"))
        row = base + position
        query = query.where(or_(and_(_c.open, _c.row < row), ~_c.open) if was_open else and_(~_c.open, _c.row < row))
    lines = conn.execute(query.order_by(_c.open.desc(), _c.row.desc()).limit(limit + 1)).all()
    more, lines = len(lines) > limit, lines[:limit]
    return Page([line.row for line in lines], f"{int(lines[-1].open)}-{lines[-1].row - base}" if more else "")


def counts(conn: Connection, workshop: str) -> dict[str, int]:
    """State -> how many sounds stand so; how many have an open query under "query", a transcript under "heard"."""
    states = select(_c.state, func.count()).where(_c.workshop == workshop).group_by(_c.state)
    numbers = {state: count for state, count in conn.execute(states)}
    for name, given in ((QUERY, _c.open), ("heard", _c.heard)):
        numbers[name] = conn.scalar(select(func.count()).where(_c.workshop == workshop, given))
    return numbers


def words(conn: Connection, workshop: str) -> list[dict[str, Any]]:
    """Every own word as last stated, retired ones too, in the order in which they first came up:
    {position, id, author, received, what}."""
    c = tables.spoken_word.c
    newest: dict[str, dict[str, Any]] = {}
    for line in conn.execute(select(tables.spoken_word).where(c.workshop == workshop).order_by(c.row)).mappings():
        what = json.loads(line["data"])
        columns = {name: line[name] for name in ("position", "id", "author", "received")}
        newest[spoken.own_words.key(what["word"])] = columns | {"what": what}
    return list(newest.values())
