"""The committed clips through everything that ships: from the file to what the recognisers agree on.

The outside judge is the line that the synthesiser was given, tests/clips/clips.json.
"""

from __future__ import annotations

import pytest

from tests.support.clips import CLIPS, FOLDER
from tests.support.record import a_v6
from witnessmark.config import Settings
from witnessmark.speech.hear import Ear
from witnessmark.trade.spoken import heard


@pytest.fixture(scope="module")
def ear(tmp_path_factory):
    ear = Ear(Settings(tmp_path_factory.mktemp("speech")))
    yield ear
    ear.close()


def decided(ear: Ear, file: str, sort: str, quantity: str = "") -> tuple[dict, dict]:
    """The decision on a clip, and the results it was made from by engine."""
    screen = {
        "sort": sort, "place": "", "point": "", "procedure": "", "reading": "", "quantity": quantity, "units": [],
    }  # fmt: skip
    engine = a_v6()
    hearing = ear.hear(FOLDER / file, {"screen": screen, "engine_type": engine, "own": []})
    assert not hearing.faults
    return heard.decide(hearing.results, screen, engine), {result["engine"]: result for result in hearing.results}


@pytest.mark.parametrize(
    ("file", "sort", "quantity"),
    [
        pytest.param("bore_3_thrust.webm", "measure", "diameter", marks=pytest.mark.further_input),
        ("leakdown_6.ogg", "measure", ""),
        ("rebore_1.webm", "finding", ""),
    ],
)
def test_a_clear_reading_is_agreed_on_with_every_slot(ear, file, sort, quantity):
    found, results = decided(ear, file, sort, quantity)
    means = CLIPS[file]["means"]
    assert found["outcome"] == "agree", found
    assert found["engine"] == heard.CHAIN
    assert {slot: found["proposal"][slot] for slot in means} == means
    words = results[heard.CHAIN]["words"]
    assert " ".join(word for word, *_ in words) == found["text"]
    assert all(start <= stop for _, start, stop, _ in words)


@pytest.mark.parametrize(
    ("file", "sort"),
    [
        ("rain_chatter.webm", "measure"),
        pytest.param("oil_pump_note.webm", "finding", marks=pytest.mark.further_input),
    ],
)
def test_talk_is_accepted_as_nothing_and_written_down_as_it_was_said(ear, file, sort):
    found, results = decided(ear, file, sort)
    assert found["outcome"] == "nothing", found
    assert found["engine"] == "whisper"
    assert found["text"] == results["whisper"]["text"] != ""
