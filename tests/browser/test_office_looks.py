"""Every sheet of the office can be read by everyone: WCAG 2.2 AA by axe, on paper and at night, wide and narrow."""

from __future__ import annotations

import hashlib
import re

import pytest
from playwright.sync_api import Page

from tests.support.bay import a_picture, desk
from tests.support.measuring import a_gauge, a_limit, say
from tests.support.office import NARROW, WIDE, a_job, send_original
from tests.support.readings import take, take_bore
from tests.support.record import ENGINE_TYPE_ID, correct, finding, measure, photograph, send, withdraw
from tests.support.tightening import SHEET_ID, Tightening, a_stage, a_turn, describe_sheet, describe_tool
from tests.support.waiting import expect

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def job(workshop, tmp_path_factory) -> str:
    phone, job = a_job(workshop, desk(workshop), "26-500", complaint="Knocks when warm.")
    data = a_picture(tmp_path_factory.mktemp("pictures"), "bore 3 thrust").read_bytes()
    photograph(phone, job, "bore/3", data)
    measured = measure(phone, job, "main/2", "53.98", "diameter")
    seen = finding(phone, job, "rod/3", "Cap on the wrong way round.")
    correct(phone, measured, {"value": "53.89"})
    withdraw(phone, seen)
    photograph(phone, job, "bore/4", b"still on the phone")
    gauge = a_gauge("bore gauge 4")
    say(workshop, ("gauge_described", "gauge", gauge), ("limit_set", "limit", a_limit("largest", "89.000", "89.020")))
    for number, values in (
        (3, "89.012 89.034 89.037 89.019 89.022 89.014"),
        (5, "89.021 89.016 89.019 89.017 89.016 89.016"),
    ):
        take_bore(phone, job, number, values, gauge=gauge["name"], gauge_id=gauge["id"])
    take_bore(phone, job, 3, "89.506 89.505 89.506 89.504 89.505 89.503", state="machined")
    take(phone, job, "head/A", "diagonal_1", "0.06", "head_flatness")
    take(phone, job, "bore/3", "dry", "9.8", "compression_cold", unit="bar")
    sheet = describe_sheet(desk(workshop), bolt="stretch", uses_most=1, stages=[a_stage(), a_turn(proposed=True)])
    tool = describe_tool(desk(workshop), due="2026-03-01")
    run = Tightening(phone, job, sheet, bolts="used", use=1)
    run.tap("snug", "213", tool=tool["name"], tool_id=tool["id"])
    run.answer("snug/1/out_of_order/1")
    run.tap("turn", "2")
    send(phone)
    send_original(workshop, phone, data, hashlib.sha256(data).hexdigest())
    return job


def key(name: str):
    def press_it(page: Page) -> None:
        page.wait_for_load_state("networkidle")
        page.keyboard.press(name)

    return press_it


def press(name: str):
    return lambda page: page.get_by_role("button", name=name, exact=True).first.click()


def a_button(name: str):
    return lambda page: page.get_by_role("button", name=re.compile(name)).first.click()


def place_fasteners(page: Page) -> None:
    page.locator("details.joint summary").first.click()
    page.get_by_role("button", name="fastener 2", exact=True).first.click()
    page.get_by_text("Place in rows or on a circle").first.click()


def then(*acts):
    def do(page: Page) -> None:
        for act in acts:
            act(page)

    return do


def nothing(page: Page) -> None:
    pass


