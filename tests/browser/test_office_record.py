"""The manager reads a job: by keys, by place, by words, while new records arrive."""

from __future__ import annotations

import hashlib
import re

import pytest

from tests.support.bay import a_picture, desk
from tests.support.office import OfficePage, a_job, send_original
from tests.support.record import at, correct, finding, keep, measure, photograph, send, withdraw
from tests.support.waiting import expect

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def teardown(workshop, tmp_path_factory):
    """A job with two photographs of bore 3, one of main 2, a measurement, a finding and a note on gudgeon pin 3."""
    folder = tmp_path_factory.mktemp("pictures")
    phone, job = a_job(workshop, desk(workshop), "26-101", vehicle="Harbour launch Marrow")
    for name, place in (("bore 3 thrust", "bore/3"), ("main 2", "main/2"), ("bore 3 axial", "bore/3")):
        data = a_picture(folder, name, size=(2400, 1800)).read_bytes()
        photograph(phone, job, place, data)
        send(phone)
        send_original(workshop, phone, data, hashlib.sha256(data).hexdigest())
    measure(phone, job, "bore/3", "89.037", "diameter")
    finding(phone, job, "rod/3", "Cap on the wrong way round.")
    keep(phone, phone.entry("note_made", job, location=at("gudgeon_pin/3"), body={"text": "Turns freely."}))
    keep(phone, phone.entry("note_made", job, location=at("bore/6"), body={"text": "Hone marks whole."}))
    send(phone)
    return phone, job


def test_a_wrong_password_is_refused_in_words_and_the_name_stays(office_pages):
    office = office_pages(person="")
    office.page.get_by_label("Name").fill("Ida")
    office.page.get_by_label("Password").fill("not this one")
    office.page.get_by_role("button", name="Sign in").click()
    expect(office.page.get_by_role("alert")).to_contain_text("do not match")
    expect(office.page.get_by_label("Name")).to_have_value("Ida")
    expect(office.page.get_by_label("Password")).to_have_value("")


def test_a_job_is_read_from_the_register_to_every_pixel_by_keys_alone(desk_page: OfficePage, teardown):
    press = desk_page.page.keyboard.press
    expect(desk_page.page.get_by_text("26-101").first).to_be_visible()
    press("ArrowDown")
    press("Enter")
    # The record opens on its latest picture.
    expect(desk_page.in_hand(4)).to_be_visible()
    press("k")
    expect(desk_page.in_hand(3)).to_be_visible()
    press("ArrowDown")
    press("j")
    expect(desk_page.in_hand(5)).to_contain_text("89.037")
    press("Home")
    expect(desk_page.in_hand(1)).to_contain_text("26-101")
    press("End")
    expect(desk_page.in_hand(8)).to_contain_text("Hone marks whole.")

    desk_page.line(2).get_by_role("button").click()
    press("Enter")
    full = desk_page.page.get_by_role("dialog", name="Record 2, full size")
    picture = full.get_by_role("img")
    expect(picture).to_have_js_property("naturalWidth", 2400)
    whole = picture.bounding_box()["width"]
    press("1")
    # One dot of the picture is one dot of the screen.
    desk_page.page.wait_for_function(
        "w => document.querySelector('.full img').getBoundingClientRect().width > w", arg=whole
    )
    press("0")
    press("ArrowRight")
    expect(desk_page.page.get_by_role("dialog", name="Record 3, full size")).to_be_visible()
    press("Escape")
    expect(desk_page.page.get_by_role("dialog")).to_have_count(0)
    expect(desk_page.in_hand(3)).to_be_visible()


