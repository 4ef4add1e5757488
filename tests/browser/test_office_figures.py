"""The measurement sheet of a job, read in the office as a machine shop reads it."""

from __future__ import annotations

import io
import json
import re

import pikepdf
import pytest
from playwright.sync_api import Locator

from tests.support.bay import desk
from tests.support.measuring import SOURCE, a_gauge, a_limit, say
from tests.support.office import NARROW, OfficePage, a_job
from tests.support.readings import take, take_bore
from tests.support.record import send
from tests.support.waiting import expect

pytestmark = pytest.mark.browser

GAUGE = a_gauge("bore gauge 4", mpe="0.003")
LATE = a_gauge("bore gauge 2", due="2026-03-01", calibrated="2025-03-01")
LIMIT = a_limit("largest", "", "89.020")
OVAL = a_limit("ovality", "", "0.013")


@pytest.fixture(scope="module")
def job(workshop) -> str:
    """Bore 1 is good, bore 3 is not, bore 5 lies at the limit and was read three times at the top; bore 1 was bored."""
    say(
        workshop,
        ("gauge_described", "gauge", GAUGE),
        ("gauge_described", "gauge", LATE),
        ("limit_set", "limit", LIMIT),
        ("limit_set", "limit", OVAL),
    )
    phone, job = a_job(workshop, desk(workshop), "26-700")
    with_gauge = {"gauge": GAUGE["name"], "gauge_id": GAUGE["id"]}
    take_bore(phone, job, 1, "89.006 89.005 89.006 89.004 89.005 89.003", **with_gauge)
    take_bore(phone, job, 3, "89.012 89.034 89.037 89.019 89.022 89.014", **with_gauge)
    take_bore(phone, job, 5, "89.021 89.016 89.019 89.017 89.016 89.016", **with_gauge)
    for again in ("89.020", "89.022"):
        take(phone, job, "bore/5", "top/thrust", again, **with_gauge)
    take(phone, job, "bore/2", "top/thrust", "89.010", gauge=LATE["name"], gauge_id=LATE["id"])
    take_bore(phone, job, 1, "89.506 89.505 89.506 89.504 89.505 89.503", state="machined", **with_gauge)
    send(phone)
    return job


@pytest.fixture
def sheet(desk_page, job) -> OfficePage:
    desk_page.go(f"job/{job}/figures")
    expect(desk_page.page.get_by_role("heading", name="Cylinder bore, as found")).to_be_visible()
    return desk_page


def place(office: OfficePage, name: str) -> Locator:
    return office.page.get_by_role("list", name="Places").get_by_role("listitem", name=name, exact=True)


def test_every_place_has_its_drawing_its_verdict_and_its_readings(sheet):
    first, third, fifth = (place(sheet, f"bore {number}") for number in (1, 3, 5))
    expect(first.get_by_text("within limits").first).to_be_visible()
    expect(third.get_by_text("outside limits").first).to_be_visible()
    expect(fifth.get_by_text("not proven").first).to_be_visible()
    expect(
        third.get_by_role("img", name=re.compile("bore 3 seen along its axis, deviations magnified .* times"))
    ).to_be_visible()
    expect(third.get_by_role("img", name=re.compile("bore 3 in section along its axis"))).to_be_visible()
    expect(sheet.page.get_by_text(re.compile(r"^magnified [\d.]+ times$"))).to_be_visible()
    # Largest 89.037 against 89.020: 0.017 over.
    line = (
        third.get_by_role("list", name="Figures of bore 3").get_by_role("listitem").filter(has_text="largest diameter")
    )
    expect(line).to_contain_text("89.037")
    expect(line).to_contain_text("0.017 over")


def test_readings_beyond_the_limit_are_marked_and_repeats_say_how_many_and_how_far_apart(sheet):
    third, fifth = place(sheet, "bore 3"), place(sheet, "bore 5")
    beyond = third.get_by_role("link", name=re.compile("outside the limit"))
    expect(beyond).to_have_text(["89.034", "89.037", "89.022"])
    # 89.021, 89.020 and 89.022: their mean lies beyond 89.020.
    expect(fifth.get_by_role("link", name=re.compile("outside the limit"))).to_have_text(["89.0210"])
    expect(fifth).to_contain_text("top, thrust: 3 readings, scatter 0.001")
    expect(place(sheet, "bore 2")).to_contain_text("gauge overdue for calibration when read")
    expect(sheet.page.get_by_text(f"{LATE['name']} was due for calibration on 1 Mar 2026")).to_be_visible()


def test_the_head_says_by_what_is_judged_and_where_that_stands(sheet):
    head = sheet.page.locator(".sheet-head")
    expect(head).to_contain_text("at most 89.020 mm")
    expect(head).to_contain_text(SOURCE)
    # ISO 1101: roundness and its value in a divided frame.
    expect(head).to_contain_text("roundness 0.013 mm")
    expect(head).to_contain_text("bore gauge 4 ±0.003 mm")
    expect(head).to_contain_text("guarded acceptance")


