"""What the free recogniser leaves out: circles that it made up, never readings that resemble one another."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from tests.support.clips import clip
from tests.support.sounds import samples_of
from witnessmark.config import Settings
from witnessmark.speech.decode import Decoder
from witnessmark.speech.recogniser import Lexicon
from witnessmark.speech.whisper import Whisper, repeats

READINGS = " ".join(f"Bore {n} top thrust reads 88.9{n} millimetres." for n in range(1, 9))


@pytest.mark.parametrize(
    "text",
    [
        "I'm going to go. " * 12,
        "the " * 40,
        "And so on, and then " + "the engine is the engine " * 20,
    ],
)
def test_the_same_words_time_and_again_are_a_circle(text):
    assert repeats(text)


@pytest.mark.parametrize("text", [READINGS, "88.22222", "two two two two", "8%, 8%, 8%, 8%, 8%.", "", "Scrap it."])
def test_readings_one_after_the_other_are_none(text):
    assert not repeats(text)


def test_a_note_in_which_much_is_said_again_is_written_down_whole(tmp_path):
    """Half a minute in which a sentence of six seconds is said five times."""
    decoder = Decoder()
    try:
        said = samples_of(clip("oil_pump_note.webm"), tmp_path, decoder)[1]
    finally:
        decoder.close()
    heard = Whisper(Settings(Path(tmp_path))).hear(np.tile(said, 5).astype(np.int16).tobytes(), Lexicon())
    assert heard.text.lower().count("oil pump") == 5
