"""Tightening on the phone: an invented engine with heads of ten bolts, its sheets and tools, and the acts at it."""

from __future__ import annotations

import uuid
from itertools import count

import pytest
from playwright.sync_api import Page

from tests.support.bay import Bay, desk
from tests.support.measuring import say
from tests.support.record import a_v6
from tests.support.tightening import a_sheet, a_stage, a_tool, a_turn
from tests.support.waiting import expect
from witnessmark.db import writing
from witnessmark.people import persons

NUMBERS = count(500)
SECOND, SECOND_PIN, MANAGER_PIN = "Ada", "2358", "902135"
ON_A, ON_B, WHEEL = "Head, bank A", "Head, bank B", "Flywheel"
ONE_TOUCH = 320  # milliseconds within which two touches are one
# Numbered from the centre outward, as this invented maker numbers them: the order is that of the numbers.
PLACES = ((0, -44), (0, 44), (98, -44), (-98, 44), (-98, -44), (98, 44), (196, -44), (-196, 44), (-196, -44), (196, 44))
TEN = [str(number) for number in range(1, 11)]
WARM = "Warm up to 80 °C and let it cool to below 35 °C."

HEAD_A = a_sheet(
    joint="head_bolt/A",
    name="Cylinder head A",
    stages=[
        a_stage("snug", "20", order=TEN),
        a_stage("main", "60", order=TEN, words="Main torque", minus="3", plus="3"),
        a_turn("turn", order=TEN, words="Turn", after=WARM),
    ],
)
HEAD_B = a_sheet(
    id=str(uuid.uuid4()),
    joint="head_bolt/B",
    name="Cylinder head B",
    bolt="stretch",
    uses_most=1,
    length_most="105.2",
    stages=[a_stage("main", "60", order=TEN, words="Main torque", minus="3", plus="3", proposed=True)],
)
FLYWHEEL = a_sheet(
    id=str(uuid.uuid4()),
    joint="flywheel_bolt",
    name="Flywheel",
    two_people=True,
    holds=[{"sort": "ticked", "stage": "build", "item": "which_way"}],
    stages=[a_stage("only", "80", order=["1", "4", "2", "5", "3", "6"], words="Only stage")],
)
GOOD, OLD, DISC = (
    a_tool(),
    a_tool(id=str(uuid.uuid4()), name="Wrench W9", low="60", high="350", due="2026-02-01"),
    a_tool(id=str(uuid.uuid4()), name="Angle disc", sort="angle_gauge", unit="°", low="0", high="360", deviation=""),
)


def an_engine() -> dict:
    """The invented V6 with ten bolts in each head and six in the flywheel."""
    bolts = [{"label": str(at), "x_mm": x, "y_mm": y} for at, (x, y) in enumerate(PLACES, 1)]
    round_ = ((0, -38), (33, -19), (33, 19), (0, 38), (-33, 19), (-33, -19))
    wheel = [{"label": str(at), "x_mm": x, "y_mm": y} for at, (x, y) in enumerate(round_, 1)]
    heads = [{"code": f"head_bolt/{bank}", "name": f"Head, bank {bank}", "fasteners": bolts} for bank in "AB"]
    return a_v6(joints=[*heads, {"code": "flywheel_bolt", "name": "Flywheel", "fasteners": wheel}])


def statements() -> list[tuple[str, str, dict]]:
    return [
        ("engine_type_described", "engine_type", an_engine()),
        *(("tightening_sheet_described", "sheet", sheet) for sheet in (HEAD_A, HEAD_B, FLYWHEEL)),
        *(("torque_tool_described", "tool", tool) for tool in (GOOD, OLD, DISC)),
    ]


@pytest.fixture(scope="module")
def torque_records(workshop):
    """The workshop has a second technician, a manager with a PIN, sheets and tools."""
    with writing(workshop.engine) as conn:
        persons.add(conn, workshop.workshop.id, SECOND, "technician", pin=SECOND_PIN)
        persons.change(conn, workshop.workshop.id, workshop.manager.id, pin=MANAGER_PIN)
    say(workshop, *statements())
    return workshop


