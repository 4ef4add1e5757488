"""An entry is taken when it is made as its kind asks, and refused with the field and the reason when it is not."""

import json
import time
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.support.cases import all_cases
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.record.kinds import KINDS, check_entry

VECTORS = json.loads((Path(__file__).parents[3] / "vectors" / "kinds.json").read_text())
TAKEN = {case["name"]: case["entry"] for case in VECTORS["taken"]}


@all_cases("entry", TAKEN.values(), ids=TAKEN.keys())
def test_a_well_made_entry_is_taken(entry):
    check_entry(entry)


@all_cases("case", VECTORS["refused"], ids=lambda case: case["name"])
def test_a_badly_made_entry_is_refused_and_the_field_is_named(case):
    with pytest.raises(Refusal) as refused:
        check_entry(case["entry"])
    assert (refused.value.code, refused.value.where) == (case["code"], case["where"])
    assert refused.value.message.endswith("correct it or add it again.")


@all_cases("kind", KINDS)
def test_no_field_of_a_kind_can_be_left_out_or_added(kind):
    entry = TAKEN[kind]
    for name in entry["body"]:
        rest = {key: value for key, value in entry["body"].items() if key != name}
        with pytest.raises(Refusal) as refused:
            check_entry({**entry, "body": rest})
        assert (refused.value.code, refused.value.where) == ("missing_field", f"body.{name}")
    with pytest.raises(Refusal) as refused:
        check_entry({**entry, "body": {**entry["body"], "extra": ""}})
    assert (refused.value.code, refused.value.where) == ("unknown_field", "body.extra")


anything = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False) | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=6), inner, max_size=3),
    max_leaves=6,
)


@given(kind=st.sampled_from(sorted(KINDS)), data=st.data())
def test_nonsense_in_any_field_is_either_taken_or_refused_and_never_breaks_the_check(kind, data):
    entry = {**TAKEN[kind], "body": dict(TAKEN[kind]["body"])}
    name = data.draw(st.sampled_from(sorted(entry)))
    if name == "body" and data.draw(st.booleans()):
        entry["body"][data.draw(st.sampled_from(sorted(entry["body"])))] = data.draw(anything)
    else:
        entry[name] = data.draw(anything)
    try:
        check_entry(entry)
    except Refusal as refused:
        assert refused.code and refused.where and refused.message


@pytest.mark.parametrize("what", [None, [], "entry", 7, {}])
def test_what_is_no_entry_at_all_is_refused(what):
    with pytest.raises(Refusal):
        check_entry(what)


def test_workshop_entries_and_the_outline_of_each_job_reach_every_phone():
    shared = {name for name, kind in KINDS.items() if kind.in_workshop_feed}
    assert shared == {
        "workshop_founded", "device_enrolled", "device_revoked", "engine_type_described", "entry_refused",
        "gauge_described", "limit_set", "size_set", "procedure_described", "measuring_rules_set",
        "tightening_sheet_described", "torque_tool_described", "spoken_word_set",
        "job_opened", "job_amended", "stage_reached", "log_restored", "log_difference_noted",
    }  # fmt: skip
    assert all(kind.needs_job for name, kind in KINDS.items() if name in ("photo_taken", "measured", "pack_issued"))


def test_checking_keeps_pace_with_a_full_batch():
    """A push of thousands of entries must not wait for this check: well under a tenth of a millisecond each."""
    entry = TAKEN["photo_taken"]
    best = min(_seconds_for_a_thousand(entry) for _ in range(5))
    assert best < 0.1


def _seconds_for_a_thousand(entry):
    start = time.process_time()
    for _ in range(1000):
        check_entry(entry)
    return time.process_time() - start
