"""The records of a job as a reader meets them: numbered, in order, with what was said about each of them later."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from witnessmark.log.rows import Row
from witnessmark.trade.engine.locations import place_name
from witnessmark.trade.engine.stages import WORDS as STAGE_WORDS
from witnessmark.trade.ground.corrections import fold
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.record.kinds import ABOUT, KINDS
from witnessmark.trade.record.lines import line

FACTS = (
    ("number", say("pack.facts.job")),
    ("vehicle", say("pack.facts.vehicle")),
    ("registration", say("pack.facts.registration")),
    ("engine_type", say("pack.facts.engine_type")),
    ("engine_number", say("pack.facts.engine_number")),
    ("distance", say("pack.facts.run")),
    ("complaint", say("pack.facts.complaint")),
    ("received_as", say("pack.facts.condition")),
)
# Kinds that are about an earlier record.
SPEAKING = ABOUT["record"] | ABOUT["sound"]
UNITS = {"km": "km", "mi": say("pack.facts.miles"), "h": say("pack.facts.hours")}


@dataclass(frozen=True)
class Answer:
    """A later record about an earlier one: `exhibit` is the later one's number."""

    exhibit: int
    by: str
    reason: str


@dataclass
class Exhibit:
    """One record of the job as it reads now. `was` is (title, text) and `first_body` the body before any correction;
    `spoken` is the transcript of a recording, as pack/spoken.py gives it.

    Times are three and stay three: `claimed` by the device, `received` by the server, `attested` by nobody yet.
    """

    number: int
    position: int
    kind: str
    kind_words: str
    title: str
    text: str
    place: str
    place_name: str
    point: str
    stage: str
    claimed: str
    received: str
    offset_ms: int | None
    author: str
    device: str
    hash: str
    media: list[dict]
    body: dict
    first_body: dict
    was: tuple[str, str] | None = None
    corrections: list[Answer] = field(default_factory=list)
    withdrawn: Answer | None = None
    about: int | None = None
    spoken: dict | None = None


@dataclass
class Story:
    """A job with all its records. `facts` are (words, value, number of the record that changed it or None)."""

    workshop: str
    job: str
    number: str
    engine_type: dict[str, Any] | None
    facts: list[tuple[str, str, int | None]]
    exhibits: list[Exhibit]

    @property
    def title(self) -> str:
        """The engine, or what it came in, or at least the job: what the title block bears."""
        facts_shown = {words: value for words, value, _ in self.facts}
        engine = facts_shown.get(say("pack.facts.engine_type"), "")
        number = facts_shown.get(say("pack.facts.engine_number"), "")
        if engine and number:
            return say("pack.facts.engine_with_number", engine=engine, number=number)
        return engine or facts_shown.get(say("pack.facts.vehicle"), "") or self.number


def story_of(
    rows: Sequence[Row],
    workshop: str,
    people: Mapping[str, str],
    devices: Mapping[str, str],
    engine_types: Mapping[str, dict[str, Any]],
) -> Story:
    """The story of one job from its log rows, oldest first. `engine_types` by id, as described when the pack is cut."""
    facts, changed = _facts(rows)
    engine_type = engine_types.get(facts.get("engine_type", ""))
    numbers = {row.id: number for number, row in enumerate(rows, 1)}
    exhibits = {row.id: _exhibit(number, row, people, devices, engine_type) for row, number in _numbered(rows)}
    for row in rows:
        target = exhibits.get(row.entry["body"].get("entry", ""))
        if row.entry["kind"] in SPEAKING and target is not None:
            exhibits[row.id].about = target.number
    # A correction that was itself withdrawn stays beside the record and changes nothing.
    for row, standing in zip(rows, fold(row.entry for row in rows), strict=True):
        exhibit = exhibits[row.id]
        exhibit.corrections = [_answer(correction, numbers, people) for correction in standing.corrected_by]
        if standing.withdrawn_by is not None:
            exhibit.withdrawn = _answer(standing.withdrawn_by, numbers, people)
        if standing.corrected_by:
            _correct(exhibit, row.entry, standing.body, standing.location, engine_type)
    job = rows[0].job if rows else ""
    facts_shown = [(words, _fact(facts, name, engine_type), changed.get(name)) for name, words in FACTS]
    shown = [fact for fact in facts_shown if fact[1]]
    return Story(workshop, job, facts.get("number", ""), engine_type, shown, list(exhibits.values()))


def _numbered(rows: Sequence[Row]) -> list[tuple[Row, int]]:
    return [(row, number) for number, row in enumerate(rows, 1)]


def _facts(rows: Sequence[Row]) -> tuple[dict[str, str], dict[str, int]]:
    facts: dict[str, str] = {}
    changed: dict[str, int] = {}
    for row, number in _numbered(rows):
        body = row.entry["body"]
        if row.entry["kind"] == "job_opened":
            facts.update({name: value for name, value in body.items() if isinstance(value, str)})
        elif row.entry["kind"] == "job_amended":
            facts.update(body["changes"])
            changed.update(dict.fromkeys(body["changes"], number))
    return facts, changed


def _fact(facts: Mapping[str, str], name: str, engine_type: dict[str, Any] | None) -> str:
    value = facts.get(name, "")
    if name == "engine_type":
        return engine_type["name"] if engine_type else ""
    if name == "distance" and value:
        return f"{value} {UNITS.get(facts.get('distance_unit', ''), '')}".strip()
    return value


def _exhibit(
    number: int,
    row: Row,
    people: Mapping[str, str],
    devices: Mapping[str, str],
    engine_type: dict[str, Any] | None,
) -> Exhibit:
    entry = row.entry
    described = line(entry, engine_type)
    kind = KINDS.get(entry["kind"])
    location = entry["location"] or {"place": "", "point": ""}
    return Exhibit(
        number=number,
        position=row.position,
        kind=entry["kind"],
        kind_words=kind.words if kind else described["title"],
        title=described["title"],
        text=described["text"],
        place=location["place"],
        place_name=place_name(engine_type, location["place"]) if location["place"] else "",
        point=location["point"],
        stage=STAGE_WORDS.get(entry["stage"] or "", entry["stage"] or ""),
        claimed=entry["claimed"],
        received=row.received,
        offset_ms=row.offset_ms,
        author=people.get(entry["author"], ""),
        device=devices.get(entry["device"], ""),
        hash=row.hash,
        media=list(entry["media"]),
        body=entry["body"],
        first_body=entry["body"],
    )


def _answer(entry: Mapping[str, Any], numbers: Mapping[str, int], people: Mapping[str, str]) -> Answer:
    return Answer(numbers[entry["id"]], people.get(entry["author"], ""), entry["body"]["reason"])


def _correct(exhibit: Exhibit, entry: dict, body: dict, location: Any, engine_type: dict[str, Any] | None) -> None:
    """Shows the record as it reads now, and keeps how it read before."""
    now = {**entry, "body": body, "location": location}
    described = line(now, engine_type)
    if (described["title"], described["text"]) != (exhibit.title, exhibit.text):
        exhibit.was = (exhibit.title, exhibit.text)
        exhibit.title, exhibit.text = described["title"], described["text"]
    exhibit.body = now["body"]
    if now["location"]:
        exhibit.place, exhibit.point = now["location"]["place"], now["location"]["point"]
        exhibit.place_name = place_name(engine_type, exhibit.place)
