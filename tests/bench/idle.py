"""What an idle server holds in memory: every process of it, shared pages counted once."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

from tests.bench.common import Line, free_port

GOAL_MB = 200
MOST_SECONDS = 900
HELPERS = (b"picture_worker", b"decode_worker", b"hear_worker", b"typeset_worker")


def family(pid: int) -> list[int]:
    """The process and all its descendants."""
    parents = {}
    for entry in Path("/proc").iterdir():
        if entry.name.isdigit():
            try:
                fields = (entry / "stat").read_text().rsplit(")", 1)[1].split()
            except (FileNotFoundError, ProcessLookupError):
                continue
            parents.setdefault(int(fields[1]), []).append(int(entry.name))
    result, waiting = [], [pid]
    while waiting:
        one = waiting.pop()
        result.append(one)
        waiting += parents.get(one, [])
    return result


def helps(pid: int) -> bool:
    """Whether it is one of the processes that come for some work and go again."""
    try:
        return any(name in Path(f"/proc/{pid}/cmdline").read_bytes() for name in HELPERS)
    except OSError:
        return False


def megabytes(pid: int) -> float:
    """Proportional set size: shared pages divided among those who share them."""
    for line in Path(f"/proc/{pid}/smaps_rollup").read_text().splitlines():
        if line.startswith("Pss:"):
            return int(line.split()[1]) / 1024
    return 0.0


def run(folder: Path) -> list[Line]:
    command = [
        sys.executable,
        "-m",
        "witnessmark.cli",
        "demo",
        "--data",
        str(folder / "demo"),
        "--port",
        str(free_port()),
    ]
    begun = time.perf_counter()
    process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=os.environ | {"PYTHONUNBUFFERED": "1"})
    try:
        for line in process.stdout:
            if line.startswith("Office"):
                break
        started = time.perf_counter() - begun
        # Until the demo's previews are made, its spoken notes heard, and the processes that did it have gone home.
        time.sleep(60)
        until = time.monotonic() + MOST_SECONDS
        while any(helps(pid) for pid in family(process.pid)) and time.monotonic() < until:
            time.sleep(2)
        total = sum(megabytes(pid) for pid in family(process.pid))
    finally:
        process.send_signal(signal.SIGTERM)
        process.wait()
        process.stdout.close()
    return [
        Line("idle server, all its processes", f"{total:.0f} MB", "", "", f"under {GOAL_MB} MB", total < GOAL_MB),
        Line("first start of the demo until it answers", f"{started:.1f} s", "", "", "within 10 s", started < 10),
    ]
