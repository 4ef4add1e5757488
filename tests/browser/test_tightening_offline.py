"""Tightening at the bench without signal: sheets by taps, every departure, two hands, and the same in the office."""

from __future__ import annotations

import json

import pytest

from tests.support.bay import TECHNICIAN, Bay
from tests.support.torque import (
    MANAGER_PIN,
    ON_A,
    ON_B,
    ONE_TOUCH,
    SECOND,
    SECOND_PIN,
    TEN,
    WARM,
    WHEEL,
    as_done,
    begin,
    bodies,
    done,
    fastener,
    go_to_joint,
    put_away,
    runs_in_office,
    stands,
    take_tool,
    touch,
    type_value,
)
from tests.support.waiting import expect
from tests.support.workshop import MANAGER
from witnessmark.db import writing
from witnessmark.people import persons
from witnessmark.trade.tightening.departures import SORTS

pytestmark = pytest.mark.browser


def sign(page, person: str, pin: str, act: str) -> None:
    """A second person signs in the sheet that asks for it."""
    page.get_by_role("dialog").get_by_role("button", name=person).click()
    page.get_by_label("PIN", exact=True).fill(pin)
    page.get_by_role("button", name=act).click()


def give_reason(page, words: str, act: str = "Save the reason") -> None:
    page.get_by_label("Reason").fill(words)
    page.get_by_role("button", name=act).click()


def name_of(office, id: str) -> str:
    with writing(office.engine) as conn:
        return persons.get(conn, office.workshop.id, id).name


@pytest.mark.own_browser
def test_a_head_of_ten_in_three_stages_is_tightened_by_taps_and_resumes_exactly_after_a_kill(torque_bench: Bay):
    page = begin(torque_bench, ON_A)
    take_tool(page, "Wrench W1")
    assert stands(page) == ("Stage 1 of 3", "0 of 30")
    expect(page.locator(".run-head")).to_contain_text("oiled threads, new bolts")
    done(page, *TEN, *TEN[:3])
    expect(page.locator(".run-target")).to_contain_text("60")
    assert stands(page) == ("Stage 2 of 3", "13 of 30")

    torque_bench.kill()
    page = torque_bench.start(signal_there=False)
    expect(page.get_by_role("button", name="Done number 4", exact=True)).to_be_visible()
    assert stands(page) == ("Stage 2 of 3", "13 of 30")
    expect(fastener(page, "3")).to_have_accessible_name("fastener 3, tightened 3rd")
    expect(page.locator(".run-with")).to_contain_text("Wrench W1")
    done(page, *TEN[3:])

    # The stage that waits says what for, and asks for nothing before.
    expect(page.get_by_role("alert")).to_contain_text(WARM)
    expect(page.get_by_role("button", name="Done number")).to_have_count(0)
    page.get_by_role("button", name="That is done").click()
    expect(page.locator(".run-figure")).to_have_text("90°")
    take_tool(page, "Angle disc")
    done(page, *TEN)
    expect(page.get_by_text("Nothing is missing.")).to_be_visible()
    page.get_by_role("button", name="Close the run").click()
    expect(page.get_by_text(f"Closed by {TECHNICIAN}")).to_be_visible()

    taps = bodies(torque_bench)
    assert [(tap["stage"], tap["fastener"]) for tap in taps] == [(s, n) for s in ("snug", "main", "turn") for n in TEN]
    assert {(tap["version"], tap["given"], tap["state"]) for tap in taps} == {(3, "tap", "oiled")}
    assert [taps[0][name] for name in ("value", "unit", "method", "tool")] == ["20", "N·m", "torque", "Wrench W1"]
    assert [taps[-1][name] for name in ("value", "unit", "method", "tool")] == ["90", "°", "angle", "Angle disc"]
    assert taps[6]["place"] == "head_bolt/A/7"

    (run,) = runs_in_office(torque_bench)
    assert [as_done(stage) for stage in run["stages"]] == [TEN] * 3
    assert (run["complete"], run["missing"], run["departures"]) == (True, [], [])
    assert run["closed"] and run["bolts"] == "new" and run["joint"] == "head_bolt/A"


