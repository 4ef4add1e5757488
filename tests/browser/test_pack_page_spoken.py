"""The page in a pack plays what was said and lights its words, from a folder, without a network."""

from __future__ import annotations

import re
import zipfile

import pytest

from tests.support.office import NARROW, WIDE, overflow, unfit
from tests.support.spoken_packs import PUMP, THRUST
from tests.support.waiting import expect

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module", params=["sealed", "customer"])
def address(spoken_pack, request, tmp_path_factory) -> str:
    folder = tmp_path_factory.mktemp("unpacked")
    with zipfile.ZipFile(getattr(spoken_pack, request.param).path) as archive:
        archive.extractall(folder)
    return (next(folder.iterdir()) / "data" / "index.html").as_uri()


@pytest.fixture
def open_page(browser, address):
    made = []

    def open_one(**context):
        made.append(browser.new_context(offline=True, **context))
        page = made[-1].new_page()
        page.goto(address)
        return page

    yield open_one
    for context in made:
        context.close()


def test_a_word_is_lit_while_it_is_heard_and_one_that_is_touched_is_played(open_page):
    page = open_page()
    record = page.get_by_role("article").filter(has=page.get_by_role("group", name=f"Word by word: {THRUST}"))
    words, audio = record.locator(".words [role=button]"), record.locator("audio")
    expect(words).to_have_text(THRUST.split())
    expect(record.locator(".lit")).to_have_count(0)
    words.nth(4).click()
    expect(words.nth(4)).to_have_class(re.compile("lit"))
    assert not audio.evaluate("a => a.error")
    expect(words.last).to_have_class(re.compile("lit"), timeout=10_000)

    words.first.focus()
    page.keyboard.press("End")
    expect(words.last).to_be_focused()
    page.keyboard.press("Home")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Enter")
    expect(words.nth(1)).to_have_class(re.compile("lit"))


def test_words_and_sound_are_there_with_scripts_switched_off(open_page):
    page = open_page(java_script_enabled=False)
    record = page.get_by_role("article").filter(has=page.locator("audio")).filter(has_text=PUMP)
    expect(record.locator(".words")).to_have_text(PUMP)
    expect(record.locator("audio")).to_have_count(1)
    expect(record).to_contain_text("confirmed by Ida, ")
    expect(record.get_by_text("machine transcript, not confirmed")).to_have_count(0)


def test_it_bars_nobody(open_page):
    page = open_page()
    for line in page.locator(".spoken summary").all():
        line.click()
    for size in (WIDE, NARROW):
        page.set_viewport_size(size)
        assert overflow(page) <= 0, size
        assert unfit(page) == [], size
