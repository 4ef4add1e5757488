"""The oversize or undersize step for a whole engine, and the reading that forces it."""

import json
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.support.cases import all_cases
from witnessmark.trade.ground.amounts import exact_text
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.proposals.machining import machine

CASES = json.loads((Path(__file__).parents[3] / "vectors" / "machining.json").read_text())["cases"]
AMOUNTS = st.decimals(80, 90, places=3).map(Fraction)
STEPS = st.lists(st.decimals("0.01", 3, places=2).map(Fraction), min_size=1, max_size=6)


def exact(texts):
    return [Fraction(text) for text in texts]


@all_cases("case", CASES, ids=lambda case: case["name"])
def test_a_step(case):
    listed = None if case["listed"] is None else exact(case["listed"])
    given = (exact(case["readings"]), Fraction(case["nominal"]), exact(case["steps"]), Fraction(case["stock"]))
    if "refused" in case:
        with pytest.raises(Refusal) as refused:
            machine(*given, bores=case["bores"], listed=listed)
        assert refused.value.message == case["refused"]
        return
    made = machine(*given, bores=case["bores"], listed=listed)
    chosen = made.chosen and exact_text(made.chosen.step, 3)
    target = made.chosen and exact_text(made.chosen.target, 3)
    assert (chosen, target, made.forced_by) == (case["chosen"], case["target"], case["forced_by"])
    tried = [
        [exact_text(attempt.step, 3), exact_text(attempt.target, 3), exact_text(attempt.short, 3), attempt.listed]
        for attempt in made.tried
    ]
    assert tried == case["tried"]


@given(readings=st.lists(AMOUNTS, min_size=1, max_size=8), nominal=AMOUNTS, steps=STEPS, bores=st.booleans())
def test_the_chosen_step_cleans_up_every_place_and_no_smaller_one_does(readings, nominal, steps, bores):
    stock = Fraction(5, 100)
    made = machine(readings, nominal, steps, stock, bores=bores)

    def cleans(step):
        return all((nominal + step - r if bores else r - (nominal - step)) >= stock for r in readings)

    fit = [step for step in sorted(steps) if cleans(step)]
    assert (made.chosen and made.chosen.step) == (fit[0] if fit else None)
    assert readings[made.forced_by] == (max(readings) if bores else min(readings))


@given(readings=st.lists(AMOUNTS, min_size=1, max_size=5), nominal=AMOUNTS, steps=STEPS)
def test_bores_and_journals_are_mirror_images(readings, nominal, steps):
    bores = machine(readings, nominal, steps, Fraction(0), bores=True)
    journals = machine([-r for r in readings], -nominal, steps, Fraction(0), bores=False)
    assert (bores.chosen and bores.chosen.step) == (journals.chosen and journals.chosen.step)
    assert bores.forced_by == journals.forced_by
