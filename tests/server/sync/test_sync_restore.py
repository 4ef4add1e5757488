"""A server that was put back from an older backup says so, and the phones bring again what it lost."""

from __future__ import annotations

import json
import shutil
import sqlite3

import pytest

from tests.support import record
from tests.support.media import Sender, sha
from tests.support.phone import Phone
from witnessmark.db import reading, writing
from witnessmark.log import heads, read
from witnessmark.media import store
from witnessmark.proof import keys
from witnessmark.sync import desk, marks
from witnessmark.sync import office as server


@pytest.fixture
def job(phone):
    job = phone.open_job()
    for number in range(4):
        phone.note(job, f"before the backup {number}")
    phone.push()
    return job


def put_back(office, phone, job, meanwhile=lambda: None):
    """Backs up, records five more (and does `meanwhile`), then puts the backup's database in place."""
    backup = office.settings.data.parent / "backup.db"
    with sqlite3.connect(office.settings.data / "witnessmark.db") as live, sqlite3.connect(backup) as copy:
        live.backup(copy)
    live.close()
    copy.close()
    after = [phone.note(job, f"after the backup {number}") for number in range(5)]
    phone.push()
    meanwhile()
    office.engine.dispose()
    for left_over in office.settings.data.glob("witnessmark.db-*"):
        left_over.unlink()
    shutil.copy(backup, office.settings.data / "witnessmark.db")
    return after


def test_an_older_database_starts_a_new_epoch_and_phones_bring_back_what_it_lost(office, phone, job):
    before = phone.get("/api/sync/state")[1]
    lost = put_back(office, phone, job)
    again = office.restart()
    phone._speak = again.speak
    state = phone.get("/api/sync/state")[1]
    assert state["epoch"] != before["epoch"]
    assert state["server"] == before["server"]
    assert state["device"]["last_sequence"] == 5, "so the phone knows from which number on to offer again"
    wanted = [entry for entry in lost if json.loads(entry["bytes"])["sequence"] > state["device"]["last_sequence"]]
    assert wanted == lost
    _, answer = phone.push(wanted)
    assert [result["result"] for result in answer["results"]] == ["stored"] * 5
    with reading(again.engine) as conn:
        texts = [row.entry["body"].get("text") for row in read.device_chain(conn, phone.workshop, phone.device)]
        head = heads.latest(conn, phone.workshop)
    assert texts[-5:] == [f"after the backup {n}" for n in range(5)] and len(texts) == 10
    assert head.epoch == state["epoch"]


def test_a_restart_without_loss_keeps_the_epoch(office, phone, job):
    before = marks.epoch(office.settings)
    again = office.restart()
    assert marks.epoch(again.settings) == before
    assert marks.issued(again.settings) == 7


def test_the_same_log_is_not_taken_for_restored_twice(office, phone, job):
    put_back(office, phone, job)
    office.restart()
    once = marks.epoch(office.settings)
    office.restart()
    assert marks.epoch(office.settings) == once


def test_unreadable_marks_do_not_stop_the_server(office, phone, job):
    office.settings.issued.write_text("")
    office.settings.durable.write_text("{")
    again = office.restart()
    assert marks.issued(again.settings) == 0
    assert marks.durable_size(again.settings) == 0
    phone.note(job)
    assert phone.push()[0] == 200
    assert marks.issued(again.settings) == 8


@pytest.mark.parametrize("left", [None, ""])
def test_a_lost_epoch_is_a_new_one(office, phone, job, left):
    """Whoever cannot say which epoch it is may have lost more: phones are to offer again what they hold."""
    before = marks.epoch(office.settings)
    office.settings.epoch.unlink()
    if left is not None:
        office.settings.epoch.write_text(left)
    phone._speak = office.restart().speak
    answer = phone.get("/api/sync/state")[1]
    assert answer["epoch"] and answer["epoch"] != before