def test_every_kind_of_departure_is_recorded_as_it_happened_said_and_answered(torque_bench: Bay):
    page = begin(torque_bench, ON_B, bolts="used before")
    expect(page.get_by_text("The order is only a proposal")).to_be_visible()
    expect(page.locator(".run-open")).to_contain_text("tightened once before; they may be tightened once in all")
    take_tool(page, "Wrench W9")
    expect(page.locator(".run-with")).to_contain_text("outside its range, calibration overdue")
    done(page, "1")
    touch(page, "5")
    expect(page.locator(".run-open")).to_contain_text("fastener 5 was tightened when 2 was next")
    expect(fastener(page, "5")).to_have_accessible_name("fastener 5, tightened 2nd, to be answered")
    take_tool(page, "Angle disc")
    done(page, "2")
    take_tool(page, "Wrench W1")
    type_value(page, "70.5")
    expect(page.locator(".run-open")).to_contain_text("70.5 N·m, above the maximum of 63 N·m")
    type_value(page, "41")
    expect(page.locator(".run-open")).to_contain_text("41 N·m, below the minimum of 57 N·m")
    type_value(page, "6/")
    expect(page.locator(".run-open")).to_contain_text("cannot be compared")
    touch(page, "1")
    page.get_by_role("button", name="It was tightened again").click()
    expect(page.locator(".run-open")).to_contain_text("fastener 1 was tightened again")
    page.locator(".run-head").click()
    page.get_by_role("button", name="Skip bolt 7").click()
    give_reason(page, "Its thread is to be repaired first.", "Skip it")
    expect(fastener(page, "7")).to_have_accessible_name("fastener 7, skipped, answered")
    page.locator(".run-head").click()
    page.get_by_role("group", name="The threads are").get_by_role("button", name="dry").click()
    put_away(page)
    expect(page.locator(".run-head")).to_contain_text("dry threads (specified: oiled)")
    done(page, "8")
    expect(page.locator(".run-open")).to_contain_text("the thread was dry, not oiled as the sheet asks")
    done(page, "9", "10")

    # Nothing is closed before all is answered, and what is missing is said.
    expect(page.get_by_text("Nothing more is left to do.")).to_be_visible()
    expect(page.get_by_role("button", name="Close the run")).to_be_disabled()
    page.locator(".run-open").click()
    before = page.locator(".departures .is-open").count()
    for left in range(before, 0, -1):
        departure = page.locator(".departures .is-open").first
        manager = "manager’s reason" in departure.inner_text()
        departure.get_by_role("button", name="Give the reason").click()
        give_reason(page, f"Reason number {left}.", "Next: a manager signs" if manager else "Save the reason")
        if manager:
            expect(page.get_by_role("dialog").get_by_role("button", name=SECOND)).to_be_disabled()
            sign(page, MANAGER, "000000", "Sign")
            expect(page.get_by_text("Wrong PIN")).to_be_visible()
            page.get_by_label("PIN", exact=True).fill(MANAGER_PIN)
            page.get_by_role("button", name="Sign", exact=True).click()
        expect(page.locator(".departures .is-open")).to_have_count(left - 1)
    put_away(page)
    page.get_by_role("button", name="Close the run").click()
    expect(page.get_by_text(f"Closed by {TECHNICIAN}")).to_be_visible()

    (run,) = runs_in_office(torque_bench)
    # How many fasteners a tool has done in all is known to the office alone.
    assert {departure["sort"] for departure in run["departures"]} == set(SORTS) - {"overdue_count"}
    assert all(departure["answered"] for departure in run["departures"]) and run["closed"] and run["missing"] == []
    (reused,) = [departure for departure in run["departures"] if departure["sort"] == "stretch_reused"]
    assert name_of(torque_bench.office, reused["answered"]["by"]) == MANAGER
    assert as_done(run["stages"][0]) == ["1", "5", "2", "3", "4", "6", "1", "8", "9", "10"]
    assert run["stages"][0]["skipped"] == ["7"]


def test_a_stage_begun_again_asks_for_all_its_fasteners_and_settles_its_departures(torque_bench: Bay):
    page = begin(torque_bench, ON_A)
    done(page, "1")
    touch(page, "9")
    expect(page.locator(".run-open")).to_contain_text("1 to answer")
    page.locator(".run-open").click()
    page.get_by_role("button", name="Do this stage again").click()
    give_reason(page, "The order was not kept.", "Do the stage again")
    put_away(page)
    expect(page.locator(".run-open")).to_have_count(0)
    assert stands(page) == ("Stage 1 of 3", "0 of 30")
    done(page, *TEN)

    (run,) = runs_in_office(torque_bench)
    assert [as_done(stage) for stage in run["stages"]] == [TEN, [], []]
    assert [row["label"] for row in run["stages"][0]["earlier"][0]] == ["1", "9"]
    assert [departure["answered"]["how"] for departure in run["departures"]] == ["restart"]


