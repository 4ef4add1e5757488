"""A phone reads what the others recorded, and can prove that nothing was taken away behind its back."""

from __future__ import annotations

import hashlib
import json

import pytest

from witnessmark.db import reading, writing
from witnessmark.log import heads
from witnessmark.proof import heads as proof_heads
from witnessmark.proof import keys, merkle
from witnessmark.proof.canonical import sha256_hex
from witnessmark.sync import marks
from witnessmark.sync import office as server


@pytest.fixture
def job(phone):
    job = phone.open_job()
    for number in range(9):
        phone.note(job, f"note {number}")
    phone.push()
    return job


def pages(phone, feed, limit=4):
    after, entries = 0, []
    while True:
        status, page = phone.get(f"/api/sync/pull?feed={feed}&after={after}&limit={limit}")
        assert status == 200, page
        entries += page["entries"]
        after = page["next"]
        if not page["more"]:
            return entries


def test_a_job_is_read_page_by_page_as_it_was_signed(office, phone, job):
    other = office.phone("Two")
    entries = pages(other, f"job:{job}")
    assert [json.loads(e["bytes"])["sequence"] for e in entries] == list(range(1, 11))
    key = keys.unbase64(phone.public_key)
    assert all(keys.verify(key, e["signature"], e["bytes"].encode()) for e in entries)
    assert all(e["received"].endswith("Z") for e in entries)


def test_newest_first_when_a_phone_has_little_time(phone, job):
    _, page = phone.get(f"/api/sync/pull?feed=job:{job}&before=999999&limit=4")
    assert [json.loads(e["bytes"])["sequence"] for e in page["entries"]] == [10, 9, 8, 7]
    assert page["more"] is True
    _, page = phone.get(f"/api/sync/pull?feed=job:{job}&before={page['next']}&limit=40")
    assert [json.loads(e["bytes"])["sequence"] for e in page["entries"]] == [6, 5, 4, 3, 2, 1]
    assert page["more"] is False


def test_everybody_hears_of_the_job_but_not_of_every_note_on_it(phone, job):
    kinds = [json.loads(e["bytes"])["kind"] for e in pages(phone, "workshop")]
    assert kinds == ["workshop_founded", "device_enrolled", "job_opened"]


def test_an_empty_page_keeps_the_cursor(phone, job):
    _, page = phone.get(f"/api/sync/pull?feed=job:{job}&after=500")
    assert (page["entries"], page["next"], page["more"]) == ([], 500, False)


@pytest.mark.parametrize("feed", ["everything", "job:", "job:1", "job:../etc"])
def test_a_feed_there_is_not_is_refused(phone, feed):
    status, answer = phone.get(f"/api/sync/pull?feed={feed}")
    assert (status, answer["code"]) == (422, "feed")


def test_a_phone_proves_that_the_log_only_grew(office, phone, job):
    with reading(office.engine) as conn:
        old = heads.latest(conn, office.workshop.id)
    for _ in range(5):
        phone.note(job)
        phone.push()
    _, state = phone.get("/api/sync/state")
    spki = keys.unbase64(server.key(office.settings).public_key)
    new = proof_heads.check(state["head"]["bytes"].encode(), state["head"]["signature"], spki)
    _, answer = phone.get(f"/api/sync/consistency?from={old.size}&to={new.size}")
    proof = [bytes.fromhex(node) for node in answer["proof"]]
    assert merkle.verify_consistency(old.size, new.size, bytes.fromhex(old.root), new.root, proof)
    assert not merkle.verify_consistency(old.size, new.size, bytes(32), new.root, proof)


@pytest.mark.parametrize(("older", "newer"), [(0, 3), (5, 4), (3, 999)])
def test_no_proof_for_a_log_that_never_was(phone, job, older, newer):
    status, _ = phone.get(f"/api/sync/consistency?from={older}&to={newer}")
    assert status == 422


def test_a_phone_asks_whether_the_log_still_holds_what_was_confirmed(office, phone, job):
    notes = [phone.note(job, f"note {number}") for number in range(9)]
    receipts = phone.push()[1]["results"]
    phone.note(job, "one more")
    phone.push()
    _, state = phone.get("/api/sync/state")
    spki = keys.unbase64(server.key(office.settings).public_key)
    head = proof_heads.check(state["head"]["bytes"].encode(), state["head"]["signature"], spki)
    positions = [receipt["position"] for receipt in receipts]
    status, answer = phone.post("/api/sync/inclusion", {"size": head.size, "positions": positions})
    assert status == 200 and len(answer["paths"]) == len(notes)
    for receipt, places in zip(receipts, answer["paths"], strict=True):
        path = [bytes.fromhex(answer["hashes"][place]) for place in places]
        leaf = merkle.leaf_hash(receipt["stamp"].encode())
        assert merkle.verify_inclusion(leaf, receipt["position"] - 1, head.size, path, head.root)


