"""Tightening at the desk: where fasteners stand, sheets, torque tools, and each joint as it was carried out."""

from __future__ import annotations

import io
import json
import re

import pikepdf
import pytest
from playwright.sync_api import Locator

from tests.support.bay import desk
from tests.support.office import NARROW, OfficePage, a_job
from tests.support.record import ENGINE_TYPE_ID, a_v6, describe
from tests.support.tightening import Tightening, a_stage, a_turn, describe_sheet, describe_tool, runs
from tests.support.waiting import expect
from witnessmark.db import writing
from witnessmark.people import persons

pytestmark = pytest.mark.browser

OVERDUE = "5e906fa7-ae63-42bc-9060-8fb27ec34166"


@pytest.fixture(scope="module")
def v6(workshop) -> str:
    client = desk(workshop)
    described = client.get("/api/engine-types").get_json()["engine_types"]
    return described[0]["id"] if described else describe(client, a_v6())


@pytest.fixture(scope="module")
def sheet(workshop, v6) -> dict:
    return describe_sheet(
        desk(workshop),
        name="Heads, stretch bolts",
        bolt="stretch",
        uses_most=1,
        two_people=True,
        stages=[a_stage(), a_turn(proposed=True)],
    )


@pytest.fixture(scope="module")
def tool(workshop) -> dict:
    return describe_tool(desk(workshop))


@pytest.fixture(scope="module")
def run(workshop, sheet, tool) -> Tightening:
    """One head with a departure of each kind that a phone can make in two stages."""
    client = desk(workshop)
    late = describe_tool(client, id=OVERDUE, name="Wrench W2", low="60", high="300", due="2026-03-01")
    phone, job = a_job(workshop, client, "26-800")
    made = Tightening(phone, job, sheet, bolts="used", use=1)
    with_tool = {"tool": tool["name"], "tool_id": tool["id"]}
    made.tap("snug", "21", **with_tool)
    made.tap("snug", "3", given="typed", value="26", remark="slipped", **with_tool)
    made.tap("snug", "3", tool=late["name"], tool_id=late["id"])
    made.answer("snug/1/out_of_order/1", "Bolt 3 was on its way from the store.")
    made.tap("turn", "23")
    made.restart("turn", "The angle gauge had slipped.")
    made.tap("turn", "2314")
    made.send()
    return made


@pytest.fixture
def joints(desk_page, run) -> OfficePage:
    desk_page.go(f"job/{run.job}/joints")
    expect(desk_page.page.get_by_role("heading", name="Head, bank A, tightened")).to_be_visible()
    return desk_page


def stage(office: OfficePage, name: str) -> Locator:
    return office.page.get_by_role("list", name="Stages").get_by_role("listitem", name=name, exact=True)


def fastener(inside: Locator, label: str) -> Locator:
    return inside.get_by_role("button", name=re.compile(rf"^fastener {label}(,|$)"))


def test_fasteners_are_placed_by_rows_a_circle_dragging_keys_and_typing(desk_page, v6):
    page = desk_page.page
    desk_page.go(f"engine-types/{v6}/edit")
    page.get_by_role("button", name="Add a joint").click()
    joint = page.locator("details.joint").last
    joint.get_by_label("Code").fill("flywheel_bolt")
    joint.get_by_label("Name").fill("Flywheel")
    joint.get_by_text("Place in rows or on a circle").click()
    joint.get_by_role("button", name="on a circle").click()
    joint.get_by_label("How many").fill("1")
    joint.get_by_role("button", name="Place them").click()
    expect(joint.get_by_label("How many")).to_have_attribute("aria-invalid", "true")
    joint.get_by_label("How many").fill("6")
    joint.get_by_label("Bolt circle").fill("90")
    joint.get_by_role("button", name="Place 6 fasteners").click()
    lines = joint.get_by_label("Fasteners", exact=True)
    expect(lines).to_have_value("1 0 -45\n2 39 -23\n3 39 23\n4 0 45\n5 -39 23\n6 -39 -23")

    board = joint.get_by_role("group", name="Fasteners of Flywheel", exact=True)
    fastener(board, "4").focus()
    fastener(board, "4").press("Enter")
    fastener(board, "4").press("ArrowRight")
    expect(lines).to_have_value(re.compile("4 1 45"))
    joint.get_by_role("button", name="Move 4 1 mm up").click()
    joint.get_by_label("4: mm along").fill("-2")
    expect(lines).to_have_value(re.compile("4 -2 44"))
    before = fastener(board, "1").bounding_box()
    page.mouse.move(before["x"] + before["width"] / 2, before["y"] + before["height"] / 2)
    page.mouse.down()
    page.mouse.move(before["x"] + 60, before["y"] + 40, steps=5)
    page.mouse.up()
    moved = lines.input_value().split("\n")[0].split()
    assert int(moved[1]) > 0 and int(moved[2]) > -45
    # One touch after another does what dragging does.
    board.click(position={"x": 20, "y": 20})
    assert lines.input_value().split("\n")[0] != " ".join(moved)

    lines.fill("1 10 10\n2 10 10\n2 20 20")
    wrong = joint.locator(".field-wrong")
    expect(wrong).to_contain_text("Fasteners 1 and 2 of flywheel_bolt are in the same place.")
    expect(wrong).to_contain_text("Two fasteners of flywheel_bolt are called 2.")
    lines.fill("1 -30 -30\n2 30 -30\n3 30 30\n4 -30 30")
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_role("region", name="Data")).to_contain_text("Flywheel: 4")


