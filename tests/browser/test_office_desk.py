"""What the office does itself: adds papers, writes, makes engine types, lets phones in, cuts packs."""

from __future__ import annotations

import hashlib
import json
import os
from base64 import b64encode

import pytest

from tests.support.bay import a_picture, desk
from tests.support.office import PATIENCE, OfficePage, a_job, kept_original
from tests.support.phone import Phone
from tests.support.record import send
from tests.support.waiting import expect
from witnessmark.trade.record.kinds import TYPED

pytestmark = pytest.mark.browser

# A certificate as a machine shop sends it: the smallest file that is a PDF.
PDF = (
    b"%PDF-1.4\n1 0 obj<</Type/Catalog/Pages 2 0 R>>endobj\n"
    b"2 0 obj<</Type/Pages/Kids[]/Count 0>>endobj\ntrailer<</Root 1 0 R>>\n%%EOF\n"
)


def sha256(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


@pytest.fixture
def job(workshop, request) -> str:
    return a_job(workshop, desk(workshop), f"26-{abs(hash(request.node.name)) % 10_000}")[1]


def let_go_over(office: OfficePage, selector: str, files: list[tuple[str, str, bytes]]) -> None:
    """Files dragged from a folder and let go over the sheet."""
    given = [[name, kind, b64encode(data).decode()] for name, kind, data in files]
    held = office.page.evaluate_handle(
        """(files) => {
            const held = new DataTransfer()
            for (const [name, type, base64] of files) {
                const bytes = Uint8Array.from(atob(base64), (c) => c.charCodeAt(0))
                held.items.add(new File([bytes], name, {type}))
            }
            return held
        }""",
        given,
    )
    for moment in ("dragover", "drop"):
        office.page.dispatch_event(selector, moment, {"dataTransfer": held})


def test_a_picture_and_a_certificate_let_go_over_the_record_become_exhibits(desk_page, workshop, job, tmp_path):
    picture = a_picture(tmp_path, "crankpin 2").read_bytes()
    desk_page.open_record(job)
    let_go_over(
        desk_page, ".record", [("crankpin_2.jpg", "image/jpeg", picture), ("ground.pdf", "application/pdf", PDF)]
    )
    sheet = desk_page.page.get_by_role("dialog", name="Add to the record")
    sheet.get_by_label("Picture caption").fill("Crankpin 2 as it came back")
    sheet.get_by_label("Title").fill("Grinder's certificate")
    sheet.get_by_label("Place").fill("crankpin 2")
    sheet.get_by_role("button", name="Add all 2").click()
    expect(sheet.get_by_role("status")).to_contain_text("2 of 2 files added")
    sheet.get_by_role("button", name="Back to the record").click()

    expect(desk_page.line(2)).to_contain_text("Crankpin 2 as it came back")
    expect(desk_page.line(3)).to_contain_text("Document: Grinder's certificate")
    assert kept_original(workshop, sha256(picture)).read_bytes() == picture
    assert kept_original(workshop, sha256(PDF)).read_bytes() == PDF
    items = desk(workshop).get(f"/api/jobs/{job}/timeline").get_json()["items"]
    assert [item["place"] for item in items[1:]] == ["crankpin/2", "crankpin/2"]
    assert items[1]["body"]["width"] == 1600


def test_a_line_that_breaks_while_a_file_is_sent_is_taken_up_where_it_stopped(desk_page, workshop, job, tmp_path):
    scan = tmp_path / "scan.tif"
    scan.write_bytes(b"II*\0" + os.urandom(20 * 1024 * 1024))
    broken = []

    def break_second_piece(route):
        if route.request.headers.get("upload-offset") not in (None, "0") and not broken:
            broken.append(route.request.headers["upload-offset"])
            route.abort()
        else:
            route.continue_()

    desk_page.page.route("**/api/media/uploads/**", break_second_piece)
    desk_page.open_record(job)
    desk_page.page.keyboard.press("a")
    sheet = desk_page.page.get_by_role("dialog", name="Add to the record")
    sheet.get_by_label("Files to add").set_input_files(scan)
    sheet.get_by_role("button", name="Add the file").click()
    expect(sheet.get_by_role("status")).to_contain_text("1 of 1 file added", timeout=30_000)
    # Eight mebibytes were there when the line broke; they were not sent again.
    assert broken == [str(8 * 1024 * 1024)]
    assert kept_original(workshop, sha256(scan.read_bytes())).stat().st_size == scan.stat().st_size


def test_an_empty_file_is_refused_with_its_name_and_the_others_go_on(desk_page, job, tmp_path):
    (tmp_path / "empty.pdf").write_bytes(b"")
    (tmp_path / "full.pdf").write_bytes(PDF + b"2")
    desk_page.open_record(job)
    desk_page.page.keyboard.press("a")
    sheet = desk_page.page.get_by_role("dialog", name="Add to the record")
    sheet.get_by_label("Files to add").set_input_files([tmp_path / "empty.pdf", tmp_path / "full.pdf"])
    sheet.get_by_role("button", name="Add all 2").click()
    expect(sheet.get_by_role("status")).to_contain_text("1 of 2 files added")
    expect(sheet.get_by_role("list", name="Files")).to_contain_text("empty.pdf is empty")


def test_a_finding_keeps_what_is_seen_apart_from_the_opinion(desk_page, workshop, job):
    desk_page.go(f"job/{job}?place=bore/3")
    expect(desk_page.page.get_by_role("button", name="Remove filter: bore 3")).to_be_visible()
    desk_page.page.keyboard.press("a")
    sheet = desk_page.page.get_by_role("dialog", name="Add to the record")
    sheet.get_by_role("button", name="Finding", exact=True).click()
    # The place the record is narrowed to is at hand.
    expect(sheet.get_by_label("Place")).to_have_value("bore 3")
    sheet.get_by_label("Condition").fill("scored, scuffed")
    sheet.get_by_label("Opinion").fill("A piece of ring has dragged.")
    sheet.get_by_role("button", name="Save the finding").click()
    expect(sheet.get_by_role("alert")).to_contain_text("An opinion alone is not a finding")
    sheet.get_by_label("Observation").fill("Nine scores on the thrust side.")
    sheet.get_by_label("To do").select_option(label="rework")
    sheet.get_by_role("button", name="Save the finding").click()
    expect(sheet).to_have_count(0)
    body = desk(workshop).get(f"/api/jobs/{job}/timeline").get_json()["items"][-1]["body"]
    assert body == {
        "observation": "Nine scores on the thrust side.",
        "condition": ["scored", "scuffed"],
        "opinion": "A piece of ring has dragged.",
        "disposition": "rework",
        **TYPED,
    }


def test_a_job_is_opened_at_the_desk_and_a_returning_engine_is_tied_to_its_story(desk_page, workshop):
    _, earlier = a_job(workshop, desk(workshop), "25-007", engine_number="HV 29-4711")
    desk_page.page.keyboard.press("n")
    sheet = desk_page.page.get_by_role("dialog", name="New job")
    sheet.get_by_label("Job number").fill("26-222")
    sheet.get_by_label("Vehicle or machine").fill("Harbour launch Marrow")
    sheet.get_by_label("Engine type").select_option(label="Halvern 2.9 V6")
    sheet.get_by_label("Engine number").fill("hv29/4711")
    sheet.get_by_label("Comeback: job 25-007").check()
    sheet.get_by_role("button", name="Open the job").click()
    expect(desk_page.page.get_by_role("contentinfo")).to_contain_text("26-222")
    expect(desk_page.page.get_by_role("contentinfo")).to_contain_text("second visit")
    job = desk_page.page.url.split("#/job/")[1].split("?")[0]
    assert desk(workshop).get(f"/api/jobs/{job}").get_json()["earlier_job"] == earlier


def test_the_stage_and_the_facts_are_changed_with_what_stood_there_kept(desk_page, workshop, job):
    desk_page.open_record(job)
    desk_page.page.keyboard.press("a")
    sheet = desk_page.page.get_by_role("dialog", name="Add to the record")
    sheet.get_by_role("button", name="Stage", exact=True).click()
    sheet.get_by_label("strip", exact=True).check()
    sheet.get_by_role("button", name="Save the stage").click()
    expect(desk_page.page.get_by_role("contentinfo")).to_contain_text("strip")

    desk_page.page.get_by_role("navigation", name="This job").get_by_role("link", name="Facts").click()
    desk_page.page.get_by_role("button", name="Amend the facts").click()
    sheet = desk_page.page.get_by_role("dialog")
    sheet.get_by_label("Engine number").fill("K-20332")
    sheet.get_by_role("button", name="Save the amendment").click()
    expect(sheet.get_by_role("alert")).to_contain_text("Give the reason")
    sheet.get_by_label("Reason").fill("misread in bad light")
    sheet.get_by_role("button", name="Save the amendment").click()
    expect(desk_page.page.get_by_role("region", name="Facts")).to_contain_text("K-20332")
    kinds = [item["kind"] for item in desk(workshop).get(f"/api/jobs/{job}/timeline").get_json()["items"]]
    assert kinds == ["job_opened", "stage_reached", "job_amended"]


def test_an_engine_type_is_drawn_while_it_is_described_and_its_faults_stand_beside_the_fields(desk_page, tmp_path):
    desk_page.go("engine-types/new")
    page = desk_page.page
    page.get_by_role("button", name="V", exact=True).click()
    page.get_by_label("Cylinders", exact=True).fill("8")
    drawing = page.get_by_role("group", name=", block")
    expect(drawing.get_by_role("button", name="bore 8")).to_be_visible()
    page.get_by_label("Firing order").fill("1 8 4 3 6 5 7 9")
    expect(page.locator(".field.is-wrong")).to_contain_text("cylinder 9; the engine has 8")
    page.get_by_label("Firing order").fill("1 8 4 3 6 5 7 2")
    page.get_by_label("Name").fill("Corrie 4.4 V8")
    expect(page.get_by_text("Nothing to put right.")).to_be_visible()
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_role("heading", name="Corrie 4.4 V8")).to_be_visible()

    with page.expect_download() as download:
        page.get_by_role("link", name="Export as a file").click()
    path = tmp_path / "corrie.json"
    download.value.save_as(path)
    assert json.loads(path.read_text())["engine_type"]["firing_order"] == [1, 8, 4, 3, 6, 5, 7, 2]
    desk_page.go("engine-types")
    page.get_by_label("Engine type file").set_input_files(path)
    expect(page.get_by_label("Firing order")).to_have_value("1 8 4 3 6 5 7 2")


