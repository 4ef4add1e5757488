"""The office in a real Chromium, driven as the manager would, by the names that things bear on the sheet."""

from __future__ import annotations

import base64
import time
from pathlib import Path

import pytest
import requests
from playwright.sync_api import Browser, Locator, Page

from tests.support.bay import ROOT
from tests.support.phone import Phone
from tests.support.record import a_v6, describe, send
from tests.support.waiting import PATIENCE, expect
from tests.support.workshop import MANAGER, PASSWORD, RunningOffice

WIDE = {"width": 1440, "height": 900}
NARROW = {"width": 360, "height": 800}
WCAG = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
OF_COLOURS = ["color-contrast", "link-in-text-block"]
AXE = ROOT / "pwa" / "node_modules" / "axe-core" / "axe.min.js"


@pytest.fixture
def office_pages(browsers, workshop):
    """Opens the office: each call is another reader's own browser. No page may report an error of its own."""
    made: list[OfficePage] = []

    def open_one(person: str = MANAGER, password: str = PASSWORD, **context) -> OfficePage:
        page = OfficePage(browsers.shared(), workshop.url, **context)
        made.append(page)
        if person:
            page.sign_in(person, password)
        return page

    yield open_one
    for page in made:
        page.page.context.close()
        assert page.faults == [], "the page reported errors"


@pytest.fixture(scope="module")
def desk_screen():
    """Holds the manager's browser, which the tests of a file hand on to each other."""
    kept: list[OfficePage] = []
    yield kept
    for office in kept:
        office.context.close()


@pytest.fixture
def desk_page(browsers, workshop, desk_screen, request):
    """The manager at the desk, signed in, before the register of jobs. The tests of a file share the browser."""
    if desk_screen and not desk_screen[0].hand_on(request.session.testsfailed):
        desk_screen.pop().context.close()
    if not desk_screen:
        desk_screen.append(OfficePage(browsers.shared(), workshop.url))
        desk_screen[0].failures = request.session.testsfailed
        desk_screen[0].sign_in()
    yield desk_screen[0]
    faults, desk_screen[0].faults = desk_screen[0].faults, []
    assert faults == [], "the page reported errors"


class OfficePage:
    """One reader. `page` is Playwright's; the methods say what a person does."""

    def __init__(self, browser: Browser, url: str, viewport: dict | None = None, **context) -> None:
        self.url = url
        self.context = browser.new_context(viewport=viewport or WIDE, locale="en-GB", **context)
        self.context.set_default_timeout(PATIENCE)
        self.faults: list[str] = []
        self.failures = 0
        self.page: Page = self.context.new_page()
        self.page.on("pageerror", lambda fault: self.faults.append(str(fault)))
        self.page.goto(url)

    def sign_in(self, person: str = MANAGER, password: str = PASSWORD) -> None:
        self.page.get_by_label("Name").fill(person)
        self.page.get_by_label("Password").fill(password)
        self.page.get_by_role("button", name="Sign in").click()
        expect(self.page.get_by_role("heading", name="Jobs", exact=True)).to_be_visible()

    def hand_on(self, failures: int) -> bool:
        """Brings the register of jobs back for the next test; False where a new browser is the safer one."""
        if failures > self.failures or self.page.is_closed():
            return False
        self.context.unroute_all(behavior="ignoreErrors")
        for page in self.context.pages:
            if page != self.page:
                page.close()
        self.page.set_viewport_size(WIDE)
        self.page.emulate_media(color_scheme="light", reduced_motion="no-preference", media="screen")
        self.page.goto("about:blank")
        self.page.goto(self.url)
        jobs = self.page.get_by_role("heading", name="Jobs", exact=True)
        expect(jobs.or_(self.page.get_by_label("Password"))).to_be_visible()
        return jobs.is_visible()

    def go(self, address: str) -> None:
        self.page.goto(f"{self.url}/#/{address}")

    def open_record(self, job: str, **values: str) -> None:
        query = "&".join(f"{name}={value}" for name, value in values.items())
        self.go(f"job/{job}" + (f"?{query}" if query else ""))
        expect(self.page.get_by_role("list", name="Timeline").locator("[data-exhibit]").first).to_be_visible()

    def exhibits(self) -> list[int]:
        """The records on the page at this moment, from top to bottom."""
        lines = self.page.get_by_role("list", name="Timeline").locator("[data-exhibit]")
        return [int(number) for number in lines.evaluate_all("all => all.map(one => one.dataset.exhibit)")]

    def shows(self, *exhibits: int) -> None:
        """Waits until these records and no others stand on the page, from top to bottom."""
        until = time.monotonic() + PATIENCE / 1000
        while self.exhibits() != list(exhibits) and time.monotonic() < until:
            self.page.wait_for_timeout(50)
        assert self.exhibits() == list(exhibits)

    def line(self, exhibit: int) -> Locator:
        return self.page.locator(f"[data-exhibit='{exhibit}']")

    def in_hand(self, exhibit: int) -> Locator:
        """The record shown at large."""
        return self.page.get_by_role("region", name=f"Record {exhibit}", exact=True)

    def overflow(self) -> int:
        return overflow(self.page)

    def unfit(self, colours: bool = True) -> list[str]:
        return unfit(self.page, colours)


