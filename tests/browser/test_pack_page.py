"""The page in a pack: opened from a folder, without a network and without a script, in both themes, wide and narrow."""

from __future__ import annotations

import zipfile

import pytest

from tests.support.office import NARROW, WIDE, overflow, unfit

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
