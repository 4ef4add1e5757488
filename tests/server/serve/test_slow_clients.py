"""Whoever sends or takes slowly, or says nothing, waits alone: everybody else is answered meanwhile."""

from __future__ import annotations

import select
import shutil
import socket
import time
from contextlib import contextmanager
from pathlib import Path
from threading import Thread

import pytest
import requests

from tests.support.media import PIECE, metadata, noise, sha
from tests.support.record import photograph, send
from tests.support.served import Served
from tests.support.workshop import MANAGER, PASSWORD, Office
from witnessmark.app import create_app
from witnessmark.config import Settings
from witnessmark.operate import crowd
from witnessmark.operate.certificate import files
from witnessmark.operate.door import Door

HEAD, WINDOW, SEND = 2, 3, 2
THREADS, UPLOADS, CONNECTIONS = 2, 2, 300
AT_ONCE = 2  # an honest request, on a machine with other work; less than any time limit blocks it
SLACK = 4.0
TAKEN_UP = 0.3  # until the server is at the requests of those who came before
SIGN_IN = "POST /api/office/sign-in HTTP/1.1\r\nHost: x\r\nX-Witnessmark: office\r\nContent-Type: application/json\r\n"


@pytest.fixture(scope="module")
def office(founded_once, tmp_path_factory):
    settings = Settings(tmp_path_factory.mktemp("slow") / "data", secure_cookies=False)
    shutil.copytree(founded_once[0], settings.data)
    here = Office(settings, *founded_once[1:], create_app(settings))
    yield here
    here.engine.dispose()


@pytest.fixture(scope="module")
def served(office):
    limits = {
        "head_seconds": HEAD, "body_window": WINDOW, "body_seconds": 6, "send_seconds": SEND, "unacknowledged": 2,
        "threads": THREADS, "uploads": UPLOADS, "connections": CONNECTIONS, "line_seconds": 1,
    }  # fmt: skip
    with Served(office.settings, **limits) as server:
        server.until_answering()
        yield server


@pytest.fixture(scope="module")
def token(office) -> str:
    return office.phone().token


@contextmanager
def connections(served, count: int):
    opened = [socket.create_connection(("127.0.0.1", served.http_port), timeout=10) for _ in range(count)]
    try:
        yield opened
    finally:
        for wire in opened:
            wire.close()


def honest(served) -> float:
    """Seconds until somebody who just comes has an answer to a request and is signed in."""
    time.sleep(TAKEN_UP)
    begun = time.monotonic()
    assert requests.get(served.url + "/api/office/door", timeout=20).status_code == 200
    signed_in = requests.post(
        served.url + "/api/office/sign-in",
        json={"name": MANAGER, "password": PASSWORD},
        headers={"X-Witnessmark": "office"},
        timeout=20,
    )
    assert signed_in.status_code == 200
    return time.monotonic() - begun


def until_closed(wires: list[socket.socket], seconds: float) -> tuple[list[bytes], float]:
    """What each of them was answered until the server closed it, and how long the last took."""
    begun, answers, open_ = time.monotonic(), {wire: b"" for wire in wires}, list(wires)
    while open_ and time.monotonic() - begun < seconds:
        for wire in select.select(open_, [], [], 0.2)[0]:
            try:
                came = wire.recv(1 << 16)
            except ConnectionError:
                came = b""
            answers[wire] += came
            if not came:
                open_.remove(wire)
    assert not open_, f"{len(open_)} of {len(wires)} are open after {seconds} s"
    return list(answers.values()), time.monotonic() - begun


def trickled(wires: list[socket.socket], text: bytes, every: float, seconds: float) -> None:
    """Sends a byte at a time to all of them."""
    until = time.monotonic() + seconds
    for at in range(len(text)):
        if time.monotonic() > until:
            return
        for wire in wires:
            try:
                wire.send(text[at : at + 1])
            except OSError:
                continue
        time.sleep(every)


def test_half_sent_sign_ins_block_nobody_and_are_ended(served):
    with connections(served, 4 * THREADS) as wires:
        for wire in wires:
            wire.sendall(f'{SIGN_IN}Content-Length: 40\r\n\r\n{{"name":'.encode())
        assert honest(served) < AT_ONCE
        answers, _ = until_closed(wires, WINDOW + SLACK)

    assert all(answer.startswith(b"HTTP/1.1 408 ") and b'"code": "too_slow"' in answer for answer in answers)


