"""The procedures that come with the program: each can be used, on some engine, and the trade's whole table is there."""

import json

import pytest

from tests.support.cases import all_cases
from tests.unit.trade.measuring.make_built_in_vectors import PATH, evaluated
from witnessmark.trade.engine.locations import beside, places
from witnessmark.trade.engine.types import PARTS
from witnessmark.trade.ground.tables import table
from witnessmark.trade.ground.units import QUANTITIES
from witnessmark.trade.measuring.procedures import BUILT_IN, check, point_words, reading_codes

ENGINES = table("invented_engine_types")["engine_types"]
MADE = json.loads(PATH.with_name("built_in_figures.json").read_text())["made"]

# What a machinist measures, and what is worked out from it: row by row, the figures that must be there.
ROWS = {
    "cylinder bore": {"cylinder_bore": "largest smallest ovality taper taper_top_bottom wear over_nominal"},
    "journals": {
        "crankpin": "smallest ovality taper taper_front_rear barrel under_nominal",
        "main_journal": "smallest ovality taper taper_front_rear barrel under_nominal",
    },
    "housing bore": {"rod_housing": "mean ovality", "main_housing": "mean ovality"},
    "bearing clearance": {
        "rod_clearance": "clearance relative_clearance",
        "rod_clearance_strip": "clearance relative_clearance",
        "main_clearance": "clearance relative_clearance",
        "main_clearance_strip": "clearance relative_clearance",
    },
    "piston": {"piston_clearance": "least_clearance greatest_clearance"},
    "ring": {
        "ring_gap": "gap_top gap_second gap_oil relative_top relative_second",
        "ring_side": "side_top side_second side_oil",
    },
    "gudgeon pin centring": {"gudgeon_pin_centring": "offset least_recess"},
    "connecting rod": {"connecting_rod": "bend_of_rod twist_of_rod", "rod_side_clearance": "side_clearance"},
    "crankshaft": {"crankshaft_end_float": "end_float", "crankshaft_run_out": "run_out bend"},
    "face flatness": {"head_flatness": "flatness local_gap", "deck_flatness": "flatness local_gap"},
    "cam lobe": {"cam_lobe": "lift loss lift_kept"},
    "tappet face": {"tappet_face": "crown"},
    "shaft, guide, bush": {
        "rocker_bush": "clearance step",
        "valve_guide_clearance": "clearance step",
        "small_end": "clearance step",
    },
    "valve clearance by shim": {"valve_shim": "clearance wanted new_shim resulting_gap"},
    "hydraulic tappet preload": {"tappet_preload": "preload over_target shim"},
    "oil pump": {"oil_pump": "pump_end_float tip_clearance gear_backlash"},
    "compression": {
        "compression_cold": "pressure wet_gain wet_gain_share",
        "compression_hot": "pressure wet_gain wet_gain_share",
    },
    "leak-down": {"leak_down": "leak", "leak_down_held": "leak", "leak_down_pressures": "leak"},
    "oil pressure": {"oil_pressure": "at_idle at_first at_second first_per_thousand second_per_thousand"},
    "compression ratio": {"compression_ratio": "swept clearance_volume ratio ratio_after"},
    "fit": dict.fromkeys(
        ("fit", "liner_fit", "valve_seat_fit", "valve_guide_fit", "gudgeon_pin_fit"), "clearance interference"
    ),
}


@all_cases("procedure", BUILT_IN.values(), ids=BUILT_IN)
def test_a_procedure_of_the_program_has_no_fault(procedure):
    assert check(procedure) == []
    assert procedure["about"] and all(figure["definition"] for figure in procedure["figures"])
    assert all(line["definition"] for line in procedure["across"])


def test_every_row_of_the_trades_table_is_there_with_its_figures_and_nothing_beside_it():
    figures_of = {code: set(figures.split()) for row in ROWS.values() for code, figures in row.items()}
    assert set(figures_of) == set(BUILT_IN)
    for code, figures in figures_of.items():
        assert figures <= {figure["code"] for figure in BUILT_IN[code]["figures"]}, code


@all_cases("procedure", BUILT_IN.values(), ids=BUILT_IN)
def test_some_invented_engine_has_the_part_that_a_procedure_measures(procedure):
    assert any(place.part == procedure["part"] for engine in ENGINES for place in places(engine))


