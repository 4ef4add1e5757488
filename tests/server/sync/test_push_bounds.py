"""What a phone that has joined may cost the server: strays, long batches, batches of tiny things."""

from __future__ import annotations

import hashlib

import pytest

from tests.support.record import send
from witnessmark.db import reading
from witnessmark.sync import strays


@pytest.fixture
def job(phone) -> str:
    opened = phone.open_job()
    send(phone)
    return opened


def stored(office) -> dict[str, bytes]:
    """What is kept of strays, by hash."""
    with reading(office.engine) as conn:
        return dict(conn.exec_driver_sql("SELECT hash, bytes FROM log_strays").all())


def loose(text: str) -> dict:
    return {"bytes": text, "signature": ""}


def sha256(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()


def answers(phone, *texts: str) -> list[dict]:
    status, answer = phone.push([loose(text) for text in texts])
    assert status == 200
    assert {result["result"] for result in answer["results"]} == {"refused"}
    return answer["results"]


def test_of_a_long_stray_the_hash_alone_is_kept_and_the_phone_is_told(office, phone):
    short, long = "x" * strays.LONGEST_KEPT, "y" * (strays.LONGEST_KEPT + 1)
    whole, hash_alone = answers(phone, short, long)

    assert stored(office) == {sha256(short): short.encode(), sha256(long): b""}
    assert "stored here as well" in whole["message"]
    assert "Only its SHA-256 is stored here: leave the record on this phone" in hash_alone["message"]


def test_a_phone_has_room_for_so_many_strays_and_is_told_when_it_is_full(office, phone, job, monkeypatch):
    monkeypatch.setattr(strays, "MOST_KEPT", 3)
    first = answers(phone, "a", "b", "b")
    then = answers(phone, "c", "d", "a")
    last = answers(phone, "e", "c")

    assert set(stored(office)) == {sha256(text) for text in "abc"}
    for answer in (*first, then[0], then[2], last[1]):
        assert "stored here as well" in answer["message"]
    for answer in (then[1], last[0]):
        assert "It is not stored here, because this phone has already sent too many" in answer["message"]
        assert "leave it on this phone and show the phone to the office." in answer["message"]
    other = office.phone("Phone in bay 3")
    assert "stored here as well" in answers(other, "e")[0]["message"]
    phone.note(job)
    assert phone.push()[1]["results"][0]["result"] == "stored"


def test_a_phones_strays_are_kept_whole_up_to_so_many_bytes(office, phone, monkeypatch):
    monkeypatch.setattr(strays, "MOST_BYTES_KEPT", 1000)
    one, two, three = "a" * 600, "b" * 600, "c" * 300
    answers(phone, one)
    second, third = answers(phone, two, three)

    assert stored(office) == {sha256(one): one.encode(), sha256(two): b"", sha256(three): three.encode()}
    assert "Only its SHA-256" in second["message"] and "stored here as well" in third["message"]


def test_a_batch_of_strays_writes_one_line_into_the_servers_log(phone, caplog):
    answers(phone, *(f"stray {number}" for number in range(50)))

    [line] = [record.getMessage() for record in caplog.records if phone.device in record.getMessage()]
    assert "50 records outside its chain" in line
