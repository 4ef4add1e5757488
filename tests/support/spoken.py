"""What speech needs in server tests: sounds that a phone recorded, what recognisers heard in them. All invented."""

from __future__ import annotations

import hashlib

from tests.support.phone import Phone
from tests.support.record import at, hash_of, keep
from witnessmark.sync import transcripts


def a_result(engine: str = "sphinx_ngram", text: str = "bore three eighty nine point oh three mm", **changes) -> dict:
    """What one recogniser heard, each word a third of a second long."""
    words = [[word, 330 * number, 330 * number + 300, 80] for number, word in enumerate(text.split())]
    return {
        "engine": engine,
        "version": "5.1.1",
        "model": "en-us",
        "model_sha256": "11" * 32,
        "sort": "closed",
        "denoised": True,
        "vocabulary": "22" * 32,
        "text": text,
        "confidence": 80 if text else 0,
        "words": words,
    } | changes


def speak(phone: Phone, job: str, place: str = "bore/3", point: str = "", sound: bytes = b"a voice", **facts) -> dict:
    """Keeps a sound on the phone, its file not sent: a measurement that was spoken to the screen of one; returns the
    entry."""
    body = {"method": "live", "duration_ms": 3200, "interrupted": False, "caption": ""}
    body |= {"mode": "measure", "screen": "measure", "procedure": "", "reading": ""} | facts
    media = {"sha256": hashlib.sha256(sound).hexdigest(), "length": len(sound), "name": "spoken.webm"}
    media |= {"role": "audio", "type": "audio/webm"}
    return keep(phone, phone.entry("sound_recorded", job, location=at(place, point), body=body, media=[media]))


def spoken_in(sound: dict, heard: str = "bore three eighty nine point oh three mm") -> dict:
    """What a record says of the sound it was made from."""
    return {"spoken": sound["id"], "heard": heard, "heard_by": "closed grammar 0.6.3, model 1a5afae0, words 77c2d1f0"}


def hears(office, sound: dict, *results: dict, seconds: float | None = 3.2) -> str | None:
    """What the server's recognisers heard, written at the desk; returns the entry's id."""
    return transcripts.write(office.engine, office.settings, office.workshop.id, sound["id"], results, seconds)


def confirm(phone: Phone, sound: dict, text: str, remark: str = "") -> dict:
    """Keeps what a person says is said in the sound; returns the entry."""
    body = {"entry": sound["id"], "entry_hash": hash_of(sound), "text": text, "remark": remark}
    return keep(phone, phone.entry("transcript_confirmed", sound["job"], location=sound["location"], body=body))
