"""The page in a pack: opened from a folder, without a network and without a script, in both themes, wide and narrow."""

from __future__ import annotations

import json
import zipfile
from pathlib import Path

import pytest

from tests.broken_packs.make import read as read_pack
from tests.support.office import NARROW, WIDE, overflow, unfit
from tests.support.waiting import expect
from witnessmark.proof import layout
from witnessmark.proof.canonical import parse

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def address(packed, tmp_path_factory) -> str:
    folder = tmp_path_factory.mktemp("unpacked")
    with zipfile.ZipFile(packed.customer.path) as archive:
        archive.extractall(folder)
    return (next(folder.iterdir()) / "data" / "index.html").as_uri()


def test_the_page_reads_without_a_network_and_bars_nobody(built, browser, address):
    context = browser.new_context(offline=True)
    page = context.new_page()
    page.goto(address)
    page.evaluate("for (const picture of document.images) picture.loading = 'eager'")
    page.wait_for_function("[...document.images].every(picture => picture.complete)")

    assert page.evaluate("[...document.images].filter(picture => !picture.naturalWidth).length") == 0
    assert page.evaluate("document.images.length") >= 3
    assert page.evaluate("document.fonts.check('16px \"Atkinson Hyperlegible Next\"')")
    for size in (NARROW, WIDE):
        page.set_viewport_size(size)
        assert overflow(page) <= 0, size
        assert unfit(page) == [], size
    context.close()


def test_the_page_reads_with_scripts_switched_off(browser, address):
    context = browser.new_context(java_script_enabled=False, offline=True)
    page = context.new_page()
    page.goto(address)

    assert page.get_by_role("heading", name="Job 24/118 <b>", exact=True).is_visible()
    assert page.get_by_text("Slip of the thumb.").first.is_visible()
    context.close()


def opened(browser, path):
    page = browser.new_context(offline=True).new_page()
    page.goto(path.as_uri())
    return page


def changed(address: str, before: str, after: str, folder):
    """The page with one text in it exchanged, as somebody could who only makes the page look otherwise."""
    text = Path(address.removeprefix("file://")).read_text()
    assert before in text
    (folder / "index.html").write_text(text.replace(before, after, 1))
    return folder / "index.html"


def test_the_page_checks_its_own_records_without_a_network_and_shows_them_as_they_were_signed(browser, packed, address):
    page = opened(browser, Path(address.removeprefix("file://")))
    check = page.locator("#check")
    expect(check).to_contain_text("Checked in this browser: ")
    _, files = read_pack(packed.customer.path)
    entries = [parse(data) for path, data in sorted(files.items()) if path.startswith(layout.ENTRIES)]
    head = parse(files[layout.HEAD])
    expect(check).to_contain_text(f"{len(entries)} records, each signed")
    expect(check).to_contain_text(f"the log of {head['size']} records")
    expect(check).to_contain_text(head["server"])
    record = page.locator(".record").first
    record.get_by_text("As it was signed").click()
    assert json.loads(record.locator("pre").text_content()) in entries
    assert unfit(page) == [] and overflow(page) <= 0
    page.context.close()


@pytest.mark.parametrize(
    ("before", "after", "fault"),
    [
        ('Slip of the thumb.\\"', 'Slip of the hand.\\"', "not signed by the device that is said to have made it"),
        ('"hashes":["', '"hashes":["ff', "does not lead to the log fingerprint"),
        ('data-position="', 'data-position="9', "drawn here, and not among the signed records that are well"),
        ('\\"size\\":', '\\"size\\":1', "the log fingerprint is not signed with the key in this page"),
    ],
)
def test_a_page_that_was_changed_says_what_is_wrong(browser, address, tmp_path, before, after, fault):
    page = opened(browser, changed(address, before, after, tmp_path))
    expect(page.locator("#check")).to_contain_text("Checked in this browser, faults found: ")
    expect(page.locator("#check")).to_contain_text(fault)
    page.context.close()


def test_the_page_runs_no_script_but_its_own_and_speaks_to_nobody(browser, address, tmp_path):
    script = "<script>document.title = 'taken over'</script></body>"
    page = opened(browser, changed(address, "</body>", script, tmp_path))
    expect(page.locator("#check")).to_contain_text("Checked in this browser: ")
    assert page.title() != "taken over"
    blocked = page.evaluate(
        """new Promise((done) => {
          document.addEventListener('securitypolicyviolation', (event) => done(event.violatedDirective))
          fetch('http://127.0.0.1:9/').catch(() => undefined)
        })"""
    )
    assert blocked == "connect-src"
    page.context.close()
