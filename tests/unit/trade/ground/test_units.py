"""A typed value stays as it was typed; what it means is exact."""

import json
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.support.cases import all_cases
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.units import (
    QUANTITIES,
    UNITS,
    convert,
    decimal_text,
    from_si,
    read,
    read_quantity,
    to_si,
    unit_code,
    usual_unit,
    with_unit,
)

FACTS = {"kind", "words", "scale", "places", "also", "said", "heard", "written"}
VECTORS = json.loads((Path(__file__).parents[3] / "vectors" / "units.json").read_text())


@all_cases("case", VECTORS["read"], ids=lambda case: f"{case['typed']!r} {case['unit']}")
def test_a_typed_value(case):
    if "refused" in case:
        with pytest.raises(Refusal) as refused:
            read(case["typed"], case["unit"])
        assert (refused.value.where, refused.value.message) == (case["refused"], case["message"])
        return
    reading, wanted = read(case["typed"], case["unit"]), case["read"]
    assert reading.text == case["typed"]
    assert reading.amount == Fraction(int(wanted["over"]), int(wanted["under"]))
    assert (reading.unit, reading.places) == (wanted["unit"], wanted["places"])


@all_cases("case", VECTORS["quantities"], ids=lambda case: f"{case['quantity']} {case['typed']} {case['unit']}")
def test_a_value_of_a_quantity_has_a_unit_of_its_kind(case):
    if "refused" in case:
        with pytest.raises(Refusal) as refused:
            read_quantity(case["quantity"], case["typed"], case["unit"])
        assert (refused.value.where, refused.value.message) == (case["refused"], case["message"])
    else:
        assert read_quantity(case["quantity"], case["typed"], case["unit"]).unit == case["read"]


@all_cases("case", VECTORS["conversions"], ids=lambda case: f"{case['amount']} {case['unit']} in {case['into']}")
def test_a_conversion_agrees_with_the_published_factors(case):
    """NIST SP 811 (2008) appendix B; inch 25.4 mm, pound 0.45359237 kg, standard gravity 9.80665 m/s2."""
    assert decimal_text(convert(Fraction(case["amount"]), case["unit"], case["into"]), case["places"]) == case["shown"]


def test_the_factors_are_exact():
    """From the definitions: yard and pound agreement of 1959, CGPM 1901."""
    inch, pound_force = Fraction("0.0254"), Fraction("0.45359237") * Fraction("9.80665")
    assert to_si(Fraction(1), "in") == 1000 * to_si(Fraction(1), "thou") == inch
    assert to_si(Fraction(1), "lbf·ft") == 12 * to_si(Fraction(1), "lbf·in") == 12 * inch * pound_force
    assert to_si(Fraction(1), "psi") == pound_force / inch**2
    assert to_si(Fraction(1), "kgf·m") == Fraction("9.80665")
    assert to_si(Fraction(1), "in³") == inch**3
    assert to_si(Fraction(0), "°C") == Fraction("273.15") == to_si(Fraction(32), "°F")


@pytest.mark.parametrize(("unit", "into"), VECTORS["no_conversion"])
def test_a_torque_is_never_turned_into_a_length(unit, into):
    with pytest.raises(Refusal):
        convert(Fraction(1), unit, into)


@all_cases("case", VECTORS["rounding"], ids=str)
def test_rounding_for_show(case):
    assert decimal_text(Fraction(int(case["over"]), int(case["under"])), case["places"]) == case["shown"]


@given(amount=st.fractions(), unit=st.sampled_from(sorted(UNITS)))
def test_there_and_back_loses_nothing(amount, unit):
    assert from_si(to_si(amount, unit), unit) == amount


@given(
    whole=st.integers(0, 10**9), decimals=st.text("0123456789", min_size=1, max_size=9), mark=st.sampled_from(".,"),
    unit=st.sampled_from(sorted(UNITS)),
)  # fmt: skip
def test_the_last_digit_never_changes(whole, decimals, mark, unit):
    typed = f"{whole}{mark}{decimals} {unit}"
    reading = read(typed)
    assert reading.text == typed and reading.unit == unit
    assert decimal_text(reading.amount, reading.places) == f"{whole}.{decimals}"


@given(typed=st.text(max_size=20))
def test_whatever_is_typed_is_read_or_refused_in_words(typed):
    try:
        assert read(typed).text == typed
    except Refusal as refused:
        assert refused.message.endswith(".")


def test_every_spelling_of_a_unit_is_that_unit_and_no_two_units_share_one():
    for code, unit in UNITS.items():
        for spelling in (code, *unit["also"]):
            assert unit_code(spelling) == code


@pytest.mark.parametrize("code", UNITS)
def test_a_unit_is_whole(code):
    unit = UNITS[code]
    assert unit.keys() - {"offset", "close", "abbreviated"} == FACTS
    assert 0 <= unit["places"] <= 6 and unit["heard"] in ("often", "sometimes", "seldom")
    assert not code or (unit["words"] and unit["said"] and unit["written"])
    assert usual_unit(unit["kind"]) in [code for code in UNITS if UNITS[code]["kind"] == unit["kind"]]
    converted = {code for case in VECTORS["conversions"] for code in (case["unit"], case["into"])}
    typed = {case["read"]["unit"] for case in VECTORS["read"] if "read" in case}
    alone = sum(other["kind"] == unit["kind"] for other in UNITS.values()) == 1
    assert code in (typed if alone else converted), "a case in units.json"


def test_a_unit_stands_behind_its_figure_as_on_paper():
    assert [with_unit("90", unit) for unit in ("°", "%", "N·m", "")] == ["90°", "90%", "90 N·m", "90"]


def test_the_units_of_a_quantity_are_of_its_kind():
    for quantity in QUANTITIES.values():
        assert {UNITS[unit]["kind"] for unit in quantity["units"]} == {quantity["kind"]}