def test_a_phone_is_added_by_the_code_on_the_screen_and_blocked_with_a_reason(desk_page, workshop):
    page = desk_page.page
    page.get_by_role("navigation", name="Office").get_by_role("link", name="Phones").click()
    page.get_by_role("button", name="Add a phone").click()
    sheet = page.get_by_role("dialog", name="Add a phone")
    expect(sheet.get_by_role("img")).to_have_js_property("complete", True)
    assert sheet.get_by_role("img").evaluate("picture => picture.naturalWidth") > 100
    phone = Phone(workshop.speak, workshop.manager.id)
    status, answer = phone.join(sheet.locator(".invite-code").inner_text(), "Phone by the lathe")
    assert status == 201, answer
    expect(sheet.get_by_role("status")).to_contain_text("A phone has joined")
    sheet.get_by_role("button", name="Close").click()

    # It made three records and sent two: the office says so.
    job = phone.open_job("26-333")
    phone.note(job)
    phone.note(job)
    last = phone.outbox.pop()
    status, _ = phone.push(announced=phone.sequence)
    assert status == 200
    line = page.get_by_role("listitem").filter(has_text="Phone by the lathe")
    expect(line).to_contain_text("This phone reports 3 records; 2 are here, 1 still on it.", timeout=PATIENCE)
    phone.outbox.append(last)
    send(phone)
    expect(line).to_contain_text("All 3 of its records are here.", timeout=PATIENCE)

    line.get_by_role("button", name="Block").click()
    sheet = page.get_by_role("dialog")
    sheet.get_by_label("Reason").fill("dropped into the parts washer")
    sheet.get_by_role("button", name="Block this phone").click()
    expect(line).to_contain_text("dropped into the parts washer")


