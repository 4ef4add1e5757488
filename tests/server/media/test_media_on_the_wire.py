"""Uploads against the server that ships: cut wires, killed servers, two senders at once."""

from __future__ import annotations

import shutil
import socket
import time
from concurrent.futures import ThreadPoolExecutor

import pytest
import requests

from tests.support.media import PIECE, metadata, noise, sha
from tests.support.served import Served
from tests.support.workshop import Office
from witnessmark.app import create_app
from witnessmark.config import Settings
from witnessmark.media import store


@pytest.fixture(scope="module")
def office(founded_once, tmp_path_factory):
    """One workshop for all of these tests: each brings files of its own."""
    folder, workshop, manager = founded_once
    settings = Settings(tmp_path_factory.mktemp("wire") / "data", secure_cookies=False)
    shutil.copytree(folder, settings.data)
    here = Office(settings, workshop, manager, create_app(settings))
    yield here
    here.engine.dispose()


@pytest.fixture(scope="module")
def served(office):
    with Served(office.settings) as server:
        yield server


@pytest.fixture(scope="module")
def token(office) -> str:
    return office.phone().token


def headers(token: str, **more) -> dict:
    return {"Authorization": f"Bearer {token}", "Tus-Resumable": "1.0.0", **more}


def begin(url: str, token: str, data: bytes) -> str:
    named = {"Upload-Length": str(len(data)), "Upload-Metadata": metadata(sha(data))}
    answer = requests.post(url + "/api/media/uploads", headers=headers(token, **named), timeout=20)
    assert answer.status_code == 201, answer.text
    return answer.headers["Location"]


def stands(url: str, token: str, path: str) -> int:
    answer = requests.head(url + path, headers=headers(token), timeout=20)
    assert answer.status_code == 200
    return int(answer.headers["Upload-Offset"])


def piece(url: str, token: str, path: str, offset: int, body) -> requests.Response:
    more = {"Upload-Offset": str(offset), "Content-Type": PIECE}
    return requests.patch(url + path, data=body, headers=headers(token, **more), timeout=60)


def cut_off(port: int, token: str, path: str, offset: int, announced: int, sent: bytes) -> None:
    """Announces more than it sends, and hangs up."""
    with socket.create_connection(("127.0.0.1", port)) as wire:
        head = headers(
            token, **{"Upload-Offset": offset, "Content-Type": PIECE, "Content-Length": announced, "Host": "x"}
        )
        lines = "".join(f"{name}: {value}\r\n" for name, value in head.items())
        wire.sendall(f"PATCH {path} HTTP/1.1\r\n{lines}\r\n".encode() + sent)


def settled(url: str, token: str, path: str) -> int:
    """Where the upload stands once the server has taken in what was on the wire."""
    before, now = -1, stands(url, token, path)
    while before != now:
        time.sleep(0.15)
        before, now = now, stands(url, token, path)
    return now


def test_a_wire_cut_in_the_middle_never_makes_half_a_file_an_original(served, office, token):
    """The server hands the application half a body as a normal end of stream; only length and hash decide."""
    data = noise(1_000_000)
    path = begin(served.url, token, data)
    cut_off(served.http_port, token, path, 0, len(data), data[:500_000])
    at = settled(served.url, token, path)

    assert 0 < at <= 500_000
    assert not store.path_of(office.settings, sha(data)).exists()
    assert piece(served.url, token, path, at, data[at:]).status_code == 204
    assert store.path_of(office.settings, sha(data)).read_bytes() == data


def test_a_wire_cut_inside_a_checked_piece_adds_nothing(served, token):
    data = noise(400_000)
    path = begin(served.url, token, data)
    with socket.create_connection(("127.0.0.1", served.http_port)) as wire:
        lines = "".join(f"{name}: {value}\r\n" for name, value in headers(token).items())
        wire.sendall(
            f"PATCH {path} HTTP/1.1\r\nHost: x\r\n{lines}Upload-Offset: 0\r\nContent-Type: {PIECE}\r\n"
            f"Content-Length: {len(data)}\r\nUpload-Checksum: sha256 {'A' * 43}=\r\n\r\n".encode()
            + data[:200_000]
        )

    assert settled(served.url, token, path) == 0


def test_a_server_killed_at_forty_percent_goes_on_from_there(served, office, token):
    data = noise(6_000_000)
    path = begin(served.url, token, data)

    def killed_on_the_way():
        yield data[: 2 * len(data) // 5]
        until = time.monotonic() + 15
        while stands(served.url, token, path) < 0.3 * len(data) and time.monotonic() < until:
            time.sleep(0.01)
        served.kill()
        yield data[2 * len(data) // 5 :]

    with pytest.raises(requests.RequestException):
        piece(served.url, token, path, 0, killed_on_the_way())
    served.start()
    at = stands(served.url, token, path)

    assert 0.3 * len(data) <= at <= 0.45 * len(data)
    assert piece(served.url, token, path, at, data[at:]).status_code == 204
    assert store.path_of(office.settings, sha(data)).read_bytes() == data


def test_many_senders_at_once_and_two_of_the_same_file(served, office, token):
    files = [noise(700_000) for _ in range(6)]

    def send(data: bytes) -> None:
        path = begin(served.url, token, data)
        for _ in range(20):
            at = stands(served.url, token, path)
            if at == len(data):
                return
            assert piece(served.url, token, path, at, data[at:]).status_code in (204, 409, 404)
        pytest.fail("never arrived")

    with ThreadPoolExecutor(8) as pool:
        list(pool.map(send, [*files, *files]))

    for data in files:
        assert store.path_of(office.settings, sha(data)).read_bytes() == data
        assert not list(office.settings.uploads.glob(f"*/{sha(data)}.{len(data)}.part"))


def test_a_body_without_a_length_is_taken_as_far_as_it_comes(served, office, token):
    data = noise(300_000)
    path = begin(served.url, token, data)
    answer = piece(served.url, token, path, 0, iter([data[:100_000], data[100_000:]]))

    assert (answer.status_code, answer.headers["Upload-Offset"]) == (204, str(len(data)))
    assert store.path_of(office.settings, sha(data)).read_bytes() == data


def test_a_refusal_before_the_body_is_read_reaches_the_sender(served, token):
    data = noise(4_000_000)
    path = begin(served.url, token, data)

    assert piece(served.url, "wrong", path, 0, data).status_code == 401
    assert piece(served.url, token, path, 77, data[77:]).status_code == 409
    assert stands(served.url, token, path) == 0


def test_a_large_upload_over_https_arrives_whole(served, office, token):
    data = noise(5_000_000)
    trusted = {"verify": str(served.authority), "timeout": 60}
    named = headers(token, **{"Upload-Length": str(len(data)), "Upload-Metadata": metadata(sha(data))})
    begun = requests.post(served.secure_url + "/api/media/uploads", headers=named, **trusted)
    more = headers(token, **{"Upload-Offset": "0", "Content-Type": PIECE})
    answer = requests.patch(served.secure_url + begun.headers["Location"], data=data, headers=more, **trusted)

    assert answer.status_code == 204
    assert store.path_of(office.settings, sha(data)).read_bytes() == data