@pytest.mark.parametrize(("size", "positions"), [(999, [1]), (2, [3]), (0, [1]), (2, []), (2, [0]), (2, [1] * 501)])
def test_no_proof_of_a_place_that_the_log_does_not_have(phone, job, size, positions):
    assert phone.post("/api/sync/inclusion", {"size": size, "positions": positions})[0] == 422


def test_a_digest_proves_that_a_copy_is_equal(phone, job):
    entries = pages(phone, f"job:{job}")
    own = hashlib.sha256("".join(sha256_hex(e["bytes"].encode()) for e in entries).encode()).hexdigest()
    upto = entries[-1]["position"]
    _, answer = phone.get(f"/api/sync/digest?feed=job:{job}&upto={upto}")
    assert (answer["count"], answer["digest"]) == (10, own)
    _, answer = phone.get(f"/api/sync/digest?feed=job:{job}&upto={upto - 1}")
    assert answer["count"] == 9 and answer["digest"] != own


def test_state_tells_where_the_chain_stands_and_what_a_backup_holds(office, phone, job):
    _, state = phone.get("/api/sync/state")
    assert state["device"]["last_sequence"] == 10
    assert state["device"]["last_hash"] == phone.previous
    assert (state["size"], state["durable_size"]) == (12, 0)
    assert state["chunk_bytes"] == 1048576
    marks.note_durable(office.settings, 7)
    assert phone.get("/api/sync/state")[1]["durable_size"] == 7
    marks.renew_epoch(office.settings)
    assert phone.get("/api/sync/state")[1]["durable_size"] == 0, "a backup of another epoch vouches for nothing"


@pytest.mark.parametrize(
    ("method", "path"),
    [
        ("GET", "/api/sync/state"),
        ("GET", "/api/sync/pull?feed=workshop"),
        ("GET", "/api/nowhere"),
        ("POST", "/api/sync/push"),
        ("POST", "/api/sync/join"),
        ("DELETE", "/api/sync/push"),
    ],
)
def test_every_answer_errors_too_says_whose_it_is(office, method, path):
    """Without these a phone takes no answer for ours: a captive portal's page has none of them."""
    status, answer, headers = office.speak(method, path, {} if method == "POST" else None, {})
    assert status >= 400
    assert set(answer) == {"code", "message", "where"} and answer["message"]
    assert headers["Content-Type"] == "application/json"
    assert headers["Witnessmark-Server"] == server.key(office.settings).server_id
    assert headers["Witnessmark-Epoch"] == marks.epoch(office.settings)
    assert headers["Witnessmark-Protocol"] == "1"
    assert headers["Cache-Control"] == "no-store"


def test_good_answers_say_it_in_their_body_too(office, phone):
    for path in ("state", "pull?feed=workshop", "digest?feed=workshop&upto=5", "consistency?from=1&to=2"):
        status, answer = phone.get(f"/api/sync/{path}")
        assert status == 200
        assert answer["server"] == server.key(office.settings).server_id
        assert answer["epoch"] == marks.epoch(office.settings)
        assert answer["protocol"] == 1 and answer["time"].endswith("Z")


def test_the_api_describes_itself(office):
    status, answer, _ = office.speak("GET", "/api/openapi.json", None, {})
    assert status == 200 and answer["openapi"].startswith("3.1")
    assert {"/api/sync/join", "/api/sync/state", "/api/sync/push", "/api/sync/pull"} <= answer["paths"].keys()


def test_a_full_disk_is_said_plainly_and_stores_nothing(office, phone, job):
    with office.engine.connect() as conn:
        pages_now = conn.exec_driver_sql("PRAGMA page_count").scalar()
    with writing(office.engine) as conn:
        conn.connection.driver_connection.execute(f"PRAGMA max_page_count = {pages_now}")
    for number in range(400):
        phone.note(job, f"filling up {number} " + "x" * 400)
    status, answer = phone.push()
    assert (status, answer["code"]) == (507, "disk_full")
    assert len(phone.outbox) == 400
    with writing(office.engine) as conn:
        conn.connection.driver_connection.execute("PRAGMA max_page_count = 1073741823")
    assert phone.push()[0] == 200
    assert phone.outbox == []
