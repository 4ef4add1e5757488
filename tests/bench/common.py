"""What every benchmark needs: a workshop behind the server that ships, the peers, and one line of the table."""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import socket
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

PEERS = Path(__file__).resolve().parent / "peers"


@dataclass
class Line:
    """One line of the table: what was done, what was measured on both sides in this run, and the distance to the goal.

    `ratio` is ours against the peer, in the sense of the goal; `met` is None where no goal was set.
    """

    work: str
    ours: str
    against: str
    ratio: str
    goal: str
    met: bool | None

    def markdown(self) -> str:
        verdict = {True: "met", False: "NOT met", None: ""}[self.met]
        return f"| {self.work} | {self.ours} | {self.against} | {self.ratio} | {self.goal} | {verdict} |"


HEADER = "| work | ours | measured against, same run | ratio | to reach | |\n| --- | --- | --- | --- | --- | --- |"


@contextmanager
def workroom() -> Iterator[Path]:
    """A folder that is gone afterwards, on the disk of the temporary folder."""
    folder = Path(tempfile.mkdtemp(prefix="witnessmark-bench-"))
    try:
        yield folder
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def peers_folder() -> Path:
    """Where the peers are installed, once for each state of their lock file."""
    mark = PEERS / "node_modules" / ".installed-from"
    wanted = hashlib.sha256((PEERS / "package-lock.json").read_bytes()).hexdigest()
    if not mark.exists() or mark.read_text() != wanted:
        subprocess.run(["npm", "ci", "--no-audit", "--no-fund", "--loglevel=error"], cwd=PEERS, check=True)
        mark.write_text(wanted)
    return PEERS


@contextmanager
def peer_server(script: str, *arguments: str) -> Iterator[None]:
    """A peer's server, from the moment it says it is ready."""
    process = subprocess.Popen(
        ["node", script, *arguments], cwd=peers_folder(), stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True
    )
    try:
        for line in process.stdout:
            if "ready" in line:
                break
        yield
    finally:
        process.terminate()
        process.wait()
        process.stdout.close()


def node(script: str, *arguments: str, given: str = "") -> dict:
    """Runs one of the peers' clients; returns the JSON on its last line."""
    process = subprocess.run(
        ["node", script, *arguments], cwd=peers_folder(), input=given, capture_output=True, text=True, check=False
    )
    if process.returncode:
        raise RuntimeError(f"{script} failed: {process.stderr[-2000:]}")
    return json.loads(process.stdout.strip().splitlines()[-1])


def free_port() -> int:
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        return one.getsockname()[1]


def best(work, rounds: int = 3) -> float:
    """The least of a few timings in seconds: the one least disturbed by others on the machine."""
    timings = []
    for _ in range(rounds):
        begun = time.perf_counter()
        work()
        timings.append(time.perf_counter() - begun)
    return min(timings)


def percentile(values: list[float], share: float) -> float:
    return statistics.quantiles(values, n=100, method="inclusive")[round(share * 100) - 1]


def machine() -> str:
    """The machine in words, for the head of the table."""
    model = "unknown processor"
    info = Path("/proc/cpuinfo")
    if info.exists():
        model = next(
            (line.split(":")[1].strip() for line in info.read_text().splitlines() if "model name" in line), model
        )
    return f"{os.cpu_count()} cores, {model}, Python {sys.version.split()[0]}"
