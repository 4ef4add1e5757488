"""Proposals from sheets: what is proposed, from what, and what forces it."""

import json
from pathlib import Path

from tests.sheets.said import BORE, FOUR, Workshop
from tests.support.cases import all_cases
from witnessmark.trade.measuring.known import known
from witnessmark.trade.proposals.all import proposals
from witnessmark.trade.sheets.job_sheets import sheets

CASES = json.loads((Path(__file__).parents[3] / "vectors" / "proposals.json").read_text())["cases"]
BY_NAME = {case["name"]: case for case in CASES}


def made(case):
    return proposals(case["sheets"], known(case["entries"]), {"id": case["engine_type"]})


@all_cases("case", CASES, ids=lambda case: case["name"])
def test_proposals(case):
    assert made(case) == case["proposals"]


@all_cases("case", CASES, ids=lambda case: case["name"])
def test_a_proposal_names_its_inputs_its_formula_and_its_cautions(case):
    for proposal in made(case):
        assert proposal["title"] and proposal["lines"] and proposal["formula"] and proposal["cautions"]
        assert proposal["inputs"] and all(
            given["name"] and given["value"] and given["source"] for given in proposal["inputs"]
        )
        assert set(proposal) == {"sort", "title", "lines", "inputs", "formula", "cautions", "forced_by"}
        assert (proposal["forced_by"] is not None) == (proposal["sort"] == "machining")


def test_the_reading_that_forces_a_step_is_named():
    forced = made(BY_NAME["all bores, one forces the second step"])[0]["forced_by"]
    assert forced == {"place": "bore/3", "reading": "top, thrust", "value": "86.245 mm"}


def test_a_size_of_another_engine_is_not_taken():
    case = BY_NAME["all bores, one forces the second step"]
    bare = [sheet | {"sizes": {}} for sheet in case["sheets"]]
    assert proposals(bare, known([]), None) == []


def test_a_part_just_machined_gets_no_step_proposed():
    assert made(BY_NAME["measured again after machining: nothing of the sheet before"]) == []


def proposed(shop):
    statements = known(shop.entries)
    return proposals(sheets(shop.engine, shop.readings, statements), statements, shop.engine)


def test_one_bad_reading_of_a_bore_half_measured_asks_for_its_step():
    shop = Workshop(FOUR)
    for code, values in (("nominal", ["86.000"]), ("steps", ["0.25", "0.50", "0.75"]), ("stock", ["0.05"])):
        shop.size("cylinder_bore", code, values)
    shop.read_all("cylinder_bore", "bore/1", BORE)
    (proposal,) = proposed(shop)
    assert proposal["title"] == "Cylinder bore, if machined: oversize 0.25 mm, target 86.250 mm, as far as measured"
    shop.read("cylinder_bore", "bore/3", "middle/thrust", "86.480")
    # The ridge is not the size: nobody machines to it.
    shop.read("cylinder_bore", "bore/4", "ridge", "86.900")
    (proposal,) = proposed(shop)
    assert proposal["title"] == "Cylinder bore, if machined: oversize 0.75 mm, target 86.750 mm, as far as measured"
    assert proposal["forced_by"] == {"place": "bore/3", "reading": "middle, thrust", "value": "86.480 mm"}
    assert (
        "Not fully measured: bore 2, bore 3, bore 4. A worse reading there may need a larger step." in proposal["lines"]
    )
    shop.read("cylinder_bore", "bore/2", "middle/thrust", "86.780")
    (proposal,) = proposed(shop)
    assert proposal["title"] == "Cylinder bore, if machined: no step left: sleeve or replace"
