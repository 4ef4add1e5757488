"""What people read comes out of one catalogue, in the workshop's language."""

import copy
import json
from pathlib import Path

import pytest

from witnessmark.trade.ground import sentences
from witnessmark.trade.ground.errors import Fault, Refusal

VECTORS = json.loads((Path(__file__).parents[3] / "vectors" / "sentences.json").read_text())
LANGUAGE = {
    "language": "en-GB",
    "trade": {
        "greeting": "Bore {bore} reads {value}.",
        "records": {"one": "{count} record", "other": "{count} records"},
    },
}


@pytest.fixture
def catalogue(tmp_path, monkeypatch):
    """A folder of languages with an English of two sentences; the function adds another language."""

    def clear() -> None:
        for cached in (sentences.language, sentences._catalogue, sentences.locale, sentences._wording):
            cached.cache_clear()

    def add(name: str, content: dict) -> None:
        (tmp_path / f"{name}.json").write_text(json.dumps(content))
        clear()

    monkeypatch.setattr(sentences, "FOLDER", tmp_path)
    add("en", LANGUAGE)
    yield add
    monkeypatch.undo()
    clear()


@pytest.mark.parametrize(("count", "text"), VECTORS["counts"])
def test_a_whole_number_is_written_as_the_language_writes_it(count, text):
    assert sentences.count_text(count) == text


@pytest.mark.parametrize(("items", "text"), VECTORS["lists"])
def test_a_list_is_written_as_the_language_writes_it(items, text):
    assert sentences.listed(items) == text


@pytest.mark.parametrize("case", VECTORS["worded"])
def test_another_language_puts_its_words_into_a_table(case):
    assert sentences.worded(copy.deepcopy(case["table"]), case["words"]) == case["gives"]


def test_a_value_keeps_every_digit_as_typed_and_a_count_does_not(catalogue):
    assert sentences.say("trade.greeting", bore=3, value="2.2440 in") == "Bore 3 reads 2.2440 in."
    assert sentences.say("trade.records", count=1) == "1 record"
    assert sentences.say("trade.records", count=1200) == "1,200 records"


def test_a_slot_that_nothing_fills_and_a_key_that_nobody_wrote_are_faults(catalogue):
    with pytest.raises(KeyError):
        sentences.say("trade.greeting", bore=3)
    with pytest.raises(KeyError):
        sentences.say("trade.farewell")


def test_a_second_language_is_one_file_more(catalogue, monkeypatch):
    monkeypatch.setenv("WITNESSMARK_LANGUAGE", "de")
    catalogue(
        "de", {"language": "de-DE", "trade": {"records": {"one": "{count} Eintrag", "other": "{count} Einträge"}}}
    )
    assert sentences.say("trade.records", count=1200) == "1.200 Einträge"
    assert sentences.say("trade.greeting", bore=3, value="89.01") == "Bore 3 reads 89.01.", (
        "English until it has its own"
    )


def test_a_language_there_is_no_file_for_is_named(catalogue, monkeypatch):
    monkeypatch.setenv("WITNESSMARK_LANGUAGE", "cy")
    with pytest.raises(LookupError, match="there are en"):
        sentences.language()


def test_a_fault_tells_programs_which_sentence_it_is_and_what_fills_it():
    fault = Fault("unit", sentences.say("trade.ground.unknown_field", field="extra"))
    assert (fault.code, fault.filled) == ("trade.ground.unknown_field", {"field": "extra"})
    assert fault.as_json() == {
        "where": "unit",
        "message": "extra is not a known field.",
        "code": "trade.ground.unknown_field",
    }
    assert (Fault("unit", "anything").code, Fault("unit", "anything").filled) == ("", {})


def test_a_refusal_tells_programs_which_sentence_it_is_and_what_fills_it():
    refusal = Refusal("bad_value", "unit", sentences.say("trade.ground.unknown_field", field="extra"))
    assert (refusal.key, refusal.filled) == ("trade.ground.unknown_field", {"field": "extra"})
    assert (Refusal("bad_value", "unit", "anything").key, Refusal("bad_value", "", "anything").filled) == ("", {})


@pytest.mark.parametrize("digits", [28, 29, 400, 4000])
def test_a_whole_number_of_any_length_can_be_written(digits):
    text = sentences.count_text(10 ** (digits - 1) + 7)
    assert text.replace(",", "") == "1" + "0" * (digits - 2) + "7" and text.count(",") == (digits - 1) // 3
