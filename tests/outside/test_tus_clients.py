"""Two clients nobody here wrote send to the server that ships: tuspy (Python) and tus-js-client (Node).

Outside sources: the packages tuspy and tus-js-client, both by the
makers of the tus protocol, https://tus.io/protocols/resumable-upload (1.0.0).
"""

from __future__ import annotations

import importlib.util
import json
import subprocess
from pathlib import Path

import pytest
import requests
from tusclient.client import TusClient

from tests.support.media import noise, sha
from tests.support.workshop import RunningOffice
from witnessmark.media import store

PWA = Path(__file__).resolve().parents[2] / "pwa"


@pytest.fixture(scope="module")
def node() -> list[str]:
    """The command that runs Node, the phone app's locked packages installed."""
    spec = importlib.util.spec_from_file_location("build_app", PWA / "build_app.py")
    build_app = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(build_app)
    build_app.install()
    return build_app.find_node()[0]


@pytest.fixture
def sent(running, tmp_path):
    """A file to send, and the phone that sends it."""
    data = noise(1_000_003)
    (tmp_path / "IMG_1.jpg").write_bytes(data)
    return data, tmp_path / "IMG_1.jpg", running.phone()


def arrived(running: RunningOffice, data: bytes) -> bool:
    path = store.path_of(running.settings, sha(data))
    return path.exists() and path.read_bytes() == data


def test_tuspy_sends_a_file_in_pieces_with_checksums(running, sent):
    data, file, phone = sent
    client = TusClient(f"{running.url}/api/media/uploads", headers={"Authorization": f"Bearer {phone.token}"})
    with file.open("rb") as stream:
        named = {"sha256": sha(data)}
        uploader = client.uploader(file_stream=stream, chunk_size=150_000, metadata=named, upload_checksum=True)
        uploader.upload()

    assert uploader.offset == len(data)
    assert arrived(running, data)


def test_tuspy_goes_on_where_another_broke_off(running, sent):
    data, file, phone = sent
    client = TusClient(f"{running.url}/api/media/uploads", headers={"Authorization": f"Bearer {phone.token}"})
    with file.open("rb") as stream:
        first = client.uploader(file_stream=stream, chunk_size=100_000, metadata={"sha256": sha(data)})
        first.upload(stop_at=400_000)
    assert not arrived(running, data)

    with file.open("rb") as stream:
        second = client.uploader(file_stream=stream, chunk_size=250_000, url=first.url)
        assert second.offset == 400_000
        second.upload()

    assert arrived(running, data)


def test_the_server_says_of_itself_what_tuspy_asks(running):
    """The protocol's own discovery: OPTIONS, without signing in."""
    answer = requests.options(f"{running.url}/api/media/uploads", timeout=10)

    assert answer.status_code == 204
    assert answer.headers["Tus-Version"] == "1.0.0"
    assert {"creation", "checksum", "expiration"} <= set(answer.headers["Tus-Extension"].split(","))


@pytest.mark.parametrize("how", ["whole", "broken"])
def test_tus_js_client_sends_a_file_whole_or_broken_off(running, sent, node, how):
    data, file, phone = sent
    answer = upload_by_node(node, f"{running.url}/api/media/uploads", file, phone.token, how)

    assert answer["url"] == f"{running.url}/api/media/uploads/{sha(data)}.{len(data)}"
    assert answer["offsets"][-1] == len(data)
    if how == "broken":
        assert 0.4 * len(data) <= answer["brokenAt"] < len(data)
        assert answer["requests"].count("HEAD") == 1
        assert sorted(set(answer["offsets"])) == answer["offsets"], "no byte was sent twice"
    assert arrived(running, data)


def test_tus_js_client_is_not_asked_to_send_what_is_here(running, sent, node):
    data, file, phone = sent
    upload_by_node(node, f"{running.url}/api/media/uploads", file, phone.token, "whole")
    again = upload_by_node(node, f"{running.url}/api/media/uploads", file, phone.token, "whole")

    assert again["requests"].count("PATCH") <= 1
    assert arrived(running, data)


def upload_by_node(node: list[str], endpoint: str, file: Path, token: str, how: str) -> dict:
    """Runs upload.mjs with the tus-js-client of the phone app's own packages."""
    client = PWA / "node_modules" / "tus-js-client" / "lib.esm" / "node" / "index.js"
    script = Path(__file__).with_name("upload.mjs")
    process = subprocess.run(
        [*node, str(script), client.as_uri(), endpoint, str(file), token, how],
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    assert process.returncode == 0, process.stderr
    return json.loads(process.stdout)
