"""Shims for a valve clearance: nearest of the set, swapped on the engine where one fits."""

import json
from collections import Counter
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.support.cases import all_cases
from witnessmark.trade.ground.amounts import exact_text
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.proposals.shims import Valve, nearest, shims

CASES = json.loads((Path(__file__).parents[3] / "vectors" / "shims.json").read_text())["cases"]
GAPS = st.integers(0, 60).map(lambda n: Fraction(n, 100))
THICK = st.integers(40, 60).map(lambda n: Fraction(5 * n, 100))


@all_cases("case", CASES, ids=lambda case: case["name"])
def test_shims(case):
    valves = [Valve(place, *map(Fraction, sizes)) for place, *sizes in case["valves"]]
    thicknesses = [Fraction(thickness) for thickness in case["set"]]
    if "refused" in case:
        with pytest.raises(Refusal) as refused:
            shims(valves, thicknesses)
        assert refused.value.message == case["refused"]
        return
    made = shims(valves, thicknesses)
    shown = [
        [
            choice.place,
            *(exact_text(n, 2) for n in (choice.wanted, choice.chosen, choice.gap)),
            choice.source,
            choice.reached,
        ]
        for choice in made
    ]
    assert shown == case["shims"]


@given(valves=st.lists(st.tuples(GAPS, THICK), max_size=12), thicknesses=st.lists(THICK, min_size=1, max_size=9))
def test_no_shim_is_used_twice_and_none_is_worse_than_the_set(valves, thicknesses):
    target = Fraction(20, 100)
    engine = [Valve(str(number), gap, now, target) for number, (gap, now) in enumerate(valves)]
    made = shims(engine, thicknesses)
    taken = Counter(choice.source for choice in made if choice.source not in ("stays", "new"))
    assert not taken or max(taken.values()) == 1
    stays = {choice.place for choice in made if choice.source == "stays"}
    assert not stays & set(taken)
    for valve, choice in zip(engine, made, strict=True):
        assert choice.gap + choice.chosen == valve.gap + valve.shim
        assert abs(choice.gap - target) <= abs(valve.gap + valve.shim - nearest(choice.wanted, thicknesses) - target)
        if choice.source not in ("stays", "new"):
            assert engine[int(choice.source)].shim == choice.chosen
