"""The program as installed, tried in a minute: `python tests/smoke.py`, by the Python of that install.

Starts the demo in a folder of its own, signs in, reads and searches the record, asks for a preview, has a sealed pack
made and checks it by the installed command. Meant for installs that the tests do not run in: the oldest versions that
are allowed, or the built wheel on a workshop's box. Exit status 0: all of it worked.
"""

from __future__ import annotations

import json
import os
import re
import signal
import socket
import subprocess
import sys
import tempfile
import time
import urllib.request
from http.cookiejar import CookieJar
from pathlib import Path

COMMAND = [sys.executable, "-m", "witnessmark.cli"]
SECONDS = 90


class Office:
    """The manager's browser, as far as it goes without one."""

    def __init__(self, url: str) -> None:
        self.url = url
        self._open = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(CookieJar())).open

    def ask(self, path: str, payload: dict | None = None) -> bytes:
        data = None if payload is None else json.dumps(payload).encode()
        headers = {"X-Witnessmark": "office", "Content-Type": "application/json"}
        with self._open(urllib.request.Request(self.url + path, data, headers), timeout=SECONDS) as answer:
            return answer.read()

    def json(self, path: str, payload: dict | None = None) -> dict:
        return json.loads(self.ask(path, payload))


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


def started(demo: subprocess.Popen) -> tuple[str, str]:
    """Name and password of the manager, once the demo says them and stands."""
    lines = []
    for line in demo.stdout:
        lines.append(line)
        if line.startswith("Data"):
            (name, password) = re.search(r"(\w+), manager: password (\S+?),", "".join(lines)).groups()
            return name, password
    raise SystemExit("The demo did not start:\n" + "".join(lines))


def try_everything(office: Office, folder: Path) -> None:
    jobs = office.json("/api/jobs")["jobs"]
    job = next(job for job in jobs if job["number"] == "2391")
    timeline = office.json(f"/api/jobs/{job['id']}/timeline?limit=100")["items"]
    assert len(timeline) > 20, "the record of the demo's job is short"
    assert office.json("/api/search?q=piston")["items"], "nothing is found by the word piston"
    picture = next(media for item in timeline for media in item["media"] if item["kind"] == "photo_taken")
    preview = office.ask(f"/api/media/{picture['sha256']}/preview/320")
    assert preview[:4] == b"RIFF" or preview[:2] == b"\xff\xd8", "the preview is no picture"
    pack = office.json(f"/api/jobs/{job['id']}/packs", {"sort": "sealed"})["pack"]
    until = time.monotonic() + SECONDS
    while (state := office.json(f"/api/packs/{pack['id']}"))["state"] != "ready":
        assert state["state"] in ("waiting", "working") and time.monotonic() < until, f"the pack: {state}"
        time.sleep(0.2)
    file = folder / "pack.zip"
    file.write_bytes(office.ask(f"/api/packs/{pack['id']}/file"))
    subprocess.run([*COMMAND, "verify", str(file)], check=True, stdout=subprocess.DEVNULL)


def main() -> None:
    port = free_port()
    with tempfile.TemporaryDirectory() as folder:
        demo = subprocess.Popen(
            [*COMMAND, "demo", "--data", f"{folder}/data", "--port", str(port)],
            stdout=subprocess.PIPE,
            text=True,
            env=os.environ | {"PYTHONUNBUFFERED": "1"},
        )
        try:
            name, password = started(demo)
            office = Office(f"http://localhost:{port}")
            office.json("/api/office/sign-in", {"name": name, "password": password})
            try_everything(office, Path(folder))
        finally:
            demo.send_signal(signal.SIGTERM)
            demo.communicate(timeout=30)
    print("It installs, starts, answers, makes a pack and checks it.")


if __name__ == "__main__":
    main()
