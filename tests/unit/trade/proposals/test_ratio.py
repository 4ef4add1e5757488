"""Compression ratio before and after a skim."""

import json
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.units import decimal_text
from witnessmark.trade.measuring.gradients import Value, cylinder_volume, ratio_of_volumes
from witnessmark.trade.proposals import ratio

VECTORS = json.loads((Path(__file__).parents[3] / "vectors" / "ratio.json").read_text())


CASES = [ratio for ratio in VECTORS["ratios"] if "refused" not in ratio]


def volume(diameter, height):
    made = cylinder_volume(Value(Fraction(diameter)), Value(Fraction(height)))
    assert isinstance(made, Value)
    return made.amount / 1000


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_a_ratio_by_the_operations_of_procedures(case):
    skimmed = Fraction(case["deck"]) - Fraction(case["skim"])
    slices = volume(case["gasket_bore"], case["gasket_thickness"]) + volume(case["bore"], skimmed)
    swept, clearance = volume(case["bore"], case["stroke"]), Fraction(case["chamber"]) + slices + Fraction(case["dish"])
    assert (decimal_text(swept, 6), decimal_text(clearance, 6)) == (case["swept"], case["clearance"])
    made = ratio_of_volumes(Value(swept), Value(clearance), "the clearance volume")
    assert isinstance(made, Value)
    assert decimal_text(made.amount, 9) == case["ratio"]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_the_thicker_gasket(case):
    lengths = (Fraction(case[name]) / 1000 for name in ("skim", "bore", "gasket_bore"))
    assert decimal_text(ratio.gasket_for(*lengths) * 1000, 6) == case["gasket"]


@given(skim=st.integers(0, 200), gasket=st.integers(80, 95), bore=st.integers(60, 120))
def test_the_thicker_gasket_makes_good_what_the_skim_took(skim, gasket, bore):
    """The slice that was cut off is as large as the one that the gasket adds."""
    cut, wide, across = Fraction(skim, 10**5), Fraction(gasket, 1000), Fraction(bore, 1000)
    assert ratio.gasket_for(cut, across, wide) * wide**2 == cut * across**2


def test_no_gasket_without_a_bore():
    with pytest.raises(Refusal):
        ratio.gasket_for(Fraction(1), Fraction(1), Fraction(0))
