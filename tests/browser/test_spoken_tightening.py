"""The value that a wrench reached, spoken with black hands: offered with what the sheet says, kept by a tap."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page

from tests.support.bay import Bay
from tests.support.measuring import NUMBERS
from tests.support.speaking import chips, fetch_parts, made, microphone, say_clip, sounds
from tests.support.torque import ON_A, begin
from tests.support.waiting import expect

pytestmark = pytest.mark.browser

NINETY = "head_bolt_10.webm"


@pytest.fixture
def bench(torque_records, bays, tmp_path_factory) -> Bay:
    bay = bays(arguments=microphone(NINETY, tmp_path_factory.getbasetemp()))
    wanted = {"tightening_sheet_described": 3, "torque_tool_described": 3, "engine_type_described": 2}
    bay.eventually(lambda: all(len(bay.rows("entries", kind=kind)) >= n for kind, n in wanted.items()), 30)
    fetch_parts(bay)
    bay.page.goto(f"{bay.url}/bay/#/jobs")
    bay.job = bay.open_job(f"26-{next(NUMBERS)}")
    bay.signal(there=False)
    return bay


def put_right(page: Page, figure: str) -> None:
    """The figure by the keys, where none was taken."""
    page.get_by_role("group", name="As it was understood").get_by_role("button", name="figure").click()
    keys = page.get_by_role("region", name="Understood").get_by_role("group", name="Keypad")
    for digit in figure:
        keys.get_by_role("button", name=digit, exact=True).click()


def test_a_torque_that_was_spoken_is_offered_with_what_departs_and_kept_as_it_was_said(bench: Bay):
    page = begin(bench, ON_A)
    say_clip(page, NINETY)
    understood = chips(page)
    assert (understood["fastener"], understood["unit"]) == ("number 10", "N·m")
    # "To ninety" is easily heard as other digits: none of those is taken, and the keys put it right.
    if understood["figure"] != "90":
        expect(page.get_by_role("button", name="Save", exact=True)).to_be_disabled()
        put_right(page, "90")
    assert chips(page)["figure"] == "90"
    # The sheet asks for 20: it is said before the tap, and changes nothing of what was said.
    expect(page.get_by_role("alert").first).to_contain_text("above the maximum of 22 N·m")
    assert made(bench, "fastener_tightened") == []
    page.get_by_role("button", name="Save as it is").click()
    expect(page.get_by_role("status").filter(has_text="Saved.")).to_contain_text("Number 10 tightened, 90 N·m")
    (done,) = made(bench, "fastener_tightened")
    body = done["body"]
    assert (body["fastener"], body["value"], body["unit"], body["given"]) == ("10", "90", "N·m", "typed")
    assert body["spoken"] == sounds(bench)[0]["id"]
    assert sounds(bench)[0]["body"]["screen"] == "tighten"
    # What is next is lit again, and the one huge act is there.
    expect(page.get_by_role("button", name="Done number 1", exact=True)).to_be_visible()
