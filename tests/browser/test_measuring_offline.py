"""Measuring at the bench without signal: grids, repeats, corrections, verdicts, and the same figures in the office."""

from __future__ import annotations

import json

import pytest

from tests.support.bay import Bay, desk
from tests.support.measuring import (
    GRID,
    NUMBERS,
    a_gauge,
    a_limit,
    figures_shown,
    go_to,
    keep,
    lit,
    open_grid,
    press,
    say,
    verdicts_shown,
)
from tests.support.waiting import expect

pytestmark = pytest.mark.browser

GOOD, OLD, SHORT = (
    a_gauge("bore gauge 4"),
    a_gauge("bore gauge 2", due="2026-02-11"),
    a_gauge("small bore gauge", low="10", high="18"),
)
PRESSURE = a_gauge(
    "compression gauge 1", sort="compression_gauge", unit="bar", low="0", high="25", resolution="0.1", mpe="0.2"
)

# Invented bores of 89 mm: 3 is worn across the thrust, 5 stands at the edge of its limit.
VALUES = {
    1: ["89.008", "89.010", "89.009", "89.007", "89.006", "89.006"],
    2: ["89.009", "89.011", "89.010", "89.010", "89.007", "89.006"],
    3: ["89.012", "89.024", "89.037", "89.019", "89.022", "89.014"],
    4: ["89.007", "89.008", "89.009", "89.008", "89.006", "89.007"],
    5: ["89.019", "89.016", "89.019", "89.017", "89.016", "89.016"],
    6: ["89.006", "89.009", "89.008", "89.009", "89.006", "89.008"],
}


@pytest.fixture(scope="module")
def registers(workshop):
    """What the office has said of gauges and limits."""
    limits = [a_limit("largest", "", "89.020"), a_limit("ovality", "", "0.013"), a_limit("taper", "", "0.020")]
    say(
        workshop,
        *(("gauge_described", "gauge", gauge) for gauge in (GOOD, OLD, SHORT, PRESSURE)),
        *(("limit_set", "limit", limit) for limit in limits),
    )
    return workshop


@pytest.fixture
def bench(registers, bay: Bay) -> Bay:
    """A phone that knows the workshop's statements and has lost its signal, with a job open on the V6."""
    wanted = {"gauge_described": 4, "limit_set": 3}
    bay.eventually(lambda: all(len(bay.rows("entries", kind=kind)) >= n for kind, n in wanted.items()), 30)
    bay.signal(there=False)
    bay.job = bay.open_job(f"26-{next(NUMBERS)}")
    return bay


def take_gauge(bay: Bay, name: str) -> None:
    bay.page.get_by_role("button", name="gauge").first.click()
    bay.page.get_by_role("dialog").get_by_role("button", name=name).click()


def measured(bay: Bay) -> list[dict]:
    """The readings on this phone in the order in which they were taken, each with its place."""
    entries = sorted(
        (row["entry"] for row in bay.rows("entries", kind="measured")), key=lambda entry: entry["sequence"]
    )
    return [entry["body"] | {"place": entry["location"]["place"]} for entry in entries]


def test_all_six_bores_are_measured_without_leaving_the_screen_and_the_office_says_the_same(bench: Bay):
    page = open_grid(bench, bench.job, "cylinder_bore", "bore 1")
    take_gauge(bench, "bore gauge 4")
    for number, values in VALUES.items():
        for words, value in zip(GRID, values, strict=True):
            assert lit(page).startswith(f"{words.capitalize()}, bore {number}")
            keep(page, value)
    expect(page.get_by_text("All readings taken", exact=True)).to_be_visible()

    stand = {number: verdicts_shown(bench, f"bore {number}") for number in VALUES}
    assert stand[1]["largest diameter"] == "within limits"
    assert stand[3]["largest diameter"] == "outside limits"
    assert stand[5]["largest diameter"] == "not proven"
    go_to(bench, "bore 3")
    says = page.locator(".grid-says")
    expect(says.locator(".verdict-tag")).to_have_text("outside limits")
    expect(says).to_contain_text("0.017 mm over")
    shown = {number: figures_shown(bench, f"bore {number}") for number in VALUES}

    bench.signal(there=True)
    bench.until_all_sent()
    answer = desk(bench.office).get(f"/api/jobs/{bench.job}/figures")
    assert answer.status_code == 200, answer.get_json()
    (sheet,) = [sheet for sheet in answer.get_json()["sheets"] if sheet["procedure"] == "cylinder_bore"]
    for place in sheet["places"]:
        number = int(place["place"].split("/")[1])
        assert shown[number] == {
            figure["words"]: "" if figure["value"] is None else f"{figure['value']} {figure['unit']}".strip()
            for figure in place["figures"]
        }
        standings = {
            figure["words"]: [judgement["standing"] for judgement in figure["now"]] for figure in place["figures"]
        }
        for words, tag in stand[number].items():
            assert tag in ("", "no limit set") or tag.removesuffix(" limits") in standings[words]