@pytest.fixture
def torque_bench(torque_records, bay: Bay) -> Bay:
    """A phone that knows sheets and tools and has lost its signal, with a job open on the V6."""
    wanted = {"tightening_sheet_described": 3, "torque_tool_described": 3, "engine_type_described": 2}
    bay.eventually(lambda: all(len(bay.rows("entries", kind=kind)) >= n for kind, n in wanted.items()), 30)
    bay.signal(there=False)
    bay.job = bay.open_job(f"26-{next(NUMBERS)}")
    return bay


def go_to_joint(bay: Bay, joint: str) -> Page:
    bay.page.goto(f"{bay.url}/bay/#/job/{bay.job}/torque")
    bay.page.get_by_role("group", name="Joint").get_by_role("button", name=joint, exact=True).click()
    return bay.page


def begin(bay: Bay, joint: str, bolts: str = "new", direction: str = "Tighten") -> Page:
    page = go_to_joint(bay, joint)
    page.get_by_role("list", name=f"Tightening sheets of {joint}").get_by_role("button", name=direction).click()
    if direction == "Tighten":
        page.get_by_role("group", name="The bolts are").get_by_role("button", name=bolts, exact=True).click()
    page.get_by_role("button", name="Begin", exact=True).click()
    expect(page.get_by_role("button", name="Done number")).to_be_visible()
    return page


def done(page: Page, *labels: str) -> None:
    """Touches Done for each of these, when it is lit; returns when each was called saved and the next is lit."""
    for label in labels:
        expect(page.get_by_role("button", name=f"Done number {label}", exact=True)).to_be_enabled()
        page.wait_for_timeout(ONE_TOUCH)
        page.get_by_role("button", name=f"Done number {label}", exact=True).click()
        expect(page.get_by_role("status").filter(has_text="Saved.")).to_contain_text(f"Number {label} ")
        expect(page.get_by_role("button", name=f"Done number {label}", exact=True)).to_have_count(0)


def touch(page: Page, label: str) -> None:
    page.wait_for_timeout(ONE_TOUCH)
    fastener(page, label).click()


def fastener(page: Page, label: str):
    return page.locator(f"[data-fastener='{label}']")


def type_value(page: Page, text: str) -> None:
    """Types what was reached on the next one, and keeps it."""
    page.get_by_role("button", name="Type a value").click()
    sheet = page.get_by_role("dialog")
    sheet.get_by_label("Value of number").fill(text)
    page.wait_for_timeout(ONE_TOUCH)
    sheet.get_by_role("button", name=f"Save {text}").click()
    expect(sheet).to_have_count(0)


def take_tool(page: Page, name: str) -> None:
    page.locator(".run-with").get_by_role("button").first.click()
    page.get_by_role("dialog").get_by_role("button", name=name).click()
    expect(page.locator(".run-with")).to_contain_text(name)


def put_away(page: Page) -> None:
    page.get_by_role("button", name="Close", exact=True).click()


def stands(page: Page) -> tuple[str, str]:
    """What the screen says of where the run is: ('Stage 2 of 3', '13 of 30')."""
    far = page.locator(".run-with").get_by_role("button", name="progress").locator(".cell-value")
    return page.locator(".run-head strong").inner_text(), far.inner_text()


def bodies(bay: Bay, kind: str = "fastener_tightened") -> list[dict]:
    """What this phone recorded of a kind, in order, each with its author and its place."""
    entries = sorted((row["entry"] for row in bay.rows("entries", kind=kind)), key=lambda entry: entry["sequence"])
    return [
        entry["body"] | {"author": entry["author"], "place": entry["location"]["place"], "version": entry["version"]}
        for entry in entries
        if entry["job"] == bay.job
    ]


def runs_in_office(bay: Bay) -> list[dict]:
    """The runs of the job as the office tells them, after all was sent."""
    bay.signal(there=True)
    bay.until_all_sent()
    assert bay.rows("shelf") == [], "the server refused something"
    answer = desk(bay.office).get(f"/api/jobs/{bay.job}/tightening")
    assert answer.status_code == 200, answer.get_json()
    return answer.get_json()["runs"]


def as_done(stage: dict) -> list[str]:
    return [row["label"] for row in stage["done"]]
