"""What a run of a tightening sheet says of itself: guided, as it happened, what is missing."""

import copy
import json
from pathlib import Path

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from tests.support.cases import all_cases
from tests.unit.trade.tightening import stories
from tests.unit.trade.tightening.stories import ANN, BEN, CLICK, GAUGE, MANAGER, OLD, Story, let_go, sheet, stage
from witnessmark.trade.tightening.run import Run, fold

VECTORS = json.loads((Path(__file__).parents[3] / "vectors" / "tightening.json").read_text())
TOOLS = stories.register(
    stories.tool(),
    stories.tool(GAUGE, "angle_gauge", "°", "0", "360", name="Gauge G1"),
    stories.tool(OLD, "dial", low="0", high="200", due="2026-03-31", name="Wrench W9"),
)


def departures(story, made=None, **facts):
    return [
        (departure["key"], departure["words"])
        for departure in fold(made or sheet(), story.entries, TOOLS, facts)["departures"]
    ]


@all_cases("case", VECTORS["cases"], ids=lambda case: case["name"])
def test_a_run_as_both_sides_tell_it(case):
    assert fold(case["sheet"], case["entries"], VECTORS["tools"], case["facts"]) == case["state"]


def test_the_next_fastener_is_lit_until_all_is_done():
    story, made = Story(), sheet()
    lit = []
    for code, method in (("snug", "torque"), ("turn", "angle")):
        for label in "1234":
            state = fold(made, story.entries)
            lit.append((state["stage"], state["next"], state["complete"], state["may_close"]))
            story.tap(code, label, method=method)
    assert lit == [(n, label, False, False) for n in (0, 1) for label in "1234"]
    state = fold(made, story.entries)
    assert (state["stage"], state["next"], state["complete"], state["departures"]) == (None, None, True, [])
    assert (state["may_close"], state["missing"], state["people"]) == (True, [], [ANN])
    assert [stage["words"] for stage in state["pace"]] == ["4 fasteners in 9 seconds.", "4 fasteners in 9 seconds."]
    assert [(done["value"], done["unit"], done["position"]) for done in state["stages"][0]["done"]][:2] == [
        ("20", "N·m", 1), ("20", "N·m", 2),
    ]  # fmt: skip
    story.close()
    closed = fold(made, story.entries)
    assert (closed["closed"]["by"], closed["may_close"], closed["departures"]) == (ANN, False, [])


def test_out_of_order_and_back():
    story = Story().taps("snug", "132")
    assert departures(story) == [("snug/3/out_of_order/1", "Snug: fastener 3 was tightened when 2 was next.")]
    state = fold(sheet(), story.entries)
    assert state["next"] == "4"
    assert [(done["label"], done["position"], done["asked"]) for done in state["stages"][0]["done"]] == [
        ("1", 1, 1), ("3", 2, 3), ("2", 3, 2),
    ]  # fmt: skip


def test_left_out_is_seen_when_the_stage_is_left():
    story = Story().taps("snug", "124")
    assert [key for key, _ in departures(story)] == ["snug/4/out_of_order/1"]
    story.tap("turn", "1", method="angle")
    assert departures(story)[1:] == [("snug/3/skipped/1", "Snug: fastener 3 was skipped when Turn began.")]
    state = fold(sheet(), story.entries)
    assert (state["stage"], state["next"], state["stages"][0]["skipped"]) == (1, "2", ["3"])
    # Done after all: it stays known that it was late, and nothing more is asked for.
    story.tap("snug", "3")
    state = fold(sheet(), story.entries)
    assert state["stages"][0]["missing"] == [] and len(state["departures"]) == 2


def test_left_out_is_seen_when_the_sheet_is_closed():
    story = Story().taps("snug", "1234").taps("turn", "123", method="angle")
    assert fold(sheet(), story.entries)["missing"] == ["Turn: fastener 4 is still to be turned."]
    story.close()
    assert departures(story) == [("turn/4/skipped/1", "Turn: fastener 4 was skipped when the run was closed.")]
    state = fold(sheet(), story.entries)
    assert not state["complete"] and state["closed"] and state["next"] is None
    assert state["missing"] == [
        "Turn: fastener 4 was skipped when the run was closed. It needs a reason or a restart of the stage."
    ]


