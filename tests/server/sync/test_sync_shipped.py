"""The same promises behind granian, the server that ships, with two processes writing to one database."""

from __future__ import annotations

import json
import socket
from concurrent.futures import ThreadPoolExecutor
from urllib.parse import urlsplit

import pytest
import requests

from witnessmark.db import reading
from witnessmark.log import heads, read
from witnessmark.proof import merkle


@pytest.fixture
def phone(running):
    return running.phone()


@pytest.fixture
def job(phone):
    job = phone.open_job()
    phone.push()
    return job


def raw_request(url: str, head: str, body: bytes) -> bytes:
    """Sends exactly these bytes, then closes our side, as a phone does that loses its signal."""
    at = urlsplit(url)
    with socket.create_connection((at.hostname, at.port), timeout=20) as wire:
        wire.sendall(head.replace("\n", "\r\n").encode() + b"\r\n\r\n" + body)
        wire.shutdown(socket.SHUT_WR)
        answer = b""
        while part := wire.recv(65536):
            answer += part
        return answer


def logged(running, phone):
    with reading(running.engine) as conn:
        return [row.sequence for row in read.device_chain(conn, phone.workshop, phone.device)]


def test_a_body_that_breaks_off_stores_nothing_even_if_what_came_reads_well(running, phone, job):
    """A push whose first part is by itself a whole, valid push: only the announced length tells the difference."""
    sent = phone.note(job)
    whole = json.dumps(phone.ask_push([sent])).encode()
    answer = raw_request(
        running.url,
        "POST /api/sync/push HTTP/1.1\nHost: 127.0.0.1\nContent-Type: application/json\n"
        f"Authorization: Bearer {phone.token}\nConnection: close\nContent-Length: {len(whole) + 500}",
        whole,
    )
    assert b" 200 " not in answer.split(b"\r\n")[0]
    assert logged(running, phone) == [1]
    _, pushed = phone.push()
    assert pushed["results"][0]["result"] == "stored"


def test_a_body_that_is_too_large_is_turned_away(running, phone):
    limit = running.settings.push_bytes
    answer = raw_request(
        running.url,
        "POST /api/sync/push HTTP/1.1\nHost: 127.0.0.1\nContent-Type: application/json\n"
        f"Authorization: Bearer {phone.token}\nConnection: close\nContent-Length: {limit + 1}",
        b"{}",
    )
    assert b" 413 " in answer.split(b"\r\n")[0]
    assert b'"code":"too_large"' in answer


@pytest.mark.parametrize("body", [b"", b"{", b"[]", b"null", b"\xff\xfe", b"<html>log in to the guest network</html>"])
def test_what_is_not_a_push_gets_a_plain_answer(running, phone, body):
    answer = requests.post(
        f"{running.url}/api/sync/push",
        data=body,
        headers={"Authorization": f"Bearer {phone.token}", "Content-Type": "application/json"},
        timeout=20,
    )
    assert answer.status_code in (400, 422)
    assert answer.json()["message"]


def test_the_same_batch_to_two_processes_at_once_is_stored_once(running, phone, job):
    sent = [phone.note(job, f"note {n}") for n in range(40)]
    request = phone.ask_push(sent)
    with ThreadPoolExecutor(4) as pool:
        answer = list(pool.map(lambda _: phone.post("/api/sync/push", request), range(4)))
    assert [status for status, _ in answer] == [200] * 4
    for place in range(40):
        answers = [t["results"][place] for _, t in answer]
        assert sorted(a["result"] for a in answers) == ["duplicate"] * 3 + ["stored"]
        assert len({a["position"] for a in answers}) == 1
    assert logged(running, phone) == list(range(1, 42))


def test_four_phones_at_once_make_one_log_without_holes(running):
    phones = [running.phone(f"Phone {n}") for n in range(4)]

    def work(phone):
        job = phone.open_job()
        for round_ in range(5):
            for number in range(10):
                phone.note(job, f"{round_}/{number}")
            status, _ = phone.push()
            assert status == 200
        return phone.outbox

    with ThreadPoolExecutor(4) as pool:
        assert list(pool.map(work, phones)) == [[]] * 4
    with reading(running.engine) as conn:
        rows = list(read.whole_log(conn, running.workshop.id))
        head = heads.latest(conn, running.workshop.id)
    assert [row.position for row in rows] == list(range(1, head.size + 1))
    assert all(logged(running, phone) == list(range(1, 52)) for phone in phones)
    assert merkle.root([merkle.leaf_hash(row.stamp) for row in rows]).hex() == head.root
