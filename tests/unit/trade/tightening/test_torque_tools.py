"""Torque tools: their faults, when they are overdue, what they fit, what to set them to. Vectors shared with the phone.
Published bounds and the extension formula: tests/outside."""

import json
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.support.cases import all_cases
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.tightening import tools as torque_tools
from witnessmark.trade.tightening.values import FITS, TOOLS, tool_objections

VECTORS = json.loads((Path(__file__).parents[3] / "vectors" / "torque_tools.json").read_text())
REGISTER = VECTORS["tools"]
CLICK = REGISTER["click"]
ANYTHING = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.text(max_size=20)
    | st.sampled_from(["4", "N·m", "II A", "2026-05-14"]),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3),
    max_leaves=6,
)
LENGTHS = st.fractions(min_value=Fraction(1, 100), max_value=2000)


@all_cases("case", VECTORS["checks"], ids=lambda case: f"{case['of']} {list(case['change'])}")
def test_all_faults_of_a_tool(case):
    faults = torque_tools.check(REGISTER[case["of"]] | case["change"])
    assert [[fault.where, fault.message] for fault in faults] == case["faults"]


@pytest.mark.parametrize("case", VECTORS["no_tools"], ids=str)
def test_what_is_no_tool(case):
    assert [[fault.where, fault.message] for fault in torque_tools.check(case["given"])] == case["faults"]


@all_cases(("name", "percent", "source"), VECTORS["deviations"])
def test_what_a_tool_may_be_off(name, percent, source):
    may, why = torque_tools.deviation(REGISTER[name])
    assert (None if may is None else str(may), why) == (percent, source)


@all_cases("case", VECTORS["overdue"], ids=lambda case: f"{case['tool']} {case['claimed']}")
def test_overdue_by_date_or_by_cycles(case):
    tool, claimed, counted = REGISTER[case["tool"]], case["claimed"], case["counted"]
    assert torque_tools.cycles_since(tool, counted) == case["since"]
    assert torque_tools.overdue(tool, claimed, counted) == case["said"]


@all_cases("case", VECTORS["fits"], ids=lambda case: f"{case['tool']} {case['target']} {case['unit']}")
def test_whether_a_tool_fits_a_stage(case):
    tool_and_value = (REGISTER[case["tool"]], case["method"], case["target"], case["unit"])
    if "refused" in case:
        with pytest.raises(Refusal) as refused:
            torque_tools.fits(*tool_and_value)
        assert refused.value.message == case["refused"]
        return
    assert [list(fit) for fit in torque_tools.fits(*tool_and_value)] == case["against"]


@all_cases("case", VECTORS["set_values"], ids=lambda case: f"{case['torque']} {case['extension']}")
def test_the_value_to_set(case):
    """Worked out on the phone alone, which is judged by these vectors. The force at the grip is set/L; through the
    whole lever L + E it makes the torque again."""
    torque, length, extension = (Fraction(case[name]) for name in ("torque", "length", "extension"))
    if "refused" in case:
        assert length <= 0 or extension < 0
        return
    value, shown = Fraction(case["value"]), Fraction(case["text"].removesuffix(f" {case['unit']}"))
    assert value / length * (length + extension if case["in_line"] else length) == torque
    assert abs(shown - value) <= value / 1999  # four digits that count


@given(name=st.sampled_from(sorted(REGISTER)), target=st.integers(0, 400), method=st.sampled_from(["torque", "angle"]))
def test_what_the_desk_is_told_beforehand_is_what_the_run_would_record(name, target, method):
    tool, unit = REGISTER[name] | {"retired": False}, "N·m" if method == "torque" else "°"
    stage = {"words": "", "method": method, "target": str(target), "unit": unit}
    sorts = [sort for sort, _ in torque_tools.fits(tool, method, str(target), unit)]
    assert sorts == [sort for sort, _ in tool_objections(stage, tool, "", "2026-05-14T08:00:00.000Z")]


def test_the_sorts_are_those_that_a_run_knows():
    assert set(torque_tools.SORTS) == set(TOOLS) == {sort for sorts in FITS.values() for sort in sorts}
    assert all(sort["usual"] in ("", *torque_tools.CLASSES) for sort in torque_tools.SORTS.values())


@given(field=st.sampled_from(sorted(CLICK)), value=ANYTHING)
def test_whatever_a_field_holds_is_taken_or_refused_in_words(field, value):
    faults = torque_tools.check(CLICK | {field: value})
    assert all(fault.message.endswith(".") for fault in faults)


@given(tool=ANYTHING)
def test_whatever_is_given_is_no_tool(tool):
    assert torque_tools.check(tool)
