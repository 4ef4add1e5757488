"""The demo's speech: readings spoken to their screen, one of them keyed otherwise, which the office asks about."""

from __future__ import annotations

import subprocess
import sys

import av
import pytest

from tests.support.demo import copy_of_demo
from witnessmark.config import Settings, sample_media_folder
from witnessmark.db import make_engine, reading
from witnessmark.log import read
from witnessmark.media import store
from witnessmark.people import workshops
from witnessmark.projections import spoken_notes
from witnessmark.projections.spoken import of_rows
from witnessmark.speech.hear import Ear
from witnessmark.sync import transcripts
from witnessmark.trade.ground.tables import table
from witnessmark.trade.spoken import parse as spoken
from witnessmark.trade.spoken.differences import differing
from witnessmark.trade.spoken.notes import RECORDS, screen_of

V6 = next(
    engine_type
    for engine_type in table("invented_engine_types")["engine_types"]
    if engine_type["name"] == "Halvern 2.9 V6"
)
# What was keyed at bore 5 while 89.027 was said.
ASKED_ABOUT = "89.017"


@pytest.fixture(scope="module")
def settings(demo_once, tmp_path_factory) -> Settings:
    return copy_of_demo(demo_once, tmp_path_factory.mktemp("demo") / "data")


@pytest.fixture(scope="module")
def log(settings) -> list[dict]:
    engine = make_engine(settings.database)
    with reading(engine) as conn:
        entries = [row.entry for row in read.whole_log(conn, workshops.only(conn).id)]
    engine.dispose()
    return entries


@pytest.fixture(scope="module")
def pairs(log) -> list[tuple[dict, dict]]:
    """Each spoken record with the sound it was accepted from."""
    sounds = {entry["id"]: entry for entry in log if entry["kind"] == "sound_recorded"}
    return [
        (sounds[entry["body"]["spoken"]], entry)
        for entry in log
        if entry["kind"] in RECORDS and entry["body"]["spoken"]
    ]


def test_each_spoken_record_names_a_sound_spoken_just_before_to_its_screen(pairs):
    assert [record["kind"] for _, record in pairs].count("measured") == 3
    assert {record["kind"] for _, record in pairs} == set(RECORDS)
    for sound, record in pairs:
        assert all(sound[name] == record[name] for name in ("job", "location", "device", "author"))
        assert sound["claimed"] < record["claimed"]
        body = sound["body"]
        assert (body["mode"], screen_of(sound)["sort"]) == ("measure", body["screen"])
        if record["kind"] == "measured":
            assert all(body[name] == record["body"][name] for name in ("procedure", "reading"))


def test_what_the_phone_proposed_is_what_was_recorded_but_once(pairs):
    otherwise = []
    for sound, record in pairs:
        assert record["body"]["heard_by"].startswith("soundswallower")
        proposal = spoken.read(record["body"]["heard"], screen_of(sound), V6)
        assert spoken.complete(proposal, screen_of(sound)) or record["kind"] == "finding_made"
        parts = differing(proposal, record)
        assert parts is not None
        if parts:
            otherwise.append((record["body"]["value"], parts))
    assert otherwise == [(ASKED_ABOUT, ["value"])]


def test_one_note_was_listened_to_and_one_word_is_the_workshops_own(log):
    (confirmed,) = [entry for entry in log if entry["kind"] == "transcript_confirmed"]
    sound = next(entry for entry in log if entry["id"] == confirmed["body"]["entry"])
    assert sound["body"]["mode"] == "note" and confirmed["author"] != sound["author"]
    (word,) = [entry["body"] for entry in log if entry["kind"] == "spoken_word_set"]
    assert word["word"] == "Halvern" and word["sounds_like"] and word["word"] in confirmed["body"]["text"]


def test_the_spoken_sounds_are_as_small_as_a_phones_and_as_long_as_the_story_says(log):
    sounds = [
        sound for sound in log if sound["kind"] == "sound_recorded" and sound["media"][0]["name"].endswith(".webm")
    ]
    assert len(sounds) == 6
    for sound in sounds:
        path = sample_media_folder() / "sounds" / sound["media"][0]["name"]
        assert path.stat().st_size < 30_000
        with av.open(str(path)) as file:
            (stream,) = file.streams
            assert (stream.codec_context.name, stream.layout.nb_channels) in {("opus", 1), ("libopus", 1)}
            assert abs(file.duration / 1000 - sound["body"]["duration_ms"]) < 100


def test_the_demo_is_made_without_the_packages_for_speech():
    asks = "import sys, witnessmark.operate.demo; print(*sys.modules)"
    process = subprocess.run([sys.executable, "-c", asks], capture_output=True, text=True, check=True, timeout=60)
    loaded = {name.partition(".")[0] for name in process.stdout.split()}
    assert "witnessmark" in loaded and not loaded & {"pocketsphinx", "faster_whisper", "ctranslate2", "pyrnnoise", "av"}


def test_the_recognisers_hear_what_was_said_and_one_query_is_open_and_no_other(settings, pairs):
    """The closed recognisers, as they are: four records stand as they were heard, the fifth is asked about."""
    engine = make_engine(settings.database)
    ear = Ear(Settings(settings.data, speech="sphinx_ngram,sphinx_grammar"))
    try:
        with reading(engine) as conn:
            workshop = workshops.only(conn).id
            known = [spoken_notes.about(conn, workshop, sound["id"]) for sound, _ in pairs]
            assert spoken_notes.counts(conn, workshop)["query"] == 0
        for (sound, _), about in zip(pairs, known, strict=True):
            path = store.path_of(settings, sound["media"][0]["sha256"])
            heard = ear.hear(path, {"engine_type": about.engine_type, "own": about.own, "screen": about.screen})
            assert not heard.fault and not heard.faults
            transcripts.write(engine, settings, workshop, sound["id"], heard.results, heard.seconds)
        with reading(engine) as conn:
            counted = spoken_notes.counts(conn, workshop)
            rows = spoken_notes.page(conn, workshop, "query").rows
            query = [record for note in of_rows(conn, rows).values() for record in note["query"]["records"]]
    finally:
        ear.close()
        engine.dispose()
    assert (counted["query"], counted["heard"]) == (1, len(pairs))
    wrong = next(record for _, record in pairs if record["body"].get("value") == ASKED_ABOUT)
    assert [(row["id"], row["parts"]) for row in query] == [(wrong["id"], ["value"])]
