"""The text a language model learns from: lines of the workshop, the same ones for the same seed, no value preferred."""

from __future__ import annotations

from collections import Counter
from itertools import islice

from tests.support.cases import all_cases
from tests.unit.trade.spoken.make_spoken_grammar_vectors import ENGINES, OWN, V6
from witnessmark.trade.ground.units import QUANTITIES
from witnessmark.trade.spoken import words as spoken_words
from witnessmark.trade.spoken.corpus import prompt, sentences, vocabulary_hash
from witnessmark.trade.spoken.pronunciation import dictionary

LINES = list(sentences(ENGINES[V6], OWN, 5000, 1))


def test_the_same_seed_gives_the_same_lines_and_another_gives_others():
    assert list(islice(sentences(ENGINES[V6], OWN, 50, 1), 50)) == LINES[:50]
    assert list(sentences(ENGINES[V6], OWN, 50, 2)) != LINES[:50]


def test_they_say_measurements_findings_corrections_and_own_words():
    text = " | ".join(LINES)
    for word in ("millimetres", "thou", "newton metres", "scored", "replace", "no scrap that", "no i mean", "halvern"):
        assert word in text, word
    assert dictionary(sorted({word for line in LINES for word in line.split()}), OWN)


def test_no_digit_is_preferred_before_another():
    after = Counter(
        words[at + 1] for words in map(str.split, LINES) for at in range(len(words) - 1) if words[at] == "point"
    )
    digits = [after[word] for word, its in spoken_words.NUMBERS["digits"].items() if its != "0"]
    assert max(digits) < 1.25 * min(digits)


def test_a_prompt_names_things_of_the_trade_and_no_value():
    answer = prompt(ENGINES[V6], OWN)
    assert answer.startswith("Halvern, ") and "thou" in answer and "gudgeon pin" in answer
    figures = {word for sort in ("digits", "teens", "tens") for word in spoken_words.NUMBERS[sort]}
    assert not set(answer.lower().replace(",", " ").replace(".", " ").split()) & figures
    assert not any(letter.isdigit() for letter in answer)
    # Whisper keeps 224 tokens of a prompt; a word of the trade takes two or three.
    assert len(answer) < 600


def test_a_vocabulary_is_named_by_its_tables_and_the_workshops_own_words():
    assert vocabulary_hash([]) == vocabulary_hash([]) != vocabulary_hash(OWN) != vocabulary_hash(OWN[:1])
    assert len(vocabulary_hash([])) == 64


@all_cases("code", [code for code, quantity in QUANTITIES.items() if quantity["parts"] and quantity["units"] != [""]])
def test_every_quantity_is_spoken_of(code):
    phrases = spoken_words.quantity_phrases()[code]
    assert any(f"{phrase} " in f"{line} " for phrase in phrases for line in LINES)