def test_a_tap_is_taken_back_with_a_reason_and_its_record_stays(torque_bench: Bay):
    page = begin(torque_bench, ON_A)
    done(page, "1", "2")
    touch(page, "7")
    expect(page.locator(".run-open")).to_be_visible()
    page.get_by_role("button", name="Undo").click()
    page.get_by_role("button", name="Touched by mistake").click()
    expect(page.get_by_role("status").filter(has_text="withdrawn")).to_be_visible()
    expect(page.locator(".run-open")).to_have_count(0)
    expect(page.get_by_role("button", name="Done number 3", exact=True)).to_be_visible()
    done(page, "3")
    page.get_by_role("button", name="progress").click()
    expect(page.get_by_role("dialog")).to_contain_text("Withdrawn: 7.")
    put_away(page)

    (run,) = runs_in_office(torque_bench)
    assert as_done(run["stages"][0]) == ["1", "2", "3"]
    assert [(row["label"], row["stage"]) for row in run["withdrawn"]] == [("7", "snug")]
    assert [body["fastener"] for body in bodies(torque_bench)] == ["1", "2", "7", "3"]


@pytest.mark.new_phone
def test_a_second_technician_goes_on_and_another_one_witnesses_without_signing_the_first_out(torque_bench: Bay):
    page = go_to_joint(torque_bench, WHEEL)
    page.get_by_role("button", name="Tighten by").click()
    # What is not met is said before, and holds nobody up.
    expect(page.get_by_text("Not met yet.")).to_be_visible()
    expect(page.get_by_text("the right way round, with pictures")).to_be_visible()
    page.get_by_role("button", name="used before", exact=True).click()
    page.get_by_role("button", name="Begin", exact=True).click()
    done(page, "1", "4")
    page.get_by_role("button", name=f"by {TECHNICIAN}", exact=True).click()
    torque_bench.sign_in(SECOND, SECOND_PIN)
    done(page, "2", "5", "3", "6")
    expect(page.locator(".run-with")).to_contain_text(f"by {TECHNICIAN} and {SECOND}")
    page.get_by_role("button", name="progress").click()
    expect(page.get_by_role("dialog").get_by_text(f"by {TECHNICIAN}", exact=False).first).to_be_visible()
    put_away(page)
    expect(page.get_by_text("A second person must witness the run")).to_be_visible()
    expect(page.get_by_role("button", name="Close the run")).to_be_disabled()

    page.get_by_role("button", name="A second person witnesses it").click()
    for hand in (TECHNICIAN, SECOND):
        expect(page.get_by_role("dialog").get_by_role("button", name=hand)).to_be_disabled()
    sign(page, MANAGER, MANAGER_PIN, "Sign as witness")
    expect(page.get_by_text(f"Witnessed by {MANAGER}")).to_be_visible()
    expect(page.get_by_role("banner", name="Title block")).to_contain_text(SECOND)
    expect(page.get_by_role("button", name="Close the run")).to_be_disabled()

    run_address = page.url
    page.goto(f"{torque_bench.url}/bay/#/job/{torque_bench.job}/stage")
    page.get_by_role("button", name="Build").click()
    page.get_by_role("button", name="Save: build reached").click()
    page.get_by_role("checkbox", name="the right way round").click()
    expect(page.get_by_role("checkbox", name="the right way round")).to_be_checked()
    page.goto(run_address)
    page.get_by_role("button", name="Close the run").click()
    expect(page.get_by_text(f"Closed by {SECOND}")).to_be_visible()

    (run,) = runs_in_office(torque_bench)
    by = [name_of(torque_bench.office, row["by"]) for row in run["stages"][0]["done"]]
    assert by == [TECHNICIAN] * 2 + [SECOND] * 4
    assert name_of(torque_bench.office, run["witnessed"]["by"]) == MANAGER
    assert name_of(torque_bench.office, run["closed"]["by"]) == SECOND


