"""What the workshop says of its measuring: gauges, rules, limits, sizes, procedures; and a reading typed by hand."""

from __future__ import annotations

import json

import pytest

from tests.support.bay import desk
from tests.support.measuring import a_gauge, a_limit, say
from tests.support.office import OfficePage, a_job
from tests.support.record import ENGINE_TYPE_ID
from tests.support.waiting import expect
from witnessmark.db import writing
from witnessmark.people import persons

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def technician(workshop) -> tuple[str, str]:
    with writing(workshop.engine) as conn:
        persons.add(conn, workshop.workshop.id, "Oskar", "technician", password="nine loose caps")
    return "Oskar", "nine loose caps"


def office_tab(office: OfficePage, name: str) -> None:
    office.page.get_by_role("navigation", name="Office").get_by_role("link", name=name, exact=True).click()


def test_a_gauge_is_put_into_the_register_and_what_cannot_be_is_said_beside_its_field(desk_page, workshop):
    page = desk_page.page
    office_tab(desk_page, "Gauges")
    page.get_by_role("link", name="New gauge").click()
    page.get_by_label("Name").fill("bore gauge 9")
    page.get_by_label("Type of gauge").select_option(label="bore gauge")
    page.get_by_label("Resolution").fill("0.001")
    page.get_by_label("Range from").fill("160")
    page.get_by_label("Range to").fill("50")
    page.get_by_label("Permissible error").fill("-0.003")
    page.get_by_label("Next due").fill("2026-01-31")
    page.get_by_role("button", name="Add to register").click()
    expect(page.get_by_role("alert")).to_contain_text("2 things to put right")
    expect(page.locator(".field.is-wrong")).to_have_count(2)
    expect(page.locator(".field.is-wrong").first).to_contain_text("The range ends at 50, below its start at 160.")
    page.get_by_label("Range from").fill("50")
    page.get_by_label("Range to").fill("160")
    page.get_by_label("Permissible error").fill("0.003")
    page.get_by_role("button", name="Add to register").click()
    expect(page.get_by_role("heading", name="bore gauge 9")).to_be_visible()
    expect(page.get_by_role("region", name="Description")).to_contain_text("overdue since 31 Jan 2026")
    office_tab(desk_page, "Gauges")
    expect(page.get_by_text("overdue for calibration: bore gauge 9")).to_be_visible()
    kept = desk(workshop).get("/api/gauges").get_json()["gauges"]
    assert [(gauge["low"], gauge["mpe"], gauge["overdue"]) for gauge in kept if gauge["name"] == "bore gauge 9"] == [
        ("50", "0.003", True)
    ]


def test_a_gauge_edited_keeps_its_history_and_a_retired_one_stays_readable(desk_page, workshop):
    say(workshop, ("gauge_described", "gauge", a_gauge("micrometer 7", certificate="C 118")))
    page = desk_page.page
    desk_page.go("gauges")
    page.get_by_role("link", name="micrometer 7").click()
    page.get_by_role("link", name="Edit").click()
    page.get_by_label("Certificate").fill("C 164")
    page.get_by_label("Out of use").check()
    page.get_by_role("button", name="Save").click()
    history = page.get_by_role("region", name="History").get_by_role("listitem")
    expect(history).to_have_count(2)
    expect(history.nth(0)).to_contain_text("C 164")
    expect(history.nth(1)).to_contain_text("C 118")
    office_tab(desk_page, "Gauges")
    expect(page.get_by_role("row").filter(has_text="micrometer 7")).to_contain_text("out of use")


def test_the_rules_say_what_they_mean_and_are_set_by_a_manager_only(desk_page, office_pages, technician):
    page = desk_page.page
    desk_page.go("gauges/rules")
    expect(page.get_by_role("radio", name="Guarded by the full uncertainty")).to_be_checked()
    page.get_by_role("radio", name="Simple acceptance").check()
    page.get_by_label("Minimum, % of the highest").fill("130")
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_role("alert").filter(has_text="must be above 0 and at most 100 %")).to_be_visible()
    page.get_by_label("Minimum, % of the highest").fill("90")
    page.get_by_label("Lengths").select_option("in")
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_role("region", name="History")).to_contain_text(
        "Simple acceptance; compression, 90 % of the highest"
    )

    theirs = office_pages(*technician)
    theirs.go("gauges/rules")
    expect(theirs.page.get_by_role("radio", name="Simple acceptance")).to_be_checked()
    expect(theirs.page.get_by_role("radio", name="Simple acceptance")).to_be_disabled()
    expect(theirs.page.get_by_role("button", name="Save")).to_have_count(0)
    theirs.go("gauges")
    expect(theirs.page.get_by_role("heading", name="Gauges")).to_be_visible()
    expect(theirs.page.get_by_role("link", name="New gauge")).to_have_count(0)


