"""A reader hears the word under the cursor, whoever wrote it down."""

import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.support.cases import all_cases
from witnessmark.trade.spoken.timed_words import differing, timed

VECTORS = json.loads((Path(__file__).parents[3] / "vectors" / "timed_words.json").read_text())
SAID = st.lists(st.sampled_from(["bore", "three", "scored", "nine", "reads", "the", "cap"]), max_size=9)


@all_cases("case", VECTORS["timed"], ids=lambda case: case["case"])
def test_each_word_of_a_text_has_its_time(case):
    assert timed(case["text"], case["words"]) == case["timed"]


@pytest.mark.parametrize("case", VECTORS["differing"], ids=lambda case: case["case"])
def test_words_that_another_did_not_hear_are_told_apart(case):
    assert differing(case["text"], case["against"]) == case["differing"]


@given(SAID, SAID, st.data())
def test_no_word_is_lost_and_time_never_runs_backwards(written, heard, data):
    lengths = data.draw(st.lists(st.integers(0, 900), min_size=len(heard), max_size=len(heard)))
    words, at = [], 0
    for word, length in zip(heard, lengths, strict=True):
        words.append([word, at, at + length, 50])
        at += length
    timings = timed(" ".join(written), words)

    assert [word for word, _, _ in timings] == (written if heard else [])
    times = [moment for _, start, end in timings for moment in (start, end)]
    assert times == sorted(times)
    assert all(0 <= moment <= at for moment in times)


@given(SAID, SAID)
def test_two_texts_differ_by_the_same_words_whoever_is_asked_first(words, other):
    def same(pairs):
        return sum(both for _, both in pairs)

    texts = " ".join(words), " ".join(other)
    assert same(differing(*texts)) == same(differing(*reversed(texts)))


def test_an_afternoon_of_talk_is_not_waited_for():
    talk, other = " ".join(f"a{n}" for n in range(4000)), " ".join(f"b{n}" for n in range(4000))
    assert not any(both for _, both in differing(f"cap {talk} off", f"pin {other} on"))
