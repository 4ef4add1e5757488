"""What recognisers heard in a sound, written at the desk as an entry of its job: beside the sound, not in its place."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from sqlalchemy import Connection, Engine

from witnessmark.config import Settings
from witnessmark.db import writing
from witnessmark.people import workshops
from witnessmark.projections import spoken_notes as notes
from witnessmark.sync import desk
from witnessmark.trade.ground import shapes
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.spoken import heard

KIND = "transcript_made"


def write(
    engine: Engine,
    settings: Settings,
    workshop: str,
    sound_entry_id: str,
    results: Sequence[Mapping[str, Any]],
    seconds: float | None = None,
) -> str | None:
    """Writes one transcript of a sound; returns its entry's id, or None when the same recognisers with the same models
    and words were heard before.

    `results` are as the entry holds them (trade/ground/shapes.transcripts), none at all when nothing was understood;
    `seconds` is how long the sound turned out to be. Raises Refusal for results of another shape
    and for what is no sound here.
    """
    if reason := shapes.transcripts(list(results)):
        raise Refusal("bad_value", "results", say("server.sounds.not_kept", reason=reason))
    with writing(engine) as conn:
        sound = notes.about(conn, workshop, sound_entry_id)
        if sound is None:
            raise Refusal("unknown_entry", "entry", say("server.sounds.unknown"))
        recognisers = _recognisers(results)
        if any(
            _recognisers(body["results"]) == recognisers
            for body in notes.transcripts_of(conn, workshop, sound_entry_id)
        ):
            return None
        return _write(conn, settings, workshop, sound, results, seconds)


def _write(
    conn: Connection,
    settings: Settings,
    workshop: str,
    sound: notes.Sound,
    results: Sequence[Mapping[str, Any]],
    seconds: float | None,
) -> str:
    outcome = heard.decide(results, sound.screen, sound.engine_type, sound.own)
    body = {
        "entry": sound.id,
        "entry_hash": sound.hash,
        "duration_ms": None if seconds is None else round(seconds * 1000),
        "results": [dict(result) for result in results],
        # A note has words, though nothing in them that recognisers could agree on.
        "outcome": "text" if outcome["outcome"] == "nothing" and outcome["text"] else outcome["outcome"],
        "text": outcome["text"],
        "engine": outcome["engine"],
    }
    # The desk itself is the author: no person has listened.
    author = workshops.only(conn).desk
    place = {"job": sound.job, "location": sound.location, "stage": sound.stage}
    return desk.write(conn, settings, author, KIND, body=body, **place).entry["id"]


def _recognisers(results: Iterable[Mapping[str, Any]]) -> frozenset[tuple[str, str, str]]:
    """What produced the results: recogniser, model and vocabulary of each."""
    return frozenset((result["engine"], result["model_sha256"], result["vocabulary"]) for result in results)
