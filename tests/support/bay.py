"""The bay app in a real Chromium with a real profile, driven as a technician would, against the server that ships."""

from __future__ import annotations

import os
import shutil
import signal
import sqlite3
import time
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

import pytest
from PIL import Image, ImageDraw
from playwright.sync_api import BrowserContext, Error, Page

from tests.support.chromium import Browsers
from tests.support.record import a_v6
from tests.support.waiting import PATIENCE, expect
from tests.support.workshop import MANAGER, PASSWORD, RunningOffice
from witnessmark.db import writing
from witnessmark.people import persons

ROOT = Path(__file__).resolve().parents[2]
TECHNICIAN, PIN = "Tomas", "4711"
PHONE = {"width": 360, "height": 800}
KILL_SECONDS = 20


@pytest.fixture(scope="module")
def workshop(built, running) -> RunningOffice:
    """A running workshop with a technician who has a PIN, and one engine type."""
    with writing(running.engine) as conn:
        persons.add(conn, running.workshop.id, TECHNICIAN, "technician", pin=PIN)
    answer = desk(running).post("/api/engine-types", json={"engine_type": a_v6()})
    assert answer.status_code == 201, answer.get_json()
    return running


@pytest.fixture
def bays(browsers, workshop, tmp_path, request):
    """Makes phones: each call is another one, joined and with the technician signed in.

    They share the worker's browser, each in a context of its own that shares nothing with the others. A test that
    kills or restarts its phone, or fills its disk, is marked `own_browser`.
    """
    made: list[Bay] = []
    own = request.node.get_closest_marker("own_browser") is not None

    def make(name: str = "Bench phone", join: bool = True, url: str = "", arguments: tuple[str, ...] = ()) -> Bay:
        profile = tmp_path / f"phone-{len(made)}" if own else None
        bay = Bay(browsers, workshop, profile, url or workshop.url, arguments, is_whole(request))
        made.append(bay)
        bay.start()
        if join:
            bay.join(name)
        return bay

    yield make
    for bay in made:
        bay.stop()
        assert bay.faults == [], "the page reported errors"


@pytest.fixture(scope="module")
def bench_phone():
    """Holds the phone that the tests of a file hand on to each other."""
    kept = KeptPhone()
    yield kept
    kept.put_away()


@pytest.fixture
def bay(bays, browsers, workshop, bench_phone, request):
    """A phone with the technician signed in and everything sent. Joining takes longer than most tests do, so the tests
    of a file share one, each with a job of its own; one that restarts its phone, or must find it as new, is marked
    `new_phone` or `own_browser`."""
    if any(request.node.get_closest_marker(mark) for mark in ("own_browser", "new_phone")):
        yield bays()
        return
    bay = bench_phone.take(browsers, workshop, is_whole(request), failures=request.session.testsfailed)
    yield bay
    faults, bay.faults = bay.faults, []
    assert faults == [], "the page reported errors"


def is_whole(request) -> bool:
    return request.node.get_closest_marker("whole_browser") is not None


class KeptPhone:
    """A phone handed from test to test; one that a test failed on is put away for a new one.

    `arguments` are those of its browser.
    """

    def __init__(self, arguments: tuple[str, ...] = ()) -> None:
        self.arguments = arguments
        self.bay: Bay | None = None
        self.failures = 0

    def take(self, browsers: Browsers, workshop: RunningOffice, whole: bool, failures: int) -> Bay:
        if self.bay and failures > self.failures:
            self.put_away()
        self.failures = failures
        if not self.bay:
            self.bay = Bay(browsers, workshop, None, workshop.url, self.arguments, whole)
            self.bay.start()
            self.bay.join()
        else:
            self.bay.hand_on()
        return self.bay

    def put_away(self) -> None:
        if self.bay:
            self.bay.stop()
        self.bay = None