def test_a_head_is_let_go_in_the_exact_reverse(torque_bench: Bay):
    page = begin(torque_bench, ON_A, direction="Release")
    expect(page.locator(".run-target")).to_contain_text("release")
    done(page, *reversed(TEN))
    page.get_by_role("button", name="Close the run").click()
    expect(page.get_by_text(f"Closed by {TECHNICIAN}")).to_be_visible()
    (run,) = runs_in_office(torque_bench)
    assert (run["direction"], as_done(run["stages"][0]), run["departures"]) == ("loosen", TEN[::-1], [])


def test_several_runs_are_open_at_once_and_each_goes_on_where_it_stood(torque_bench: Bay):
    page = begin(torque_bench, ON_A)
    done(page, "1", "2")
    page = begin(torque_bench, WHEEL, bolts="used before")
    done(page, "1")
    go_to_joint(torque_bench, ON_A)
    open_runs = page.locator("main .procedures").first.get_by_role("button")
    expect(open_runs).to_have_count(2)
    expect(open_runs.nth(0)).to_contain_text("stage 1 of 1, number 4 next")
    open_runs.nth(1).click()
    done(page, "3")
    assert stands(page) == ("Stage 1 of 3", "3 of 30")
    # Who begins on the same joint is led back to what is open there.
    go_to_joint(torque_bench, ON_A)
    page.get_by_role("list", name=f"Tightening sheets of {ON_A}").get_by_role("button", name="Tighten").click()
    page.get_by_role("button", name="Continue: stage 1 of 3, number 4 next").click()
    expect(page.get_by_role("button", name="Done number 4", exact=True)).to_be_visible()


@pytest.mark.own_browser
def test_half_typed_digits_survive_a_kill_and_are_of_their_own_fastener(torque_bench: Bay):
    page = begin(torque_bench, ON_A)
    done(page, "1")
    page.get_by_role("button", name="Type a value").click()
    page.get_by_label("Value of number 2").fill("19.")
    torque_bench.eventually(lambda: any('"19."' in json.dumps(row) for row in torque_bench.rows("drafts")))
    torque_bench.kill()
    page = torque_bench.start(signal_there=False)
    expect(page.get_by_label("Value of number 2")).to_have_value("19.")
    page.get_by_label("Value of number 2").fill("19.5")
    page.get_by_role("button", name="Save 19.5").click()
    expect(page.get_by_role("button", name="Done number 3", exact=True)).to_be_visible()
    assert [(body["value"], body["given"]) for body in bodies(torque_bench)] == [("20", "tap"), ("19.5", "typed")]
    assert torque_bench.rows("drafts") == []


def test_two_touches_of_a_heavy_glove_are_one(torque_bench: Bay):
    page = begin(torque_bench, ON_A)
    page.wait_for_timeout(ONE_TOUCH)
    page.get_by_role("button", name="Done number 1", exact=True).dblclick()
    expect(page.get_by_role("button", name="Done number 2", exact=True)).to_be_visible()
    page.wait_for_timeout(ONE_TOUCH)
    assert [body["fastener"] for body in bodies(torque_bench)] == ["1"]


def test_an_extension_in_line_gives_the_value_to_set_and_it_is_kept(torque_bench: Bay):
    page = begin(torque_bench, ON_A)
    take_tool(page, "Wrench W1")
    page.locator(".run-with").get_by_role("button").first.click()
    page.get_by_text("Crow-foot or extension").click()
    page.get_by_label("Wrench L").fill("400")
    page.get_by_label("Extension E").fill("100")
    expect(page.get_by_role("dialog")).to_contain_text("Set the wrench to 16 N·m")
    put_away(page)
    expect(page.locator(".run-set")).to_contain_text("16 N·m")
    done(page, "1")
    assert bodies(torque_bench)[0]["set_value"] == "16 N·m"
    page.locator(".run-with").get_by_role("button").first.click()
    page.get_by_role("button", name="No extension").click()
    put_away(page)
    expect(page.locator(".run-set")).to_have_count(0)


def test_one_bolt_by_itself_belongs_to_no_run(torque_bench: Bay):
    page = go_to_joint(torque_bench, ON_A)
    page.get_by_role("button", name="One bolt").click()
    page.get_by_label("Value", exact=True).fill("58.9")
    page.get_by_role("button", name="Save, next bolt").click()
    expect(page.get_by_text("Saved: head bolt 1, 58.9 N·m.")).to_be_visible()
    (body,) = bodies(torque_bench)
    assert (body["version"], body["run"], body["given"], body["value"]) == (3, "", "typed", "58.9")