def test_a_fastener_that_cannot_be_done_is_left_out_with_a_reason_beforehand():
    story = Story().taps("snug", "12")
    story.answer("snug/3/skipped/1", "Stud broken, to be drilled out.")
    story.tap("snug", "4")
    story.answer("turn/3/skipped/1", "As before.")
    story.taps("turn", "124", method="angle")
    state = fold(sheet(), story.entries)
    assert [departure["key"] for departure in state["departures"]] == ["snug/3/skipped/1", "turn/3/skipped/1"]
    assert [departure["answered"]["reason"] for departure in state["departures"]] == [
        "Stud broken, to be drilled out.", "As before.",
    ]  # fmt: skip
    assert (state["complete"], state["may_close"], state["missing"]) == (False, True, [])


def test_repeated():
    story = Story().taps("snug", "122")
    assert departures(story) == [("snug/2/repeated/1", "Snug: fastener 2 was tightened again.")]
    assert [done["again"] for done in fold(sheet(), story.entries)["stages"][0]["done"]] == [False, False, True]


@all_cases(
    ("value", "unit", "sort", "words"),
    [
        ("22", "N·m", "", ""),
        ("22.000000001", "N·m", "over", "tightened to 22.000000001 N·m, above the maximum of 22 N·m."),
        ("23,5", "N·m", "over", "tightened to 23,5 N·m, above the maximum of 22 N·m."),
        ("17.9", "N·m", "under", "tightened to 17.9 N·m, below the minimum of 18 N·m."),
        ("15", "lbf·ft", "", ""),  # 20.337 N·m
        ("2.2", "kgf·m", "", ""),  # 21.575 N·m
        ("2.3", "kgf·m", "over", "tightened to 2.3 kgf·m (22.555295 N·m), above the maximum of 22 N·m."),
        ("20", "", "other_unit", "recorded as 20, which cannot be compared with 20 N·m."),
        ("20", "bar", "other_unit", "recorded as 20 bar, which cannot be compared with 20 N·m."),
        ("", "N·m", "other_unit", "recorded without a value, so it cannot be compared with 20 N·m."),
        ("17 Nm", "", "under", "tightened to 17 Nm, below the minimum of 18 N·m."),
        ("17 Nm", "N·m", "under", "tightened to 17 Nm, below the minimum of 18 N·m."),
        ("tight", "", "other_unit", "recorded as tight, which cannot be compared with 20 N·m."),
    ],
)
def test_a_typed_value_is_held_against_the_target(value, unit, sort, words):
    story = Story()
    story.typed("snug", "1", value, unit)
    wanted = [(f"snug/1/{sort}/1", f"Snug: fastener 1 was {words}")] if sort else []
    assert departures(story) == wanted


def test_a_tap_counts_as_the_target_whatever_stands_in_it():
    story = Story()
    story.tap("snug", "1", value="99", unit="N·m")
    assert departures(story) == []
    assert fold(sheet(), story.entries)["stages"][0]["done"][0]["value"] == "20"


def test_wrong_overdue_and_out_of_range_are_said_once_for_a_tool_in_a_stage():
    story = Story().taps("snug", "12", tool_id=GAUGE).taps("snug", "34", tool_id=OLD)
    story.taps("turn", "1234", method="angle", tool_id=CLICK)
    assert departures(story) == [
        ("snug//wrong_tool/1", "Snug: Gauge G1 is an angle gauge, which does not measure torque."),
        ("snug//overdue_tool/1", "Snug: the calibration of Wrench W9 was due on 2026-03-31."),
        ("turn//wrong_tool/1", "Turn: Wrench W1 is a click wrench, which does not measure an angle."),
    ]
    small = sheet(stage(target="15"))
    assert departures(Story().taps("snug", "1234", tool_id=CLICK), small) == [
        ("snug//out_of_range/1",
         "Snug: 15 N·m is outside the working range of Wrench W1, 20 to 100 N·m, which is 20 to 100 % of its range."),
    ]  # fmt: skip
    assert departures(Story().taps("snug", "1234", tool_id=OLD), small) == [
        ("snug//overdue_tool/1", "Snug: the calibration of Wrench W9 was due on 2026-03-31."),
    ]