@all_cases("procedure", BUILT_IN.values(), ids=BUILT_IN)
def test_quantities_are_offered_for_the_part_that_they_are_read_at(procedure):
    for quantity in {
        procedure["quantity"],
        *(reading["quantity"] for reading in procedure["readings"] if not reading["borrow"]),
    }:
        assert procedure["part"] in QUANTITIES[quantity]["parts"], quantity


@pytest.mark.parametrize(
    "procedure", [procedure for procedure in BUILT_IN.values() if any(r["borrow"] for r in procedure["readings"])]
)
def test_what_is_borrowed_exists_and_there_is_one_place_to_borrow_it_from(procedure):
    for reading in procedure["readings"]:
        if not (borrow := reading["borrow"]):
            continue
        lender = BUILT_IN[borrow["procedure"]]
        figure = next(figure for figure in lender["figures"] if figure["code"] == borrow["figure"])
        assert lender["part"] == borrow["part"] in PARTS
        assert QUANTITIES[reading["quantity"]]["kind"] == figure["kind"]
        for engine in ENGINES:
            for place in places(engine):
                if place.part == procedure["part"]:
                    assert beside(engine, place.code, borrow["part"]), place.code


def test_the_two_definitions_of_taper_are_both_there_and_told_apart():
    for code in ("cylinder_bore", "crankpin", "main_journal"):
        tapers = [figure for figure in BUILT_IN[code]["figures"] if figure["code"].startswith("taper")]
        assert [taper["do"] for taper in tapers] == ["largest_spread", "largest_drop"]
        assert "Differs from the other taper" in tapers[1]["definition"]


def test_round_shapes_say_what_two_point_gauging_cannot_see():
    for code in ("cylinder_bore", "crankpin", "main_journal", "rod_housing", "main_housing"):
        assert "cannot detect a shape with an odd number of lobes" in BUILT_IN[code]["about"]


def test_cautions_are_one_line_each_and_stand_where_the_step_can_hurt():
    assert all(len(caution) <= 120 for procedure in BUILT_IN.values() for caution in procedure["cautions"])
    for code, words in {
        "compression_cold": "Fuel and ignition disabled",
        "compression_hot": "Fuel and ignition disabled",
        "leak_down": "lock the crankshaft",
        "gudgeon_pin_centring": "Stop if either end can touch the bore",
        "rod_clearance": "counts against a stretch bolt",
        "valve_guide_clearance": "Springs under load",
        "oil_pressure": "Engine running",
        "liner_fit": "A press",
    }.items():
        assert any(words in caution for caution in BUILT_IN[code]["cautions"]), code


def test_rules_of_thumb_are_guides_and_say_what_they_are_taken_of():
    guides = {
        (code, figure["code"]): figure["guide"]
        for code, procedure in BUILT_IN.items()
        for figure in procedure["figures"]
        if figure["guide"]
    }
    assert guides["rod_clearance", "clearance"]["by"] == "1/1000"
    assert guides["ring_gap", "gap_top"]["by"] == "1/250"
    assert guides["leak_down", "leak"] == {
        "words": "up to about 10 % is sound; look for the cause above 20 to 25 %",
        "of": "",
        "by": "",
    }


def test_both_schools_of_compression_are_shown_beside_the_workshops_own():
    shares = [line["share"] for line in BUILT_IN["compression_hot"]["across"] if line["do"] == "under_share"]
    assert shares == ["rule", "9/10", "3/4"]


def test_a_reading_is_called_the_same_in_words_as_on_the_older_records():
    assert point_words(BUILT_IN["cylinder_bore"], "top/thrust") == "top, thrust"
    assert point_words(BUILT_IN["crankpin"], "rear/90") == "rear, 90 deg"
    assert len(reading_codes(BUILT_IN["deck_flatness"])) == 8


@all_cases("case", MADE, ids=lambda case: case["of"])
def test_office_and_phone_agree_to_the_last_digit(case):
    assert evaluated(case) == case["figures"]


def test_each_procedure_has_its_cases_and_each_figure_comes_to_something_in_one_of_them():
    reached = {(case["of"], code) for case in MADE for code, figure in case["figures"].items() if "amount" in figure}
    wanted = {(code, figure["code"]) for code, procedure in BUILT_IN.items() for figure in procedure["figures"]}
    assert wanted - reached == set()
