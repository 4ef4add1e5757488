"""What is known of a sound: a machine's word beside a person's, and where the two part."""

import json
from pathlib import Path

import pytest

from tests.support.cases import all_cases
from witnessmark.trade.ground.corrections import fold
from witnessmark.trade.ground.tables import table
from witnessmark.trade.record import own_words
from witnessmark.trade.spoken.differences import differing
from witnessmark.trade.spoken.notes import note, of_standings, screen_of

VECTORS = json.loads((Path(__file__).parents[3] / "vectors" / "spoken_notes.json").read_text())
ENGINES = {engine["name"]: engine for engine in table("invented_engine_types")["engine_types"]}

QUERIED = next(note for note in VECTORS["notes"] if note["name"] == "none heard it as it was recorded")


def named(case):
    return case["name"]


@all_cases("case", VECTORS["differing"], ids=named)
def test_what_was_heard_and_what_was_recorded_differ_in_these_parts(case):
    assert differing(VECTORS["usual"] | case["proposal"], case["record"]) == case["parts"]


@all_cases("case", VECTORS["notes"], ids=named)
def test_what_is_known_of_a_sound(case):
    given = (case[name] for name in ("sound", "transcripts", "confirmations", "records"))
    answer = note(*given, ENGINES[case["engine_type"]], case["own"])
    results = case["transcripts"][-1]["body"]["results"] if case["transcripts"] else []
    assert answer.pop("results") == results
    assert len(answer.pop("words")) == case["words"]
    assert answer == case["note"]


@pytest.mark.parametrize("case", VECTORS["screens"], ids=named)
def test_the_screen_that_a_sound_was_spoken_to(case):
    assert screen_of(case["sound"]) == case["screen"]


@pytest.mark.parametrize("case", VECTORS["own_words"], ids=named)
def test_the_words_of_a_workshop(case):
    assert own_words.own_words(case["entries"]) == case["words"]


@all_cases(("means", "is_known"), VECTORS["known"])
def test_a_word_stands_for_something_that_there_is(means, is_known):
    assert own_words.is_known(means) is is_known


@all_cases(("word", "is_sayable"), VECTORS["sayable"])
def test_a_word_can_be_said(word, is_sayable):
    assert own_words.sayable(word) is is_sayable


def test_only_what_stands_counts_and_only_of_this_job():
    sound, [heard], [measured] = (QUERIED[name] for name in ("sound", "transcripts", "records"))
    engine, job = ENGINES[QUERIED["engine_type"]], {"job": "here"}

    def note_with(*more):
        return of_standings(fold([sound | job, heard | job, measured | job, *more]), sound["id"], engine)

    away = {"id": "w", "kind": "entry_withdrawn", "version": 1, "location": None}
    assert note_with()["query"] is not None
    assert note_with(away | {"body": {"entry": measured["id"]}})["query"] is None
    assert note_with(away | {"body": {"entry": heard["id"]}})["state"] == "waiting"
    assert note_with(away | {"body": {"entry": sound["id"]}})["query"] is None
    elsewhere = of_standings(fold([sound | job, heard | job, measured | {"job": "there"}]), sound["id"], engine)
    assert (elsewhere["query"], elsewhere["records"]) == (None, [])
    assert of_standings(fold([measured | job]), sound["id"], engine) is None