def test_a_reading_opens_its_exhibit_in_the_record(sheet):
    reading = place(sheet, "bore 3").get_by_role("link", name=re.compile("^middle, thrust: 89.037"))
    exhibit = int(re.search(r"record (\d+)$", reading.get_attribute("aria-label"))[1])
    reading.click()
    expect(sheet.in_hand(exhibit)).to_contain_text("89.037")
    sheet.in_hand(exhibit).get_by_role("link", name="Figures of this place").click()
    expect(place(sheet, "bore 3")).to_have_attribute("data-at", "true")


def test_a_figure_says_how_it_came_about_and_what_its_uncertainty_is_made_of(sheet):
    place(sheet, "bore 5").get_by_role("button", name="largest diameter").click()
    figure = sheet.page.get_by_role("dialog", name="bore 5, largest diameter")
    expect(figure).to_contain_text("±")
    budget = figure.get_by_role("table", name="Uncertainty budget")
    expect(budget.get_by_role("row").filter(has_text="permissible error")).to_contain_text("bore gauge 4")
    expect(figure).to_contain_text(SOURCE)
    expect(figure.get_by_role("link", name="top, thrust 89.0210")).to_be_visible()
    sheet.page.keyboard.press("Escape")
    expect(figure).to_have_count(0)
    expect(sheet.page.get_by_role("region", name="What would settle it")).to_contain_text("Bore 5, largest diameter")


def test_before_and_after_machining_stand_side_by_side(sheet):
    sheet.page.get_by_role("group", name="State").get_by_role("button", name="side by side").click()
    largest = place(sheet, "bore 1").locator("dl > div").filter(has_text="largest diameter")
    expect(largest).to_contain_text("as found89.006")
    expect(largest).to_contain_text("89.506")
    expect(largest).to_contain_text("change+0.500")


def test_a_limit_set_later_leaves_what_was_judged_then_beside_what_counts_now(desk_page, workshop):
    gauge, first = a_gauge("micrometer 8"), a_limit("smallest", "53.970", "", procedure="crankpin")
    say(workshop, ("gauge_described", "gauge", gauge), ("limit_set", "limit", first))
    answer = desk(workshop).get(f"/api/engine-types/{first['engine_type']}/limits").get_json()
    entry = next(limit["entry"] for limit in answer["limits"] if limit["id"] == first["id"])
    phone, job = a_job(workshop, desk(workshop), "26-701")
    for reading in ("front/0", "front/90", "rear/0", "rear/90"):
        take(phone, job, "crankpin/1", reading, "53.980", "crankpin", gauge_id=gauge["id"], basis=[entry])
    send(phone)
    say(workshop, ("limit_set", "limit", first | {"low": "53.990"}))
    desk_page.go(f"job/{job}/figures?procedure=crankpin")
    pin = place(desk_page, "crankpin 1")
    expect(pin).to_contain_text("by the limits in force when it was measured: within limits")
    pin.get_by_role("button", name="smallest diameter").click()
    expect(desk_page.page.get_by_role("region", name="Verdict by today’s limits")).to_contain_text("outside limits")
    expect(
        desk_page.page.get_by_role("region", name="Verdict by the limits in force when it was measured")
    ).to_contain_text("within limits")


def test_the_arrows_step_from_place_to_place_and_over_what_can_be_opened(sheet):
    keys = sheet.page.keyboard
    keys.press("ArrowRight")
    expect(place(sheet, "bore 1")).to_be_focused()
    keys.press("ArrowRight")
    keys.press("ArrowRight")
    expect(place(sheet, "bore 3")).to_be_focused()
    keys.press("ArrowDown")
    expect(place(sheet, "bore 3").get_by_role("link", name=re.compile("^top, thrust"))).to_be_focused()
    keys.press("Enter")
    expect(sheet.page.get_by_role("list", name="Timeline")).to_be_visible()


def test_the_sheet_is_taken_away_as_a_table_and_as_data(sheet, tmp_path):
    for name in ("CSV", "JSON"):
        with sheet.page.expect_download() as download:
            sheet.page.get_by_role("link", name=name, exact=True).click()
        download.value.save_as(tmp_path / name)
    assert "89.037" in (tmp_path / "CSV").read_text(encoding="utf-8-sig")
    assert json.loads((tmp_path / "JSON").read_text())["sheets"][0]["procedure"] == "cylinder_bore"


def test_the_printed_sheet_is_a4_across_with_frame_and_title_block(sheet):
    sheet.page.emulate_media(media="print")
    expect(sheet.page.locator(".bar")).to_be_hidden()
    expect(sheet.page.locator(".print-block")).to_contain_text("26-700")
    expect(sheet.page.locator(".zones-top li")).to_have_text(list("123456"))
    with pikepdf.open(io.BytesIO(sheet.page.pdf(prefer_css_page_size=True))) as printed:
        # A4 across: 297 x 210 mm, at 72 points to the inch.
        sizes = {tuple(round(float(side) * 25.4 / 72) for side in page.mediabox[2:]) for page in printed.pages}
    assert sizes == {(297, 210)}


def test_the_sheet_fits_a_phone(office_pages, job):
    office = office_pages(viewport=NARROW)
    office.go(f"job/{job}/figures?place=bore/3")
    expect(place(office, "bore 3")).to_contain_text("outside limits")
    assert office.overflow() <= 0