def test_a_sheet_is_written_its_order_touched_or_proposed_and_confirmed(desk_page, workshop, v6, tmp_path):
    page = desk_page.page
    desk_page.go(f"engine-types/{v6}")
    page.get_by_role("link", name="Tightening").click()
    page.get_by_role("link", name="New tightening sheet").click()
    page.get_by_label("Joint", exact=True).select_option("head_bolt/*")
    page.get_by_label("Name", exact=False).first.fill("Heads, test")
    page.get_by_label("Thread", exact=False).first.fill("M10")
    page.get_by_label("Pitch, mm").fill("1.5")
    first = page.get_by_role("group", name="Stage 1", exact=True)
    first.get_by_label("Name").fill("Snug")
    first.get_by_label("Target").fill("20")
    first.get_by_label("Permitted above").fill("2")
    first.get_by_label("Permitted below").fill("25")
    expect(first.locator(".field-wrong").filter(has_text="25 below 20 leaves nothing.")).to_be_visible()
    first.get_by_label("Permitted below").fill("2")

    plan = page.get_by_role("group", name="Order of Snug")
    for label in "231":
        fastener(plan, label).click()
    expect(first.get_by_label("Order", exact=True)).to_have_value("2 3 1")
    page.get_by_role("button", name="Save").click()
    expect(first.locator(".stage-order .field-wrong")).to_contain_text(
        "Snug: fastener 4 of head_bolt/A and head_bolt/B is missing from the order"
    )
    fastener(plan, "1").click()
    fastener(plan, "4").click()
    expect(fastener(plan, "4")).to_have_attribute("aria-label", "fastener 4, number 3 in the order")
    first.get_by_label("Order", exact=True).fill("2 3 1 1 9")
    expect(first.locator(".stage-order .field-wrong")).to_contain_text("fastener 1 is in the order twice")
    first.get_by_label("Order", exact=True).fill("2 3 1 4")

    page.get_by_role("button", name="Add a stage").click()
    second = page.get_by_role("group", name="Stage 2", exact=True)
    expect(second.get_by_label("Order", exact=True)).to_have_value("2 3 1 4")
    second.get_by_label("Name").fill("Turn")
    second.get_by_label("Method").select_option("angle")
    for name, value in (("Target", "90"), ("Permitted below", "5"), ("Permitted above", "5")):
        second.get_by_label(name).fill(value)
    second.get_by_role("button", name="Propose an order").click()
    expect(second.get_by_text("Proposed from the positions.")).to_be_visible()
    expect(page.get_by_role("figure")).to_contain_text("order proposed, not confirmed")

    page.get_by_role("button", name="Require a checklist item").click()
    page.get_by_label("a second person witnesses it").check()
    page.get_by_label("Source").fill("Invented manual, edition 2, page 41")
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_role("heading", name="Heads, test")).to_be_visible()
    stages = page.get_by_role("region", name="Stages")
    expect(stages).to_contain_text("Snug, to a torque: 20 N·m ±2")
    expect(stages).to_contain_text("order proposed, not confirmed")
    expect(page.get_by_role("region", name="Before it is closed")).to_contain_text("A second person witnesses it")

    page.get_by_role("link", name="Edit").click()
    page.get_by_role("button", name="Confirm this order, stage 2").click()
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_role("region", name="History").get_by_role("listitem")).to_have_count(2)
    expect(page.get_by_role("region", name="Stages")).not_to_contain_text("proposed")
    answer = desk(workshop).get(f"/api/engine-types/{v6}/tightening").get_json()["sheets"]
    kept = next(sheet for sheet in answer if sheet["name"] == "Heads, test")
    assert [stage["proposed"] for stage in kept["stages"]] == [False, False]
    assert [stage["code"] for stage in kept["stages"]] == ["1", "2"]

    with page.expect_download() as file:
        page.get_by_role("link", name="Export as a file").click()
    path = tmp_path / "heads.json"
    file.value.save_as(path)
    assert json.loads(path.read_text())["sheet"]["name"] == "Heads, test"
    page.get_by_role("link", name="All tightening sheets").click()
    page.get_by_label("Tightening sheet file").set_input_files(path)
    expect(page.get_by_role("heading", name="New tightening sheet")).to_be_visible()
    expect(page.get_by_role("group", name="Stage 2", exact=True).get_by_label("Target")).to_have_value("90")


