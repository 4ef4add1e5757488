"""The whole server as it ships, supervisor and all, in a process group of its own that a test may kill."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
import requests

from tests.support.workshop import free_port
from witnessmark.config import Settings

START = """
import dataclasses, json, sys
from pathlib import Path
from witnessmark.config import Settings
from witnessmark.operate import serve
from witnessmark.operate.limits import Limits
from witnessmark.trade.ground.errors import Refusal
say = lambda told: print(json.dumps(dataclasses.asdict(told)), flush=True)
try:
    limits = Limits(**json.loads(sys.argv[4] if sys.argv[4:] else "{}"))
    serve.run(Settings(Path(sys.argv[1])), int(sys.argv[2]), int(sys.argv[3]), say, limits=limits)
except Refusal as refused:
    sys.exit(refused.message)
"""


class Served:
    """Starts the server on the settings' folder; `with` ends it as a person would, `kill` as a power cut would."""

    def __init__(self, settings: Settings, script: str = START, **limits: float) -> None:
        self.settings, self.script, self.limits = settings, script, json.dumps(limits)
        self.https_port, self.http_port = free_port(), free_port()
        self.url, self.secure_url = f"http://127.0.0.1:{self.http_port}", f"https://localhost:{self.https_port}"
        self.facts: dict = {}

    @property
    def authority(self) -> Path:
        return self.settings.certificate / "workshop-ca.pem"

    def start(self) -> Served:
        where = [str(self.settings.data), str(self.https_port), str(self.http_port)]
        self.process = subprocess.Popen(
            [sys.executable, "-c", self.script, *where, self.limits],
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            start_new_session=True,
        )
        line = self.process.stdout.readline()
        if not line:
            pytest.fail(f"the server did not start: {self.process.communicate()[1].decode()}")
        self.facts = json.loads(line)
        return self

    def __enter__(self) -> Served:
        return self.start()

    def __exit__(self, *_error) -> None:
        self.stop()

    def stop(self) -> int:
        """Ends it by SIGTERM; returns its exit code."""
        if self.process.poll() is None:
            self.process.terminate()
        try:
            self.process.communicate(timeout=20)
        except subprocess.TimeoutExpired:
            self.kill()
        return self.process.returncode

    def kill(self) -> None:
        """SIGKILL to every process of it at once."""
        os.killpg(self.process.pid, signal.SIGKILL)
        self.process.communicate()

    def tree(self) -> list[int]:
        """The process numbers of the server and all below it."""
        result, grown = [self.process.pid], True
        parents = {}
        for stat in Path("/proc").glob("[0-9]*/stat"):
            try:
                parents[int(stat.parent.name)] = int(stat.read_text().rsplit(")", 1)[1].split()[1])
            except (FileNotFoundError, ProcessLookupError):
                continue
        while grown:
            more = [pid for pid, parent in parents.items() if parent in result and pid not in result]
            result, grown = result + more, bool(more)
        return result

    def until_answering(self, seconds: float = 15) -> None:
        """Waits for both listeners: the office's and the phones'."""
        until = time.monotonic() + seconds
        while time.monotonic() < until:
            try:
                requests.get(self.url + "/certificate", timeout=2)
                requests.get(self.secure_url + "/certificate", timeout=2, verify=str(self.authority))
                return
            except requests.RequestException:
                time.sleep(0.05)
        pytest.fail("the server does not answer")
