"""A spoken note, from the phone to the office's search, through the server as it ships: all of its processes, real
recognisers, nothing played."""

from __future__ import annotations

import time
from pathlib import Path

import requests

from tests.support import record
from tests.support.clips import clip
from tests.support.media import PIECE, metadata, sha
from tests.support.phone import Phone
from tests.support.served import Served
from tests.support.spoken import speak

SPOKEN = "main_4.webm"  # "main journal four reads sixty four point nine eight millimetres"
LONG = 120  # seconds: three recognisers on two cores that may be shared by many


def test_what_is_spoken_in_the_bay_is_found_by_a_synonym_in_the_office(office, client):
    engine_type = record.describe(client)
    with Served(office.settings) as server:

        def ask(method: str, path: str, asked: dict | None, headers: dict) -> tuple[int, dict, dict]:
            answer = requests.request(method, server.url + path, json=asked, headers=headers, timeout=60)
            return answer.status_code, answer.json() if answer.content else {}, dict(answer.headers)

        phone = Phone(ask, office.manager.id)
        assert phone.join(office.invite(), "Phone in bay 2")[0] == 201
        job = phone.open_job("24-118", engine_type=engine_type)
        sound = speak(phone, job, "main/4", sound=clip(SPOKEN), duration_ms=5000)
        record.send(phone)
        upload(server.url, phone.token, clip(SPOKEN))

        note: dict = {"state": "waiting"}
        end = time.monotonic() + LONG
        while note["state"] == "waiting" and time.monotonic() < end:
            time.sleep(0.2)
            note = client.get(f"/api/entries/{sound['id']}").get_json()["spoken"]
        tally = client.get("/api/spoken/tally").get_json()
        found = client.get("/api/search", query_string={"q": "mains 64.98"}).get_json()
        tree = {pid: Path(f"/proc/{pid}/cmdline").read_bytes() for pid in server.tree()}
        # Nothing that decodes or hears is loaded into any process of the server itself.
        for pid, command in tree.items():
            if b"witnessmark.speech" not in command:
                loaded = Path(f"/proc/{pid}/maps").read_text()
                assert not any(name in loaded for name in ("ctranslate2", "libavcodec", "pocketsphinx", "rnnoise"))

    assert note["text"] and "64.98" in note["text"] or "sixty four point nine eight" in note["text"]
    engines = [result["engine"] for result in note["results"]]
    assert engines[:3] == ["sphinx_ngram", "sphinx_grammar", "whisper"]
    assert (tally["transcribed"], tally["waiting"], tally["undecodable"]) == (1, 0, 0)
    assert sound["id"] in [item["id"] for item in found["items"]]


def upload(url: str, token: str, data: bytes) -> None:
    """Sends a file in two pieces, as a phone whose signal is poor."""
    headers = {"Authorization": f"Bearer {token}", "Tus-Resumable": "1.0.0"}
    named = {"Upload-Length": str(len(data)), "Upload-Metadata": metadata(sha(data))}
    begun = requests.post(f"{url}/api/media/uploads", headers=headers | named, timeout=30)
    assert begun.status_code == 201, begun.text
    half = len(data) // 2
    for at, piece in ((0, data[:half]), (half, data[half:])):
        place = {"Upload-Offset": str(at), "Content-Type": PIECE}
        answer = requests.patch(url + begun.headers["Location"], data=piece, headers=headers | place, timeout=30)
        assert answer.status_code == 204, answer.text
