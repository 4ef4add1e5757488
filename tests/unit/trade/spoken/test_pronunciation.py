"""A word that can be said can be heard: each has its pronunciations, and the workshop's own have them by example."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.spoken.words import every_word
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.tables import table
from witnessmark.trade.spoken import pronunciation

VECTORS = json.loads((Path(__file__).parents[3] / "vectors" / "spoken_grammar.json").read_text())
PHONES = set(table("pronunciations")["phones"])


def test_every_word_of_the_table_can_be_pronounced():
    words = set(every_word())
    # One of each sort that can be said: part, quantity, unit, condition, number, letter of a bank.
    assert {"crankpin", "clearance", "millimetres", "scored", "ninety", "a"} <= words
    assert words - set(pronunciation.WORDS) == set()


def test_every_pronunciation_is_made_of_the_sounds_that_are_listed():
    for word, ways in pronunciation.WORDS.items():
        assert ways and len(set(ways)) == len(ways), word
        for way in ways:
            assert set(way.split()) <= PHONES, word


def test_british_speech_drops_the_r_and_american_speech_keeps_it():
    for word in ("bore", "four", "torque", "bearing", "centre"):
        ways = pronunciation.WORDS[word]
        assert any({"R", "ER"} & set(way.split()) for way in ways), word
    for word in ("bore", "four", "torque", "centre"):
        assert any(not {"R", "ER"} & set(way.split()) for way in pronunciation.WORDS[word]), word


def test_a_dictionary_numbers_the_ways_of_a_word():
    assert pronunciation.dictionary(["bore", "two"]) == "bore B AO R\nbore(2) B AO\ntwo T UW\n"


@pytest.mark.parametrize("case", VECTORS["examples"], ids=lambda case: case["own"]["word"])
def test_an_own_word_sounds_like_its_example(case):
    assert pronunciation.example(case["own"]) == case["ways"]


def test_an_own_word_stands_in_the_dictionary_as_one_piece():
    own = [{"word": "Big-Pot", "sounds_like": ["big pot"], "means": "part:bore"}]
    assert pronunciation.dictionary(["big_pot"], own) == "big_pot B IH G P AA T\nbig_pot(2) B IH G P AO T\n"


def test_a_sound_that_nobody_knows_is_refused_and_named_never_spelled_out():
    with pytest.raises(Refusal) as refused:
        pronunciation.example({"word": "zzyzx", "sounds_like": ["big zyzzyva"], "means": ""})
    assert refused.value.where == "sounds_like"
    assert refused.value.message.startswith("zyzzyva cannot be pronounced: it is not a known word")
    assert "Write known words that together sound like it" in refused.value.message
    with pytest.raises(Refusal, match="Nothing is given that zzyzx sounds like"):
        pronunciation.example({"word": "zzyzx", "sounds_like": [" "], "means": ""})
    with pytest.raises(Refusal, match="zzyzx cannot be pronounced"):
        pronunciation.dictionary(["bore", "zzyzx"])


def test_of_words_that_sound_alike_one_is_kept():
    assert pronunciation.distinct(["millimetres", "millimeters", "bores", "boars"]) == ["millimetres", "bores", "boars"]
