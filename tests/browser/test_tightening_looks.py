"""The screens of tightening: they can be read and used by everyone, by day and by night, with one thumb."""

from __future__ import annotations

import pytest

from tests.support.bay import Bay
from tests.support.office import overflow, unfit
from tests.support.torque import NUMBERS, ON_A, ON_B, TEN, begin, done, fastener, go_to_joint, put_away, touch
from tests.support.waiting import expect

pytestmark = pytest.mark.browser


def test_preload_is_shown_as_an_estimate_with_what_was_assumed(torque_bench: Bay):
    page = begin(torque_bench, ON_A)
    page.locator(".run-head").click()
    page.get_by_role("button", name="Preload estimate").click()
    sheet = page.get_by_role("dialog")
    for words in ("This is an estimate, not a limit", "The maker's data comes first", "Assumed for", "proof load"):
        expect(sheet).to_contain_text(words)


def test_the_run_can_be_read_by_everyone_and_is_under_the_thumb(torque_bench: Bay):
    page = torque_bench.page
    wrong = []

    def look(where: str) -> None:
        page.wait_for_timeout(250)
        wrong.extend(f"{where}: {fault}" for fault in unfit(page))
        if overflow(page) > 0:
            wrong.append(f"{where}: reaches {overflow(page)} px over the edge")

    go_to_joint(torque_bench, ON_B)
    look("joint")
    page.get_by_role("button", name="Tighten by").click()
    page.get_by_role("button", name="used before", exact=True).click()
    look("begin")
    page.get_by_role("button", name="Begin", exact=True).click()
    done(page, "1")
    touch(page, "6")
    for width, height in ((360, 800), (320, 568)):
        page.set_viewport_size({"width": width, "height": height})
        look(f"run at {width}")
        act = page.get_by_role("button", name="Done number 2", exact=True).bounding_box()
        assert act["height"] >= 88 and act["width"] >= 120 and act["y"] > height * 0.6
        for name in ("Type a value", "Undo", "to answer"):
            box = page.get_by_role("button", name=name).bounding_box()
            assert min(box["width"], box["height"]) >= 44 and box["y"] + box["height"] <= height, name
        for label in TEN:
            box = fastener(page, label).bounding_box()
            assert min(box["width"], box["height"]) >= 44, label
    for opened in ("tool", "progress", "Stage 1 of 1", "to answer", "Undo", "Type a value"):
        if opened == "tool":
            page.locator(".run-with").get_by_role("button").first.click()
        else:
            page.get_by_role("button", name=opened).first.click()
        look(opened)
        put_away(page)
    assert wrong == []


def test_a_screen_that_cannot_be_kept_awake_says_so(bays, torque_records):
    bay = bays()
    bay.page.add_init_script("Object.defineProperty(navigator, 'wakeLock', {value: undefined})")
    bay.page.reload()
    bay.eventually(lambda: len(bay.rows("entries", kind="tightening_sheet_described")) >= 3, 30)
    bay.job = bay.open_job(f"26-{next(NUMBERS)}")
    page = begin(bay, ON_A)
    expect(page.get_by_text("This app cannot keep the screen on.")).to_be_visible()
