"""What a workshop says before anything is measured, all invented: gauges, limits, sizes; and a technician measuring."""

from __future__ import annotations

import uuid
from itertools import count

from playwright.sync_api import Page

from tests.support.bay import Bay
from tests.support.record import ENGINE_TYPE_ID
from tests.support.waiting import expect
from tests.support.workshop import RunningOffice
from witnessmark.db import writing
from witnessmark.sync import desk

SOURCE = "Invented manual of the Halvern works, 2nd edition, page 44"
BORES = [f"bore/{number}" for number in range(1, 7)]
GRID = [f"{height}, {direction}" for height in ("top", "middle", "bottom") for direction in ("thrust", "axial")]
NUMBERS = count(900)


def a_gauge(name: str, **changes) -> dict:
    return {
        "id": str(uuid.uuid4()),
        "name": name,
        "sort": "bore_gauge",
        "serial": "",
        "unit": "mm",
        "low": "50",
        "high": "160",
        "resolution": "0.001",
        "mpe": "0.003",
        "repeatability": "",
        "certificate": "",
        "calibrated": "2026-02-10",
        "due": "2096-02-10",
        "retired": False,
        "notes": "",
    } | changes


def a_limit(figure: str, low: str, high: str, procedure: str = "cylinder_bore", **changes) -> dict:
    return {
        "id": str(uuid.uuid4()),
        "engine_type": ENGINE_TYPE_ID,
        "procedure": procedure,
        "figure": figure,
        "sort": "service",
        "low": low,
        "high": high,
        "unit": "mm",
        "where": [],
        "source": SOURCE,
        "valid_from": "",
        "valid_until": "",
        "withdrawn": False,
        "note": "",
    } | changes


def say(office: RunningOffice, *statements: tuple[str, str, dict]) -> None:
    """The manager's statements as the desk writes them: (kind, field, what)."""
    with writing(office.engine) as conn:
        for kind, field, what in statements:
            desk.write(conn, office.settings, office.manager.id, kind, body={field: what})


def open_grid(bay: Bay, job: str, procedure: str, place: str = "") -> Page:
    bay.page.goto(f"{bay.url}/bay/#/job/{job}/grid/{procedure}")
    expect(bay.page.get_by_role("group", name="Keypad")).to_be_visible()
    if place:
        go_to(bay, place)
    return bay.page


def go_to(bay: Bay, place: str) -> None:
    bay.page.get_by_role("group", name="Places").get_by_role("button", name=f"{place},").click()


def press(page: Page, text: str) -> None:
    """By the keys on the screen, one by one."""
    names = {".": "point", "/": "fraction stroke", " ": "space", "-": "change sign"}
    keys = page.get_by_role("group", name="Keypad")
    for key in text:
        keys.get_by_role("button", name=names.get(key, key), exact=True).click()


def keep(page: Page, text: str) -> None:
    """Types a value into the lit cell and keeps it; returns when it was called saved."""
    field = page.locator("#grid-value")
    expect(field).to_be_enabled()
    field.fill(text)
    page.get_by_role("button", name="Save, next").click()
    expect(page.get_by_role("status").filter(has_text="Saved.")).to_contain_text(text)
    expect(field).to_have_value("")


def lit(page: Page) -> str:
    """What the screen asks for next, as it is said beside the value: 'Top, thrust, bore 1, 1 of 6'."""
    return page.locator(".grid-asked").inner_text().replace("\n", ", ")


def figures_shown(bay: Bay, place: str) -> dict[str, str]:
    """Every figure of a place as the phone shows it: words -> 'value unit'; what is missing is ''."""
    go_to(bay, place)
    section = bay.page.get_by_role("region", name=f"Figures of {place}", exact=True)
    expect(section).to_be_visible()
    rows = section.locator(".grid-figure").evaluate_all(
        "rows => rows.map((row) => [row.children[0].innerText,"
        " row.querySelector('strong')?.parentElement.innerText ?? ''])"
    )
    return {words: value.strip() for words, value in rows}


def verdicts_shown(bay: Bay, place: str) -> dict[str, str]:
    go_to(bay, place)
    section = bay.page.get_by_role("region", name=f"Figures of {place}", exact=True)
    rows = section.locator("li button").evaluate_all(
        "rows => rows.map((row) => [row.querySelector('.grid-figure').children[0].innerText,"
        " row.querySelector('.verdict-tag')?.innerText ?? ''])"
    )
    return dict(rows)