class Bay:
    """One phone. One with a profile can be killed and started again; what it keeps stays."""

    def __init__(
        self,
        browsers: Browsers,
        office: RunningOffice,
        profile: Path | None,
        url: str,
        arguments: tuple[str, ...] = (),
        whole: bool = False,
    ) -> None:
        self._browsers, self.office, self.profile, self.url = browsers, office, profile, url
        self._arguments, self._whole = arguments, whole
        self.context: BrowserContext | None = None
        self.faults: list[str] = []
        self.has_parts = False  # for speech, fetched by the test
        self._recorded_before = 0

    def start(self, signal_there: bool = True, room: int | None = None) -> Page:
        """Starts the browser on this phone's profile and opens the app, with or without a network.

        `room` bytes is all this phone has then. It is set before the app opens, because Chromium asks for the
        room left only once in half a minute.
        """
        like_a_phone = {"viewport": PHONE, "has_touch": True, "is_mobile": True, "locale": "en-GB"}
        if self.profile:
            self.context = self._browsers.on_profile(self.profile, *self._arguments, **like_a_phone)
        else:
            self.context = self._browsers.shared(*self._arguments, whole=self._whole).new_context(**like_a_phone)
        self.context.set_default_timeout(PATIENCE)
        self.context.set_offline(not signal_there)
        self.page = self._watched(self.context.pages[0] if self.context.pages else self.context.new_page())
        if room is not None:
            self._room = self.context.new_cdp_session(self.page)
            self._room.send("Storage.overrideQuotaForOrigin", {"origin": self.url, "quotaSize": room})
        self.page.goto(f"{self.url}/bay/")
        return self.page

    def another_tab(self) -> Page:
        page = self._watched(self.context.new_page())
        page.goto(f"{self.url}/bay/")
        return page

    def _watched(self, page: Page) -> Page:
        page.on("pageerror", lambda fault: self.faults.append(str(fault)))
        return page

    def kill(self) -> None:
        """SIGKILL to every process of this browser, as a phone does that runs out of memory."""
        self._needs_profile()
        self.kill_processes()
        self.forget_browser()

    def kill_processes(self) -> None:
        mark = f"--user-data-dir={self.profile}"
        for entry in Path("/proc").iterdir():
            if not entry.name.isdigit():
                continue
            try:
                command = (entry / "cmdline").read_bytes().decode(errors="replace")
            except OSError:
                continue
            if mark in command:
                with suppress(ProcessLookupError):
                    os.kill(int(entry.name), signal.SIGKILL)

    def forget_browser(self) -> None:
        """After a kill: closing a browser that died in the middle of its traffic can wait for ever, so it is left."""
        page, self.context = self.page, None
        until = time.monotonic() + KILL_SECONDS
        with suppress(Error):
            while time.monotonic() < until:
                page.wait_for_timeout(50)
            pytest.fail("the browser lives on after SIGKILL")
        for lock in ("SingletonLock", "SingletonCookie", "SingletonSocket"):
            (self.profile / lock).unlink(missing_ok=True)

    def restart(self, **start) -> Page:
        """Closes the browser as a person does, and starts it again."""
        self._needs_profile()
        self.stop()
        return self.start(**start)

    def _needs_profile(self) -> None:
        assert self.profile, "mark this test own_browser: in a shared browser nothing is left of a phone that ended"

    def stop(self) -> None:
        if self.context:
            context, self.context = self.context, None
            context.close()

    def signal(self, there: bool) -> None:
        self.context.set_offline(not there)

    def join(self, name: str = "Bench phone") -> None:
        """Joins by the short code and signs the technician in."""
        self.page.get_by_label("Code from the office").fill(self.office.invite())
        self.page.get_by_label("Name of this phone").fill(name)
        self.page.get_by_role("button", name="Join", exact=True).click()
        self.sign_in()
        expect(self.page.get_by_role("heading", name="Jobs")).to_be_visible()
        self.page.evaluate("navigator.serviceWorker.ready.then(() => 0)")

    def sign_in(self, person: str = TECHNICIAN, pin: str = PIN) -> None:
        self.page.get_by_role("button", name=person).click()
        self.page.get_by_label("PIN", exact=True).fill(pin)
        self.page.get_by_role("button", name="Sign in").click()

    def hand_on(self) -> None:
        """As the next test wants it: one page with the jobs, the signal there, all sent, and `rows` tells of none of
        the records that the tests before made on it."""
        self.context.unroute_all(behavior="ignoreErrors")
        for page in self.context.pages:
            if page != self.page:
                page.close()
        self.signal(there=True)
        self.page.emulate_media(color_scheme="light", reduced_motion="no-preference")
        self.page.set_viewport_size(PHONE)
        self.page.goto(f"{self.url}/bay/#/jobs")
        expect(self.page.get_by_role("heading", name="Jobs")).to_be_visible()
        self.page.evaluate("dispatchEvent(new Event('online'))")
        self.until_all_sent()
        self._recorded_before = 0
        self._recorded_before = max((row["sequence"] for row in self.rows("entries", mine=1)), default=0)

    def open_job(self, number: str) -> str:
        """Opens a job as the app does, with the engine type of the workshop; returns its id."""
        self.page.get_by_role("button", name="Open a job").click()
        self.page.get_by_label("Job number").fill(number)
        self.page.get_by_label("Vehicle or machine").fill("Harbour launch Marrow")
        self.page.get_by_label("Engine type").select_option(label="Halvern 2.9 V6")
        self.page.get_by_role("button", name="Open the job").click()
        expect(self.page.get_by_role("button", name="Picture", exact=True)).to_be_visible()
        self.eventually(lambda: self.rows("jobs", number=number) != [])
        return self.rows("jobs", number=number)[0]["id"]

    def photograph(self, *pictures: Path) -> None:
        """Pictures one after another by the phone's camera; returns when each was called saved."""
        before = self.saved_pictures()
        for count, picture in enumerate(pictures, before + 1):
            with self.page.expect_file_chooser() as chooser:
                self.page.get_by_role("button", name="Next picture" if count > 1 else "Picture", exact=True).click()
            chooser.value.set_files(picture)
            expect(self.page.locator(".tray .figure")).to_have_text(str(count))
            expect(self.page.locator(".tray")).not_to_contain_text("Saving")

    def saved_pictures(self) -> int:
        shown = self.page.locator(".tray .figure")
        return int(shown.inner_text()) if shown.count() else 0

    def to_bench(self, job: str) -> None:
        self.page.goto(f"{self.url}/bay/#/job/{job}")

    def note(self, job: str, text: str, page: Page | None = None) -> None:
        page = page or self.page
        page.goto(f"{self.url}/bay/#/job/{job}/note")
        page.get_by_label("Note", exact=True).fill(text)
        page.get_by_role("button", name="Save").click()
        expect(page.get_by_text("Saved.")).to_be_visible()

    def rows(self, store: str, **facts) -> list[dict]:
        """What lies in a store of this phone's database and has these facts; bytes are told as their length."""
        rows = self.page.evaluate(
            """async ({ store, facts }) => {
                const open = indexedDB.open('witnessmark')
                const done = (asked) => new Promise((yes, no) => {
                    asked.onsuccess = () => yes(asked.result)
                    asked.onerror = () => no(asked.error)
                })
                const db = await done(open)
                const all = await done(db.transaction(store).objectStore(store).getAll())
                db.close()
                const rows = all.filter((row) => Object.entries(facts).every(([name, fact]) => row[name] === fact))
                return JSON.parse(JSON.stringify(rows, (_, v) => (v instanceof ArrayBuffer ? v.byteLength : v)))
            }""",
            {"store": store, "facts": facts},
        )
        before = self._recorded_before
        return [row for row in rows if store != "entries" or not row["mine"] or row["sequence"] > before]

    def waiting(self) -> dict[str, int]:
        """How many of each sort wait in the outbox."""
        counted: dict[str, int] = {}
        for row in self.rows("outbox"):
            counted[row["sort"]] = counted.get(row["sort"], 0) + 1
        return counted

    def until_all_sent(self, seconds: float = 30) -> None:
        self.eventually(lambda: self.waiting() == {}, seconds, lambda: f"still waiting: {self.waiting()}")

    def eventually(self, true: Callable[[], bool], seconds: float = 20, why: Callable[[], str] = lambda: "") -> None:
        """Waits until `true()` while the browser's events are heard; fails with what `why` tells."""
        until = time.monotonic() + seconds
        while time.monotonic() < until:
            if true():
                return
            self.page.wait_for_timeout(100)
        pytest.fail(f"not within {seconds} seconds; {why()}")

    def received(self, job: str) -> list[dict]:
        """The record of the job as the office reads it, oldest first."""
        items, after = [], None
        client = desk(self.office)
        while True:
            query = f"?limit=200&after={after}" if after else "?limit=200"
            page = client.get(f"/api/jobs/{job}/timeline{query}").get_json()
            items += page["items"]
            if not (after := page.get("next")):
                return items


