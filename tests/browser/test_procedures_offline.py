"""Every procedure on every engine of the demo, carried out on a phone without signal."""

from __future__ import annotations

import json
from collections import Counter

import pytest

from tests.support.bay import ROOT
from tests.support.measuring import NUMBERS, say
from tests.support.waiting import expect

pytestmark = pytest.mark.browser

TYPES = json.loads((ROOT / "server/witnessmark/trade/data/invented_engine_types.json").read_text())["engine_types"]
PROCEDURES = json.loads((ROOT / "server/witnessmark/trade/data/procedures.json").read_text())["procedures"]
# A value that such a quantity could have; clearances and gaps are small, bores and shafts are not.
LIKELY = {
    "diameter": "57.02", "compression": "12.5", "leak_down": "12", "oil_pressure": "3.5", "air_pressure": "6.5",
    "speed": "2500", "volume": "48.5", "temperature": "90", "height": "38.2",
}  # fmt: skip


@pytest.mark.parametrize(
    "engine_type",
    [pytest.param(TYPES[0], id=TYPES[0]["name"])]
    + [pytest.param(more, id=more["name"], marks=pytest.mark.further_input) for more in TYPES[1:]],
)
def test_every_procedure_can_be_carried_out_without_signal_on_every_demo_engine(bays, workshop, engine_type):
    """One place of each procedure on the V6, from the first reading to the last; elsewhere its first reading."""
    say(workshop, ("engine_type_described", "engine_type", engine_type))
    bay = bays()
    bay.eventually(lambda: len(bay.rows("entries", kind="engine_type_described")) > 1)
    bay.signal(there=False)
    page = bay.page
    page.get_by_role("button", name="Open a job").click()
    page.get_by_label("Job number").fill(f"26-{next(NUMBERS)}")
    page.get_by_label("Vehicle or machine").fill("Harbour launch Marrow")
    page.get_by_label("Engine type").select_option(value=engine_type["id"])
    page.get_by_role("button", name="Open the job").click()
    expect(page.get_by_role("button", name="Measure", exact=True)).to_be_visible()
    # Jobs of the others reach this phone too.
    job = next(row["id"] for row in bay.rows("jobs") if row["engine_type"] == engine_type["id"])
    page.get_by_role("button", name="Measure", exact=True).click()
    page.get_by_text("Elsewhere on the engine").click()
    offered = page.locator(".procedures button").count()
    done = Counter()
    for procedure in PROCEDURES:
        page.evaluate("address => { location.hash = address }", f"#/job/{job}/grid/{procedure['code']}")
        keys = page.get_by_role("group", name="Keypad")
        nowhere = page.get_by_text(f"This engine has no place for {procedure['name']}.")
        # Its own sheet, not the last one's that is about to leave the screen.
        opened = page.get_by_role("heading", level=1, name=f"{procedure['name']}, ")
        expect(opened.or_(nowhere).first).to_be_attached()
        if nowhere.count():
            continue
        expect(keys).to_be_visible()
        first = ""
        for _ in range(20 if engine_type["layout"] == "v" else 1):
            field = page.locator("#grid-value")
            place = page.locator(".grid-asked .soft").inner_text().split(",")[0]
            first = first or place
            if not field.is_enabled() or place != first:
                break
            quantity = page.locator(".grid-cell.is-next").first.get_attribute("data-quantity")
            field.fill(LIKELY.get(quantity, "0.35"))
            page.get_by_role("button", name="Save, next").click()
            if page.get_by_role("button", name="Save as it is").is_visible():
                page.get_by_role("button", name="Save as it is").click()
            expect(field).to_have_value("")
            done[procedure["code"]] += 1
    saved = Counter(row["entry"]["body"]["procedure"] for row in bay.rows("entries", kind="measured"))
    assert saved == done
    assert len(done) == offered, sorted({p["code"] for p in PROCEDURES} - set(done))
