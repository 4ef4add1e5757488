"""A job with recordings of real sound and what recognisers made of them, for the office and for packs cut from it."""

from __future__ import annotations

import json
import shutil
from dataclasses import dataclass
from pathlib import Path

import av
import pytest

from tests.support import record
from tests.support.phone import Phone
from tests.support.spoken import a_result, confirm, hears, speak, spoken_in
from tests.support.workshop import Office
from witnessmark.app import create_app
from witnessmark.config import Settings
from witnessmark.db import db, reading, writing
from witnessmark.media.store import adopt
from witnessmark.pack.build import Built, build
from witnessmark.sync import desk

CLIPS = Path(__file__).resolve().parents[1] / "clips"
THRUST = "bore three top thrust reads eighty eight point nine four millimetres"
PUMP = "The oil pump was full of metal and the pickup was half blocked with gasket sealer."
# What a free recogniser might make of it, and what a person hears.
PUMP_HEARD = "the oil pump was full of metal and the pick up was half blocked with gasket seller"
OWN_WORD = {"word": "Halvern", "sounds_like": ["half worn"], "means": "", "retired": False}


def clip(name: str) -> bytes:
    return (CLIPS / name).read_bytes()


def milliseconds(name: str) -> int:
    """How long a clip is, as its decoder says."""
    with av.open(str(CLIPS / name)) as sound:
        samples = sum(frame.samples / frame.sample_rate for frame in sound.decode(audio=0))
    return round(samples * 1000)


def heard(name: str, text: str, engine: str = "whisper", **changes) -> dict:
    """A result whose words fill the clip from its first to its last tenth, each as long as it has letters."""
    words, length = text.split(), milliseconds(name)
    letters, at, timed = sum(map(len, words)) or 1, length // 10, []
    for word in words:
        end = at + length * 8 // 10 * len(word) // letters
        timed.append([word, at, end, 34 if word == "point" else 91])
        at = end
    kind = {"sort": "free", "denoised": False, "model": "tiny.en", "version": "1.2.1"} if engine == "whisper" else {}
    return a_result(engine, text, words=timed, **kind, **changes)


@dataclass
class SpokenJob:
    """The job, its sounds by what they are for, its records, and the phone that recorded it."""

    job: str
    phone: Phone
    sounds: dict[str, dict]
    reading: dict
    right: dict


def record_spoken_job(office: Office, phone: Phone, job: str) -> SpokenJob:
    """Five recordings: one that contradicts its record, one that agrees with its own, a note that a person may confirm,
    one in which nothing was understood, and one that nobody transcribed yet."""
    note, bore = {"mode": "note", "screen": "none"}, {"procedure": "cylinder_bore", "reading": "top/thrust"}
    sounds = {
        "query": speak(phone, job, "bore/3", "top, thrust", clip("bore_3_thrust.webm"), duration_ms=4000, **bore),
        "right": speak(phone, job, "main/4", "", clip("main_4.webm"), duration_ms=4000),
        "note": speak(phone, job, "oil_pump", "", clip("oil_pump_note.webm"), duration_ms=5000, **note),
        "nothing": speak(phone, job, "bore/2", "", clip("rain_chatter.webm"), duration_ms=5000),
        "waiting": speak(phone, job, "bore/1", "", clip("rebore_1.webm"), duration_ms=2000, screen="finding"),
    }
    wrong = record.measure(
        phone, job, "bore/3", "88.49", quantity="diameter", spoken=spoken_in(sounds["query"], THRUST)
    )
    right = record.measure(phone, job, "main/4", "64.98", quantity="diameter", spoken=spoken_in(sounds["right"]))
    record.send(phone)
    nine_five = THRUST.replace("nine four", "nine five")
    main = "main journal four reads sixty four point nine eight millimetres"
    results = {
        "query": [
            heard("bore_3_thrust.webm", THRUST, "sphinx_ngram"),
            heard("bore_3_thrust.webm", nine_five, "sphinx_grammar", model_sha256="33" * 32),
            heard("bore_3_thrust.webm", "Bore three, top thrust reads 88.9 millimetres.", model_sha256="44" * 32),
        ],
        "right": [heard("main_4.webm", main, "sphinx_ngram"), heard("main_4.webm", main, "sphinx_grammar")],
        "note": [heard("oil_pump_note.webm", PUMP_HEARD, model_sha256="44" * 32)],
        "nothing": [a_result("sphinx_ngram", ""), a_result("whisper", "", sort="free")],
    }
    for name, some in results.items():
        assert hears(office, sounds[name], *some), name
    return SpokenJob(job, phone, sounds, wrong, right)


def bring(office: Office, *names: str) -> None:
    """Puts the files of clips into the workshop's store, as if they had come in."""
    with writing(office.engine) as conn:
        for name in names or [clip["file"] for clip in json.loads((CLIPS / "clips.json").read_text())["clips"]]:
            adopt(office.settings, conn, CLIPS / name)


@dataclass
class SpokenPack:
    """The job of `record_spoken_job`, with a confirmed note and an own word, and its two packs."""

    office: Office
    recorded: SpokenJob
    sealed: Built
    customer: Built


@pytest.fixture(scope="session")
def spoken_pack(founded_once, tmp_path_factory, built):
    folder, workshop, manager = founded_once
    home = tmp_path_factory.mktemp("said")
    shutil.copytree(folder, home / "data")
    settings = Settings(home / "data", secure_cookies=False)
    office = Office(settings, workshop, manager, create_app(settings))
    with writing(office.engine) as conn:
        desk.write(conn, settings, manager.id, "engine_type_described", body={"engine_type": record.a_v6()})
        desk.write(conn, settings, manager.id, "spoken_word_set", body=OWN_WORD)
    phone = office.phone("bay 1")
    answer = record_spoken_job(office, phone, phone.open_job("24/120", engine_type=record.ENGINE_TYPE_ID))
    confirm(phone, answer.sounds["note"], PUMP, "The compressor runs behind it.")
    record.send(phone)
    bring(office)
    packs = []
    for sort in ("sealed", "customer"):
        out = home / sort
        out.mkdir()
        with reading(office.engine) as conn:
            packs.append(build(conn, settings, answer.job, sort, out))
    yield SpokenPack(office, answer, *packs)
    with office.app.app_context():
        db.engine.dispose()