def test_the_phones_view_goes_through_the_order(desk_page, sheet, v6):
    page = desk_page.page
    desk_page.go(f"engine-types/{v6}/tightening/{sheet['id']}")
    phone = page.get_by_role("figure", name="As the phone shows it")
    expect(phone).to_contain_text("stage 1 of 2: Snug")
    phone.get_by_role("button", name="Next", exact=True).click()
    expect(phone.get_by_role("button", name="fastener 2, done")).to_be_visible()
    expect(phone.get_by_role("button", name="fastener 3, next")).to_be_visible()
    expect(phone).to_contain_text("2 of 4")


def test_torque_tools_are_registered_and_what_cannot_be_is_said_beside_its_field(desk_page, workshop):
    page = desk_page.page
    desk_page.go("gauges")
    page.get_by_role("link", name="Torque tools").click()
    page.get_by_role("link", name="New torque tool").click()
    page.get_by_label("Name").fill("Wrench W7")
    page.get_by_label("Range from").fill("210")
    page.get_by_label("Range to").fill("40")
    page.get_by_label("Class to ISO 6789-1").select_option("II A")
    page.get_by_role("button", name="Add to register").click()
    expect(page.locator(".field.is-wrong")).to_contain_text("The range ends at 40, below its start at 210.")
    page.get_by_label("Range from").fill("40")
    page.get_by_label("Range to").fill("210")
    expect(page.get_by_text("used from 42 to 210 N·m, 20 to 100 % of its range")).to_be_visible()
    page.get_by_label("Permissible deviation").fill("5")
    expect(page.locator(".field.is-wrong")).to_contain_text("Class II A permits 4 % at most")
    page.get_by_label("Permissible deviation").fill("")
    page.get_by_label("Calibrated on").fill("2025-08-01")
    page.get_by_label("Next due").fill("2026-01-31")
    page.get_by_role("button", name="Add to register").click()
    about = page.get_by_role("region", name="Description")
    expect(about).to_contain_text("±4 %, ISO 6789-1, class II A")
    expect(about).to_contain_text("overdue since 31 Jan 2026")

    # 100 N·m with 400 mm of wrench and 50 mm in line: 100 x 400 / 450 = 88.89 (worked by hand).
    extension = page.get_by_role("region", name="With a crow-foot or an extension")
    extension.get_by_label("Torque at the fastener").fill("100")
    extension.get_by_label("Wrench, square to grip").fill("400")
    extension.get_by_label("Extension, square").fill("50")
    expect(extension.get_by_role("status")).to_contain_text("88.89 N·m")
    extension.get_by_role("button", name="at a right angle").click()
    expect(extension.get_by_role("status")).to_contain_text("100 N·m")

    page.get_by_role("link", name="All torque tools").click()
    expect(page.get_by_text(re.compile("tools? overdue for calibration: .*Wrench W7"))).to_be_visible()
    answer = desk(workshop).get("/api/torque-tools").get_json()["tools"]
    assert [(tool["low"], tool["class"], tool["overdue"]) for tool in answer if tool["name"] == "Wrench W7"] == [
        ("40", "II A", True)
    ]


