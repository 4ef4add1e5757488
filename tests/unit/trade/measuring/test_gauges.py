"""Gauges: their faults, their dates, what they reach. Vectors shared with the phone."""

import json
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.support.cases import all_cases
from tests.support.made import text
from witnessmark.trade.ground.units import UNITS
from witnessmark.trade.measuring import gauges

VECTORS = json.loads((Path(__file__).parents[3] / "vectors" / "gauges.json").read_text())
KINDS = {unit["kind"] for unit in UNITS.values()}
ANYTHING = st.recursive(
    st.none() | st.booleans() | st.integers() | st.text(max_size=20) | st.sampled_from(["0.001", "mm", "2026-05-14"]),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3),
    max_leaves=6,
)


@all_cases(("gauge", "faults"), VECTORS["checks"])
def test_all_faults_of_a_gauge(gauge, faults):
    assert [[fault.where, fault.message] for fault in gauges.check(gauge)] == faults


@pytest.mark.parametrize(("gauge", "numbers"), VECTORS["in_si"], ids=lambda case: case["name"])
def test_the_numbers_of_a_gauge_in_si(gauge, numbers):
    in_si = gauges.in_si(gauge)
    assert {name: value if isinstance(value, str) else text(value) for name, value in in_si.items()} == numbers


@pytest.mark.parametrize(("gauge", "claimed", "late"), VECTORS["overdue"])
def test_overdue_goes_by_the_local_day_as_claimed(gauge, claimed, late):
    assert gauges.overdue(gauge, claimed) is late


@all_cases(("gauge", "amount", "reached"), VECTORS["in_range"])
def test_in_range(gauge, amount, reached):
    assert gauges.in_range(gauge, Fraction(amount)) is reached


@all_cases(("gauge", "other", "can"), VECTORS["stands_in"])
def test_one_gauge_in_place_of_another(gauge, other, can):
    assert gauges.stands_in(gauges.in_si(gauge), gauges.in_si(other)) is can
    assert gauges.stands_in(gauges.in_si(other), gauges.in_si(gauge)) is can


def test_every_sort_reads_kinds_that_there_are_and_every_kind_has_a_sort():
    assert {kind for sort in gauges.SORTS.values() for kind in sort["kinds"]} == KINDS


@given(field=st.sampled_from(sorted(VECTORS["checks"][0][0])), value=ANYTHING)
def test_whatever_a_field_holds_is_taken_or_refused_in_words(field, value):
    faults = gauges.check(VECTORS["checks"][0][0] | {field: value})
    assert all(fault.message.endswith(".") for fault in faults)


@given(gauge=ANYTHING)
def test_whatever_is_given_is_no_gauge(gauge):
    assert gauges.check(gauge)