# address, what to do there, what then stands on the sheet
SHEETS = {
    "jobs": ("jobs", nothing, "Jobs"),
    "new job": ("jobs", key("n"), "New job"),
    "search": ("search?q=cap", nothing, "‘cap’ in all jobs"),
    "record": ("job/{job}?exhibit=2", nothing, "26-500"),
    "narrowed": ("job/{job}?place=bore/3&kind=photo_taken", press("Filter"), "from day"),
    "exhibit on its way": ("job/{job}?exhibit=7", nothing, "bore 4"),
    "corrected": ("job/{job}?exhibit=3", nothing, "53.89"),
    "full picture": ("job/{job}?exhibit=2", key("Enter"), "Record 2, full size"),
    "adding": ("job/{job}?exhibit=2", key("a"), "Add to the record"),
    "correcting": ("job/{job}?exhibit=2", key("c"), "Correct record 2"),
    "keys": ("job/{job}?exhibit=2", key("?"), "Keys"),
    "facts": ("job/{job}/facts", nothing, "Job 26-500"),
    "figures": ("job/{job}/figures", nothing, "Cylinder bore, as found"),
    "figures, both states": ("job/{job}/figures?state=side_by_side", nothing, "Cylinder bore, side by side"),
    "one figure": ("job/{job}/figures", press("largest diameter"), "Measurement uncertainty"),
    "figures of a face": ("job/{job}/figures?procedure=head_flatness", nothing, "gaps magnified"),
    "figures in a list": ("job/{job}/figures?procedure=compression_cold", nothing, "Compression, cold, as found"),
    "adding a reading": ("job/{job}?exhibit=2", then(key("a"), press("Reading")), "Save the reading"),
    "joints": ("job/{job}/joints", nothing, "Head, bank A, tightened"),
    "answering": ("job/{job}/joints", a_button("^Answer: These stretch"), "It is saved in the record under your name"),
    "spoken": ("spoken", nothing, "Nothing has been spoken yet."),
    "own words": ("spoken/words", nothing, "Add a word"),
    "recognisers": ("spoken/recognisers", nothing, "not available"),
    "pack": ("job/{job}/pack", nothing, "What neither proves"),
    "engine types": ("engine-types", nothing, "Halvern 2.9 V6"),
    "new engine type": ("engine-types/new", nothing, "New engine type"),
    "fits": ("fits", nothing, "Usual fits"),
    "limits": ("engine-types/{engine}/limits", nothing, "Limits and sizes, Halvern 2.9 V6"),
    "adding a limit": ("engine-types/{engine}/limits", press("Add a limit"), "Add a limit"),
    "placing fasteners": ("engine-types/{engine}/edit", place_fasteners, "Pitch along, mm"),
    "tightening sheets": ("engine-types/{engine}/tightening", nothing, "Tightening, Halvern 2.9 V6"),
    "tightening sheet": ("engine-types/{engine}/tightening/{sheet}", nothing, "As the phone shows it"),
    "new tightening sheet": ("engine-types/{engine}/tightening/new", press("Save"), "put right"),
    "torque tools": ("gauges/torque", nothing, "overdue for calibration"),
    "new torque tool": ("gauges/torque/new", press("Add to register"), "put right"),
    "gauges": ("gauges", nothing, "bore gauge 4"),
    "new gauge": ("gauges/new", press("Add to register"), "put right"),
    "measuring rules": ("gauges/rules", nothing, "When is a figure within limits?"),
    "procedures": ("procedures", nothing, "Cylinder bore"),
    "procedure": ("procedures/cylinder_bore", nothing, "Worked out"),
    "new procedure": ("procedures/crankpin/own", nothing, "Nothing to put right."),
    "phones": ("phones", nothing, "Phones"),
    "adding a phone": ("phones", press("Add a phone"), "Valid once"),
    "people": ("people", nothing, "People"),
    "about": ("about", nothing, "How to check"),
}


def halves() -> list:
    """Two lists of sheets, so that no test takes for ever."""
    names = list(SHEETS)
    return [
        pytest.param(names[: len(names) // 2], id="first half"),
        pytest.param(names[len(names) // 2 :], id="second half"),
    ]


@pytest.mark.parametrize("names", halves())
def test_every_sheet_can_be_read_by_everyone_and_reaches_over_no_edge(office_pages, job, names):
    office = office_pages(viewport=WIDE, reduced_motion="reduce")
    wrong = []
    for name in names:
        address, act, stands = SHEETS[name]
        office.page.set_viewport_size(WIDE)
        office.go(address.format(job=job, engine=ENGINE_TYPE_ID, sheet=SHEET_ID))
        expect(office.page.get_by_role("contentinfo")).to_contain_text("26-500" if "{job}" in address else "Reed")
        act(office.page)
        shown = office.page.get_by_text(stands).or_(office.page.get_by_role("dialog", name=stands))
        expect(shown.first, name).to_be_attached()
        office.page.wait_for_load_state("networkidle")
        for size in (WIDE, NARROW):
            office.page.set_viewport_size(size)
            expect(shown.first, name).to_be_attached()
            wrong += [f"{name}, {size['width']} px, {fault}" for fault in office.unfit(colours=size is WIDE)]
            if office.overflow() > 0:
                wrong.append(f"{name}: reaches {office.overflow()} px over the edge of {size['width']} px")
        if act is not nothing:
            office.page.goto("about:blank")  # what was opened here must not lie over the next sheet
    assert wrong == []


def test_the_way_in_can_be_read_by_everyone(office_pages):
    office = office_pages(person="")
    office.page.get_by_role("button", name="Sign in").click()
    expect(office.page.get_by_role("alert")).to_contain_text("Enter your name")
    assert office.unfit() == []


def test_the_sheet_is_whole_at_twice_the_size(office_pages, job):
    # WCAG 2.2, success criterion 1.4.10: a 1280 px screen at 400 % is 320 px wide; 1.4.4: text at 200 %.
    office = office_pages(viewport={"width": 320, "height": 640})
    for address in ("jobs", f"job/{job}?exhibit=2", f"job/{job}/pack", "about"):
        office.go(address)
        expect(office.page.get_by_role("contentinfo")).to_be_visible()
        office.page.wait_for_timeout(200)
        assert office.overflow() <= 0, address
