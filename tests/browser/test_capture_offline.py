"""Recorded in the bay without signal, through kills and bad networks, and there once when the signal is back."""

from __future__ import annotations

import hashlib

import pytest

from tests.support.bay import Bay, a_picture, in_log
from tests.support.waiting import expect

pytestmark = pytest.mark.browser


@pytest.fixture
def three(tmp_path):
    return [a_picture(tmp_path, name) for name in ("bore 3 thrust", "big end 3 upper", "crankpin 2")]


def sha256(path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


@pytest.mark.own_browser
def test_a_teardown_without_signal_survives_a_kill_and_arrives_whole_and_once(bay: Bay, three):
    bay.signal(there=False)
    job = bay.open_job("26-001")
    bay.photograph(*three)
    bay.note(job, "Crankpin 2 blued, oil hole dry.")
    assert bay.waiting()["entry"] == 5
    assert bay.waiting()["media"] == 3

    bay.kill()
    page = bay.start(signal_there=False)
    # A cold start without network: same job, same person, nothing lost.
    expect(page.get_by_text("26-001").first).to_be_visible()
    assert bay.waiting()["entry"] == 5
    assert bay.waiting()["media"] == 3

    bay.signal(there=True)
    bay.until_all_sent()
    items = bay.received(job)
    assert [item["kind"] for item in items] == ["job_opened", *["photo_taken"] * 3, "note_made"]
    assert [item["media"][0]["sha256"] for item in items if item["media"]] == [sha256(path) for path in three]
    assert all(item["media"][0]["here"] for item in items if item["media"])
    # What arrived is what lies on the card, byte for byte.
    for path in three:
        name = sha256(path)
        assert (bay.office.settings.media / name[:2] / name).read_bytes() == path.read_bytes()

    bay.kill()
    bay.start()
    bay.note(job, "Once more after all was sent.")
    bay.until_all_sent()
    assert len(in_log(bay.office)) == len(set(in_log(bay.office)))
    assert len(bay.received(job)) == 6


@pytest.mark.own_browser
def test_a_kill_in_the_middle_of_sending_neither_loses_nor_doubles(bay: Bay, three):
    job = bay.open_job("26-002")
    bay.until_all_sent()
    bay.signal(there=False)
    bay.photograph(*three)
    bay.signal(there=True)
    bay.eventually(lambda: bay.waiting().get("entry") is None, why=lambda: str(bay.waiting()))
    bay.kill()
    bay.start()
    bay.until_all_sent()
    taken = [item for item in bay.received(job) if item["kind"] == "photo_taken"]
    assert [item["media"][0]["here"] for item in taken] == [True] * 3


def test_an_answer_lost_on_the_way_back_leaves_each_record_once(bay: Bay):
    job = bay.open_job("26-003")
    bay.until_all_sent()
    lost = []

    def lose(route):
        # The server does its work; its answer never reaches the phone.
        if len(lost) < 2:
            status = route.fetch().status
            route.abort()
            lost.append(status)
        else:
            route.continue_()

    bay.context.route("**/api/sync/push", lose)
    bay.note(job, "Said twice, kept once.")
    bay.eventually(lambda: len(lost) == 1)
    assert bay.waiting() == {"entry": 1}
    bay.note(job, "And another.")
    bay.eventually(lambda: len(lost) == 2)

    def sent_now() -> bool:
        bay.page.evaluate("dispatchEvent(new Event('online'))")
        return bay.waiting() == {}

    bay.eventually(sent_now, 30)
    assert [item["text"] for item in bay.received(job)[1:]] == ["Said twice, kept once.", "And another."]


def test_the_sign_in_page_of_a_guest_network_changes_nothing_and_is_told_in_words(bay: Bay):
    job = bay.open_job("26-004")
    bay.until_all_sent()
    page = "<html><body>Welcome to the guest network</body></html>"
    bay.context.route("**/api/**", lambda route: route.fulfill(status=200, content_type="text/html", body=page))
    bay.note(job, "Recorded behind somebody else's page.")
    bay.page.goto(f"{bay.url}/bay/#/phone")
    expect(bay.page.get_by_text("This network does not lead to our server")).to_be_visible()
    assert bay.waiting() == {"entry": 1}
    bay.context.unroute("**/api/**")
    bay.page.get_by_role("button", name="Send now").click()
    bay.until_all_sent()
    assert len(bay.received(job)) == 2


def test_the_worker_keeps_its_hands_off_uploads_and_answers_of_the_server(bay: Bay, three):
    by_worker, seen = [], []

    def look(request):
        if "/api/" in request.url:
            seen.append(request.method)
            if request.service_worker:
                by_worker.append(request.url)

    bay.context.on("request", look)
    bay.open_job("26-005")
    bay.photograph(three[0])
    bay.until_all_sent()
    assert "PATCH" in seen
    assert by_worker == []


@pytest.mark.new_phone
def test_without_the_browsers_background_sending_all_is_sent_all_the_same(bay: Bay):
    bay.context.add_init_script("delete globalThis.SyncManager; delete ServiceWorkerRegistration.prototype.sync")
    bay.page.reload()
    job = bay.open_job("26-006")
    bay.signal(there=False)
    bay.note(job, "No signal under the car lift.")
    bay.signal(there=True)
    bay.until_all_sent()


def test_two_tabs_of_one_phone_share_one_chain_and_send_each_record_once(bay: Bay):
    job = bay.open_job("26-007")
    other = bay.another_tab()
    for i in range(3):
        bay.note(job, f"left {i}")
        bay.note(job, f"right {i}", other)
    bay.until_all_sent()
    texts = [item["text"] for item in bay.received(job)[1:]]
    assert sorted(texts) == sorted([f"{side} {i}" for side in ("left", "right") for i in range(3)])
    numbers = sorted(row["sequence"] for row in bay.rows("entries", mine=1))
    assert numbers == list(range(numbers[0], numbers[0] + 7))


def test_a_tab_that_froze_while_it_had_the_turn_loses_it(bay: Bay):
    job = bay.open_job("26-008")
    bay.until_all_sent()
    other = bay.another_tab()
    # What a frozen tab does: it holds the lock and its heart stands still.
    hold = "void navigator.locks.request('witnessmark-sync', () => new Promise(() => undefined)).catch(() => 0)"
    held = "navigator.locks.query().then(q => q.held.some(l => l.name === 'witnessmark-sync'))"
    other.evaluate(hold)
    bay.eventually(lambda: other.evaluate(held))
    bay.page.evaluate(
        """async () => {
            const open = indexedDB.open('witnessmark')
            const db = await new Promise(yes => { open.onsuccess = () => yes(open.result) })
            const tx = db.transaction('settings', 'readwrite')
            tx.objectStore('settings').put({ name: 'heartbeat', value: Date.now() - 61000 })
            await new Promise(yes => { tx.oncomplete = yes })
            db.close()
        }"""
    )
    bay.note(job, "The other tab sleeps.")
    # A beat that was under way may still land after ours: then a minute passes until it counts as frozen.
    bay.until_all_sent(90)


def test_two_phones_on_one_job_read_each_others_records_without_signal(bays, three):
    first = bays("Bench phone")
    job = first.open_job("26-009")
    first.photograph(three[0])
    first.until_all_sent()
    second = bays("Pit phone")
    second.page.get_by_role("button", name="Keep all of job 26-009 on this phone").click()
    second.note(job, "Seen from the pit.")
    second.until_all_sent()
    second.eventually(lambda: len(second.rows("entries", job=job)) == 3)
    # At its next turn at the latest, which the timer brings in less than forty seconds.
    second.eventually(lambda: [row["small"] for row in second.rows("previews")] != [], 60)
    first.page.evaluate("dispatchEvent(new Event('online'))")
    first.eventually(lambda: len(first.rows("entries", job=job)) == 3)
    first.signal(there=False)
    first.page.goto(f"{first.url}/bay/#/job/{job}/record")
    expect(first.page.get_by_text("Seen from the pit.")).to_be_visible()
