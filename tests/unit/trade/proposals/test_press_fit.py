"""Heat for a slip fit. Published formulas and constructed cases, and the vectors of pressing: tests/outside."""

import json
from fractions import Fraction
from pathlib import Path

import pytest

from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.tables import table
from witnessmark.trade.ground.units import decimal_text
from witnessmark.trade.proposals import press_fit

VECTORS = json.loads((Path(__file__).parents[3] / "vectors" / "press_fit.json").read_text())


def mm(text):
    return Fraction(text) / 1000


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


def test_every_metal_of_the_table_expands_too():
    known = {material["code"] for material in table("materials")["materials"]}
    assert {material["code"] for material in table("elastic")["materials"]} == known
