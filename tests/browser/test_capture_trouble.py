"""What goes wrong on real phones: full, emptied, killed with the camera or microphone open, updated, opened wrongly."""

from __future__ import annotations

import hashlib
import re
import shutil
import sqlite3
from dataclasses import replace

import pytest

from tests.support.bay import Bay, a_picture, desk
from tests.support.waiting import expect
from tests.support.workshop import serving

pytestmark = pytest.mark.browser

MIB = 1024 * 1024


@pytest.mark.own_browser
def test_on_a_full_phone_what_is_not_saved_is_said_and_handed_back(bay: Bay, tmp_path):
    job = bay.open_job("26-101")
    bay.until_all_sent()
    bay.restart(signal_there=False, room=5 * MIB)
    saved = 0
    for count in range(1, 9):
        with bay.page.expect_file_chooser() as chooser:
            bay.page.get_by_role("button", name="Next picture" if count > 1 else "Picture", exact=True).click()
        chooser.value.set_files(a_picture(tmp_path, f"picture {count}", padding=MIB))
        refused = bay.page.get_by_text("Not saved.", exact=True)
        expect(bay.page.locator(".tray .figure", has_text=re.compile(f"^{count}$")).or_(refused)).to_be_visible()
        if refused.count():
            break
        saved = count
    assert 0 < saved < 8, "the phone never got full"
    expect(bay.page.get_by_text("This phone is full")).to_be_visible()
    # What the screen counted is what the disk holds, and the picture in hand can be taken out as a file.
    assert bay.saved_pictures() == saved
    assert len(bay.rows("originals")) == saved
    assert len(bay.rows("entries", job=job, kind="photo_taken")) == saved
    expect(bay.page.get_by_role("button", name=re.compile("picture|file|out", re.I)).first).to_be_visible()

    bay.restart()
    bay.until_all_sent(60)
    assert len([item for item in bay.received(job) if item["kind"] == "photo_taken"]) == saved


@pytest.mark.new_phone
def test_when_the_browser_empties_the_store_under_the_open_app_nothing_is_called_saved(bay: Bay):
    job = bay.open_job("26-102")
    bay.until_all_sent()
    bay.signal(there=False)
    bay.note(job, "Kept, before the phone was cleared.")
    clear = {"origin": bay.url, "storageTypes": "indexeddb"}
    bay.context.new_cdp_session(bay.page).send("Storage.clearDataForOrigin", clear)
    bay.page.get_by_label("Note", exact=True).fill("Is this kept?")
    bay.page.get_by_role("button", name="Save").click()
    expect(bay.page.get_by_text("has cleared this app’s storage")).to_be_visible()
    bay.page.goto(f"{bay.url}/bay/")
    bay.page.reload()
    # The app starts clean; it does not pretend to be the phone it was, and says what is gone.
    expect(bay.page.get_by_text("Lost before they were sent: 1 record.")).to_be_visible()
    expect(bay.page.get_by_label("Code from the office")).to_be_visible()


@pytest.mark.new_phone
def test_the_office_sees_how_many_records_a_phone_made_and_how_many_came(bay: Bay):
    job = bay.open_job("26-103")
    bay.note(job, "one")
    bay.until_all_sent()
    phones = desk(bay.office).get("/api/phones").get_json()["phones"]
    mine = next(phone for phone in phones if phone["id"] == bay.rows("entries", mine=1)[0]["device"])
    assert (mine["announced"], mine["received"]) == (2, 2)


@pytest.mark.own_browser
def test_a_page_killed_with_the_camera_open_comes_back_to_the_same_place(bay: Bay, tmp_path):
    job = bay.open_job("26-104")
    with bay.page.expect_file_chooser():
        bay.page.get_by_role("button", name="Picture", exact=True).click()
    bay.kill()
    page = bay.start()
    expect(page.get_by_text("The camera was opened here and no picture came back")).to_be_visible()
    with page.expect_file_chooser() as chooser:
        page.get_by_role("button", name="Gallery").click()
    chooser.value.set_files(a_picture(tmp_path, "after the kill"))
    expect(page.locator(".tray .figure")).to_have_text("1")
    taken = bay.rows("entries", job=job, kind="photo_taken")[0]["entry"]
    assert taken["location"] == {"place": "engine", "point": ""}
    assert taken["body"]["method"] == "gallery"


@pytest.mark.own_browser
def test_a_recording_that_a_kill_cut_off_is_there_after_the_start_and_says_so(bay: Bay):
    job = bay.open_job("26-105")
    bay.page.get_by_role("button", name="Say", exact=True).click()
    bay.eventually(lambda: len(bay.rows("sound")) >= 3)
    bay.kill()
    bay.start()
    bay.eventually(lambda: len(bay.rows("entries", job=job, kind="sound_recorded")) == 1)
    entry = bay.rows("entries", job=job, kind="sound_recorded")[0]["entry"]
    assert entry["body"]["interrupted"] is True
    assert entry["body"]["duration_ms"] >= 2000
    # The seconds that were kept play: Chromium's own decoder measures them.
    seconds = bay.page.evaluate(
        """async (sha256) => {
            const done = (asked) => new Promise((yes) => { asked.onsuccess = () => yes(asked.result) })
            const db = await done(indexedDB.open('witnessmark'))
            const chunk = await done(db.transaction('media').objectStore('media').get([sha256, 0]))
            const decoded = await new OfflineAudioContext(1, 48000, 48000).decodeAudioData(chunk.bytes)
            return decoded.duration
        }""",
        entry["media"][0]["sha256"],
    )
    assert seconds >= 2


