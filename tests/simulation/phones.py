"""The phones of the simulation: one Node process that runs the app's own code, asked in lines of JSON."""

from __future__ import annotations

import json
import os
import subprocess
import tempfile
from pathlib import Path

from tests.support.npm import PWA, builder
from tests.support.one_at_a_time import one_at_a_time


class Phones:
    """Starts the process at once; to be closed. One schedule after another may use it, each after a `reset`."""

    def __init__(self) -> None:
        build_app = builder()
        with one_at_a_time("build"):
            build_app.install()
        node, _, _ = build_app.find_node()
        self._complaints = tempfile.TemporaryFile()  # noqa: SIM115
        self._process = subprocess.Popen(
            [*node, "support/simulation/main.mjs"], cwd=PWA, env=build_app.environment(),
            stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=self._complaints,
        )  # fmt: skip

    def do(self, now: int, actions: list[list]) -> dict:
        """Carries out actions at the moment `now`, waits until nothing moves; see pwa/support/simulation/phones.ts."""
        self._process.stdin.write(json.dumps({"now": now, "do": actions}).encode() + b"\n")
        self._process.stdin.flush()
        line = self._process.stdout.readline()
        if not line:
            self._process.wait()
            self._complaints.seek(0)
            raise RuntimeError(f"the phones stopped: {self._complaints.read().decode()[-4000:]}")
        return json.loads(line)

    def seconds(self) -> float:
        """Processor time of the process until now, where the system says so; 0 elsewhere."""
        try:
            fields = Path(f"/proc/{self._process.pid}/stat").read_text().rpartition(")")[2].split()
        except OSError:
            return 0.0
        return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")

    def close(self) -> None:
        self._process.stdin.close()
        self._process.wait()
        self._process.stdout.close()
        self._complaints.close()

    def __enter__(self) -> Phones:
        return self

    def __exit__(self, *_error) -> None:
        self.close()
