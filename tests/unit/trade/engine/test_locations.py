"""Every place of an engine has a code, a name and its neighbours, and what people type is understood."""

import json
from pathlib import Path

import pytest

from tests.support.cases import all_cases
from witnessmark.trade.engine.locations import (
    beside,
    codes,
    mains_beside,
    place_name,
    places,
    related,
)
from witnessmark.trade.ground import shapes
from witnessmark.trade.ground.tables import table

VECTORS = json.loads((Path(__file__).parents[3] / "vectors" / "places.json").read_text())
ENGINES = {engine["name"]: engine for engine in table("invented_engine_types")["engine_types"]}
every_engine = pytest.mark.parametrize("engine", ENGINES.values(), ids=ENGINES.keys())


@pytest.mark.parametrize("case", VECTORS["engines"], ids=lambda case: case["engine_type"])
def test_the_places_of_an_invented_engine_are_as_written_down(case):
    read_places = [
        [p.code, p.name, p.iso, p.bank, p.cylinder, p.crankpin, p.main, p.camshaft]
        for p in places(ENGINES[case["engine_type"]])
    ]
    assert read_places == case["places"]


@every_engine
def test_codes_and_names_of_places_are_each_given_once(engine):
    all_places = places(engine)
    assert len({place.code for place in all_places}) == len(all_places) == len(codes(engine))
    assert len({place.name for place in all_places}) == len(all_places)
    assert [shapes.place(place.code) for place in all_places] == [None] * len(all_places)
    assert [place_name(engine, place.code) for place in all_places] == [place.name for place in all_places]


@every_engine
def test_neighbours_are_neighbours_from_both_sides(engine):
    beside = {code: set(related(engine, code)) for code in sorted(codes(engine))}
    for code, others in beside.items():
        assert code not in others
        assert [other for other in others if code not in beside[other]] == []


def test_cylinder_5_of_a_v_lies_in_its_bank_on_its_crankpin_between_its_mains():
    """A V that numbers its right bank 1, 3, 5: cylinder 5 in bank B, under head B, on crankpin 3, by mains 3 and 4."""
    halvern = ENGINES["Halvern 2.9 V6"]
    banks = [{**halvern["banks"][0], "cylinders": [2, 4, 6]}, {**halvern["banks"][1], "cylinders": [1, 3, 5]}]
    near = related({**halvern, "banks": banks}, "bore/5")
    assert {"piston/5", "crankpin/3", "main/3", "main/4", "head/B", "deck/B", "head_gasket/B"} <= set(near)
    assert not {"head/A", "crankpin/2", "main/2", "piston/3", "head_bolt/B/1"} & set(near)


@all_cases("case", VECTORS["related"], ids=lambda case: f"{case['engine_type']} {case['code']}")
def test_what_touches_what(case):
    assert related(ENGINES[case["engine_type"]], case["code"]) == case["related"]


@all_cases("case", VECTORS["beside"], ids=lambda case: f"{case['code']} {case['part']}")
def test_the_one_place_of_a_part_that_goes_with_a_place(case):
    assert beside(ENGINES[case["engine_type"]], case["code"], case["part"]) == case["beside"]


@every_engine
def test_what_goes_with_a_place_touches_it(engine):
    for bearing in (place for place in places(engine) if place.part == "rod_bearing"):
        pin = beside(engine, bearing.code, "crankpin")
        assert pin in related(engine, bearing.code) and pin.startswith("crankpin/")


@all_cases("case", VECTORS["names_without_engine"], ids=lambda case: case["code"] or "nothing")
def test_a_place_has_a_name_even_before_its_engine_is_known(case):
    assert place_name(None, case["code"]) == case["name"]


def test_every_crankpin_has_a_main_on_either_side():
    assert [mains_beside(ENGINES["Halvern 2.9 V6"], pin) for pin in (1, 2, 3)] == [[1, 2], [2, 3], [3, 4]]
    assert [mains_beside(ENGINES["Brantholm flat four"], pin) for pin in (1, 2, 3, 4)] == [
        [1, 2],
        [1, 2],
        [2, 3],
        [2, 3],
    ]


def test_the_designation_is_said_to_be_unchecked():
    assert "not checked" in table("parts")["iso_note"]