def test_what_the_tool_was_set_to_is_what_must_lie_in_its_range():
    far = sheet(stage(target="110"))
    story = Story().taps("snug", "12", tool_id=CLICK, set_value="97.8 N·m")
    assert departures(story, far) == []
    story.taps("snug", "3", tool_id=CLICK)
    assert [key for key, _ in departures(story, far)] == ["snug//out_of_range/1"]


def test_another_method_than_asked_for():
    story = Story()
    story.tap("snug", "1", method="feel")
    assert departures(story) == [
        ("snug/1/wrong_tool/1", "Snug: fastener 1 was done by feel, not by torque as the stage asks.")
    ]


@pytest.mark.parametrize(
    ("begun", "most", "words"),
    [
        ({"bolts": "new"}, 1, ""),
        ({"bolts": "used", "use": 1}, 1, "tightened once before; they may be tightened once in all."),
        ({"bolts": "used", "use": 0}, 1, "tightened once before; they may be tightened once in all."),
        ({"bolts": "used", "use": 1}, 2, ""),
        ({"bolts": "used", "use": 3}, 3, "tightened 3 times before; they may be tightened 3 times in all."),
        ({"bolts": "used", "use": 9}, 0, ""),
        ({"bolts": "used", "use": 1, "direction": "loosen"}, 1, ""),
    ],
)
def test_stretch_bolts_used_too_often(begun, most, words):
    named = departures(Story(**begun), sheet(bolt="stretch", uses_most=most))
    assert named == ([("//stretch_reused/1", f"These stretch bolts were {words}")] if words else [])
    assert departures(Story(**begun), sheet(bolt="reusable", uses_most=most)) == []


def test_a_stretch_bolt_used_too_often_needs_a_manager_and_no_restart_settles_it():
    made = sheet(stage(), bolt="stretch", uses_most=1)
    story = Story(bolts="unknown").taps("snug", "1234")
    story.restart("snug")
    story.taps("snug", "1234").answer("//stretch_reused/1", "I say so.", by=BEN)
    words = "It is not known how often these stretch bolts were tightened before; they may be tightened once in all."
    state = fold(made, story.entries, TOOLS, {"managers": [MANAGER]})
    assert state["missing"] == [f"{words} It needs a manager's reason."] and not state["may_close"]
    story.answer("//stretch_reused/1", "Length measured, below the limit.", by=MANAGER)
    state = fold(made, story.entries, TOOLS, {"managers": [MANAGER]})
    assert state["may_close"] and state["departures"][0]["answered"]["by"] == MANAGER


def test_an_order_that_is_only_proposed_is_said_once_a_stage():
    made = sheet(stage(proposed=True))
    story = Story().taps("snug", "12")
    story.restart("snug")
    story.taps("snug", "1234")
    words = "Snug: its order is only a proposal and has not been confirmed."
    assert departures(story, made) == [("snug//order_proposed/1", words)]
    assert fold(made, story.entries)["missing"] == [f"{words} It needs a reason."]


def test_a_restart_settles_its_stage_and_asks_everything_again_from_there_on():
    story = Story().taps("snug", "13")
    story.tap("turn", "1", method="angle")
    before = fold(sheet(), story.entries)
    assert len(before["departures"]) == 3 and before["stage"] == 1
    entry = story.restart("snug", "Lost count.", by=BEN)
    state = fold(sheet(), story.entries)
    assert (state["stage"], state["next"], state["stages"][0]["restarted"]) == (0, "1", 1)
    assert [row["key"] for row in state["departures"]] == [departure["key"] for departure in before["departures"]]
    settled = {"reason": "Lost count.", "by": BEN, "entry": entry["id"], "how": "restart"}
    assert [departure["answered"] for departure in state["departures"]] == [settled] * 3
    assert [len(stage["earlier"]) for stage in state["stages"]] == [1, 1]
    story.taps("snug", "1234").taps("turn", "1234", method="angle")
    assert fold(sheet(), story.entries)["may_close"]


