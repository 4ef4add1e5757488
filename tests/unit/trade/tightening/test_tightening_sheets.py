"""Tightening sheets: every fault is found at once and named, and none stops the check."""

import copy
import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.support.cases import all_cases
from tests.unit.trade.tightening.stories import let_go, sheet, stage
from witnessmark.trade.engine import types as engine_types
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.tables import table
from witnessmark.trade.tightening.sequence import propose
from witnessmark.trade.tightening.sheets import check, joints_of, read_file, write_file
from witnessmark.trade.tightening.stages import stages_of

VECTORS = json.loads((Path(__file__).parents[3] / "vectors" / "tightening_sheets.json").read_text())
SOUND = VECTORS["sound"]
ENGINES = {engine["name"]: engine for engine in table("invented_engine_types")["engine_types"]}
ENGINE = ENGINES[VECTORS["engine_type"]]


def changed(change):
    """The sound sheet with the fields at the paths set, or taken away."""
    if change is None:
        return None
    made = copy.deepcopy(SOUND)
    for path, value in change.items():
        *way, last = (int(step) if step.isdigit() else step for step in path.split("."))
        at = made
        for step in way:
            at = at[step]
        if value == {"$drop": True}:
            del at[last]
        else:
            at[last] = value
    return made


@all_cases("case", VECTORS["cases"], ids=lambda case: case["name"])
def test_all_faults_of_a_sheet(case):
    faults = check(changed(case["set"]), ENGINE if case["engine_type"] else None)
    assert [[fault.where, fault.message] for fault in faults] == case["faults"]


def test_a_missed_a_repeated_and_a_strange_fastener_are_named():
    messages = " ".join(fault.message for fault in check(changed({"stages.0.order": list("12345669")}), ENGINE))
    assert "fastener 6 is in the order twice" in messages
    assert "fasteners 7 and 8 of head_bolt/A and head_bolt/B are missing" in messages
    assert "names fastener 9, which head_bolt/A and head_bolt/B do not have" in messages


def test_a_sheet_travels_in_a_file():
    assert write_file(SOUND).decode() == VECTORS["file"]
    assert read_file(write_file(SOUND)) == SOUND


@pytest.mark.parametrize(("text", "message"), VECTORS["bad_files"])
def test_another_file_is_refused(text, message):
    with pytest.raises(Refusal) as refused:
        read_file(text.encode())
    assert refused.value.message == message


def test_bytes_that_are_no_text_are_refused():
    with pytest.raises(Refusal):
        read_file(b"\xff\xfe{")


@pytest.mark.parametrize("name", ENGINES)
def test_the_order_proposed_for_any_invented_joint_is_taken(name):
    engine = ENGINES[name]
    assert engine_types.check(engine) == []
    for joint in engine["joints"]:
        order = propose(joint["fasteners"])["order"]
        made = sheet(stage(order=order, proposed=True), joint=joint["code"], engine_type=engine["id"])
        assert check(made, engine) == []


def test_a_pattern_names_joints_of_its_length_alone():
    assert [joint["code"] for joint in joints_of("head_bolt/*", ENGINE)] == ["head_bolt/A", "head_bolt/B"]
    assert joints_of("head_bolt", ENGINE) == []
    assert [joint["code"] for joint in joints_of("flywheel_bolt", ENGINE)] == ["flywheel_bolt"]


def test_which_stages_a_run_goes_through():
    both = sheet(stage(order="132"), let_go("slack", order="231"), stage("full", order="312", proposed=True))
    assert stages_of(both, "tighten") == both["stages"]
    (made,) = stages_of(both, "loosen")
    assert (made["code"], made["method"], made["target"]) == ("release", "release", "")
    assert (made["order"], made["proposed"]) == (list("213"), True)
    loosening = sheet(let_go("half"), let_go("out"))
    assert stages_of(loosening, "loosen") == loosening["stages"]
    assert check(sheet(made)) == []


ANYTHING = st.recursive(
    st.one_of(st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=5), st.sampled_from(list("123"))),
    lambda inner: st.one_of(st.lists(inner, max_size=4), st.dictionaries(st.text(max_size=5), inner, max_size=4)),
    max_leaves=8,
)
PATHS = [
    *SOUND,
    *(f"stages.0.{name}" for name in SOUND["stages"][0]),
    *(f"{name}.{field}" for name in ("thread", "friction") for field in SOUND[name]),
    *(f"holds.{n}.{field}" for n in (0, 1) for field in SOUND["holds"][n]),
    "stages.0", "stages.1.order.3", "holds.0",
]  # fmt: skip


@given(st.sampled_from(PATHS), ANYTHING)
def test_nothing_makes_the_check_stop(path, value):
    made = changed({path: value})
    for faults in (check(made, ENGINE), check(made)):
        assert all(fault.where and fault.message.endswith(".") for fault in faults)
    assert type(check(value)) is list
