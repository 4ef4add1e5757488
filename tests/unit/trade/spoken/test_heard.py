"""What several recognisers heard in one sound: agreed, different, or nothing that could be a record."""

from __future__ import annotations

import pytest

from witnessmark.trade.ground.tables import table
from witnessmark.trade.spoken import heard

V6 = next(engine for engine in table("invented_engine_types")["engine_types"] if engine["name"] == "Halvern 2.9 V6")
SCREEN = {
    "sort": "measure", "place": "", "point": "", "procedure": "", "reading": "", "quantity": "diameter", "units": [],
}  # fmt: skip
BORE = "bore three top thrust eighty eight point nine four millimetres"
OTHER = "bore three top thrust eighty eight point nine five millimetres"


def result(engine: str, text: str, confidence: int = 60) -> dict:
    """Two closed recognisers on one acoustic model, a free one on its own, and all of them together."""
    model = "a" * 64 if engine.startswith("sphinx") else engine[0] * 64
    return {
        "engine": engine, "version": "1", "model": "m", "model_sha256": model,
        "sort": "free" if engine == "whisper" else "closed", "denoised": False, "vocabulary": "0" * 64, "text": text,
        "confidence": confidence, "words": [],
    }  # fmt: skip


def decided(*results: dict, screen: dict = SCREEN) -> dict:
    return heard.decide(list(results), screen, V6)


def test_two_ears_of_different_make_that_mean_the_same_agree_however_they_write_it():
    decision = decided(result("sphinx_ngram", BORE), result("whisper", "Bore 3 top thrust, 88.94 mm."))
    assert decision["outcome"] == "agree"
    assert (decision["proposal"]["place"], decision["proposal"]["value"], decision["proposal"]["unit"]) == (
        "bore/3", "88.94", "mm",
    )  # fmt: skip
    assert (decision["engine"], decision["text"]) == ("sphinx_ngram", BORE)


def test_one_digit_is_enough_to_differ():
    assert decided(result("sphinx_ngram", BORE), result("sphinx_grammar", OTHER))["outcome"] == "differ"
    assert decided(result("sphinx_ngram", BORE), result("whisper", OTHER))["outcome"] == "differ"


def test_eighty_eight_point_nine_oh_is_another_reading_than_eighty_eight_point_nine():
    nought = BORE.replace("nine four", "nine oh")
    assert (
        decided(result("sphinx_ngram", nought), result("whisper", "Bore 3 top thrust 88.9 mm."))["outcome"] == "differ"
    )


def test_two_recognisers_of_one_make_agree_only_when_nobody_else_understood_a_whole_reading():
    pair = result("sphinx_ngram", BORE), result("sphinx_grammar", BORE)
    assert decided(*pair)["outcome"] == "agree"
    assert decided(*pair, result("whisper", "Board 3, top dressed."))["outcome"] == "agree"
    assert decided(*pair, result("whisper", OTHER))["outcome"] == "differ"


def test_a_single_recogniser_agrees_with_nobody():
    alone = decided(result("sphinx_ngram", BORE, 100))
    assert (alone["outcome"], alone["text"]) == ("nothing", BORE), "nor does it differ from anybody"


def test_all_together_count_by_how_often_they_were_right():
    others = result("sphinx_ngram", OTHER), result("whisper", "Board 3.")
    assert decided(*others, result("chain", BORE, heard.SURE))["outcome"] == "agree"
    doubtful = decided(*others, result("chain", BORE, heard.SURE - 1))
    assert (doubtful["outcome"], doubtful["text"], doubtful["engine"]) == ("differ", BORE, "chain")


def test_what_was_taken_for_talk_is_no_reading_even_if_closed_recognisers_heard_one():
    decision = decided(
        result("sphinx_ngram", BORE), result("sphinx_grammar", BORE), result("chain", ""),
        result("whisper", "I think the kettle has boiled."),
    )  # fmt: skip
    assert (decision["outcome"], decision["text"]) == ("nothing", "I think the kettle has boiled.")
    assert not decision["proposal"]["value"]


def test_a_note_is_shown_as_the_free_recogniser_wrote_it():
    decision = decided(
        result("sphinx_ngram", "sump is badly cracked bore"), result("whisper", "The sump is full of sludge."),
        screen=SCREEN | {"sort": "any", "quantity": ""},
    )  # fmt: skip
    assert (decision["text"], decision["engine"]) == ("The sump is full of sludge.", "whisper")


def test_shop_talk_that_a_closed_recogniser_made_of_nothing_is_not_shown():
    decision = decided(result("sphinx_ngram", "correction"), result("sphinx_grammar", ""))
    assert (decision["outcome"], decision["text"], decision["engine"]) == ("nothing", "", "")


@pytest.mark.parametrize("text", ["bore seven top thrust eighty eight millimetres", "bore three eighty eight", ""])
def test_a_place_that_is_not_there_or_a_unit_not_said_is_never_agreed_on(text):
    decision = decided(result("sphinx_ngram", text), result("whisper", text), result("chain", text, 100))
    assert decision["outcome"] == "nothing"


def test_every_proposal_is_kept_with_whose_it_is():
    decision = decided(result("sphinx_ngram", BORE), result("sphinx_grammar", ""), result("whisper", "Board 3."))
    assert [engine for engine, _ in decision["proposals"]] == ["sphinx_ngram", "whisper"]


def test_a_note_is_never_shortened_to_the_words_that_closed_recognisers_know():
    note = SCREEN | {"sort": "any", "quantity": ""}
    free = result("whisper", "Oil smells burnt, filter full of bright flakes.")
    for chain in (result("chain", "block leaks", 60), result("chain", "block leaks", heard.SURE)):
        decision = decided(result("sphinx_ngram", "block leaks"), free, chain, screen=note)
        assert (decision["text"], decision["engine"]) == (free["text"], "whisper")
        assert decision["outcome"] == ("agree" if chain["confidence"] >= heard.SURE else "nothing")
    # Where nobody takes dictation, what is left is shown.
    assert decided(result("sphinx_ngram", BORE), result("sphinx_grammar", BORE), screen=note)["text"] == BORE


def test_what_all_together_did_not_come_to_is_not_shown():
    """Spoken of another place than the screen's: the grammar of the screen made something whole of it, and nonsense."""
    free = result("whisper", "Main journal 4 reads, 64.98 millimetres.", 80)
    nonsense = result("sphinx_grammar", "middle forty two kilo", 0)
    decision = decided(
        nonsense, free, result("chain", "main journal four", 72), screen=SCREEN | {"place": "bore/3", "quantity": ""}
    )
    assert (decision["outcome"], decision["text"], decision["engine"]) == ("differ", free["text"], "whisper")