def desk(office: RunningOffice):
    """The office's browser, signed in as the manager."""
    client = office.app.test_client()
    client.environ_base["HTTP_X_WITNESSMARK"] = "office"
    answer = client.post("/api/office/sign-in", json={"name": MANAGER, "password": PASSWORD})
    assert answer.status_code == 200, answer.get_json()
    return client


def a_picture(folder: Path, name: str, size: tuple[int, int] = (1600, 1200), padding: int = 0) -> Path:
    """A picture no other equals, with bytes after its end if it has to be larger, as phones add them."""
    path = folder / f"{name}.jpg"
    image = Image.effect_noise(size, 60).convert("RGB")
    ImageDraw.Draw(image).text((40, 40), name, fill="white", font_size=80)
    image.save(path, quality=80)
    with path.open("ab") as end:
        end.write(os.urandom(padding))
    return path


def in_log(office: RunningOffice) -> list[tuple[str, int]]:
    """Device and running number of every entry in the log, read from the database itself."""
    with sqlite3.connect(f"file:{office.settings.data / 'witnessmark.db'}?mode=ro", uri=True) as db:
        result = db.execute("SELECT device, sequence FROM log_entries ORDER BY position").fetchall()
    db.close()
    return result


def copy_of(built: Path, folder: Path) -> Path:
    return Path(shutil.copytree(built, folder))
