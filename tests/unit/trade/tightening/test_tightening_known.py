"""Which sheet and which tool counts: for a joint now, and for a run as it was begun."""

import json
from pathlib import Path

import pytest

from tests.support.cases import all_cases
from witnessmark.trade.tightening import holds as tightening_holds
from witnessmark.trade.tightening import known as tightening_known
from witnessmark.trade.tightening.beyond_tools import beyond_tools

VECTORS = Path(__file__).parents[3] / "vectors"
KNOWN = json.loads((VECTORS / "tightening_known.json").read_text())
HOLDS = json.loads((VECTORS / "tightening_holds.json").read_text())


@pytest.fixture
def known():
    return tightening_known.known(KNOWN["said"])


def entry(statement):
    return statement.entry if statement else None


@pytest.mark.parametrize("case", KNOWN["sheet_for"], ids=lambda case: f"{case['direction']} {case['joint']}")
def test_the_sheet_for_a_joint_now(known, case):
    statement = tightening_known.sheet_for(known, case["engine_type"], case["joint"], case["direction"])
    assert entry(statement) == case["entry"]


@pytest.mark.parametrize("case", KNOWN["sheet_of"], ids=lambda case: case["name"])
def test_the_sheet_of_a_run(known, case):
    assert entry(tightening_known.sheet_of(known, case["begun"], case["claimed"])) == case["entry"]


@pytest.mark.parametrize("case", KNOWN["basis_for_run"], ids=lambda case: f"{len(case['basis'])} entries")
def test_what_is_begun_now_names_what_counts_now(known, case):
    assert tightening_known.basis_for_run(known, case["sheet"], case["tool"]) == case["basis"]


def test_every_description_of_a_tool_is_kept_in_the_order_of_the_log(known):
    assert [tool["entry"] for tool in tightening_known.tools_of(known)] == KNOWN["tools_of"]


@all_cases("case", HOLDS["cases"], ids=lambda case: case["name"])
def test_what_a_sheet_still_waits_on(case):
    assert tightening_holds.open_holds(case, case["measured"], case["ticked"]) == case["open"]


@pytest.mark.parametrize("case", KNOWN["beyond_tools"], ids=lambda case: case["name"])
def test_a_torque_that_no_tool_reaches(known, case):
    register = [] if case["no_register"] else [tool.data for tool in known.tools.values()]
    faults = beyond_tools({"joint": "head_bolt/*", "stages": case["stages"]}, register)
    assert [[fault.where, fault.message] for fault in faults] == case["faults"]