def test_a_reason_given_before_its_departure_answers_nothing():
    story = Story()
    story.answer("snug/2/repeated/1")
    story.taps("snug", "122")
    assert fold(sheet(), story.entries)["departures"][0]["answered"] is None
    story.answer("snug/2/repeated/1", "Checked once more.")
    story.answer("snug/2/repeated/1", "Slipped off the head.")
    assert fold(sheet(), story.entries)["departures"][0]["answered"]["reason"] == "Slipped off the head."


def test_a_second_person_witnesses_after_the_last_fastener():
    made = sheet(stage(), two_people=True)
    story = Story().taps("snug", "123")
    story.witness(BEN)
    story.tap("snug", "4")
    second = "A second person must witness the run after the last fastener."
    assert fold(made, story.entries)["missing"] == [second]
    story.witness(ANN)
    assert fold(made, story.entries)["missing"] == [
        "It was witnessed by somebody who tightened; a second person must witness it."
    ]
    story.witness(BEN)
    assert fold(made, story.entries)["may_close"]


def test_another_person_goes_on_and_the_record_shows_who_did_which():
    story = Story().taps("snug", "12").taps("snug", "34", by=BEN)
    state = fold(sheet(), story.entries)
    assert [done["by"] for done in state["stages"][0]["done"]] == [ANN, ANN, BEN, BEN]
    assert state["people"] == [ANN, BEN]


def test_letting_go_waits_on_nothing_and_needs_nobody_beside():
    story = Story(direction="loosen").taps("release", "4321", method="release")
    state = fold(sheet(two_people=True), story.entries, facts={"holds": ["Bores: not measured yet."]})
    assert state["may_close"] and state["missing"] == []


def test_loosening_is_the_exact_reverse_and_any_value_will_do():
    story = Story(direction="loosen").taps("release", "4321", method="release")
    state = fold(sheet(), story.entries)
    assert state["stages"][0]["order"] == list("4321")
    assert (state["departures"], state["complete"], state["may_close"]) == ([], True, True)
    made = sheet(let_go(order="31"), let_go("out", order="13"))
    story = Story(direction="loosen")
    story.typed("slack", "3", "155", method="release")
    story.typed("slack", "1", "seized", "", method="release")
    state = fold(made, story.entries)
    assert (state["departures"], state["stage"], state["next"]) == ([], 1, "1")


def test_what_the_sheet_has_not_is_kept_and_said():
    story = Story()
    story.tap("snug", "9")
    story.tap("", "1")
    assert departures(story) == [
        ("snug/9/out_of_order/1", "Snug: fastener 9 is not in the order."),
        ("/1/out_of_order/1",
         "Fastener 1 was recorded for a stage without a code, which is not on the sheet."),
    ]  # fmt: skip
    assert [stray["label"] for stray in fold(sheet(), story.entries)["strays"]] == ["9", "1"]
    story.tap("x" * 20, "the long one beside the dipstick " * 2)
    assert all(len(key) <= 80 for key, _ in departures(story)), "an answer can name it"


def test_other_runs_and_conditions_not_met():
    story = Story().taps("snug", "1234")
    other = Story(run=stories.OTHER_RUN).taps("snug", "4321")
    made, unmet = sheet(stage()), ["Crank journals, clearance: main bearing 2 has no reading."]
    state = fold(made, [*story.entries, *other.entries], TOOLS, {"holds": unmet})
    assert (state["run"], state["departures"], state["missing"]) == (story.run, [], unmet)


