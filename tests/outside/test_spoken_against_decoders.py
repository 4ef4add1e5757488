"""Grammars, dictionary and language model before judges nobody here wrote.

PocketSphinx (https://github.com/cmusphinx/pocketsphinx) reads JSGF 1.0 (https://www.w3.org/TR/jsgf/), its dictionary
format and ARPA models itself, and brings an English dictionary made by others.
"""

from __future__ import annotations

import random
import re
from functools import cache
from pathlib import Path

import pytest
from pocketsphinx import Decoder, NGramModel, get_model_path

from tests.spoken.words import every_word
from tests.unit.trade.spoken.make_spoken_grammar_vectors import CASES, ENGINES, OWN, V6
from witnessmark.trade.spoken import arpa
from witnessmark.trade.spoken.corpus import sentences
from witnessmark.trade.spoken.grammar import dictionary, grammar, words_of
from witnessmark.trade.spoken.pronunciation import WORDS

# What we say otherwise than the decoder's dictionary does, and why.
OTHERWISE = {
    "aluminium": "the British way has five syllables",
    "centimetre": "a clear i", "centimetres": "a clear i", "centimeter": "a clear i", "centimeters": "a clear i",
    "contaminated": "another weak vowel at the end", "corroded": "another weak vowel", "embedded": "another weak vowel",
    "overheated": "another weak vowel at the end", "paraffin": "another weak vowel",
    "dia": "short for diameter",
    "fillet": "of a shaft, not of fish",
    "micrometer": "the unit, a millionth of a metre, not the gauge",
    "micrometers": "the unit, a millionth of a metre, not the gauge",
    "mm": "two letters", "psi": "three letters, not the Greek one",
    "sooty": "as in soot", "thou": "a thousandth of an inch, not you", "thous": "thousandths of an inch",
    "tyre": "two syllables",
}  # fmt: skip
# Words of the trade, British spellings and plurals that it has not.
LACKED_AT_MOST = 120


@cache
def theirs() -> dict[str, set[str]]:
    ways: dict[str, set[str]] = {}
    for line in Path(get_model_path("en-us/cmudict-en-us.dict")).read_text().splitlines():
        word, _, way = line.partition(" ")
        ways.setdefault(re.sub(r"\(\d+\)$", "", word), set()).add(way.strip())
    return ways


def decoder(words: str, folder: Path) -> Decoder:
    (folder / "words.dict").write_text(words)
    return Decoder(
        hmm=get_model_path("en-us/en-us"), dict=str(folder / "words.dict"), lm=None, samprate=16000, loglevel="FATAL"
    )


def test_the_decoders_own_dictionary_says_each_word_in_one_of_our_ways():
    """Source: cmudict-en-us.dict inside pocketsphinx 5.1.1."""
    known = {word: ways for word, ways in WORDS.items() if word in theirs()}
    differ = {word for word, ways in known.items() if not theirs()[word] & set(ways)}
    assert len(known) > 1000
    assert differ == set(OTHERWISE) & differ, sorted(differ - set(OTHERWISE))
    assert set(OTHERWISE) <= differ, "no longer said otherwise"


def test_of_the_words_it_lacks_ours_are_of_the_trade():
    lacked = [word for word in every_word() if word not in theirs()]
    assert {"crankpin", "regrind", "recut", "rebore", "runout", "circlip", "leakdown"} <= set(lacked)
    assert len(lacked) <= LACKED_AT_MOST, lacked
    assert all(word in WORDS for word in lacked)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case[0])
def test_the_grammar_of_every_screen_is_taken(case, tmp_path):
    _, at, engine, own = case
    text = grammar(at, ENGINES.get(engine), own)
    judge = decoder(dictionary(words_of(text), own), tmp_path)
    judge.add_jsgf_string("line", text)
    judge.activate_search("line")
    judge.start_utt()
    judge.process_raw(bytes(16000), full_utt=True)
    judge.end_utt()
    assert judge.hyp() is None or judge.hyp().hypstr is not None


def test_a_grammar_with_a_fault_is_refused_so_that_the_judge_can_say_no(tmp_path):
    text = grammar(CASES[0][1], ENGINES[V6])
    judge = decoder(dictionary(words_of(text)), tmp_path)
    with pytest.raises(ValueError, match="JSGF"):
        judge.add_jsgf_string("line", text.replace("<digit> =", "<digit> ", 1))
    with pytest.raises(ValueError, match="JSGF"):
        judge.add_jsgf_string("words", text.replace("millimetres", "millimetrez", 1))


def test_another_reader_of_the_language_model_finds_the_same_chances(tmp_path):
    """Source: the ARPA reader of pocketsphinx, which knows nothing of how the model was made. Something is certain to
    come after every history, so its chances add up to one."""
    lines = list(sentences(ENGINES[V6], OWN, 1500, 4))
    (tmp_path / "words.lm").write_text(arpa.model(lines))
    model = NGramModel.readfile(str(tmp_path / "words.lm"))
    words = sorted({word for line in lines for word in line.split()})
    chance = random.Random(1)
    for _ in range(12):
        line_words = [arpa.BEGIN, *chance.choice(lines).split()]
        at = chance.randrange(1, len(line_words) + 1)
        history = line_words[max(0, at - 2) : at]
        # It takes the newest word first and answers in whole logarithms to the base 1.0001.
        total = sum(1.0001 ** model.prob([word, *reversed(history)]) for word in [*words, arpa.END])
        assert total == pytest.approx(1, abs=0.001), history
