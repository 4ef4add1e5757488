"""The page in a pack: opened from a folder, without a network and without a script, in both themes, wide and narrow."""

from __future__ import annotations

import zipfile

import pytest

from tests.support.office import AXE

pytestmark = pytest.mark.browser

LEVELS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]


@pytest.fixture(scope="module")
def address(packed, tmp_path_factory) -> str:
    folder = tmp_path_factory.mktemp("unpacked")
    with zipfile.ZipFile(packed.customer.path) as archive:
        archive.extractall(folder)
    return (next(folder.iterdir()) / "data" / "index.html").as_uri()


@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize("width", [360, 1440])
def test_the_page_reads_without_a_network_and_bars_nobody(built, browser, address, width, theme):
    context = browser.new_context(viewport={"width": width, "height": 900}, color_scheme=theme, offline=True)
    page = context.new_page()
    page.goto(address)
    page.evaluate("for (const picture of document.images) picture.loading = 'eager'")
    page.wait_for_function("[...document.images].every(picture => picture.complete)")

    assert page.evaluate("[...document.images].filter(picture => !picture.naturalWidth).length") == 0
    assert page.evaluate("document.images.length") >= 3
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert page.evaluate("document.fonts.check('16px \"Atkinson Hyperlegible Next\"')")
    page.evaluate(AXE.read_text())
    found = page.evaluate("levels => axe.run(document, {runOnly: levels})", LEVELS)
    assert [(violation["id"], violation["nodes"][0]["html"]) for violation in found["violations"]] == []
    context.close()


def test_the_page_reads_with_scripts_switched_off(browser, address):
    context = browser.new_context(java_script_enabled=False, offline=True)
    page = context.new_page()
    page.goto(address)

    assert page.get_by_role("heading", name="Job 24/118 <b>", exact=True).is_visible()
    assert page.get_by_text("Slip of the thumb.").first.is_visible()
    context.close()