def test_pace_is_told_as_a_fact():
    quick = Story(step_ms=300).taps("snug", "1234")
    assert fold(sheet(), quick.entries)["pace"] == [
        {"stage": "snug", "fasteners": 4, "seconds": 0, "words": "4 fasteners in 0 seconds."}
    ]
    slow = Story(step_ms=90_000).taps("snug", "12")
    assert fold(sheet(), slow.entries)["pace"][0]["words"] == "2 fasteners in 1 minute 30 seconds."
    back = Story(step_ms=-1000)
    back.ms = 60_000
    back.taps("snug", "12")
    assert fold(sheet(), back.entries)["pace"][0]["words"] == (
        "2 fasteners; the clock went back between the first and the last."
    )


# What anybody may do, in any order. Labels and stages that the sheet has not are among it.
STEPS = st.lists(
    st.one_of(
        st.tuples(st.just("tap"), st.sampled_from(["snug", "turn", "x"]), st.sampled_from("12349")),
        st.tuples(st.just("typed"), st.sampled_from(["snug", "turn"]), st.sampled_from("1234")),
        st.tuples(st.just("restart"), st.sampled_from(["snug", "turn"])),
        st.tuples(st.just("answer"), st.sampled_from(["snug/2/skipped/1", "snug/1/repeated/1", "turn//wrong_tool/1"])),
        st.tuples(st.just("witness")),
        st.tuples(st.just("close")),
    ),
    max_size=25,
)


def story_of(steps):
    story = Story()
    for what, *more in steps:
        extra = {"value": "25", "tool_id": OLD} if what == "typed" else {}
        getattr(story, what)(*more, **extra)
    return story


@given(STEPS, st.data())
def test_a_fold_is_the_same_wherever_batches_end(steps, data):
    entries, made = story_of(steps).entries, sheet(two_people=True)
    run = Run(made, entries[0]["body"]["run"], entries[0], TOOLS, {})
    at = 0
    while at < len(entries):
        end = data.draw(st.integers(at + 1, len(entries)))
        for entry in entries[at:end]:
            run.take(entry)
        assert run.state() | {"withdrawn": []} == fold(made, entries[:end], TOOLS)
        at = end


@given(STEPS, st.data())
def test_a_withdrawn_entry_is_as_if_it_had_never_been(steps, data):
    entries, made = story_of(steps).entries, sheet()
    assume(len(entries) > 1)
    given_back = data.draw(st.integers(1, len(entries) - 1))
    marked = copy.deepcopy(entries)
    marked[given_back]["withdrawn"] = True
    without = entries[:given_back] + entries[given_back + 1 :]
    state = fold(made, marked, TOOLS)
    assert [row["entry"] for row in state["withdrawn"]] == [entries[given_back]["id"]]
    assert state | {"withdrawn": []} == fold(made, without, TOOLS)


@given(STEPS)
def test_keys_are_stable_and_never_double(steps):
    entries, made = story_of(steps).entries, sheet()
    keys = []
    for end in range(len(entries) + 1):
        now = [departure["key"] for departure in fold(made, entries[:end], TOOLS)["departures"]]
        assert now[: len(keys)] == keys
        keys = now
    assert len(set(keys)) == len(keys) and all(len(key) <= 80 for key in keys)


@given(st.permutations("123456789"), st.data())
def test_an_order_followed_exactly_departs_nowhere_and_one_swap_only_from_the_order(order, data):
    made = sheet(stage(order=order))
    assert fold(made, Story().taps("snug", order).entries)["departures"] == []
    first = data.draw(st.integers(0, 7))
    other = data.draw(st.integers(first + 1, 8))
    swapped = list(order)
    swapped[first], swapped[other] = swapped[other], swapped[first]
    state = fold(made, Story().taps("snug", swapped).entries)
    assert {departure["sort"] for departure in state["departures"]} == {"out_of_order"}
    # Each one that was done while an earlier one was still waiting: all from the swap to the place before it.
    assert [departure["label"] for departure in state["departures"]] == swapped[first:other]
    assert state["complete"]


def test_a_re_torque_after_warm_up_goes_its_way():
    made = sheet(stage(), stage("again", target="60", after="warm-up and cooling"))
    state = fold(made, Story().taps("snug", "1234").taps("again", "1234").entries)
    assert state["may_close"] and state["stages"][1]["after"] == "warm-up and cooling"
