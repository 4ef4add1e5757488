"""Whoever searches with one word of the trade finds what was written with another."""

import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.support.cases import all_cases
from witnessmark.trade.engine.vocabulary import CONDITIONS, also, conditions_for, expand

VECTORS = json.loads((Path(__file__).parents[3] / "vectors" / "vocabulary.json").read_text())


@all_cases("case", VECTORS["cases"], ids=lambda case: repr(case["query"]))
def test_what_a_query_stands_for(case):
    assert expand(case["query"]) == case["expand"]
    assert also(case["query"]) == case["also"]


@all_cases(
    ("query", "other_name"),
    [
        ("gudgeon pin", "wrist pin"), ("wrist pin", "gudgeon pin"), ("conrod", "connecting rod"),
        ("crankpin", "rod journal"), ("tappet", "cam follower"), ("sump", "oil pan"), ("deck", "block face"),
        ("intake", "inlet"), ("thou", "mil"), ("skim", "resurface"), ("circlip", "snap ring"),
        ("core plug", "welch plug"), ("swarf", "chips"), ("bush", "sleeve"), ("big end", "rod bearing"),
    ],
)  # fmt: skip
def test_the_names_of_one_thing_find_each_other(query, other_name):
    assert other_name in expand(query)[0]
    assert query in expand(other_name)[0]


def test_a_bore_is_not_taken_for_a_cylinder():
    assert expand("bore") == [["bore", "bores"]]


def test_words_in_quotation_marks_are_taken_as_they_are():
    assert expand('"wrist pin"') == [["wrist pin"]]


@given(query=st.text(max_size=40))
def test_any_query_is_answered_and_each_group_begins_with_what_was_typed(query):
    for group in expand(query):
        assert group and all(group)
        assert len(set(group)) == len(group)
    assert len(also(query)) == len(set(also(query)))


@pytest.mark.parametrize("case", VECTORS["conditions"], ids=lambda case: case["place"] or "nowhere")
def test_the_usual_conditions_of_a_part_are_offered_first_and_none_is_left_out(case):
    offered = conditions_for(case["place"])
    assert offered[:6] == case["first"]
    assert sorted(offered) == sorted(CONDITIONS)