def test_the_live_screen_records_what_the_camera_really_gave(bay: Bay):
    job = bay.open_job("26-106")
    bay.page.goto(f"{bay.url}/bay/#/job/{job}/camera")
    bay.page.get_by_role("button", name="Live view").click()
    bay.eventually(lambda: bay.page.evaluate("document.querySelector('video')?.videoWidth > 0"))
    bay.page.get_by_role("button", name=re.compile("^(Picture|Next picture|Take)")).last.click()
    bay.eventually(lambda: len(bay.rows("entries", job=job, kind="photo_taken")) == 1)
    entry = bay.rows("entries", job=job, kind="photo_taken")[0]["entry"]
    assert entry["body"]["method"] == "live"
    size = bay.page.evaluate(
        """async (sha256) => {
            const done = (asked) => new Promise((yes) => { asked.onsuccess = () => yes(asked.result) })
            const db = await done(indexedDB.open('witnessmark'))
            const chunk = await done(db.transaction('media').objectStore('media').get([sha256, 0]))
            const picture = await createImageBitmap(new Blob([chunk.bytes]))
            return [picture.width, picture.height]
        }""",
        entry["media"][0]["sha256"],
    )
    assert [entry["body"]["width"], entry["body"]["height"]] == size


@pytest.fixture
def updatable(workshop, built, tmp_path):
    """The same workshop with an app of its own that a test can put a newer build over; gives (address, make newer)."""
    app = tmp_path / "app"
    shutil.copytree(built, app)

    def newer() -> None:
        bay = app / "bay"
        before = (bay / "icon.svg").read_bytes()
        after = before + b"<!-- the next build -->\n"
        (bay / "icon.svg").write_bytes(after)
        worker = (bay / "sw.js").read_text()
        swapped = worker.replace(hashlib.sha256(before).hexdigest(), hashlib.sha256(after).hexdigest())
        assert swapped != worker
        (bay / "sw.js").write_text(re.sub(r"\b[0-9a-f]{12}\b", "0123456789ab", swapped))

    with serving(replace(workshop.settings, app_folder=app), workers=1) as url:
        yield url, newer


def test_an_update_waits_until_it_is_asked_for_and_never_comes_under_an_open_draft(bays, updatable):
    url, newer = updatable
    bay = bays(url=url)
    job = bay.open_job("26-107")
    bay.page.reload()
    bay.page.goto(f"{url}/bay/#/job/{job}/note")
    bay.page.get_by_label("Note", exact=True).fill("Half a sentence about the")
    newer()
    bay.page.evaluate("navigator.serviceWorker.getRegistration('/bay/').then(r => r.update())")
    caches = "caches.keys().then(names => names.sort())"
    bay.eventually(lambda: len(bay.page.evaluate(caches)) == 2, why=lambda: str(bay.page.evaluate(caches)))

    bay.page.reload()
    expect(bay.page.get_by_label("Note", exact=True)).to_have_value("Half a sentence about the")
    assert len(bay.page.evaluate(caches)) == 2, "the newer build took over by itself"
    bay.page.goto(f"{url}/bay/#/phone")
    expect(bay.page.get_by_role("button", name="Update the app")).to_be_disabled()

    bay.note(job, "Half a sentence about the rod, finished.")
    bay.page.goto(f"{url}/bay/#/phone")
    with bay.page.expect_navigation():
        bay.page.get_by_role("button", name="Update the app").click()
    newest = ["witnessmark-bay-0123456789ab"]
    bay.eventually(lambda: bay.page.evaluate(caches) == newest, why=lambda: str(bay.page.evaluate(caches)))
    bay.until_all_sent()
    assert len(bay.received(job)) == 2


def test_opened_without_https_the_page_says_why_nothing_can_be_recorded(bays):
    address = "http://workshop.lan"
    bay = bays(join=False, url="", arguments=("--host-resolver-rules=MAP workshop.lan 127.0.0.1",))
    port = bay.url.rsplit(":", 1)[1]
    bay.page.goto(f"{address}:{port}/bay/")
    expect(bay.page.get_by_role("heading", name="Nothing can be recorded on this page")).to_be_visible()
    expect(bay.page.get_by_text("secure connection (https)")).to_be_visible()


def test_a_browser_that_keeps_nothing_is_told_apart_and_blocked(bays):
    bay = bays(join=False)
    bay.context.add_init_script("indexedDB.open = () => { throw new DOMException('not here', 'InvalidStateError') }")
    bay.page.reload()
    expect(bay.page.get_by_text("private browsing")).to_be_visible()


@pytest.mark.parametrize("forgotten", ["the phone", "its pass"])
def test_a_phone_the_server_no_longer_knows_is_let_in_again_with_all_it_holds(bays, forgotten):
    bay = bays(f"Phone that forgot {forgotten}")
    device = bay.rows("settings", name="phone")[0]["value"]["device"]["id"]
    bay.signal(there=False)
    job = bay.open_job(f"26-9{len(forgotten)}")
    bay.note(job, "Written while the server was put back.")
    # A backup from before this phone joined, or from before it got its present pass.
    with sqlite3.connect(bay.office.settings.data / "witnessmark.db", timeout=20) as db:
        if forgotten == "the phone":
            db.execute("DELETE FROM devices WHERE id = ?", (device,))
        else:
            db.execute("UPDATE devices SET token = 'another' WHERE id = ?", (device,))
    db.close()

    bay.signal(there=True)
    bay.page.goto(f"{bay.url}/bay/#/phone")
    bay.page.get_by_role("button", name="Send now").click()
    bay.page.get_by_label("Fresh code from the office").fill(bay.office.invite())
    assert bay.waiting()["entry"] == 2
    bay.page.get_by_role("button", name="Add this phone again").click()
    bay.until_all_sent()
    answer = bay.received(job)
    assert [item["kind"] for item in answer] == ["job_opened", "note_made"]
    assert {item["device"]["id"] for item in answer} == {device}
