"""Proposals from sheets: what is proposed, from what, and what forces it."""

import json
from pathlib import Path

import pytest

from witnessmark.trade.known import known
from witnessmark.trade.proposals import proposals

CASES = json.loads((Path(__file__).parents[2] / "vectors" / "proposals.json").read_text())["cases"]
BY_NAME = {case["name"]: case for case in CASES}


def made(case):
    return proposals(case["sheets"], known(case["entries"]), {"id": case["engine_type"]})


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_proposals(case):
    assert made(case) == case["proposals"]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_a_proposal_names_its_inputs_its_formula_and_its_cautions(case):
    for one in made(case):
        assert one["title"] and one["lines"] and one["formula"] and one["cautions"]
        assert one["inputs"] and all(given["name"] and given["value"] and given["source"] for given in one["inputs"])
        assert set(one) == {"sort", "title", "lines", "inputs", "formula", "cautions", "forced_by"}
        assert (one["forced_by"] is not None) == (one["sort"] == "machining")


def test_the_reading_that_forces_a_step_is_named():
    forced = made(BY_NAME["all bores, one forces the second step"])[0]["forced_by"]
    assert forced == {"place": "bore/3", "reading": "top, thrust", "value": "86.245 mm"}


def test_a_size_of_another_engine_is_not_taken():
    case = BY_NAME["all bores, one forces the second step"]
    bare = [sheet | {"sizes": {}} for sheet in case["sheets"]]
    assert proposals(bare, known([]), None) == []


def test_a_part_just_machined_gets_no_step_proposed():
    assert made(BY_NAME["measured again after machining: nothing of the sheet before"]) == []
