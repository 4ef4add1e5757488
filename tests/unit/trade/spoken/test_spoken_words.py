"""One table holds what people say: whatever it names exists, nothing in it is said two ways by oversight."""

from __future__ import annotations

import re

from tests.support.cases import all_cases
from witnessmark.trade.engine.types import FASTENER_PARTS, PARTS
from witnessmark.trade.engine.vocabulary import CONDITIONS
from witnessmark.trade.ground.units import QUANTITIES, UNITS, unit_code
from witnessmark.trade.spoken import words

TABLE = words.TABLE


def test_every_part_quantity_unit_condition_and_disposition_can_be_said():
    assert all(words.part_phrases()[code] for code in PARTS)
    assert all(words.quantity_phrases()[code] for code in QUANTITIES)
    assert all(words.unit_phrases()[code] for code in UNITS if code)
    assert all(words.condition_phrases()[word] for word in CONDITIONS)
    assert list(words.disposition_phrases()) == ["use_as_is", "rework", "replace", "refer", "leave"]
    assert list(TABLE["disposition_words"]) == list(TABLE["dispositions"])


def test_the_table_names_nothing_that_is_not_there():
    assert set(TABLE["parts"]) <= set(PARTS)
    assert {part for parts in TABLE["unsure"].values() for part in parts} <= set(PARTS)
    assert set(TABLE["bolted"]) | set(TABLE["contexts"]) | set(TABLE["more_points"]) <= set(PARTS)
    assert set(TABLE["bolted"].values()) <= set(FASTENER_PARTS)
    assert set(TABLE["quantities"]) == set(QUANTITIES)
    assert set(TABLE["conditions"]) <= set(CONDITIONS)
    for code, readings in TABLE["readings"].items():
        assert set(readings) <= {reading["code"] for reading in words.PROCEDURES[code]["readings"]}
    pieces = {piece for part in PARTS for piece in words.point_pieces(part)}
    assert set(TABLE["points"]) <= pieces
    assert set(TABLE["named_by_point"]) <= pieces
    assert {piece for group in TABLE["opposites"] for piece in group} <= pieces


def test_phrases_are_small_letters_without_figures():
    names = ("parts", "quantities", "conditions", "dispositions", "points", "corrections")
    for list_of in (words.unit_phrases(), *(TABLE[name] for name in names)):
        for phrases in list_of.values():
            assert len(phrases) == len(set(phrases)), phrases
            for phrase in phrases:
                assert re.fullmatch(r"[a-z']+( [a-z']+)*", phrase), phrase


def test_a_unit_written_after_a_figure_is_the_one_that_typing_it_gives():
    for code, unit in UNITS.items():
        known = [spelling for spelling in unit["written"] if _known(spelling)]
        assert not code or any(unit_code(spelling) == code for spelling in known), code
        for spelling in unit["written"]:
            if _known(spelling):
                assert unit_code(spelling) == code, spelling


def _known(spelling: str) -> bool:
    try:
        return bool(unit_code(spelling))
    except Exception:  # noqa: BLE001  a way of writing it that typing does not know
        return False


# Said of two things on purpose; what stands around the word settles it. Whoever adds one thinks of that.
ON_PURPOSE = {
    "bearing", "bend", "big end", "crown", "engine number", "gasket", "guide", "head", "journals", "left",
    "no", "oil control ring", "right", "ring gear", "seal", "side", "strainer", "to", "twist",
}  # fmt: skip


def test_nothing_is_said_of_two_sorts_of_things_by_oversight():
    seen = set()
    for phrases in words.index([]).values():
        for phrase, meanings in phrases:
            if len({sort for sort, _ in meanings}) > 1:
                seen.add(" ".join(phrase))
    assert seen == ON_PURPOSE


@all_cases(
    ("british", "american"),
    [
        ("millimetres", "millimeters"), ("newton metres", "newton meters"), ("centre", "center"), ("inlet", "intake"),
        ("gudgeon pin", "wrist pin"), ("big end bearing", "rod bearing"), ("tappet", "lifter"), ("sump", "oil pan"),
        ("core plug", "freeze plug"), ("carburettor", "carburetor"), ("rocker cover", "valve cover"),
        ("end float", "end play"), ("micrometres", "micrometers"),
    ],
)  # fmt: skip
def test_both_sides_of_the_ocean_are_understood(british, american):
    index = words.index([])

    def meanings(phrase):
        spoken = tuple(phrase.split())
        return next(means for spelled, means in index[spoken[0]] if spelled == spoken)

    assert meanings(british) == meanings(american)


def test_a_point_is_said_in_words_and_in_figures():
    phrases = words.point_phrases()
    assert phrases["line 1"] == ["line one"]
    assert phrases["90 deg"] == ["ninety degrees"]
    assert phrases["0 deg"] == ["zero degrees", "nought degrees"]


def test_a_word_of_the_workshop_means_what_it_was_told_to():
    own = [{"word": "Grindle pump", "sounds_like": ["grin dull pump"], "means": "part:oil_pump"}]
    assert (("grindle", "pump"), (("part", "oil_pump"),)) in words.index(own)["grindle"]
    assert "grindle" not in words.index([])
