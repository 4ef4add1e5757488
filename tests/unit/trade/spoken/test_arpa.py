"""A language model promises that something is said next: the chances behind every history add up to one."""

from __future__ import annotations

import math
import random
from collections import Counter

import pytest

from witnessmark.trade.spoken import arpa

SAID = [
    "bore three eighty eight point nine four millimetres",
    "bore two scored rebore",
    "bore three scored",
    "point oh two millimetres",
    "no scrap that",
    "bore three",
]


def read(text: str) -> tuple[list[dict], dict]:
    """A small reader of ARPA files of this test's own: (log chance of each gram by length, back-off weights)."""
    grams, weights, at = [], {}, 0
    for line in text.splitlines():
        if line.endswith("-grams:"):
            at = int(line[1 : line.index("-")])
            grams.append({})
        elif at and "\t" in line:
            chance, phrase, *weight = line.split("\t")
            gram = tuple(phrase.split())
            assert len(gram) == at
            grams[-1][gram] = float(chance)
            if weight:
                weights[gram] = float(weight[0])
    return grams, weights


def chance(grams: list[dict], weights: dict, history: tuple[str, ...], word: str) -> float:
    """Katz's rule: the longest gram that is listed, times the weights of the histories that had none."""
    gram = (*history, word)
    if gram in grams[len(gram) - 1]:
        return 10 ** grams[len(gram) - 1][gram]
    if not history:
        return 0.0
    return 10 ** weights.get(history, 0.0) * chance(grams, weights, history[1:], word)


@pytest.mark.parametrize("order", [1, 2, 3, 4])
def test_the_chances_behind_every_history_add_up_to_one(order):
    grams, weights = read(arpa.model(SAID, order))
    words = [gram[0] for gram in grams[0] if gram[0] != arpa.BEGIN]
    histories = {gram[:-1] for listed in grams for gram in listed}
    histories |= {("swarf",), ("oh", "rebore"), ("two", "two")}
    for history in histories:
        history = history[-(order - 1) :] if order > 1 else ()
        total = sum(chance(grams, weights, history, word) for word in words)
        assert total == pytest.approx(1, abs=2e-5), history


def test_a_chance_is_what_witten_and_bell_say():
    """By hand, from the formula in the module: three of four lines begin with bore, of three that went on after "bore
    three" one went on with "scored"."""
    grams, weights = read(arpa.model(["bore three scored", "bore three", "bore two", "cap three"], 2))
    # Words counted: bore 3, three 3, two 1, scored 1, cap 1, ends 4: thirteen, six of them different.
    chances = {"bore": (3 + 6 / 6) / 19, "three": (3 + 6 / 6) / 19, "two": (1 + 1) / 19}
    assert 10 ** grams[0][("bore",)] == pytest.approx(chances["bore"], rel=1e-5)
    # Behind "bore" stood three words, two different.
    assert 10 ** grams[1][("bore", "three")] == pytest.approx((2 + 2 * chances["three"]) / 5, rel=1e-5)
    assert 10 ** grams[1][("bore", "two")] == pytest.approx((1 + 2 * chances["two"]) / 5, rel=1e-5)
    assert 10 ** weights[("bore",)] == pytest.approx(2 / 5, rel=1e-5)


def test_no_gram_reaches_from_one_line_into_the_next():
    grams, _ = read(arpa.model(["bore one", "cap two"], 3))
    assert ("one", "</s>", "<s>") not in grams[2] and ("</s>", "<s>") not in grams[1]
    assert ("<s>", "cap") in grams[1] and ("cap", "two", "</s>") in grams[2]


def test_the_list_at_the_top_counts_what_follows():
    text = arpa.model(SAID)
    grams, _ = read(text)
    listed = [line for line in text.splitlines() if line.startswith("ngram ")]
    assert listed == [f"ngram {n}={len(its)}" for n, its in enumerate(grams, 1)]


def test_what_is_said_often_is_more_likely_and_a_model_without_a_word_is_refused():
    chances = random.Random(5)
    lines = [" ".join(chances.choices(["one", "two", "three"], [6, 3, 1], k=4)) for _ in range(2000)]
    grams, _ = read(arpa.model(lines))
    counted = Counter(" ".join(lines).split())
    for word, n in counted.items():
        # One in five words is an end of a line.
        assert 10 ** grams[0][(word,)] == pytest.approx(n / 10_000, rel=0.01)
    assert all(math.isfinite(value) for listed in grams for value in listed.values())
    with pytest.raises(ValueError, match="at least one sentence"):
        arpa.model(["", "  "])
