"""A pack is asked for in the office, grows while nobody waits, and is taken away; the log says that it was issued."""

from __future__ import annotations

import hashlib
import io
import threading
import time
import zipfile

import pytest

from tests.server.office.test_desk import opening, upload, write
from tests.support import record
from witnessmark.db import reading
from witnessmark.log import read
from witnessmark.pack import issue, shelf
from witnessmark.tasks import worker


@pytest.fixture
def job(client) -> str:
    """A job with a note and a document whose bytes are here."""
    made = write(client, None, "job_opened", opening(record.describe(client))).get_json()["job"]["id"]
    write(client, made, "note_made", {"text": "Oil feed blocked by sealant"})
    named = upload(client, b"%PDF-1.7 a certificate", "application/pdf")
    write(client, made, "document_added", {"title": "Crack test", "remark": ""}, media=[named])
    return made


def ask(client, job: str, sort: str = "sealed") -> dict:
    answer = client.post(f"/api/jobs/{job}/packs", json={"sort": sort})
    assert answer.status_code == 202, answer.get_json()
    return answer.get_json()["pack"]


def cut(office, id: str) -> None:
    issue.issue(office.engine, office.settings, id)


@pytest.mark.parametrize("sort", ["sealed", "customer"])
def test_a_pack_waits_is_cut_and_taken_away_and_the_log_says_so(client, office, job, sort):
    asked = ask(client, job, sort)
    assert (asked["state"], asked["sort"], asked["name"]) == ("waiting", sort, "")
    assert client.get(f"/api/packs/{asked['id']}/file").get_json()["code"] == "not_ready"
    cut(office, asked["id"])
    ready = client.get(f"/api/packs/{asked['id']}").get_json()
    assert ready["state"] == "ready" and ready["done"] == ready["total"] > 0
    with client.get(f"/api/packs/{asked['id']}/file") as file:
        data = file.data
        assert ready["name"] in file.headers["Content-Disposition"]
    assert (len(data), hashlib.sha256(data).hexdigest()) == (ready["size"], ready["sha256"])
    assert zipfile.ZipFile(io.BytesIO(data)).testzip() is None
    with reading(office.engine) as conn:
        last = list(read.job_entries(conn, office.workshop.id, job))[-1].entry
    assert (last["kind"], last["body"]["sort"]) == ("pack_issued", sort)
    assert last["body"]["pack_sha256"] != ready["sha256"]


def test_asking_twice_while_one_is_under_way_asks_for_one(client, job):
    assert ask(client, job)["id"] == ask(client, job)["id"]
    assert ask(client, job, "customer")["id"] != ask(client, job)["id"]
    assert len(client.get(f"/api/jobs/{job}/packs").get_json()["packs"]) == 2


def test_a_pack_taken_in_hand_by_one_worker_is_left_alone_by_the_other(client, office, job):
    id = ask(client, job)["id"]
    assert shelf.begin(office.engine, id) is not None
    cut(office, id)
    assert client.get(f"/api/packs/{id}").get_json()["state"] == "working"


def test_a_pack_that_cannot_be_cut_says_why_and_leaves_no_file(client, office, job):
    for original in office.settings.media.glob("??/*"):
        original.chmod(0o644)
        original.write_bytes(b"%PDF-1.7 another cert.")
    id = ask(client, job)["id"]
    cut(office, id)
    answer = client.get(f"/api/packs/{id}").get_json()
    assert answer["state"] == "failed" and answer["words"] and answer["words"] != issue.FAILED
    assert list(office.settings.packs.rglob("*.zip")) == []
    with reading(office.engine) as conn:
        kinds = [row.entry["kind"] for row in read.job_entries(conn, office.workshop.id, job)]
    assert "pack_issued" not in kinds


def test_a_pack_whose_worker_was_stopped_is_begun_again_and_finished(client, office, job):
    id = ask(client, job)["id"]
    shelf.begin(office.engine, id)
    stop = threading.Event()
    working = threading.Thread(target=worker.run, args=(office.settings, stop))
    working.start()
    try:
        until = time.monotonic() + 60
        while client.get(f"/api/packs/{id}").get_json()["state"] in ("waiting", "working"):
            assert time.monotonic() < until
            time.sleep(0.1)
    finally:
        stop.set()
        working.join()
    assert client.get(f"/api/packs/{id}").get_json()["state"] == "ready"


def test_a_pack_of_a_job_that_is_not_there_cannot_be_asked_for(client):
    answer = client.post("/api/jobs/00000000-0000-4000-8000-000000000000/packs", json={"sort": "sealed"})
    assert answer.status_code == 404