def overflow(page: Page) -> int:
    """How far the sheet reaches beyond the screen's right edge."""
    return page.evaluate("document.documentElement.scrollWidth - innerWidth")


def unfit(page: Page, colours: bool = True) -> list[str]:
    """What axe finds against WCAG 2.2 AA on the sheet as it stands, by day and by night.

    By night the colours alone are other ones, so only what is said of colours is judged again. Judging colours takes
    four fifths of the time: a sheet that is looked at in two widths has them judged in one (see test_colours.py).
    """
    page.emulate_media(color_scheme="light", reduced_motion="reduce")
    # Evaluated, not added as a script: the page's own policy lets no foreign script in.
    if not page.evaluate("'axe' in window"):
        page.evaluate(AXE.read_text())
    faults = [f"light: {fault}" for fault in _faults(page, {"type": "tag", "values": WCAG}, colours)]
    if not colours:
        return faults
    page.emulate_media(color_scheme="dark", reduced_motion="reduce")
    return faults + [f"dark: {fault}" for fault in _faults(page, {"type": "rule", "values": OF_COLOURS})]


def _faults(page: Page, rules: dict, colours: bool = True) -> list[str]:
    options = {"runOnly": rules, "resultTypes": ["violations"]}
    if not colours:
        options["rules"] = {rule: {"enabled": False} for rule in OF_COLOURS}
    report = page.evaluate("options => axe.run(document, options)", options)
    return [
        f"{fault['id']}: {fault['help']} at {node['target']} {node['failureSummary']}"
        for fault in report["violations"]
        for node in fault["nodes"]
    ]


def a_job(office: RunningOffice, client, number: str, **facts) -> tuple[Phone, str]:
    """A job opened by a phone that has joined, on the V6; nothing recorded yet."""
    described = client.get("/api/engine-types").get_json()["engine_types"]
    engine_type = described[0]["id"] if described else describe(client, a_v6())
    phone = office.phone()
    job = phone.open_job(number, engine_type, **facts)
    send(phone)
    return phone, job


def send_original(office: RunningOffice, phone: Phone, data: bytes, sha256: str) -> None:
    """Sends the bytes of an original by tus, in one piece."""
    named = base64.b64encode(sha256.encode()).decode()
    headers = {"Authorization": f"Bearer {phone.token}", "Tus-Resumable": "1.0.0"}
    begun = requests.post(
        f"{office.url}/api/media/uploads",
        headers=headers | {"Upload-Length": str(len(data)), "Upload-Metadata": f"sha256 {named}"},
        timeout=30,
    )
    assert begun.status_code == 201, begun.text
    piece = headers | {"Upload-Offset": "0", "Content-Type": "application/offset+octet-stream"}
    answer = requests.patch(office.url + begun.headers["Location"], data=data, headers=piece, timeout=60)
    assert answer.status_code == 204, answer.text


def kept_original(office: RunningOffice, sha256: str) -> Path:
    return office.settings.media / sha256[:2] / sha256