def test_a_place_on_the_drawing_narrows_the_record_and_says_what_it_takes_in(desk_page: OfficePage, teardown):
    _, job = teardown
    desk_page.open_record(job)
    drawing = desk_page.page.get_by_role("region", name="Engine drawing")
    drawing.get_by_role("button", name="bore 3, ").click()
    tag = desk_page.page.get_by_role("button", name="Remove filter: bore 3 and mating parts")
    expect(tag).to_be_visible()
    expect(drawing).to_contain_text("Bore 3 with mating parts: ")
    # Main 2 carries crankpin 2, on which rod 3 runs: its photograph belongs here. Bore 6 does not.
    expect(desk_page.line(3)).to_be_visible()
    desk_page.shows(2, 3, 4, 5, 6, 7)

    drawing.get_by_role("button", name="only this place").click()
    expect(desk_page.line(3)).to_have_count(0)
    desk_page.shows(2, 4, 5)

    desk_page.page.get_by_role("button", name="Remove filter: bore 3").click()
    expect(desk_page.line(8)).to_be_visible()


def test_the_narrowed_record_can_be_sent_to_a_colleague_by_its_address(desk_page: OfficePage, office_pages, teardown):
    _, job = teardown
    desk_page.open_record(job)
    desk_page.page.get_by_role("button", name="Filter", exact=True).click()
    desk_page.page.get_by_label("kind").select_option("finding_made")
    expect(desk_page.line(2)).to_have_count(0)
    address = desk_page.page.url

    colleague = office_pages()
    colleague.page.goto(address)
    expect(colleague.page.get_by_role("button", name="Remove filter: finding")).to_be_visible()
    expect(colleague.line(6)).to_be_visible()
    colleague.shows(6)


def test_a_wrist_pin_is_found_where_a_gudgeon_pin_was_written(desk_page: OfficePage, teardown):
    press = desk_page.page.keyboard.press
    press("/")
    desk_page.page.keyboard.type("wrist pin")
    press("Enter")
    item = desk_page.page.get_by_role("listitem").filter(has_text="Turns freely.")
    expect(item).to_contain_text("26-101")
    expect(desk_page.page.get_by_text("1 record · also searched: ")).to_contain_text("gudgeon pin")
    item.get_by_role("link").click()
    expect(desk_page.in_hand(7)).to_contain_text("gudgeon pin 3")


def test_a_correction_strikes_out_what_stood_there_and_both_stay_readable(desk_page: OfficePage, workshop):
    phone, job = a_job(workshop, desk(workshop), "26-102")
    measured = measure(phone, job, "main/2", "53.98", "diameter")
    wrong = finding(phone, job, "main/2", "Scored.")
    correct(phone, measured, {"value": "53.89"}, at("main/3"), reason="wrong cap in hand")
    withdraw(phone, wrong, reason="that was oil")
    send(phone)
    desk_page.open_record(job)
    line = desk_page.line(2)
    expect(line.locator("del")).to_have_text(["main journal 2", "53.98"])
    expect(line.locator("ins")).to_have_text(["main journal 3", "53.89"])
    expect(line).to_contain_text("wrong cap in hand")
    expect(desk_page.line(3)).to_contain_text("Withdrawn, see 5: “that was oil”")
    expect(desk_page.line(3)).to_contain_text("Scored.")


def test_the_three_times_stand_apart_and_the_clock_is_spoken_of(desk_page: OfficePage, workshop):
    phone, job = a_job(workshop, desk(workshop), "26-103")
    clock = {"boot": "0a1b2c3d", "monotonic_ms": 5, "offset_age_s": 60, "offset_ms": -180_000, "zone": "Europe/London"}
    phone.note(job, "Drained.", claimed="2026-05-14T10:38:07.120+01:00", clock=clock)
    send(phone)
    desk_page.open_record(job, exhibit="2")
    shown = desk_page.in_hand(2)
    expect(shown.locator(".times > div")).to_have_count(3)
    expect(shown.locator(".times > div").nth(0)).to_contain_text("10:38:07")
    expect(shown.locator(".times > div").nth(1)).to_contain_text("when it was received")
    expect(shown.locator(".times > div").nth(2)).to_contain_text("no time stamp")
    expect(shown).to_contain_text("Phone clocks can be wrong; the order is by server time.")


