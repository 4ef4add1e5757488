"""The word index over all records of jobs, with everything the screens filter by as tags beside the words."""

from __future__ import annotations

import json
from collections.abc import Sequence

from sqlalchemy import func, select

from witnessmark.db import add_rows
from witnessmark.log import read
from witnessmark.projections import measuring, tables
from witnessmark.projections.answers import SORTS
from witnessmark.projections.batch import Batch, Record, parts
from witnessmark.projections.words import DAY, JOB, KIND, PERSON, PLACE, RECORD_WORDS, SAID_LATER, STAGE, tag
from witnessmark.trade.record.lines import line
from witnessmark.trade.spoken.notes import ABOUT, SOUND

VERSION = 4
TABLES = [RECORD_WORDS, SAID_LATER, tables.said_of]


def apply(batch: Batch) -> None:
    """Indexes each record; what a correction says leads to the record it corrects as well, what was heard or confirmed
    to its sound.
    """
    RECORD_WORDS.add(
        batch.conn, [(record.row, words_of(batch, record), tags_of(record.entry)) for record in batch.records]
    )
    answers = [record for record in batch.records if record.entry["kind"] in (*SORTS, *ABOUT)]
    if answers:
        _index_answers(batch, answers)


def words_of(batch: Batch, record: Record) -> str:
    """The search words of a record: its line in the timeline, its place, its procedure, the names of its files."""
    entry = record.entry
    described = line(entry, record.engine_type)
    words = [described["title"], described["text"], measuring.procedure_name(batch, record.row, entry)]
    if location := entry["location"]:
        words += [batch.place_name(record.engine_type, location["place"]), location["point"]]
    words += [media["name"] for media in entry["media"]]
    return " ".join(filter(None, words))


def tags_of(entry: dict) -> str:
    """The tags of a record: job, kind, person, stage, day as claimed, and its place with every place that holds it."""
    tags = [tag(JOB, entry["job"]), tag(KIND, entry["kind"]), tag(PERSON, entry["author"]), day_tag(entry["claimed"])]
    if entry["stage"]:
        tags.append(tag(STAGE, entry["stage"]))
    if entry["location"]:
        tags += place_tags(entry["location"]["place"])
    return " ".join(tags)


def place_tags(place: str) -> list[str]:
    """A tag for a place and for each that holds it: head/A/7 is found under head/A and under head."""
    steps = place.split("/")
    return [tag(PLACE, "/".join(steps[:count])) for count in range(1, len(steps) + 1)]


def day_tag(claimed: str) -> str:
    """The day a record claims, in its own zone, as one word."""
    return DAY + claimed[:10].replace("-", "")


def _index_answers(batch: Batch, answers: list[Record]) -> None:
    """One after the other as they came: each is found by the words of its record as first written, and by the last
    that was said of each of the record's fields."""
    targets = _targets(batch, answers)
    rows = sorted(set(targets.values()))
    first_words, newest = _first_words(batch, rows), _newest_words(batch, rows)
    indexed, filed = [], []
    for answer in answers:
        target, new = targets.get(answer.row), _words_given(batch, answer)
        if target not in first_words or not new:
            continue
        words, tags = first_words[target]
        newest[target] = given = newest.get(target, {}) | new
        if place := answer.entry["body"].get("location"):
            tags = " ".join([tags, *place_tags(place["place"])])
        indexed.append((answer.row, " ".join([words, *filter(None, given.values())]), tags))
        filed.append((answer.row, target, json.dumps(given, ensure_ascii=False)))
    if indexed:
        SAID_LATER.add(batch.conn, indexed)
        add_rows(batch.conn, tables.said_of, ("row", "target", "said"), filed)


def _words_given(batch: Batch, answer: Record) -> dict[str, str]:
    """Field -> words that a record gives for it; a new place under `location`, what was heard under the kind."""
    kind, body = answer.entry["kind"], answer.entry["body"]
    if kind in ABOUT:
        return {kind: body["text"]}
    given = {name: new for name, new in body.get("changes", {}).items() if isinstance(new, str)}
    if place := body.get("location"):
        given["location"] = f"{batch.place_name(answer.engine_type, place['place'])} {place['point']}"
    return given


def _targets(batch: Batch, answers: list[Record]) -> dict[int, int]:
    """Row of an answer -> row of the record of a job that it speaks of: a sound, where it says what is heard."""
    heard = {answer.entry["body"]["entry"] for answer in answers if answer.entry["kind"] in ABOUT}
    named = read.by_ids(batch.conn, batch.workshop, sorted(heard)) if heard else {}
    sounds = {id: row for id, row in named.items() if row.entry["kind"] == SOUND}
    targets = {}
    for answer in answers:
        known = sounds if answer.entry["kind"] in ABOUT else batch.targets
        target = known.get(answer.entry["body"]["entry"])
        if target is not None and target.entry["job"]:
            targets[answer.row] = batch.base + target.position
    return targets


def _first_words(batch: Batch, rows: Sequence[int]) -> dict[int, tuple[str, str]]:
    """Row -> words and tags of a record as first written."""
    words: dict[int, tuple[str, str]] = {}
    for part in parts(rows):
        words |= RECORD_WORDS.held(batch.conn, part)
    return words


def _newest_words(batch: Batch, rows: Sequence[int]) -> dict[int, dict[str, str]]:
    """Row -> field -> words last said of it in earlier batches."""
    c = tables.said_of.c
    newest_words: dict[int, dict[str, str]] = {}
    for part in parts(rows):
        newest = select(func.max(c.row)).where(c.target.in_(part)).group_by(c.target)
        query = select(c.target, c.said).where(c.row.in_(newest))
        newest_words.update((line.target, json.loads(line.said)) for line in batch.conn.execute(query))
    return newest_words
