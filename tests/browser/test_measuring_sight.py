"""What a phone of 360 by 800 shows without scrolling while a sheet is filled: verdict, lit cell, cautions, material."""

from __future__ import annotations

import uuid

import pytest
from playwright.sync_api import Page

from tests.support.bay import Bay
from tests.support.measuring import GRID, NUMBERS, SOURCE, a_gauge, a_limit, go_to, keep, open_grid, press, say
from tests.support.record import ENGINE_TYPE_ID
from tests.support.waiting import expect

pytestmark = pytest.mark.browser

GAUGE = a_gauge("bore gauge 6")
MATERIAL = {
    "id": str(uuid.uuid4()),
    "engine_type": ENGINE_TYPE_ID,
    "procedure": "liner_fit",
    "code": "material",
    "values": ["grey_iron"],
    "unit": "",
    "where": [],
    "source": SOURCE,
    "withdrawn": False,
    "note": "",
}


@pytest.fixture(scope="module")
def registers(workshop):
    say(
        workshop,
        ("gauge_described", "gauge", GAUGE),
        ("limit_set", "limit", a_limit("largest", "", "89.020")),
        ("limit_set", "limit", a_limit("bend_of_rod", "", "0.05", "connecting_rod")),
        ("size_set", "size", MATERIAL),
    )
    return workshop


@pytest.fixture
def bench(registers, bay: Bay) -> Bay:
    for kind in ("gauge_described", "limit_set", "size_set"):
        bay.eventually(lambda kind=kind: bay.rows("entries", kind=kind), 30)
    bay.signal(there=False)
    bay.job = bay.open_job(f"26-{next(NUMBERS)}")
    return bay


def in_sight(page: Page, what: str) -> bool:
    """Whether all of it lies within the part of the screen that scrolls."""
    return page.evaluate(
        """what => {
          const [one, frame] = [what, '.grid-middle'].map((s) => document.querySelector(s)?.getBoundingClientRect())
          return Boolean(one) && one.top >= frame.top - 1 && one.bottom <= frame.bottom + 1
        }""",
        what,
    )


def test_the_verdict_is_seen_when_a_place_is_complete_and_the_cell_when_the_next_is_begun(bench: Bay):
    page = open_grid(bench, bench.job, "cylinder_bore", "bore 1")
    for number in (1, 2, 3):
        for words in GRID:
            keep(page, f"89.01{number}")
            if words != GRID[-1]:
                bench.eventually(lambda: in_sight(page, ".grid-cell.is-next"))
        says = page.locator(".grid-says")
        expect(says).to_contain_text(f"89.01{number}")
        # What the store tells late must not take the verdict out of sight again.
        page.wait_for_timeout(600)
        assert in_sight(page, ".grid-says"), f"the verdict of bore {number} lies below the fold"
        expect(says.locator(".verdict-tag")).to_be_in_viewport()
        press(page, "8")
        bench.eventually(lambda: in_sight(page, ".grid-cell.is-next"))
        page.locator("#grid-value").fill("")
    go_to(bench, "bore 6")
    bench.eventually(lambda: in_sight(page, ".grid-cell.is-next"))


def test_a_place_judged_before_its_last_reading_shows_its_verdict_again_when_it_is_complete(bench: Bay):
    bench.page.set_viewport_size({"width": 320, "height": 568})
    page = open_grid(bench, bench.job, "connecting_rod")
    keep(page, "0.02")
    expect(page.locator(".grid-says .verdict-tag")).to_be_visible()
    press(page, "0.0")
    bench.eventually(lambda: in_sight(page, ".grid-cell.is-next"))
    page.locator(".grid-middle").evaluate("middle => middle.scrollTo(0, 0)")
    expect(page.locator(".grid-says")).not_to_be_in_viewport()
    keep(page, "0.01")
    expect(page.locator(".grid-says")).to_be_in_viewport()


def test_cautions_stay_where_the_step_is_whatever_was_judged(bench: Bay):
    page = open_grid(bench, bench.job, "liner_fit", "bore 1")
    cautions = page.get_by_role("complementary", name="Cautions")
    expect(cautions).to_be_visible()
    before = cautions.inner_text()
    keep(page, "92.000")
    keep(page, "92.050")
    expect(page.locator(".grid-says")).to_be_visible()
    cautions.scroll_into_view_if_needed()
    expect(cautions).to_be_in_viewport()
    assert cautions.inner_text() == before


def test_the_material_that_is_stated_is_that_of_the_part_and_not_of_what_runs_in_it(bench: Bay):
    page = open_grid(bench, bench.job, "liner_fit", "bore 1")

    def material() -> str:
        page.locator(".with-row button").last.click()
        sheet = page.get_by_role("dialog")
        chosen = sheet.get_by_label("Material of the part").input_value()
        sheet.get_by_role("button", name="Done").click()
        return chosen

    assert material() == "grey_iron"
    keep(page, "92.000")
    assert material() == ""
