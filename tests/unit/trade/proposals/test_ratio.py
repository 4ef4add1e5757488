"""Compression ratio before and after a skim."""

import json
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.units import decimal_text
from witnessmark.trade.proposals import ratio

VECTORS = json.loads((Path(__file__).parents[3] / "vectors" / "ratio.json").read_text())


def cylinder(case):
    lengths = {
        name: Fraction(case[name]) / 1000 for name in ("bore", "stroke", "gasket_bore", "gasket_thickness", "deck")
    }
    volumes = {name: Fraction(case[name]) / 10**6 for name in ("chamber", "dish")}
    return ratio.Cylinder(**lengths, **volumes)


@pytest.mark.parametrize("case", VECTORS["ratios"], ids=lambda case: case["name"])
def test_a_ratio(case):
    skim = Fraction(case["skim"]) / 1000
    if "refused" in case:
        with pytest.raises(Refusal) as refused:
            ratio.ratio(cylinder(case), skim)
        assert refused.value.message == case["refused"]
        return
    made = ratio.ratio(cylinder(case), skim)
    assert decimal_text(made.swept * 10**6, 6) == case["swept"]
    assert decimal_text(made.clearance * 10**6, 6) == case["clearance"]
    assert decimal_text(made.ratio, 9) == case["ratio"]
    gasket = ratio.gasket_for(skim, cylinder(case).bore, cylinder(case).gasket_bore)
    assert decimal_text(gasket * 1000, 6) == case["gasket"]


@pytest.mark.parametrize("case", VECTORS["wanted"], ids=str)
def test_the_volume_for_a_wanted_ratio(case):
    swept, wanted = Fraction(case["swept"]) / 10**6, Fraction(case["ratio"])
    if "refused" in case:
        with pytest.raises(Refusal) as refused:
            ratio.clearance_for(swept, wanted)
        assert refused.value.message == case["refused"]
    else:
        assert decimal_text(ratio.clearance_for(swept, wanted) * 10**6, 6) == case["clearance"]


@given(skim=st.integers(0, 200), gasket=st.integers(80, 95))
def test_the_thicker_gasket_makes_good_what_the_skim_took(skim, gasket):
    wide, cut = Fraction(gasket, 1000), Fraction(skim, 10**5)
    case = next(one for one in VECTORS["ratios"] if one["name"] == "chamber, gasket, deck and dish")
    first = cylinder(case | {"gasket_bore": str(gasket)})
    thicker = first.gasket_thickness + ratio.gasket_for(cut, first.bore, wide)
    second = ratio.Cylinder(**(vars(first) | {"gasket_thickness": thicker}))
    assert ratio.ratio(second, cut) == ratio.ratio(first)


def test_no_gasket_without_a_bore():
    with pytest.raises(Refusal):
        ratio.gasket_for(Fraction(1), Fraction(1), Fraction(0))
