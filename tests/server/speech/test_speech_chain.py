"""All recognisers together: the closed ones propose, another ear judges, and talk is no reading."""

from __future__ import annotations

import pytest

from witnessmark.speech import chain, plausible, readings, together
from witnessmark.speech.recogniser import Heard, Lexicon, Word
from witnessmark.trade.ground.tables import table
from witnessmark.trade.spoken import arpa

V6 = next(one for one in table("invented_engine_types")["engine_types"] if one["name"] == "Halvern 2.9 V6")
SCREEN = {
    "sort": "measure", "place": "", "point": "", "procedure": "", "reading": "", "quantity": "diameter", "units": [],
}  # fmt: skip
ABOUT = {"screen": SCREEN, "engine_type": V6, "own": []}
SAID = "bore three eighty eight point nine four millimetres"
HEARD = "bore eight eighty eight point five four millimetres"
SENTENCES = [
    SAID, HEARD, "bore two ninety point oh two millimetres", "bore six eighty nine point one five millimetres",
    "main four sixty two point nine seven millimetres", "bore one eighteen point three thou",
]  # fmt: skip
LEXICON = Lexicon(arpa=arpa.model(SENTENCES))


def ear_for(said: str):
    """An ear that has heard `said`: each word that is put in, left out or another costs the same."""

    def rate(texts: list[str]) -> list[float]:
        return [-8.0 * distance(said.split(), text.split()) - 1.0 for text in texts]

    return rate


def distance(one: list[str], other: list[str]) -> int:
    row = list(range(len(other) + 1))
    for i, word in enumerate(one, 1):
        before, row[0] = row[0], i
        for j, its in enumerate(other, 1):
            before, row[j] = row[j], min(row[j] + 1, row[j - 1] + 1, before + (word != its))
    return row[-1]


def looked(*closed: str, said: str = SAID, free: str = "") -> list[chain.Rated]:
    heard = [Heard(text) for text in closed]
    return chain.look(heard, free, ear_for(said), LEXICON, together.meanings(ABOUT), ["millimetres", "thou"])


def test_two_wrong_digits_are_found_one_after_the_other_by_the_ear_that_heard_them():
    assert looked(HEARD)[0].text == SAID


def test_a_unit_that_was_said_and_not_heard_is_looked_for_and_one_that_was_not_said_is_not_put_in():
    without = SAID.removesuffix(" millimetres")
    assert looked(without)[0].text == SAID
    # Said without: the sentence that cannot be a record stands, and the unit will be asked for.
    assert looked(without, said=without)[0].text == without


def test_only_words_of_the_vocabulary_are_readings():
    assert all(
        set(one.text.split()) <= set(" ".join(SENTENCES).split()) for one in looked(HEARD, free="Bore 8, kettle.")
    )


def test_nothing_heard_is_nothing_to_choose_from():
    assert looked("", free="I think it rains.") == []


def test_no_value_is_more_welcome_than_another():
    """The engine's own data says which places there are, and nothing of how large they are."""
    means = together.meanings(ABOUT)
    order = plausible.model(LEXICON.arpa)

    def score(text: str) -> float:
        return chain.Rated(text, -5.0, 0.0, 0, means(text)).score

    assert score(SAID) == score(HEARD.replace("bore eight", "bore three")) == score("bore three one millimetres")
    assert order.knows("bore") and not order.knows("kettle")


def test_a_place_that_the_engine_has_not_is_less_plausible():
    means = together.meanings(ABOUT)
    assert means(SAID) is not None and means(SAID.replace("three", "eight", 1)) is None


def test_sureness_counts_what_means_the_same_whatever_words_it_has():
    means = together.meanings(ABOUT)
    best, same, other = SAID, SAID.replace("bore", "cylinder"), SAID.replace("nine", "five")
    rated = [chain.Rated(text, fits, 0.0, 0, means(text)) for text, fits in ((best, -5), (same, -5), (other, -5))]
    choice = chain.choose(rated, [Heard(same)], "Bore 3: 88.94 mm.", -5.0, means)
    assert choice.share == pytest.approx(2 / 3)
    assert (choice.firsts, choice.free, choice.talk) == (1, True, False)
    alone = chain.choose(rated[:1], [Heard(other)], "Board 3.", -5.0, means)
    assert (alone.firsts, alone.free) == (0, False) and alone.sure < choice.sure + 0.5


def test_what_fits_far_worse_than_what_was_written_freely_is_talk():
    means = together.meanings(ABOUT)
    rated = [chain.Rated(SAID, -60.0, -10.0, 1, means(SAID))]
    assert chain.choose(rated, [Heard(SAID)], "I think the kettle has boiled.", -9.0, means).talk
    assert not chain.choose(rated, [Heard(SAID)], "Bore three 88 point.", -58.0, means).talk


def test_words_that_were_changed_share_the_time_of_those_they_replace():
    heard = Heard(
        "bore eight eighty",
        tuple(Word(w, at, at + 100, 0.9) for w, at in (("bore", 0), ("eight", 100), ("eighty", 200))),
    )
    words = chain.words_of("bore three eighty", [heard])
    assert [(w.word, w.from_ms, w.to_ms) for w in words] == [
        ("bore", 0, 100),
        ("three", 100, 200),
        ("eighty", 200, 300),
    ]
    assert words[1].confidence == 0.0


@pytest.mark.parametrize(
    ("written", "words"),
    [
        ("Bore 3: 88.94 mm.", "bore three eighty eight point nine four millimetres"),
        ("Cylinder 5, 160 psi", "cylinder five one hundred and sixty psi"),
        ("0.04", "point zero four"),
        ("12%", "twelve percent"),
        ("run-out two thou", "run out two thou"),
    ],
)
def test_figures_as_written_become_words_as_said(written, words):
    assert readings.as_words(written) == words


def test_the_language_model_gives_what_it_was_made_with():
    order = plausible.Model(arpa.model(["bore three", "bore three", "bore two"]))
    assert order.rate("bore three") > order.rate("bore two") > order.rate("three bore")