def test_people_are_added_and_a_technician_has_no_say_over_them(desk_page, office_pages, workshop):
    page = desk_page.page
    page.get_by_role("navigation", name="Office").get_by_role("link", name="People").click()
    page.get_by_role("button", name="Add a person").click()
    sheet = page.get_by_role("dialog")
    sheet.get_by_label("Name").fill("Marit")
    sheet.get_by_label("Password").fill("three blued shims")
    sheet.get_by_role("button", name="Save").click()
    expect(page.get_by_role("listitem").filter(has_text="Marit")).to_contain_text("technician")

    hers = office_pages("Marit", "three blued shims")
    expect(hers.page.get_by_role("navigation", name="Office")).not_to_contain_text("People")
    hers.go("phones")
    expect(hers.page.get_by_role("heading", name="Phones")).to_be_visible()
    expect(hers.page.get_by_role("button", name="Add a phone")).to_have_count(0)


def test_too_many_wrong_passwords_have_to_wait_and_are_told_how_long(office_pages, workshop):
    """On the server's own machine, as here, nobody is told to wait: the page is given what another one is answered."""
    stranger = workshop.app.test_client()
    facts = {"environ_base": {"REMOTE_ADDR": "192.0.2.7"}, "headers": {"X-Witnessmark": "office"}}
    guess = {"name": "Bram", "password": "not this one"}
    for _ in range(12):
        answer = stranger.post("/api/office/sign-in", json=guess, **facts)
        if answer.status_code == 429:
            break
    assert answer.status_code == 429
    office = office_pages(person="")
    office.page.route(
        "**/api/office/sign-in",
        lambda route: route.fulfill(status=429, headers=dict(answer.headers), body=answer.get_data(as_text=True)),
    )
    office.page.get_by_label("Name").fill("Bram")
    office.page.get_by_label("Password").fill("not this one")
    office.page.get_by_role("button", name="Sign in").click()
    expect(office.page.get_by_role("alert")).to_contain_text("Too many wrong tries. Wait")