@pytest.mark.own_browser
def test_a_killed_page_loses_no_digit_and_a_half_done_grid_goes_on_where_it_stopped(bench: Bay):
    page = open_grid(bench, bench.job, "cylinder_bore", "bore 2")
    keep(page, "89.009")
    keep(page, "89.011")
    press(page, "89.01")
    bench.eventually(lambda: any("89.01" in json.dumps(row) for row in bench.rows("drafts")))
    bench.kill()
    page = bench.start(signal_there=False)
    expect(page.locator("#grid-value")).to_have_value("89.01")
    assert lit(page).startswith("Middle, thrust, bore 2")
    press(page, "0")
    page.get_by_role("button", name="Save, next").click()
    expect(page.get_by_role("button", name="middle, thrust, 89.010 mm")).to_be_visible()

    bench.kill()
    page = bench.start(signal_there=False)
    expect(page.get_by_role("button", name="middle, axial, not read yet, next")).to_be_visible()
    assert [row["entry"]["body"]["value"] for row in bench.rows("entries", kind="measured")] == [
        "89.009",
        "89.011",
        "89.010",
    ]


def test_a_reading_far_from_its_neighbours_asks_once_and_forces_nothing(bench: Bay):
    page = open_grid(bench, bench.job, "cylinder_bore", "bore 1")
    for value in ("89.008", "89.010", "89.009"):
        keep(page, value)
    press(page, "89.107")
    page.get_by_role("button", name="Save, next").click()
    expect(page.get_by_role("alert")).to_contain_text(
        "89.107 mm is 0.097 mm from its nearest neighbour, 89.010 mm. Is it right?"
    )
    assert len(bench.rows("entries", kind="measured")) == 3
    page.get_by_role("button", name="Save as it is").click()
    expect(page.get_by_role("status").filter(has_text="Saved.")).to_contain_text("89.107")
    assert len(bench.rows("entries", kind="measured")) == 4

    # Typed anew after the question, it is not asked a second time.
    press(page, "98.206")
    page.get_by_role("button", name="Save, next").click()
    page.get_by_role("button", name="Type it again").click()
    expect(page.locator("#grid-value")).to_have_value("")
    press(page, "98.306")
    page.get_by_role("button", name="Save as it is").click()
    expect(page.get_by_role("status").filter(has_text="Saved.")).to_contain_text("98.306")


def test_a_repeat_is_one_touch_and_the_cell_says_how_many_there_are(bench: Bay):
    page = open_grid(bench, bench.job, "cylinder_bore", "bore 1")
    keep(page, "89.008")
    page.get_by_role("button", name="Again", exact=True).click()
    assert lit(page) == "Top, thrust, bore 1, reading 2 here"
    keep(page, "89.010")
    expect(page.get_by_role("button", name="top, thrust, 89.0090 mm, mean of 2").or_(
        page.get_by_role("button", name="top, thrust, 89.009 mm, mean of 2"))).to_be_visible()  # fmt: skip
    assert lit(page).startswith("Top, axial, bore 1")
    assert [body["reading"] for body in measured(bench)] == ["top/thrust", "top/thrust"]


@pytest.mark.new_phone
def test_the_order_can_be_changed_and_any_cell_can_be_next(bench: Bay):
    page = open_grid(bench, bench.job, "cylinder_bore", "bore 1")
    page.get_by_role("button", name="as found").click()
    page.get_by_role("button", name="one reading over all places").click()
    page.get_by_role("button", name="Done").click()
    keep(page, "89.008")
    assert lit(page).startswith("Top, thrust, bore 2")
    go_to(bench, "bore 4")
    page.get_by_role("button", name="bottom, axial, not read yet").click()
    keep(page, "89.007")
    bodies = [
        (row["entry"]["location"]["place"], row["entry"]["body"]["reading"])
        for row in bench.rows("entries", kind="measured")
    ]
    assert bodies == [("bore/1", "top/thrust"), ("bore/4", "bottom/axial")]


@pytest.mark.new_phone
def test_gauges_that_reach_come_first_and_an_overdue_one_is_carried_by_its_figures(bench: Bay):
    page = open_grid(bench, bench.job, "cylinder_bore", "bore 6")
    keep(page, "89.006")
    page.get_by_role("button", name="gauge").first.click()
    offered = page.get_by_role("dialog").locator(".gauges").first.get_by_role("button").all_inner_texts()
    assert [text.split("\n")[0] for text in offered] == ["bore gauge 4", "bore gauge 2"]
    page.get_by_role("dialog").get_by_role("button", name="bore gauge 2").click()
    expect(page.get_by_text("calibration was due 11 Feb")).to_be_visible()
    keep(page, "89.009")
    bench.to_bench(bench.job)
    open_grid(bench, bench.job, "cylinder_bore")
    expect(page.get_by_role("button", name="calibration was due 11 Feb bore gauge 2")).to_be_visible()
    expect(page.get_by_text("1 of these readings")).to_be_attached()
    body = measured(bench)[-1]
    assert (body["gauge"], body["gauge_id"]) == ("bore gauge 2", OLD["id"])
    assert body["basis"], "the statements it is judged by are named"


