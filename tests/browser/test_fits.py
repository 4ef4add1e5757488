"""The sheet of fits on both faces: a code typed, the fit drawn and told, press force and heat with their cautions."""

from __future__ import annotations

from itertools import count

import pytest
from playwright.sync_api import Page

from tests.support.bay import Bay
from tests.support.office import NARROW, WIDE, overflow, unfit
from tests.support.waiting import expect

pytestmark = pytest.mark.browser

NUMBERS = count(860)


def drawing(page: Page):
    return page.get_by_role("img", name="Fit at")


def heat_cautions(page: Page):
    return page.get_by_role("list", name="Cautions").filter(has_text="Hot parts burn")


def typed(page: Page, label: str, text: str) -> None:
    page.get_by_label(label, exact=True).fill(text)


def fill_press(page: Page) -> None:
    """A solid steel shaft of Ø40 in a steel hub of Ø80, 0.030 mm over: constructed, tests/outside works it out."""
    typed(page, "Hole as measured", "40.010")
    typed(page, "Shaft as measured", "40.040")


def fill_rings(page: Page) -> None:
    typed(page, "Hub, outside Ø", "80")
    page.get_by_label("Hub, material").first.select_option("steel_1020")
    page.get_by_label("Shaft, material").first.select_option("steel_1020")
    typed(page, "Length of the seat", "40")


def test_a_fit_at_the_desk(desk_page):
    page = desk_page.page
    page.get_by_role("link", name="Fits", exact=True).click()
    expect(page.get_by_role("heading", name="Fits", exact=True)).to_be_visible()
    expect(drawing(page)).to_have_accessible_name(
        "Fit at 20 mm: hole H7 from 0 to +21 micrometres; shaft p6 from +22 to +35 micrometres; "
        "least interference 1 micrometres; greatest interference 35 micrometres"
    )
    typed(page, "Size and classes", "18 H7/p6")
    expect(page.get_by_role("row", name="shaft p6")).to_contain_text("18.029")
    expect(page.get_by_text("Interference fit", exact=True)).to_be_visible()

    page.get_by_role("button", name="H7/g6", exact=True).click()
    expect(page.get_by_label("Size and classes")).to_have_value("18 H7/g6")
    expect(page.get_by_text("Clearance fit", exact=True)).to_be_visible()
    expect(page.get_by_text("the parts go together without force").first).to_be_visible()

    typed(page, "Size and classes", "40 H7/s6")
    fill_press(page)
    fill_rings(page)
    expect(page.get_by_role("row", name="contact pressure")).to_contain_text("58.2")
    expect(page.get_by_role("row", name="hub temperature")).to_contain_text("149")
    expect(heat_cautions(page)).to_contain_text("The maker's data comes first")

    # What was typed stands in the address: it can be sent to a colleague, who sees the same.
    address = page.url
    page.goto("about:blank")
    page.goto(address)
    expect(page.get_by_label("Shaft as measured")).to_have_value("40.040")
    expect(page.get_by_role("row", name="contact pressure")).to_contain_text("58.2")


def test_what_cannot_be_read_is_refused_beside_its_field(desk_page):
    page = desk_page.page
    desk_page.go("fits")
    typed(page, "Size and classes", "20 Y7/p6")
    expect(page.get_by_text("The letter Y is not in the tables here")).to_be_visible()
    expect(page.get_by_label("Size and classes")).to_have_attribute("aria-invalid", "true")
    typed(page, "Size and classes", "")
    expect(drawing(page)).to_have_count(0)
    typed(page, "Hole as measured", "about 20")
    expect(page.get_by_text("'about 20' is not a number. Type a number such as")).to_be_visible()
    page.reload()
    expect(page.get_by_label("Size and classes")).to_have_value("")


def test_the_sheet_can_be_read_by_everyone(office_pages):
    office = office_pages()
    for code in ("40 H7/s6", "20 Y7"):
        office.go(f"fits?code={code}&hole=40.010&shaft=40.2&hubOuter=80&hubModulus=207&hubPoisson=0.3&hubAlpha=12")
        expect(office.page.get_by_label("Size and classes")).to_have_value(code)
        for size in (WIDE, NARROW):
            office.page.set_viewport_size(size)
            assert office.unfit(colours=size is WIDE) == [], (code, size)
            assert office.overflow() <= 0, (code, size)


def test_a_fit_at_the_bench_without_signal(bay: Bay):
    job = bay.open_job(f"26-{next(NUMBERS)}")
    bay.signal(there=False)
    bay.to_bench(job)
    page = bay.page
    page.get_by_role("button", name="More", exact=True).click()
    page.get_by_role("button", name="Fits").click()
    expect(drawing(page)).to_be_visible()
    typed(page, "Size and classes", "40 H7/s6")
    fill_press(page)
    expect(page.get_by_text("interference as measured")).to_be_visible()
    page.get_by_role("button", name="press", exact=True).click()
    fill_rings(page)
    expect(page.get_by_role("row", name="contact pressure")).to_contain_text("58.2")
    expect(page.get_by_role("row", name="press force")).to_contain_text("35.1")
    page.get_by_role("button", name="heat", exact=True).click()
    expect(page.get_by_role("row", name="hub temperature")).to_contain_text("149")
    expect(heat_cautions(page)).to_be_visible()

    # As it was left, and no record came of it.
    bay.to_bench(job)
    page.goto(f"{bay.url}/bay/#/job/{job}/fits")
    expect(page.get_by_label("Size and classes")).to_have_value("40 H7/s6")
    assert {row["kind"] for row in bay.rows("entries") if row["job"] == job} <= {"job_opened", "stage_reached"}


def test_the_bench_sheet_can_be_read_by_everyone(bay: Bay):
    job = bay.open_job(f"26-{next(NUMBERS)}")
    page = bay.page
    page.goto(f"{bay.url}/bay/#/job/{job}/fits")
    for leaf in ("limits", "press", "heat"):
        page.get_by_role("button", name=leaf, exact=True).click()
        page.wait_for_timeout(150)
        assert unfit(page) == [], leaf
        assert overflow(page) <= 0, leaf