def test_a_limit_needs_its_source_and_can_count_for_some_places_only(desk_page, workshop):
    page = desk_page.page
    office_tab(desk_page, "Engine types")
    page.get_by_role("link", name="Halvern 2.9 V6").click()
    page.get_by_role("link", name="Limits and sizes").click()
    page.get_by_role("button", name="Add a limit").click()
    sheet = page.get_by_role("dialog", name="Add a limit")
    sheet.get_by_label("Procedure").select_option(label="Valve guide and stem")
    sheet.get_by_label("Figure").select_option(index=0)
    sheet.get_by_label("Maximum").fill("0.08")
    sheet.get_by_role("button", name="Save").click()
    expect(sheet.locator(".field.is-wrong")).to_contain_text("The source is empty.")
    sheet.get_by_label("Source").fill("Invented manual, 2nd edition, page 31")
    sheet.get_by_label("Applies to").select_option(label="some places only")
    sheet.get_by_role("button", name="Save").click()
    expect(sheet).to_have_count(0)
    line = page.get_by_role("region", name="Valve guide and stem").get_by_role("row").nth(1)
    expect(line).to_contain_text("at most 0.08 mm")
    expect(line).to_contain_text("Invented manual, 2nd edition, page 31")

    line.get_by_role("button", name="Change").click()
    sheet = page.get_by_role("dialog", name="Change the limit")
    sheet.get_by_label("Maximum").fill("0.07")
    sheet.get_by_role("button", name="Save").click()
    expect(line).to_contain_text("at most 0.07 mm")
    line.get_by_text("2 versions").click()
    expect(line.get_by_role("listitem").nth(1)).to_contain_text("at most 0.08 mm")
    answer = desk(workshop).get(f"/api/engine-types/{ENGINE_TYPE_ID}/limits").get_json()["limits"]
    assert [
        (limit_row["low"], limit_row["high"], len(limit_row["where"]))
        for limit_row in answer
        if limit_row["high"] == "0.07"
    ] == [("", "0.07", 1)]


def test_sizes_are_set_as_they_are_written_steps_and_material_too(desk_page, workshop):
    page = desk_page.page
    desk_page.go(f"engine-types/{ENGINE_TYPE_ID}/limits")
    for size, value in (("steps", "0.25 0.50 1.00"), ("material", "grey cast iron")):
        page.get_by_role("button", name="Add a size").click()
        sheet = page.get_by_role("dialog", name="Add a size")
        sheet.get_by_label("Procedure").select_option(label="Cylinder bore")
        sheet.get_by_label("Size", exact=True).select_option(size)
        if size == "material":
            sheet.get_by_label("Material").select_option("grey_iron")
        else:
            sheet.get_by_label("Value").fill(value)
        sheet.get_by_label("Source").fill("Invented parts list 7")
        sheet.get_by_role("button", name="Save").click()
        expect(sheet).to_have_count(0)
    bores = page.get_by_role("region", name="Cylinder bore")
    expect(bores).to_contain_text("0.25 0.50 1.00 mm")
    expect(bores).to_contain_text("grey cast iron")