def test_a_joint_is_shown_as_it_was_done_beside_what_was_asked(joints):
    snug = stage(joints, "Snug")
    # Asked 2 3 1 4, done 2 1 3 3 and 4 left out.
    expect(fastener(snug, "1")).to_have_attribute(
        "aria-label", "fastener 1, specified as number 3, done as number 2, out of order, answered"
    )
    expect(fastener(snug, "4")).to_have_attribute(
        "aria-label", "fastener 4, specified as number 4, skipped, still to be answered"
    )
    rows = snug.get_by_role("table", name="Snug, in the order done").get_by_role("row")
    expect(rows).to_have_count(5)
    expect(rows.nth(3)).to_contain_text("26 N·m typed")
    expect(rows.nth(3)).to_contain_text("above the limit")
    expect(rows.nth(3)).to_contain_text("slipped")
    expect(rows.nth(4)).to_contain_text("again")
    expect(rows.nth(4)).to_contain_text("Wrench W2")
    expect(snug).to_contain_text(re.compile(r"4 fasteners in \d+ (second|minute)"))
    expect(joints.page.get_by_text("the calibration of Wrench W2 was due on 2026-03-01.").first).to_be_visible()
    turn = stage(joints, "Turn")
    expect(turn).to_contain_text("Restarted once.")
    turn.get_by_text("Before restart 1: 2 bolts").click()
    expect(turn.get_by_role("table", name="Turn, before restart 1").get_by_role("row")).to_have_count(3)


def test_every_departure_is_listed_with_its_answer_or_what_it_needs_and_leads_to_its_exhibit(joints):
    listed = joints.page.get_by_role("region", name="Deviations from the tightening sheet")
    for words in ("Out of order", "Above the limit", "Tightened again", "Calibration overdue"):
        expect(listed.get_by_role("listitem").filter(has_text=re.compile(f"^{words}", re.I))).to_have_count(1)
    # Once for bolts that were used before, and once for the turn that was begun again on them.
    stretch = listed.get_by_role("listitem").filter(has_text=re.compile("^Stretch bolts tightened too often", re.I))
    expect(stretch).to_have_count(2)
    for words in ("Skipped", "Outside the tool’s range", "Order not confirmed"):
        expect(listed.get_by_role("listitem").filter(has_text=re.compile(f"^{words}", re.I)).first).to_be_visible()
    answered = listed.get_by_role("listitem").filter(has_text="Bolt 3 was on its way from the store.")
    expect(answered).to_have_count(1)
    answered.get_by_role("link", name="record").click()
    shown = joints.page.get_by_role("region", name=re.compile(r"^Record \d")).first
    expect(shown).to_contain_text("Deviation answered")


def test_a_manager_answers_witnesses_and_closes_at_the_desk(desk_page, office_pages, workshop, sheet, tool):
    phone, job = a_job(workshop, desk(workshop), "26-801")
    made = Tightening(phone, job, sheet, bolts="used", use=1)
    made.tap("snug", tool=tool["name"], tool_id=tool["id"])
    made.tap("turn")
    made.send()
    with writing(workshop.engine) as conn:
        persons.add(conn, workshop.workshop.id, "Runa", "technician", password="nine loose caps")
        persons.add(conn, workshop.workshop.id, "Berit", "manager", password="nine loose caps")
    theirs = office_pages("Runa", "nine loose caps")
    theirs.go(f"job/{job}/joints")
    expect(theirs.page.get_by_text("A manager must give a reason.")).to_be_visible()
    expect(theirs.page.get_by_role("button", name=re.compile("^Answer"))).to_have_count(0)

    desk_page.go(f"job/{job}/joints")
    expect(desk_page.page.get_by_text("You tightened here yourself: somebody else must witness it.")).to_be_visible()
    other = office_pages("Berit", "nine loose caps")
    page = other.page
    other.go(f"job/{job}/joints")
    signed = page.get_by_role("region", name="Sign-off")
    expect(signed).to_contain_text("2 deviations to be answered.")
    expect(signed.get_by_role("button", name="Close the run")).to_have_count(0)
    listed = page.get_by_role("region", name="Deviations from the tightening sheet")
    listed.get_by_role("button", name=re.compile("^Answer: These stretch bolts")).click()
    listed.get_by_role("button", name="Save the reason").click()
    expect(listed.locator(".field-wrong")).to_contain_text("Write why it was done this way.")
    listed.get_by_label("Reason").fill("Measured: 0.1 mm below the greatest length.")
    listed.get_by_role("button", name="Save the reason").click()
    expect(listed.get_by_text("“Measured: 0.1 mm below the greatest length.”")).to_be_visible()
    listed.get_by_role("button", name=re.compile("^Answer: Turn")).click()
    listed.get_by_label("Reason").fill("The maker gives no order; this one was agreed.")
    listed.get_by_role("button", name="Save the reason").click()
    expect(signed).to_contain_text("A second person must witness the run")
    signed.get_by_role("button", name="Witness").click()
    signed.get_by_role("form", name="Witness").get_by_role("button", name="Witness").click()
    expect(signed).to_contain_text("Witnessed by")
    signed.get_by_role("button", name="Close the run").click()
    signed.get_by_label("Remark").fill("turns by hand")
    signed.get_by_role("form", name="Close the run").get_by_role("button", name="Close the run").click()
    expect(signed).to_contain_text("Closed by")
    [answer] = runs(desk(workshop), job)
    assert (answer["closed"]["remark"], answer["missing"]) == ("turns by hand", [])


