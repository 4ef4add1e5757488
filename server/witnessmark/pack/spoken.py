"""The recordings of a job in words, as a reader sees them: words, their times, and who confirmed them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from witnessmark.log.rows import Row
from witnessmark.pack import words
from witnessmark.pack.story import Story
from witnessmark.trade.ground.corrections import Standing, fold
from witnessmark.trade.ground.sentences import listed, say
from witnessmark.trade.measuring.known import known
from witnessmark.trade.record import own_words
from witnessmark.trade.spoken import notes as spoken_notes
from witnessmark.trade.spoken.timed_words import differing, timed

Said = dict[str, Any]


def transcripts(
    rows: Sequence[Row], of_workshop: Sequence[Row], story: Story, people: Mapping[str, str]
) -> dict[int, Said]:
    """The transcript of each recording, by the number of its record; rows as the pack holds them, oldest first.

    Each is {"text", "label", "form" ("hatched" while no person has listened), "by", "remark", "words": [[word, from ms,
    to ms]], "queries": sentences, "heard": [{"text", "small": recogniser and model}], "by_whom": their results}.
    """
    numbers = {row.id: number for number, row in enumerate(rows, 1)}
    own = own_words.own_words(row.entry for row in of_workshop)
    procedures = {
        code: statement.data for code, statement in known(row.entry for row in of_workshop).procedures.items()
    }
    by_number = {}
    for sound, some in _by_sound(fold(row.entry for row in rows)).items():
        note = spoken_notes.of_standings(some, sound, story.engine_type, own, procedures)
        if note is not None:
            by_number[numbers[sound]] = _transcript(note, numbers, people)
    return by_number


def _by_sound(standings: Iterable[Standing]) -> dict[str, list[Standing]]:
    """Each sound with the records about it and from it, so that no note goes through the whole job."""
    by_sound: dict[str, list[Standing]] = defaultdict(list)
    for standing in standings:
        kind = standing.entry["kind"]
        if kind == spoken_notes.SOUND:
            by_sound[standing.entry["id"]].append(standing)
        elif kind in spoken_notes.ABOUT:
            by_sound[standing.body["entry"]].append(standing)
        elif kind in spoken_notes.RECORDS and standing.body.get("spoken"):
            by_sound[standing.body["spoken"]].append(standing)
    return by_sound


def _transcript(note: Mapping[str, Any], numbers: Mapping[str, int], people: Mapping[str, str]) -> Said:
    label, form, by = _standing(note, numbers, people)
    results = note["results"]
    return {
        "text": note["text"],
        "label": label,
        "form": form,
        "by": by,
        "remark": note["confirmed"]["remark"] if note["confirmed"] else "",
        "words": timed(
            note["text"], note["words"] or next((result["words"] for result in results if result["words"]), [])
        ),
        "queries": [_query(record, numbers) for record in (note["query"] or {"records": []})["records"]],
        "heard": [{"text": _heard(result, note), "small": _small(result)} for result in results],
        "by_whom": results,
    }


def _standing(note: Mapping[str, Any], numbers: Mapping[str, int], people: Mapping[str, str]) -> tuple[str, str, str]:
    """Label, form, and who stands behind it."""
    confirmed = note["confirmed"]
    if confirmed:
        name = people.get(confirmed["author"], "") or words.SOMEBODY
        time, number = words.claimed_words(confirmed["claimed"]), str(numbers[confirmed["id"]])
        by = say("pack.spoken.confirmed_by", name=name, time=time, number=number)
        return words.CONFIRMED, "outlined", by
    if note["text"]:
        return words.MACHINE, "hatched", words.DIFFER if note["state"] == "differ" else ""
    return words.NOT_YET if note["state"] == "waiting" else words.NOT_UNDERSTOOD, "plain", ""


def _query(record: Mapping[str, Any], numbers: Mapping[str, int]) -> str:
    parts = [words.PARTS.get(part, part) for part in record["parts"]]
    return say(
        "pack.spoken.query",
        count=len(parts),
        number=numbers[record["id"]],
        recorded=record["recorded"],
        heard=record["heard"],
        parts=listed(parts),
    )


def _heard(result: Mapping[str, Any], note: Mapping[str, Any]) -> str:
    if not result["text"]:
        return words.NOTHING_HEARD
    apart = differing(result["text"], note["text"]) + differing(note["text"], result["text"])
    return f"“{result['text']}”" if not all(same for _, same in apart) else words.AS_ABOVE


def _small(result: Mapping[str, Any]) -> str:
    return say(
        "pack.spoken.engine",
        engine=result["engine"],
        version=result["version"],
        model=result["model"],
        hash=result["model_sha256"][:12],
        score=str(result["confidence"]),
    )


def recognisers(transcripts: Iterable[Said]) -> list[dict[str, str]]:
    """Every recogniser that listened, once for each of its models and vocabularies, with their whole hashes."""
    by_columns = {}
    for result in (result for of_sound in transcripts for result in of_sound["by_whom"]):
        sort = words.CLOSED if result["sort"] == "closed" else words.FREE
        noise = words.DENOISED if result["denoised"] else ""
        columns = {
            "name": f"{result['engine']} {result['version']}",
            "sort": ", ".join(filter(None, [sort, noise])),
            "model": result["model"],
            "model_sha256": result["model_sha256"],
            "vocabulary": result["vocabulary"],
        }
        by_columns[tuple(columns.values())] = columns
    return [by_columns[key] for key in sorted(by_columns)]