def test_a_procedure_of_ones_own_shows_what_it_comes_to_while_it_is_written(desk_page, workshop, tmp_path):
    page = desk_page.page
    office_tab(desk_page, "Procedures")
    page.get_by_role("link", name="New procedure").click()
    page.get_by_label("Name", exact=False).first.fill("Rocker pad")
    page.get_by_label("Values of direction, one per line").fill("along\nacross")
    page.get_by_role("button", name="Add a line", exact=True).click()
    second = page.get_by_role("textbox", name="Line 2")
    second.fill("out of round")
    page.get_by_role("listitem").filter(has=second).get_by_label("is the").select_option("difference")
    of = page.get_by_role("listitem").filter(has=second).get_by_label("of", exact=True)
    of.fill("along, sideways")
    line = page.get_by_role("listitem").filter(has=second)
    expect(line.locator(".field-wrong")).to_contain_text("Line 2 (out_of_round)")
    expect(line.locator(".field-wrong")).to_contain_text("sideways")
    of.fill("along, across")
    expect(page.get_by_text("Nothing to put right.")).to_be_visible()

    tried = page.get_by_role("table", name="Made-up readings")
    tried.get_by_label("along").fill("12.05")
    tried.get_by_label("across").fill("11,98")
    figures = page.get_by_label("Figures", exact=True)
    expect(figures).to_contain_text("largest12.05 mm")
    expect(figures).to_contain_text("out of round0.07 mm")

    page.get_by_role("button", name="Save").click()
    expect(page.get_by_role("heading", name="Rocker pad")).to_be_visible()
    with page.expect_download() as download:
        page.get_by_role("link", name="Export as a file").click()
    path = tmp_path / "rocker.json"
    download.value.save_as(path)
    assert json.loads(path.read_text())["procedure"]["code"] == "own_rocker_pad"
    desk_page.go("procedures")
    page.get_by_label("Procedure file").set_input_files(path)
    expect(page.get_by_label("Values of direction, one per line")).to_have_value("along\nacross")
    kept = desk(workshop).get("/api/procedures").get_json()["procedures"]
    assert kept[-1]["procedure"]["figures"][1]["of"] == ["along", "across"]


def test_what_comes_with_the_program_is_read_and_copied_never_changed(desk_page):
    page = desk_page.page
    desk_page.go("procedures")
    page.get_by_role("link", name="Cylinder bore", exact=True).click()
    expect(page.get_by_role("region", name="Readings")).to_contain_text("top, middle, bottom")
    expect(page.get_by_role("region", name="Worked out")).to_contain_text("At each height the difference")
    expect(page.get_by_role("link", name="Edit")).to_have_count(0)
    page.get_by_role("link", name="Copy as our own").click()
    expect(page.get_by_text("Nothing to put right.")).to_be_visible()


def test_a_reading_typed_at_the_desk_stands_in_the_grid_with_what_it_is_judged_by(desk_page, workshop):
    gauge, limit = a_gauge("bore gauge 6"), a_limit("largest", "", "89.020")
    say(workshop, ("gauge_described", "gauge", gauge), ("limit_set", "limit", limit))
    _, job = a_job(workshop, desk(workshop), "26-710")
    desk_page.go(f"job/{job}?place=bore/3")
    page = desk_page.page
    expect(page.get_by_role("button", name="Remove filter: bore 3")).to_be_visible()
    page.keyboard.press("a")
    sheet = page.get_by_role("dialog", name="Add to the record")
    sheet.get_by_role("button", name="Reading", exact=True).click()
    sheet.get_by_label("Procedure").select_option(label="Cylinder bore")
    sheet.get_by_label("Value").fill("89.0O4")
    sheet.get_by_role("button", name="Save the reading").click()
    expect(sheet.locator(".field.is-wrong")).to_be_visible()
    sheet.get_by_label("Value").fill("89.004")
    sheet.get_by_label("Gauge", exact=True).select_option(label="bore gauge 6")
    sheet.get_by_role("button", name="Save the reading").click()
    # The sheet stays for the next reading of the grid.
    expect(sheet.get_by_role("status")).to_contain_text("Saved: bore 3, top, thrust, 89.004 mm.")
    expect(sheet.get_by_label("Reading", exact=True)).to_have_value("top/axial")
    body = desk(workshop).get(f"/api/jobs/{job}/timeline").get_json()["items"][-1]["body"]
    assert (body["procedure"], body["reading"], body["gauge_id"]) == ("cylinder_bore", "top/thrust", gauge["id"])
    answer = desk(workshop).get(f"/api/engine-types/{ENGINE_TYPE_ID}/limits").get_json()["limits"]
    assert next(row["entry"] for row in answer if row["id"] == limit["id"]) in body["basis"]
    sheet.get_by_role("button", name="Close").click()

    desk_page.line(2).get_by_role("button").first.click()
    page.keyboard.press("c")
    sheet = page.get_by_role("dialog", name="Correct record 2")
    sheet.get_by_label("reading in the grid").select_option(label="middle, axial")
    expect(sheet.get_by_label("Point on the part")).to_have_value("middle, axial")
    sheet.get_by_label("Reason").fill("taken one lower")
    sheet.get_by_role("button", name="Save the correction").click()
    expect(sheet).to_have_count(0)
    sheets = desk(workshop).get(f"/api/jobs/{job}/figures").get_json()["sheets"]
    assert list(next(place for place in sheets[0]["places"] if place["place"] == "bore/3")["readings"]) == [
        "middle/axial"
    ]