def test_records_that_arrive_meanwhile_do_not_move_what_is_read(desk_page: OfficePage, workshop):
    phone, job = a_job(workshop, desk(workshop), "26-104")
    for number in range(40):
        phone.note(job, f"Note {number} of many.")
    send(phone)
    desk_page.open_record(job)
    desk_page.page.keyboard.press("Home")
    expect(desk_page.in_hand(1)).to_be_visible()
    top = desk_page.line(1).bounding_box()["y"]

    phone.note(job, "Oil gallery plug found loose.")
    phone.note(job, "Its thread is clean.")
    send(phone)
    bar = desk_page.page.get_by_role("button", name="2 new records below")
    expect(bar).to_be_visible()
    assert desk_page.line(1).bounding_box()["y"] == top
    expect(desk_page.in_hand(1)).to_be_visible()

    bar.click()
    expect(desk_page.line(43)).to_be_in_viewport()
    expect(bar).to_have_count(0)


def test_a_correction_that_arrives_meanwhile_is_seen_on_the_record_it_speaks_about(desk_page: OfficePage, workshop):
    phone, job = a_job(workshop, desk(workshop), "26-105")
    measured = measure(phone, job, "main/2", "53.98", "diameter")
    send(phone)
    desk_page.open_record(job)
    expect(desk_page.line(2).locator("del")).to_have_count(0)
    correct(phone, measured, {"value": "53.89"})
    send(phone)
    expect(desk_page.line(2).locator("del")).to_have_text(["53.98"])


def test_a_long_record_is_read_to_its_end_by_scrolling_and_skips_nothing(desk_page: OfficePage, workshop):
    phone, job = a_job(workshop, desk(workshop), "26-106")
    for number in range(2, 501):
        phone.note(job, f"Note {number}.")
    send(phone)
    desk_page.open_record(job)
    desk_page.page.keyboard.press("Home")
    expect(desk_page.line(1)).to_be_visible()
    seen: set[int] = set()
    for _ in range(200):
        now = desk_page.exhibits()
        assert now == list(range(now[0], now[-1] + 1)), "a record is missing or stands twice"
        assert len(now) <= 240
        seen.update(now)
        if 500 in seen:
            break
        desk_page.page.locator(".timeline").evaluate("box => box.scrollBy(0, 3000)")
        desk_page.page.wait_for_timeout(60)
    assert seen == set(range(1, 501))


def test_what_lies_below_a_record_opened_in_its_middle_is_not_called_new(desk_page: OfficePage, workshop):
    phone, job = a_job(workshop, desk(workshop), "26-108")
    for number in range(2, 201):
        phone.note(job, f"Note {number}.")
    send(phone)
    for _ in range(2):
        with desk_page.page.expect_response(lambda answer: "/api/live" in answer.url and answer.ok):
            desk_page.open_record(job, exhibit="60")
    below = desk_page.page.get_by_role("button", name=re.compile("new records? below"))
    expect(below).to_have_count(0)
    phone.note(job, "Oil gallery plug found loose.")
    send(phone)
    expect(below).to_have_text("1 new record below")


def test_a_session_that_ran_out_keeps_what_was_being_written(desk_page: OfficePage, teardown):
    _, job = teardown
    desk_page.open_record(job)
    desk_page.page.keyboard.press("a")
    sheet = desk_page.page.get_by_role("dialog", name="Add to the record")
    sheet.get_by_role("button", name="Note", exact=True).click()
    sheet.get_by_label("Note").fill("Half a sentence about the")
    desk_page.context.clear_cookies()
    again = desk_page.page.get_by_role("form", name="Sign in to the office")
    expect(again).to_contain_text("What you had typed is still here.")
    again.get_by_label("Password").fill("brass balloon 7")
    again.get_by_role("button", name="Sign in").click()
    expect(again).to_have_count(0)
    expect(sheet.get_by_label("Note")).to_have_value("Half a sentence about the")