def test_bodies_and_heads_that_trickle_block_nobody_and_are_ended(served):
    head = f"{SIGN_IN}Content-Length: 4000\r\n\r\n".encode()
    with connections(served, 4 * THREADS) as bodies, connections(served, 4 * THREADS) as heads:
        for wire in bodies:
            wire.sendall(head)
        trickled([*bodies, *heads], b'G"name": ' + b"x" * 100, 0.2, 0.6)
        assert honest(served) < AT_ONCE
        trickled([*bodies, *heads], b"x" * 100, 0.2, max(HEAD, WINDOW))
        answers, _ = until_closed(bodies, SLACK)
        until_closed(heads, SLACK)

    assert all(answer.startswith(b"HTTP/1.1 408 ") for answer in answers)


def test_silent_and_idle_connections_block_nobody_and_are_ended(served):
    with connections(served, 2 * CONNECTIONS // 3) as idle, connections(served, 20) as silent:
        for wire in idle:
            wire.sendall(b"GET /api/office/door HTTP/1.1\r\nHost: x\r\n\r\n")
        assert honest(served) < AT_ONCE
        answers, _ = until_closed([*idle, *silent], HEAD + SLACK)

    assert sum(answer.startswith(b"HTTP/1.1 200 ") for answer in answers) == len(idle)


def test_connections_are_counted_and_those_beyond_wait_for_room(served):
    """Three hundred are held; who comes after them is answered once their time is over."""
    with connections(served, CONNECTIONS + 100) as silent:
        time.sleep(TAKEN_UP)
        held = max(len(list(Path(f"/proc/{pid}/fd").iterdir())) for pid in served.tree())
        assert held < CONNECTIONS + 80
        assert honest(served) < 2 * HEAD + SLACK
        until_closed(silent, 2 * HEAD + SLACK)


def test_over_https_a_handshake_that_stops_is_ended(served):
    """Not by our limit but by granian's own, which is longer: nobody waits for it."""
    opened = [socket.create_connection(("127.0.0.1", served.https_port), timeout=10) for _ in range(30)]
    try:
        begun = time.monotonic()
        url = served.secure_url + "/api/office/door"
        assert requests.get(url, timeout=10, verify=str(served.authority)).status_code == 200
        assert time.monotonic() - begun < AT_ONCE
    finally:
        for wire in opened:
            wire.close()


def test_a_large_body_of_a_stranger_is_turned_away_before_it_is_sent(served):
    head = (
        "POST /api/sync/push HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\nContent-Length: 4000000\r\n\r\n"
    )
    with connections(served, 1) as [wire]:
        wire.sendall(head.encode())
        begun = time.monotonic()
        assert wire.recv(12) == b"HTTP/1.1 401"
        assert time.monotonic() - begun < AT_ONCE


def test_a_push_of_some_megabytes_arrives_whole_and_leaves_no_file(served, office):
    phone = office.phone("Phone that was long away")
    job = phone.open_job()
    for number in range(900):
        phone.note(job, f"{number} " + "x" * 2000)
    request = phone.ask_push(phone.outbox)
    answer = requests.post(
        served.url + "/api/sync/push", json=request, headers={"Authorization": f"Bearer {phone.token}"}, timeout=60
    )

    assert answer.status_code == 200
    assert {result["result"] for result in answer.json()["results"]} == {"stored"}
    assert [path.name for path in office.settings.data.iterdir() if path.name.startswith("tmp")] == []


def test_uploads_that_stop_are_ended_and_what_came_of_them_stays(served, token):
    headers = {"Authorization": f"Bearer {token}", "Tus-Resumable": "1.0.0"}
    data, places = noise(2_000_000), []
    for number in range(UPLOADS + 1):
        ours = data + bytes([number])
        named = headers | {"Upload-Length": str(len(ours)), "Upload-Metadata": metadata(sha(ours))}
        begun = requests.post(served.url + "/api/media/uploads", headers=named, timeout=10)
        places.append(begun.headers["Location"])
    lines = "".join(f"{name}: {value}\r\n" for name, value in headers.items())
    with connections(served, len(places)) as wires:
        for wire, place in zip(wires, places, strict=True):
            wire.sendall(
                f"PATCH {place} HTTP/1.1\r\nHost: x\r\n{lines}Upload-Offset: 0\r\nContent-Type: {PIECE}\r\n"
                f"Content-Length: {len(data)}\r\n\r\n".encode()
                + data[:200_000]
            )
        assert honest(served) < AT_ONCE
        answers, _ = until_closed(wires, WINDOW + SLACK)

    # One found no room: it is asked to come again. The others are told how far they came.
    assert sorted(answer[9:12] for answer in answers) == [b"204"] * UPLOADS + [b"503"]
    stand = [
        requests.head(served.url + place, headers=headers, timeout=10).headers["Upload-Offset"] for place in places
    ]
    assert sorted(stand) == ["0", *["200000"] * UPLOADS]


def test_an_upload_at_the_least_rate_goes_on_beyond_every_window(served, token):
    headers = {"Authorization": f"Bearer {token}", "Tus-Resumable": "1.0.0"}
    data = noise(240_000)
    named = headers | {"Upload-Length": str(len(data)), "Upload-Metadata": metadata(sha(data))}
    place = requests.post(served.url + "/api/media/uploads", headers=named, timeout=10).headers["Location"]

    def slowly():
        for at in range(0, len(data), 40_000):
            time.sleep(0.8)
            yield data[at : at + 40_000]

    more = headers | {"Upload-Offset": "0", "Content-Type": PIECE}
    answer = requests.patch(served.url + place, data=slowly(), headers=more, timeout=20)

    assert (answer.status_code, answer.headers["Upload-Offset"]) == (204, str(len(data)))


def test_a_large_answer_that_nobody_takes_stays_on_the_disk_and_is_ended(served, office, token):
    """Ranges of it are answered meanwhile."""
    path = big_original(served, office, 48_000_000)
    signed_in = f"Cookie: {cookie(served)}\r\n"
    before = memory(served)
    with connections(served, 4 * THREADS) as wires:
        for wire in wires:
            wire.sendall(f"GET {path} HTTP/1.1\r\nHost: x\r\n{signed_in}\r\n".encode())
        assert honest(served) < AT_ONCE
        part = requests.get(
            served.url + path, headers={"Cookie": cookie(served), "Range": "bytes=1000000-1000009"}, timeout=10
        )
        assert (part.status_code, len(part.content)) == (206, 10)
        assert memory(served) - before < 48e6
        time.sleep(SEND)
        answers, _ = until_closed(wires, SLACK)
    # Here the kernel has all of it at once, and nobody but the crowd could tell.
    with connections(served, 1) as [wire]:
        wire.sendall(f"GET {path} HTTP/1.1\r\nHost: x\r\nRange: bytes=0-1999999\r\n{signed_in}\r\n".encode())
        until = time.monotonic() + SEND * 2 + SLACK
        while wire.getsockname()[1] in established(served.http_port):
            assert time.monotonic() < until
            time.sleep(0.1)

    assert all(len(answer) < 48_000_000 for answer in answers)


def test_the_door_answers_beside_the_silent_and_holds_only_so_many(served):
    door = Door(files(served.settings), "127.0.0.1", 0, seconds=3, most=20)
    thread = Thread(target=door.serve_forever)
    thread.start()
    silent = [socket.create_connection(door.server_address, timeout=10) for _ in range(40)]
    try:
        silent[-1].sendall(b"GET /certificate")
        url = f"http://127.0.0.1:{door.server_address[1]}/certificate"
        assert requests.get(url, timeout=AT_ONCE).status_code == 200
        until_closed(silent[:15], AT_ONCE)
        until_closed(silent[15:], 3 + SLACK)
    finally:
        door.shutdown()
        thread.join()
        for wire in silent:
            wire.close()


def test_of_too_many_connections_those_are_closed_that_sent_least(tmp_path, monkeypatch):
    with socket.create_server(("127.0.0.1", 0)) as listening:
        wires = [socket.create_connection(listening.getsockname()) for _ in range(5)]
        accepted = [listening.accept()[0] for _ in wires]
        for number, wire in enumerate(accepted):
            (tmp_path / str(wire.fileno())).touch()
            if number in (0, 3):
                wires[number].sendall(b"x" * 1000)
        monkeypatch.setattr(crowd, "OPEN_FILES", tmp_path)
        looking = crowd.Crowd(3, 1000, 60)
        looking.look(0)
        assert not select.select(wires, [], [], 0)[0]  # all of them are new
        looking.look(0.25)
        closed = select.select(wires, [], [], 0.2)[0]
        assert len(closed) == 2 and not {wires[0], wires[3]} & set(closed)
        for wire in [*wires, *accepted]:
            wire.close()


def test_an_answer_that_lies_in_the_kernel_is_taken_at_the_least_rate_or_ended(tmp_path, monkeypatch):
    """Nobody takes a byte, one takes too few, one enough, and one has nothing to take."""
    monkeypatch.setattr(crowd, "OPEN_FILES", tmp_path)
    with socket.create_server(("127.0.0.1", 0)) as listening:
        wires, accepted = [], []
        for number in range(4):
            wire = socket.socket()
            wire.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 4096)
            wire.connect(listening.getsockname())
            wires.append(wire)
            accepted.append(listening.accept()[0])
            accepted[-1].setblocking(False)
            (tmp_path / str(accepted[-1].fileno())).touch()
            if number < 3:
                accepted[-1].send(b"x" * 400_000)
        looking = crowd.Crowd(100, 50_000, 60)
        for now in range(0, 60, 6):
            looking.look(now)
            taken(wires[1], 1000)
            taken(wires[2], 20_000)
            assert not [wire for wire in accepted if is_ended(wire)]
        looking.look(60)
        assert [is_ended(wire) for wire in accepted] == [True, True, False, False]
        for wire in [*wires, *accepted]:
            wire.close()


