"""The manager hears what was spoken, reads what machines made of it, and has the last word."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Locator, Page

from tests.support.bay import desk
from tests.support.office import NARROW, WIDE, OfficePage, a_job
from tests.support.record import finding, hash_of, send
from tests.support.spoken import a_result, hears, speak, spoken_in
from tests.support.spoken_packs import PUMP, PUMP_HEARD, THRUST, SpokenJob, bring, clip, heard, record_spoken_job
from tests.support.waiting import expect

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def spoken_job(workshop) -> SpokenJob:
    phone, job = a_job(workshop, desk(workshop), "26-701", vehicle="Harbour launch Marrow")
    spoken_job = record_spoken_job(workshop, phone, job)
    bring(workshop)
    return spoken_job


def at_the_desk(office: OfficePage, sound: dict | None = None, **values: str) -> Page:
    query = "&".join(f"{name}={value}" for name, value in ({"sound": sound["id"]} if sound else {} | values).items())
    office.go(f"spoken?{query}" if query else "spoken")
    expect(office.page.get_by_role("heading", name="Spoken", exact=True)).to_be_attached()
    return office.page


def slip(page: Page, number: int, job: str = "26-701") -> Locator:
    return page.get_by_role("region", name=f"Spoken note, record {number}, job {job}")


def heap(page: Page, name: str) -> Locator:
    return page.get_by_role("region", name=name, exact=True)


def words(page: Page) -> Locator:
    return page.locator(".spoken-words button")


def test_what_is_to_be_answered_lies_on_top_then_what_waits_then_the_rest(desk_page, spoken_job):
    page = at_the_desk(desk_page)
    expect(heap(page, "To be answered")).to_contain_text(THRUST)
    heads = page.locator(".slips h2").all_inner_texts()
    assert heads == ["To be answered", "Not transcribed yet", "Machine transcripts"]
    expect(heap(page, "Machine transcripts")).to_contain_text(PUMP_HEARD)
    expect(heap(page, "Machine transcripts")).to_contain_text("Nothing was understood.")
    # The slip of the first lies open.
    expect(slip(page, 2)).to_contain_text("88.49 mm")


def test_each_word_is_lit_while_it_is_heard(desk_page, spoken_job):
    page = at_the_desk(desk_page, spoken_job.sounds["query"])
    expect(words(page)).to_have_text(THRUST.split())
    expect(page.locator(".said-word.is-lit")).to_have_count(0)
    page.get_by_role("button", name="Play", exact=True).click()
    seen = []
    for _ in range(120):
        lit = page.locator(".said-word.is-lit").all_inner_texts()
        assert len(lit) <= 1
        if lit and lit[0] not in seen[-1:]:
            seen += lit
        if seen[-1:] == ["millimetres"]:
            break
        page.wait_for_timeout(40)
    # A slow machine may pass over a short word, but never goes back.
    order = [THRUST.split().index(word) for word in seen]
    assert order == sorted(order) and len(seen) >= 6 and seen[-1] == "millimetres"


def test_a_word_that_is_touched_is_heard_and_so_is_one_by_keys(desk_page, spoken_job):
    page = at_the_desk(desk_page, spoken_job.sounds["query"])
    expect(words(page)).to_have_count(len(THRUST.split()))
    audio = page.locator(".spoken-sound audio")
    # A word is lit for a moment only, which a slow machine may look past: the page itself writes down what was lit.
    words(page).nth(5).evaluate(
        """word => new MutationObserver(() => word.classList.contains('is-lit') && (word.dataset.wasLit = 'yes'))
            .observe(word, { attributeFilter: ['class'] })"""
    )
    words(page).nth(5).click()
    expect(words(page).nth(5)).to_have_attribute("data-was-lit", "yes")
    begun = audio.evaluate("a => a.currentTime")
    page.wait_for_function("t => document.querySelector('.spoken-sound audio').currentTime > t", arg=begun)

    page.keyboard.press("ArrowLeft")
    expect(words(page).nth(4)).to_be_focused()
    page.keyboard.press("End")
    expect(words(page).last).to_be_focused()
    page.keyboard.press("Home")
    expect(words(page).first).to_be_focused()
    # One word alone: it stops by itself where the word ends.
    page.keyboard.press("Shift+Enter")
    page.wait_for_function("() => document.querySelector('.spoken-sound audio').paused")
    assert audio.evaluate("a => a.currentTime") < 2
    # The words are one stop of the tab key, not one each.
    assert page.locator(".spoken-words button[tabindex='0']").count() == 1


def test_what_each_heard_is_said_by_name_and_the_word_that_differs_is_marked(desk_page, spoken_job):
    page = at_the_desk(desk_page, spoken_job.sounds["query"])
    shown = slip(page, 2).get_by_role("region", name="What each recogniser heard")
    lines = shown.get_by_role("listitem")
    expect(lines).to_have_count(3)
    grammar = lines.filter(has_text="sphinx_grammar")
    expect(grammar.locator("mark")).to_have_text(["five"])
    expect(grammar).to_contain_text("1 word differs")
    expect(grammar).to_contain_text("3333 3333 3333 … 3333")
    expect(grammar).to_contain_text("5.1.1")
    expect(slip(page, 2)).to_contain_text("the recognisers differ")
    expect(slip(page, 2)).to_contain_text("the value differs")


def test_recognisers_are_listed_and_why_one_does_not_listen(desk_page):
    page = at_the_desk(desk_page)
    page.get_by_role("link", name="Recognisers").click()
    expect(page.get_by_role("heading", name="Recognisers")).to_be_visible()
    expect(page.get_by_role("listitem").filter(has_text="sphinx_ngram")).to_contain_text("in use")
    absent = page.get_by_role("listitem").filter(has_text="vosk")
    expect(absent).to_contain_text("not available")
    # It says what to do about it.
    assert len(absent.locator(".recogniser-why").inner_text()) > 30


def test_a_person_writes_what_is_said_and_the_machines_words_stay(desk_page, spoken_job):
    page = at_the_desk(desk_page, spoken_job.sounds["note"])
    note = slip(page, 4)
    expect(note).to_contain_text("machine transcript")
    note.get_by_role("button", name="Write what was said").click()
    expect(note.get_by_label("What was said")).to_have_value(PUMP_HEARD)
    note.get_by_label("What was said").fill(PUMP)
    note.get_by_label("Remark").fill("The compressor runs behind it.")
    note.get_by_role("button", name="Save under my name").click()
    expect(note.locator(".stamp")).to_contain_text("confirmed by Ida, ")
    expect(words(page)).to_have_text(PUMP.split())
    expect(note).to_contain_text("Remark: The compressor runs behind it.")
    expect(note.get_by_role("region", name="What each recogniser heard")).to_contain_text(PUMP_HEARD)
    expect(heap(page, "Confirmed by a person")).to_contain_text(PUMP)


def test_the_record_has_the_words_under_the_sound_and_who_stands_behind_them(desk_page, spoken_job, workshop):
    desk_page.open_record(spoken_job.job, exhibit="3")
    shown = desk_page.in_hand(3)
    expect(words(desk_page.page)).to_have_text(
        ["main", "journal", "four", "reads", "sixty", "four", "point", "nine", "eight", "millimetres"]
    )
    expect(shown.locator(".stamp")).to_contain_text("machine transcript")
    expect(shown.locator(".query-mark")).to_have_count(0)
    expect(desk_page.line(3)).to_contain_text("machine transcript")
    expect(desk_page.line(2).locator(".query-mark")).to_be_visible()
    sound = spoken_job.sounds["right"]
    body = {"entry": sound["id"], "entry_hash": hash_of(sound), "text": "main four is 64.98", "remark": ""}
    payload = {
        "job": spoken_job.job,
        "kind": "transcript_confirmed",
        "location": sound["location"],
        "body": body,
        "media": [],
    }
    assert desk(workshop).post("/api/desk/entries", json=payload).status_code == 201
    # It is seen on the record it speaks about, without loading anything anew.
    expect(shown.locator(".stamp")).to_contain_text("confirmed by Ida, ")
    expect(words(desk_page.page)).to_have_text(["main", "four", "is", "64.98"])
    expect(desk_page.line(3)).to_contain_text("confirmed by Ida")
    desk_page.line(2).get_by_role("button").click()
    desk_page.in_hand(2).get_by_role("link", name="Answer the query").click()
    expect(slip(desk_page.page, 2)).to_be_visible()


def test_a_query_is_answered_by_correcting_the_record(desk_page, spoken_job):
    page = at_the_desk(desk_page, spoken_job.sounds["query"])
    slip(page, 2).get_by_role("button", name="Correct the record").click()
    sheet = page.get_by_role("dialog", name=re.compile("Correct record 7"))
    sheet.get_by_label("Value", exact=True).fill("88.94")
    sheet.get_by_label("Reason").fill("Two figures swapped; heard again.")
    sheet.get_by_role("button", name="Save the correction").click()
    expect(sheet).to_have_count(0)
    expect(heap(page, "To be answered")).to_have_count(0)
    expect(slip(page, 2)).to_contain_text("88.94 mm")
    expect(slip(page, 2).locator(".asked")).to_have_count(0)
    # The words are still only a machine's.
    expect(slip(page, 2).locator(".stamp")).to_contain_text("machine transcript")
    slip(page, 2).get_by_role("button", name="Confirm these words").click()
    expect(slip(page, 2).locator(".stamp")).to_contain_text("confirmed by Ida, ")


def test_a_query_is_answered_by_confirming_what_is_said_and_the_record_stands(desk_page, workshop):
    phone, job = a_job(workshop, desk(workshop), "26-702")
    sound = speak(phone, job, "bore/1", "", clip("rebore_1.webm"), duration_ms=2000, screen="finding")
    finding(phone, job, "bore/2", "Scored.", spoken=spoken_in(sound, "bore two scored"))
    send(phone)
    hears(workshop, sound, heard("rebore_1.webm", "bore one scored rebore"))
    page = at_the_desk(desk_page, sound)
    shown = slip(page, 2, "26-702")
    expect(shown).to_contain_text("the place")
    shown.get_by_role("button", name="Confirm these words").click()
    expect(shown.locator(".stamp")).to_contain_text("confirmed by Ida, ")
    expect(shown.locator(".asked")).to_have_count(0)
    expect(shown).to_contain_text("bore 2")


def test_words_appear_by_themselves_and_the_count_goes_on(desk_page, workshop, spoken_job):
    page = at_the_desk(desk_page)
    status = page.locator(".spoken-progress [role=status]")
    before = re.match(r"(\d+) of (\d+)", status.inner_text(timeout=15_000))
    expect(status).to_contain_text("The work goes on if you leave this page.")
    page.get_by_role("link", name="Jobs", exact=True).click()
    hears(workshop, spoken_job.sounds["waiting"], heard("rebore_1.webm", "bore one scored rebore"))
    page.get_by_role("link", name="Spoken", exact=True).click()
    expect(page.locator(".slips")).to_contain_text("bore one scored rebore")
    done, all_of_them = int(before[1]), int(before[2])
    expect(status).to_contain_text(re.compile(rf"{done + 1} of {all_of_them}|All {all_of_them} recordings"))


def test_an_example_word_that_nobody_knows_is_named_at_once(desk_page):
    page = at_the_desk(desk_page)
    page.get_by_role("link", name="Own words").click()
    page.get_by_role("textbox", name="Word needed").fill("Halvern")
    page.get_by_label("Sounds like").fill("half wornn")
    expect(page.get_by_text("‘wornn’ is not known")).to_be_visible()
    page.get_by_role("button", name="Add the word").click()
    expect(page.get_by_role("alert").filter(has_text="Correct the example first")).to_be_visible()
    page.get_by_label("Sounds like").fill("half worn")
    expect(page.get_by_text("is not known")).to_have_count(0)
    page.get_by_label("Stands for").select_option("part")
    page.get_by_label("Which").select_option("starter")
    page.get_by_role("button", name="Add the word").click()
    line = page.get_by_role("listitem").filter(has_text="Halvern")
    expect(line).to_contain_text("sounds like “half worn”")
    expect(line).to_contain_text("stands for a part: starter")
    line.get_by_role("button", name="Retire Halvern").click()
    expect(line).to_contain_text("no longer in use")
    line.get_by_role("button", name="Change Halvern").click()
    page.get_by_role("button", name="Save").click()
    expect(line).not_to_contain_text("no longer in use")


def test_recognisers_are_asked_again_and_what_they_hear_then_appears_by_itself(desk_page, workshop):
    phone, job = a_job(workshop, desk(workshop), "26-704")
    sound = speak(phone, job, "bore/1", "", clip("rebore_1.webm"), duration_ms=2000, screen="finding")
    send(phone)
    hears(workshop, sound, heard("rebore_1.webm", "bore one scored rebore"))
    page = at_the_desk(desk_page, sound)
    shown = slip(page, 2, "26-704")
    shown.get_by_role("button", name="Transcribe again").click()
    expect(shown.get_by_role("status")).to_contain_text("Transcribing again.")
    better = heard("rebore_1.webm", "Bore 1 is scored, rebore it.", model_sha256="77" * 32)
    hears(workshop, sound, heard("rebore_1.webm", "bore one scored rebore"), better)
    lines = shown.get_by_role("region", name="What each recogniser heard").get_by_role("listitem")
    expect(lines.filter(has_text="7777")).to_contain_text("Bore 1 is scored, rebore it.")


def test_what_was_said_is_found_under_another_name_of_the_thing(desk_page, workshop):
    phone, job = a_job(workshop, desk(workshop), "26-703")
    sound = speak(phone, job, "rod/3", "", b"a voice of its own", mode="note", screen="none")
    send(phone)
    hears(workshop, sound, a_result("whisper", "The gudgeon pin turns freely.", sort="free"))
    press = desk_page.page.keyboard.press
    press("/")
    desk_page.page.keyboard.type("wrist pin")
    press("Enter")
    item = desk_page.page.get_by_role("listitem").filter(has_text="26-703").filter(has_text="Spoken note")
    expect(item.locator("mark")).to_have_text(["gudgeon pin"])
    expect(item).to_contain_text("machine transcript")
    expect(desk_page.page.get_by_text(re.compile("also searched: .*gudgeon pin"))).to_be_visible()


def test_it_goes_by_keys_alone(desk_page, spoken_job):
    page = at_the_desk(desk_page, job=spoken_job.job)
    expect(page.locator(".slips button[aria-current]")).to_have_count(1)
    first = page.locator(".slips button[aria-current]").inner_text()
    page.keyboard.press("j")
    expect(page.locator(".slips button[aria-current]")).not_to_have_text(first)
    page.keyboard.press("k")
    expect(page.locator(".slips button[aria-current]")).to_have_text(first, use_inner_text=True)
    page.keyboard.press(" ")
    expect(page.get_by_role("button", name="Pause", exact=True)).to_be_visible()
    page.keyboard.press(" ")
    expect(page.get_by_role("button", name="Play", exact=True)).to_be_visible()


def test_everyone_can_read_it_and_nothing_reaches_over_the_edge(office_pages, spoken_job):
    office = office_pages()
    wrong = []

    def look(where: str) -> None:
        for size in (NARROW, WIDE):
            office.page.set_viewport_size(size)
            wrong.extend(f"{where}, {size['width']} px, {fault}" for fault in office.unfit(colours=size is WIDE))
            if office.overflow() > 0:
                wrong.append(f"{where}: reaches over the edge of {size['width']} px")

    for name, sound in [("list", None), *spoken_job.sounds.items()]:
        page = at_the_desk(office, sound)
        page.wait_for_load_state("networkidle")
        if sound:
            expect(page.locator(".slip-body")).to_be_visible()
            page.get_by_role("button", name="Write what was said").click()
        look(name)
        office.page.goto("about:blank")
    for address in ("spoken/words", "spoken/recognisers", f"job/{spoken_job.job}?exhibit=2", "search?q=pump"):
        office.go(address)
        office.page.wait_for_load_state("networkidle")
        office.page.wait_for_timeout(300)
        look(address)
    assert wrong == []