def test_what_cannot_be_read_is_refused_in_place_and_nothing_is_lost(bench: Bay):
    page = open_grid(bench, bench.job, "cylinder_bore", "bore 1")
    press(page, "89.0.08")
    page.get_by_role("button", name="Save, next").click()
    expect(page.get_by_role("status").filter(has_text="'89.0.08' is not a number")).to_be_visible()
    expect(page.locator("#grid-value")).to_have_value("89.0.08")
    page.locator("#grid-value").fill("89.008 bar")
    page.get_by_role("button", name="Save, next").click()
    expect(page.get_by_role("status").filter(has_text="not measured in bar")).to_be_visible()
    assert bench.rows("entries", kind="measured") == []


def test_inches_thou_and_commas_stay_as_they_were_typed(bench: Bay):
    page = open_grid(bench, bench.job, "cylinder_bore", "bore 1")
    for typed in ("3.5040 in", "89,002"):
        page.locator("#grid-value").fill(typed)
        page.get_by_role("button", name="Save, next").click()
        expect(page.locator("#grid-value")).to_have_value("")
    open_grid(bench, bench.job, "ring_gap")
    bench.page.get_by_role("button", name="unit mm, change").click()
    bench.page.get_by_role("dialog").get_by_role("button", name="thou").click()
    press(page, "13 1/2")
    page.get_by_role("button", name="Save, next").click()
    expect(page.get_by_role("status").filter(has_text="Saved.")).to_be_visible()
    kept = [
        (row["entry"]["body"]["value"], row["entry"]["body"]["unit"]) for row in bench.rows("entries", kind="measured")
    ]
    assert kept[0] == ("3.5040", "in")
    assert kept[1] == ("89,002", "mm"), "a unit typed with one value is of that value alone"
    assert kept[-1] == ("13 1/2", "thou")


def test_a_kept_reading_is_corrected_or_withdrawn_from_its_cell_with_a_reason(bench: Bay):
    page = open_grid(bench, bench.job, "cylinder_bore", "bore 1")
    keep(page, "89.080")
    page.get_by_role("button", name="top, thrust, 89.080 mm").click()
    page.get_by_role("button", name="Correct").click()
    page.get_by_label("Value").fill("89.o08")
    page.get_by_label("Reason").fill("digits turned")
    page.get_by_role("button", name="Save the correction").click()
    expect(
        page.get_by_role("status").filter(has_text="not a number").or_(page.get_by_text("cannot be read"))
    ).to_be_visible()
    page.get_by_label("Value").fill("89.008")
    page.get_by_role("button", name="Save the correction").click()
    expect(page.get_by_role("button", name="top, thrust, 89.008 mm")).to_be_visible()
    page.get_by_role("button", name="top, thrust, 89.008 mm").click()
    page.get_by_role("button", name="Withdraw").click()
    page.get_by_label("Reason").fill("wrong bore")
    page.get_by_role("dialog").get_by_role("button", name="Withdraw", exact=True).click()
    expect(page.get_by_role("button", name="top, thrust, not read yet")).to_be_visible()


def test_what_another_sheet_has_to_lend_is_shown_as_such_and_gives_way_to_a_reading_of_ones_own(bench: Bay):
    page = open_grid(bench, bench.job, "crankpin", "crankpin 1")
    for value in ("48.012", "48.010", "48.011", "48.009"):
        keep(page, value)
    open_grid(bench, bench.job, "rod_clearance", "big-end bearing 1")
    lent = page.get_by_role(
        "button", name="largest diameter of the crankpin, 48.012 mm, carried over from another measurement sheet"
    )
    expect(lent).to_be_visible()
    assert lit(page).startswith("Bore with shells fitted, vertical")
    keep(page, "48.062")
    assert figures_shown(bench, "big-end bearing 1")["oil clearance"] == "0.050 mm"
    lent.click()
    expect(page.get_by_role("dialog")).to_contain_text("Carried over from Crankpin, crankpin 1")
    page.get_by_role("button", name="Take a reading here").click()
    keep(page, "48.022")
    assert figures_shown(bench, "big-end bearing 1")["oil clearance"] == "0.040 mm"


def test_how_sure_a_figure_is_can_be_read_on_the_phone(bench: Bay):
    page = open_grid(bench, bench.job, "cylinder_bore", "bore 5")
    take_gauge(bench, "bore gauge 4")
    for value in VALUES[5]:
        keep(page, value)
    go_to(bench, "bore 5")
    page.locator(".grid-says").click()
    sheet = page.get_by_role("dialog")
    expect(sheet.get_by_text("not proven")).to_be_visible()
    expect(sheet.get_by_role("heading", name="Measurement uncertainty")).to_be_visible()
    expect(sheet.get_by_role("table")).to_contain_text("bore gauge 4")
    expect(sheet.locator(".verdict-words")).not_to_be_empty()