def taken(wire: socket.socket, count: int) -> None:
    while count > 0:
        count -= len(wire.recv(count))


def is_ended(wire: socket.socket) -> bool:
    """Whether our side was closed: the kernel no longer calls it ESTABLISHED."""
    return wire.getsockopt(socket.IPPROTO_TCP, socket.TCP_INFO, 1)[0] != 1


def cookie(served) -> str:
    answer = requests.post(
        served.url + "/api/office/sign-in",
        json={"name": MANAGER, "password": PASSWORD},
        headers={"X-Witnessmark": "office"},
        timeout=10,
    )
    return answer.headers["Set-Cookie"].split(";")[0]


def big_original(served, office, length: int) -> str:
    """The address of an original of so many bytes, which a record names."""
    phone = office.phone("Phone with a film")
    data = b"\xff\xd8\xff\xe0" + noise(length - 4)
    headers = {"Authorization": f"Bearer {phone.token}", "Tus-Resumable": "1.0.0"}
    named = headers | {"Upload-Length": str(len(data)), "Upload-Metadata": metadata(sha(data))}
    place = requests.post(served.url + "/api/media/uploads", headers=named, timeout=10).headers["Location"]
    more = headers | {"Upload-Offset": "0", "Content-Type": PIECE}
    assert requests.patch(served.url + place, data=data, headers=more, timeout=60).status_code == 204
    photograph(phone, phone.open_job(), "bore/3", data)
    send(phone)
    return f"/api/media/{sha(data)}/original"


def established(port: int) -> set[int]:
    """The clients' ports of the connections that are open on this port, from the kernel's own table."""
    lines = (line.split() for line in Path("/proc/net/tcp").read_text().splitlines()[1:])
    return {int(line[2][-4:], 16) for line in lines if line[3] == "01" and int(line[1][-4:], 16) == port}


def memory(served) -> int:
    """Bytes that the processes which answer hold for themselves; the one that opens pictures has limits of its own."""
    total = 0
    for pid in served.tree():
        if b"picture_worker" in Path(f"/proc/{pid}/cmdline").read_bytes():
            continue
        for line in Path(f"/proc/{pid}/smaps_rollup").read_text().splitlines():
            if line.startswith(("Private_Dirty:", "Private_Clean:")):
                total += int(line.split()[1]) * 1024
    return total