def test_a_joint_reads_on_a_narrow_sheet_and_steps_by_keys(office_pages, run):
    office = office_pages(viewport=NARROW)
    office.go(f"job/{run.job}/joints")
    snug = stage(office, "Snug")
    expect(snug).to_be_visible()
    assert office.overflow() <= 0
    fastener(snug, "1").focus()
    office.page.keyboard.press("ArrowRight")
    assert office.page.evaluate("document.activeElement.dataset.fastener") == "3"
    office.page.keyboard.press("Enter")
    expect(snug.locator("tr[data-at='true']")).to_have_count(2)


def test_a_joint_is_printed_on_drawing_sheets(joints):
    joints.page.emulate_media(media="print")
    data = joints.page.pdf(prefer_css_page_size=True)
    with pikepdf.open(io.BytesIO(data)) as pdf:
        assert len(pdf.pages) <= 4
        width, height = (float(side) for side in pdf.pages[0].mediabox[2:])
    assert width > height


def test_without_a_run_the_leaf_says_what_to_do(desk_page, workshop):
    _, job = a_job(workshop, desk(workshop), "26-802")
    desk_page.go(f"job/{job}/joints")
    expect(
        desk_page.page.get_by_text("No joint has been tightened by a tightening sheet on this job yet.")
    ).to_be_visible()
    desk_page.go(f"engine-types/{ENGINE_TYPE_ID}/tightening")
    expect(desk_page.page.get_by_role("heading", name=re.compile("^Tightening"))).to_be_visible()


def test_a_fastener_in_the_record_leads_to_its_joint_as_carried_out(desk_page, run):
    desk_page.open_record(run.job, exhibit="3")
    about = desk_page.in_hand(3)
    expect(about).to_contain_text("the tool signalled its target")
    expect(about).not_to_contain_text(run.run)
    about.get_by_role("link", name="As carried out").click()
    expect(desk_page.page.get_by_role("heading", name="Head, bank A, tightened")).to_be_visible()


def test_a_torque_beyond_thread_or_tools_is_said_at_its_field(desk_page, workshop, sheet, tool, v6):
    page = desk_page.page
    desk_page.go(f"engine-types/{v6}/tightening/{sheet['id']}/edit")
    first = page.get_by_role("group", name="Stage 1", exact=True)
    wrong = first.locator(".field-wrong")
    first.get_by_label("Target").fill("900")
    expect(wrong).to_contain_text("that break M10")
    expect(page.get_by_role("region", name="Tools")).to_contain_text("No tool in the register is suitable.")
    first.get_by_label("Target").fill("2.1")
    expect(wrong).to_contain_text("2.1 N·m for head_bolt/* is outside the range of every torque tool in the register")
    first.get_by_label("Target").fill("20")
    expect(wrong).to_have_count(0)
    expect(page.get_by_role("region", name="Tools")).to_contain_text(tool["name"])
    preload = page.get_by_role("region", name="Preload")
    expect(preload).to_contain_text("of the proof load")
    expect(preload).to_contain_text("This is an estimate, not a limit")