def test_what_the_desk_failed_to_write_was_never_promised(office, phone, job):
    phone.get("/api/sync/state")
    before = marks.issued(office.settings)
    with pytest.raises(RuntimeError), writing(office.engine) as conn:
        desk.write(conn, office.settings, office.manager.id, "note_made", job=job, body={"text": "never kept"})
        raise RuntimeError("power")
    epoch = marks.epoch(office.settings)
    again = office.restart()
    assert (marks.issued(again.settings), marks.epoch(again.settings)) == (before, epoch)


def test_a_log_that_was_shown_but_not_pushed_to_is_missed_too(office, phone, job):
    """The desk wrote, a phone saw the head, and then an older file was put in place."""
    put_back(office, phone, job)
    again = office.restart()
    phone._speak = again.speak
    with writing(again.engine) as conn:
        desk.write(conn, again.settings, again.manager.id, "note_made", job=job, body={"text": "from the desk"})
    size = phone.get("/api/sync/state")[1]["size"]
    assert marks.issued(again.settings) == size
    assert marks.check_epoch(again.settings, size - 1) is True
    assert marks.check_epoch(again.settings, size) is False


def test_that_a_log_was_put_back_is_its_first_record_in_the_new_epoch(office, phone, job):
    """A phone believes no head of an epoch that is over, and sends nothing before it has one to believe."""
    put_back(office, phone, job)
    again = office.restart()
    phone._speak = again.speak
    state = phone.get("/api/sync/state")[1]
    head = json.loads(state["head"]["bytes"])
    assert head["epoch"] == state["epoch"]
    with reading(again.engine) as conn:
        logged = heads.latest(conn, phone.workshop)
        last = list(read.whole_log(conn, phone.workshop))[-1].entry
    assert (head["size"], head["root"], logged.epoch) == (logged.size, logged.root, state["epoch"])
    assert last["kind"] == "log_restored" and last["body"]["epoch"] != state["epoch"]
    assert last["body"]["size"] == logged.size - 1 < last["body"]["issued"]
    key = keys.unbase64(server.key(again.settings).public_key)
    assert keys.verify(key, state["head"]["signature"], state["head"]["bytes"].encode())
    for answer in (phone.push([])[1], phone.get("/api/sync/pull?feed=workshop")[1]):
        assert json.loads(answer["head"]["bytes"])["epoch"] == state["epoch"]


def test_originals_that_an_older_database_does_not_know_are_found_again(office, phone, job):
    """The phone was told that they are here, and may have given its own copy up."""
    data = b"\xff\xd8\xff\xe0 metal in light"
    record.photograph(phone, job, "", data)
    phone.push()
    sender = Sender(office.app, phone.token)

    def send_and_spoil():
        sender.send(data)
        store.path_of(office.settings, sha(data)[:2] + "0" * 62).write_bytes(b"somebody else's")

    put_back(office, phone, job, meanwhile=send_and_spoil)
    again = office.restart()
    with reading(again.engine) as conn:
        assert store.lengths(conn, [sha(data)]) == {sha(data): len(data)}
        assert not store.which(conn, [sha(data)[:2] + "0" * 62]), "a file that is not what its name says stays out"


def test_a_phone_that_joined_after_the_backup_joins_anew_and_keeps_its_records(office, phone, job):
    came_late = []

    def join_late():
        late = office.phone("Late")
        came_late.extend([late, late.note(job, "seen by the late phone")])
        assert late.push()[0] == 200

    put_back(office, phone, job, meanwhile=join_late)
    late, sent = came_late
    again = office.restart()
    late._speak = again.speak
    assert late.get("/api/sync/state")[0] == 401
    device = late.device
    status, answer = late.join(again.invite(), "Late", device=device)
    assert (status, answer["device"]["id"]) == (201, device)
    _, answer = late.push([sent])
    assert [result["result"] for result in answer["results"]] == ["stored"]


def test_a_phone_cannot_take_the_id_of_one_that_is_known(office, phone):
    other = Phone(office.speak)
    status, answer = other.join(office.invite(), device=phone.device)
    assert status == 201 and answer["device"]["id"] != phone.device
