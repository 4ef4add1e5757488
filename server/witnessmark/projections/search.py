"""The word index over all records of jobs, with everything the screens filter by as tags beside the words."""

from __future__ import annotations

from witnessmark.log import read
from witnessmark.log.rows import Row
from witnessmark.projections import measuring
from witnessmark.projections.answers import SORTS
from witnessmark.projections.batch import Batch, Record
from witnessmark.projections.words import DAY, JOB, KIND, PERSON, PLACE, RECORD_WORDS, STAGE, tag
from witnessmark.trade.record.lines import line
from witnessmark.trade.spoken.notes import ABOUT, SOUND

VERSION = 3
TABLES = [RECORD_WORDS]


def apply(batch: Batch) -> None:
    """Indexes each record; what a correction says is indexed under the record it corrects as well, what was heard or
    confirmed under its sound.
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
    """One after the other as they came, so that a replay finds the same words in the same order."""
    for answer in answers:
        entry, body = answer.entry, answer.entry["body"]
        about_sound = entry["kind"] in ABOUT
        target = _sound(batch, body["entry"]) if about_sound else batch.targets.get(body["entry"])
        if target is None or not target.entry["job"]:
            continue
        row = batch.base + target.position
        words, tags = RECORD_WORDS.held(batch.conn, row) or ("", "")
        more = [body["text"]] if about_sound else [v for v in body.get("changes", {}).values() if isinstance(v, str)]
        if place := body.get("location"):
            more += [batch.place_name(answer.engine_type, place["place"]), place["point"]]
            tags = " ".join([tags, *place_tags(place["place"])])
        RECORD_WORDS.replace(batch.conn, [(row, " ".join([words, *filter(None, more)]), tags)])


def _sound(batch: Batch, id: str) -> Row | None:
    row = read.by_id(batch.conn, batch.workshop, id)
    return row if row is not None and row.entry["kind"] == SOUND else None
