"""Limits and sizes: their faults, where and when they count. Vectors shared with the phone."""

import json
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from tests.support.cases import all_cases
from witnessmark.trade.measuring import limits

VECTORS = json.loads((Path(__file__).parents[3] / "vectors" / "limits.json").read_text())
PLACE = st.lists(st.sampled_from(["1", "2", "12", "inlet", "A"]), max_size=3).map(
    lambda rest: "/".join(["bore", *rest])
)


@all_cases(("limit", "faults"), VECTORS["checks"])
def test_all_faults_of_a_limit(limit, faults):
    assert [[fault.where, fault.message] for fault in limits.check(limit)] == faults


@all_cases(("size", "faults"), VECTORS["sizes"])
def test_all_faults_of_a_size(size, faults):
    assert [[fault.where, fault.message] for fault in limits.check_size(size)] == faults


@all_cases(("where", "place", "taken_in"), VECTORS["covers"], ids=str)
def test_patterns_go_by_whole_segments(where, place, taken_in):
    assert limits.covers(where, place) is taken_in


@all_cases(("engine", "procedure", "figure", "place", "day", "ids"), VECTORS["in_force"], ids=str)
def test_the_limits_in_force(engine, procedure, figure, place, day, ids):
    in_force = [limit for limit in VECTORS["limits"] if limits.counts_for(limit, engine, procedure, place, day)]
    assert [limit["id"] for limit in in_force if limit["figure"] == figure] == ids


@given(place=PLACE, deeper=PLACE)
def test_a_pattern_takes_in_its_place_and_all_that_lies_in_it(place, deeper):
    assert limits.covers([place], place)
    assert limits.covers([place], f"{place}/{deeper}")
    assert limits.covers(["/".join("*" if i else part for i, part in enumerate(place.split("/")))], place)
    assert not limits.covers([f"{place}/{deeper}"], place)


@given(value=st.none() | st.text(max_size=12) | st.lists(st.text(max_size=8), max_size=3), data=st.data())
def test_whatever_a_field_holds_is_taken_or_refused_in_words(value, data):
    limit, size = VECTORS["checks"][0][0], VECTORS["sizes"][0][0]
    faults = limits.check(limit | {data.draw(st.sampled_from(sorted(limit))): value})
    faults += limits.check_size(size | {data.draw(st.sampled_from(sorted(size))): value})
    assert all(fault.message.endswith(".") for fault in faults)
