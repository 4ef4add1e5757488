"""Press and heat: contact pressure, force, slip. Published formulas and constructed cases: tests/outside."""

import json
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.support.cases import all_cases
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.tables import table
from witnessmark.trade.ground.units import decimal_text
from witnessmark.trade.proposals import press_fit
from witnessmark.trade.proposals.press_fit import ELASTIC, Material

VECTORS = json.loads((Path(__file__).parents[3] / "vectors" / "press_fit.json").read_text())
STEEL = Material(Fraction(207 * 10**9), Fraction("0.292"))
RINGS = st.tuples(st.integers(0, 30), st.integers(31, 60), st.integers(61, 120), st.integers(1, 90))


def mm(text):
    return Fraction(text) / 1000


def shown(amount, scale):
    return None if amount is None else decimal_text(amount * scale, 9)


@all_cases("case", VECTORS["press"], ids=lambda case: case["name"])
def test_pressed_together(case):
    hub, shaft = (Material(Fraction(e) * 10**9, Fraction(nu)) for e, nu in (case["hub"], case["shaft"]))
    rings = (mm(case["seat"]), mm(case["interference"]), mm(case["hub_outer"]), hub, mm(case["shaft_inner"]), shaft)
    if "refused" in case:
        with pytest.raises(Refusal) as refused:
            press_fit.press(*rings)
        assert refused.value.message == case["refused"]
        return
    made = press_fit.press(*rings)
    for name in ("pressure", "hub_hoop", "shaft_hoop", "shaft_bore_hoop"):
        assert shown(getattr(made, name), Fraction(1, 10**6)) == case[name], name
    assert shown(made.closing, Fraction(10**6)) == case["closing"]
    axial = press_fit.force(made.pressure, mm(case["seat"]), mm(case["length"]), Fraction(case["friction"]))
    assert (shown(axial, 1), shown(press_fit.torque(axial, mm(case["seat"])), 1)) == (case["force"], case["torque"])


@pytest.mark.parametrize("case", VECTORS["heat"], ids=lambda case: case["name"])
def test_heated_to_slip(case):
    lengths = (mm(case["seat"]), mm(case["interference"]), mm(case["slip"]))
    alphas = (Fraction(case["alpha_hub"]) / 10**6, Fraction(case["alpha_shaft"]) / 10**6)
    if "refused" in case:
        with pytest.raises(Refusal) as refused:
            press_fit.heat_for_slip(*lengths, *alphas, Fraction(case["shaft_c"]))
        assert refused.value.message == case["refused"]
        return
    hub = press_fit.heat_for_slip(*lengths, *alphas, Fraction(case["shaft_c"]))
    assert decimal_text(hub, 6) == case["hub_c"]
    assert len(press_fit.heat_cautions(hub, Fraction(case["shaft_c"]))) == case["cautions"]


@pytest.mark.parametrize("case", VECTORS["growth"], ids=str)
def test_growth(case):
    grown = press_fit.growth(mm(case["diameter"]), Fraction(case["alpha"]) / 10**6, Fraction(case["kelvin"]))
    assert decimal_text(grown * 1000, 6) == case["growth"]


@given(rings=RINGS)
def test_the_gap_that_two_rings_close_is_the_interference(rings):
    """What the hub opens and what the shaft closes at the seat add up to the interference: Hooke's law at the seat."""
    inner, seat, outer, over = (Fraction(one, 1000) for one in rings)
    over /= 1000
    iron = Material(Fraction(10**11), Fraction("0.211"))
    made = press_fit.press(seat, over, outer, iron, inner, STEEL)
    opened = seat * (made.hub_hoop + iron.poisson * made.pressure) / iron.modulus
    closed = -seat * (made.shaft_hoop + STEEL.poisson * made.pressure) / STEEL.modulus
    assert opened + closed == over


@given(rings=RINGS, times=st.integers(2, 9))
def test_twice_the_interference_is_twice_the_pressure(rings, times):
    inner, seat, outer, over = (Fraction(one, 1000) for one in rings)
    one, more = (press_fit.press(seat, over * n / 1000, outer, STEEL, inner, STEEL) for n in (1, times))
    assert more.pressure == times * one.pressure


def test_every_metal_of_the_table_expands_too():
    known = {one["code"] for one in table("materials")["materials"]}
    assert {one["code"] for one in ELASTIC} == known
