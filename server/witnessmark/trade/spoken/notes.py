"""What is known of one sound: what machines heard, what a person says is said, what was recorded from it, and whether
these differ. A machine never changes a record: where it heard something else, a query stays open until a person has
listened or the record was corrected.

All that comes in stands as it is now: corrections taken in, withdrawn ones left out, in the order of the log.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from witnessmark.trade.ground.corrections import Standing
from witnessmark.trade.measuring.procedures import BUILT_IN, quantity_of, reading_codes
from witnessmark.trade.record.kinds import kinds_with
from witnessmark.trade.record.lines import line
from witnessmark.trade.spoken import parse as spoken
from witnessmark.trade.spoken.differences import differing

SOUND, TRANSCRIPT, CONFIRMATION = "sound_recorded", "transcript_made", "transcript_confirmed"
ABOUT = (TRANSCRIPT, CONFIRMATION)
STATES = ("waiting", "nothing", "text", "agree", "differ", "confirmed")
# What may be recorded from a sound.
RECORDS = kinds_with("spoken")
_SORTS = {"measure": "measure", "finding": "finding", "tighten": "tighten"}

Entry = Mapping[str, Any]


def screen_of(sound: Entry, procedures: Mapping[str, Mapping[str, Any]] = BUILT_IN) -> dict[str, Any]:
    """The screen that a sound was spoken to, as the parser and the grammar ask for it. `procedures` by code; the units
    that were offered are not known any more, so all are."""
    body, location = sound["body"], sound["location"] or {"place": "", "point": ""}
    procedure, reading = body.get("procedure", ""), body.get("reading", "")
    described = procedures.get(procedure)
    known = described is not None and reading in reading_codes(described)
    return {
        "sort": _SORTS.get(body.get("screen", "none"), "any"),
        "place": location["place"],
        "point": location["point"],
        "procedure": procedure,
        "reading": reading,
        "quantity": quantity_of(described, reading) if known else "",
        "units": [],
    }


def note(
    sound: Entry,
    transcripts: Sequence[Entry],
    confirmations: Sequence[Entry],
    records: Sequence[Entry],
    engine_type: dict[str, Any] | None,
    own: Sequence[Mapping[str, Any]] = (),
    procedures: Mapping[str, Mapping[str, Any]] = BUILT_IN,
) -> dict[str, Any]:
    """What is known of a sound, from entries {"id", "kind", "version", "body", "location", "author", "claimed"}:

    {"state": waiting (nobody heard it yet) | nothing (no word was understood) | text (words, and nothing in them that
     recognisers could agree on) | agree | differ | confirmed (by a person),
     "text": the words that stand, "by": "machine" | "person" | "",
     "words": [[word, from ms, to ms, confidence], …] of the recogniser whose text the machine's is, "engine": which,
     "results": what each heard, "transcript": the entry they stand in or None,
     "confirmed": {"id", "author", "claimed", "remark"} of who listened, or None,
     "records": [{"id", "said": what was recorded from it}],
     "query": None or {"records": [{"id", "recorded", "heard", "parts": which parts differ}]}}
    """
    newest = transcripts[-1] if transcripts else None
    results = newest["body"]["results"] if newest else []
    heard = newest["body"] if newest else {"outcome": "waiting", "text": "", "engine": ""}
    person = confirmations[-1] if confirmations else None
    text = person["body"]["text"] if person else heard["text"]
    lines = [{"id": record["id"], "said": _in_words(record, engine_type)} for record in records]
    return {
        "state": "confirmed" if person else heard["outcome"],
        "text": text,
        "by": "person" if person else "machine" if text else "",
        "words": next((result["words"] for result in results if result["engine"] == heard["engine"]), []),
        "engine": heard["engine"],
        "results": results,
        "transcript": newest["id"] if newest else None,
        "confirmed": person and {
            **{name: person[name] for name in ("id", "author", "claimed")},
            "remark": person["body"]["remark"],
        },
        "records": lines,
        "query": None if person else _query(screen_of(sound, procedures), results, records, engine_type, own),
    }  # fmt: skip


def of_standings(
    standings: Iterable[Standing],
    sound: str,
    engine_type: dict[str, Any] | None,
    own: Sequence[Mapping[str, Any]] = (),
    procedures: Mapping[str, Mapping[str, Any]] = BUILT_IN,
) -> dict[str, Any] | None:
    """The note of the sound with this id out of a fold (trade/ground/corrections) that has the sound, its transcripts
    and confirmations and the records that name it; what else is in it is passed over. None when the sound is not
    in it."""
    every = list(standings)
    itself = next(
        (standing for standing in every if standing.entry["kind"] == SOUND and standing.entry["id"] == sound), None
    )
    if itself is None:
        return None
    held = [_as_it_stands(standing) for standing in every if standing.withdrawn_by is None]
    about = {kind: [e for e in held if e["kind"] == kind and e["body"]["entry"] == sound] for kind in ABOUT}
    records = [e for e in held if e["kind"] in RECORDS and e["body"].get("spoken") == sound]
    records = [record for record in records if record["job"] == itself.entry["job"]]
    spoken_note = note(
        _as_it_stands(itself), about[TRANSCRIPT], about[CONFIRMATION], records, engine_type, own, procedures
    )
    # Of a sound that is not to count nothing is asked any more.
    return spoken_note | {"query": None} if itself.withdrawn_by else spoken_note


def _as_it_stands(standing: Standing) -> dict[str, Any]:
    return {**standing.entry, "body": standing.body, "location": standing.location}


def _query(
    screen: dict[str, Any],
    results: Sequence[Mapping[str, Any]],
    records: Sequence[Entry],
    engine_type: dict[str, Any] | None,
    own: Sequence[Mapping[str, Any]],
) -> dict[str, Any] | None:
    """The records that no recogniser heard as they were recorded, though one heard something that could be one."""
    if not records:
        return None
    read = [spoken.read(result["text"], screen, engine_type, list(own)) for result in results if result["text"]]
    parts = [[differing(proposal, record) for proposal in read] for record in records]
    # What was heard as another record of this sound is no contradiction to this one.
    taken = {number for of_record in parts for number, differ in enumerate(of_record) if differ == []}
    open_ones = []
    for record, of_record in zip(records, parts, strict=True):
        left = [number for number, differ in enumerate(of_record) if differ and number not in taken]
        if [] in of_record or not left:
            continue
        nearest = min(left, key=lambda number: len(of_record[number]))
        open_ones.append(
            {
                "id": record["id"],
                "recorded": _in_words(record, engine_type),
                "heard": spoken.in_words(read[nearest], engine_type),
                "parts": of_record[nearest],
            }
        )
    return {"records": open_ones} if open_ones else None


def _in_words(record: Entry, engine_type: dict[str, Any] | None) -> str:
    written = line(record, engine_type)
    return written["title"] if record["kind"] != "finding_made" else ". ".join(filter(None, written.values()))
