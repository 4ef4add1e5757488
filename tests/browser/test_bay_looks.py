"""Every screen of the bay can be read and used by everyone: WCAG 2.2 AA by axe, by day and by night, with one thumb."""

from __future__ import annotations

from itertools import count

import pytest

from tests.support.bay import Bay, a_picture
from tests.support.office import overflow, unfit
from tests.support.waiting import expect

pytestmark = [pytest.mark.browser, pytest.mark.whole_browser]

NUMBERS = count(700)
LEAST, OFTEN = 44, 56  # px: of every target, and of those that are touched a hundred times a day

# Screen -> what stands on it, once a job is open and something has been recorded.
SCREENS = {
    "#/jobs": "Jobs",
    "#/new": "Open a job",
    "#/job/{job}": "Picture",
    "#/job/{job}/places": "Where on the engine",
    "#/job/{job}/camera": "Gallery",
    "#/job/{job}/say": "Not recording",
    "#/job/{job}/note": "Save",
    "#/job/{job}/measure": "One reading",
    "#/job/{job}/reading": "What is measured",
    "#/job/{job}/grid/cylinder_bore": "Top, thrust",
    "#/job/{job}/grid/crankpin": "Front, 0 deg",
    "#/job/{job}/grid/rod_housing": "Vertical",
    "#/job/{job}/grid/head_flatness": "Long 1",
    "#/job/{job}/grid/cam_lobe": "Heel to nose",
    "#/job/{job}/grid/compression_cold": "Fuel and ignition",
    "#/job/{job}/torque": "Choose the joint",
    "#/job/{job}/bolt": "Fastener",
    "#/job/{job}/fits": "Usual fits",
    "#/job/{job}/finding": "Save",
    "#/job/{job}/document": "Save",
    "#/job/{job}/stage": "Stage and checklist",
    "#/job/{job}/facts": "Facts of job",
    "#/job/{job}/record": "Record of job",
    "#/job/{job}/entry/{entry}": "Picture",
    "#/phone": "Room left",
    "#/settings": "Settings",
}

# A label is part of its field: touching either puts the cursor there.
SMALL_TARGETS = """(least) => [...document.querySelectorAll('button, a[href], select, input, textarea, [role=button]')]
  .filter((one) => one.checkVisibility() && !one.closest('[aria-hidden=true]') && !one.closest('p'))
  .map((one) => {
    const parts = [one, ...(one.labels ?? [])].map((part) => part.getBoundingClientRect())
    const height = Math.max(...parts.map((b) => b.bottom)) - Math.min(...parts.map((b) => b.top))
    return [one, Math.max(...parts.map((b) => b.width)), height]
  })
  .filter(([, width, height]) => width && (height < least - 0.5 || width < least - 0.5))
  .map(([one, width, height]) =>
    `${one.getAttribute('aria-label') || one.textContent || one.tagName} ${Math.round(width)}x${Math.round(height)}`)"""


@pytest.fixture
def recorded(bay: Bay, tmp_path) -> dict[str, str]:
    job = bay.open_job(f"26-{next(NUMBERS)}")
    bay.photograph(a_picture(tmp_path, "bore 3 thrust"))
    bay.until_all_sent()
    return {"job": job, "entry": bay.rows("entries", kind="photo_taken")[0]["id"]}


def test_every_screen_can_be_read_by_everyone_and_reaches_over_no_edge(bay: Bay, recorded):
    wrong = []
    for address, stands in SCREENS.items():
        bay.page.goto(f"{bay.url}/bay/{address.format(**recorded)}")
        expect(bay.page.get_by_text(stands).first, address).to_be_attached()
        bay.page.wait_for_timeout(300)
        wrong += [f"{address}, {fault}" for fault in unfit(bay.page)]
        if overflow(bay.page) > 0:
            wrong.append(f"{address}: reaches {overflow(bay.page)} px over the edge")
    assert wrong == []


def test_every_target_is_large_enough_for_a_glove(bay: Bay, recorded):
    small = []
    for address in SCREENS:
        bay.page.goto(f"{bay.url}/bay/{address.format(**recorded)}")
        bay.page.wait_for_timeout(300)
        small += [f"{address}: {target}" for target in bay.page.evaluate(SMALL_TARGETS, LEAST)]
    assert small == [], small

    bay.to_bench(recorded["job"])
    for name in ("Say", "Picture", "Measure"):
        box = bay.page.get_by_role("button", name=name, exact=True).bounding_box()
        assert min(box["width"], box["height"]) >= OFTEN, name
        assert box["y"] > bay.page.viewport_size["height"] * 2 / 3, f"{name} is out of the thumb's reach"


def test_the_way_in_can_be_read_by_everyone(bays):
    bay = bays(join=False)
    expect(bay.page.get_by_label("Code from the office")).to_be_visible()
    wrong = unfit(bay.page)
    bay.page.get_by_label("Code from the office").fill(bay.office.invite())
    bay.page.get_by_label("Name of this phone").fill("Phone at the bench")
    bay.page.get_by_role("button", name="Join", exact=True).click()
    bay.page.get_by_role("button", name="Tomas").click()
    expect(bay.page.get_by_label("PIN", exact=True)).to_be_visible()
    assert wrong + unfit(bay.page) == []
    assert overflow(bay.page) <= 0


def test_a_wrong_pin_lets_nobody_in_and_says_so_also_without_signal(bays):
    bay = bays(join=False)
    bay.page.get_by_label("Code from the office").fill(bay.office.invite())
    bay.page.get_by_label("Name of this phone").fill("Phone at the bench")
    bay.page.get_by_role("button", name="Join", exact=True).click()
    expect(bay.page.get_by_role("button", name="Tomas")).to_be_visible()
    bay.signal(there=False)
    bay.sign_in(pin="0000")
    expect(bay.page.get_by_role("alert").or_(bay.page.get_by_role("status")).first).to_contain_text("PIN")
    expect(bay.page.get_by_role("heading", name="Jobs")).to_have_count(0)
    bay.page.get_by_label("PIN", exact=True).fill("4711")
    bay.page.get_by_role("button", name="Sign in").click()
    expect(bay.page.get_by_role("heading", name="Jobs")).to_be_visible()
