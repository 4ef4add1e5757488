"""Both sides of a fenced-in process: little memory, little time, started when there is work and sent home after.

One line of JSON in, one or more lines out; the last one of an answer has `done`. Decoders and models are where a
hostile file bites and where memory goes, so neither is ever loaded into the server.
"""

from __future__ import annotations

import json
import os
import resource
import select as wait
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from pathlib import Path

IDLE_SECONDS = 20
LONGEST_LINE = 16 << 20  # bytes; a process that says more than this in one line has gone wrong


class Ended(Exception):
    """The process took more time or memory than it is allowed, or died of what it was given."""


class Fenced:
    """A process that runs `module` of this package. Safe to use from several threads: one question at a time."""

    def __init__(self, module: str, **environment: str):
        self.module, self.environment = module, environment
        self.lock = threading.RLock()
        self.process: subprocess.Popen | None = None
        self._last = 0.0
        self._kept = b""

    def ask(self, wish: dict, seconds: float) -> Iterator[dict]:
        """The lines of the answer as they come. Raises Ended when the process is gone, or `seconds` without a word
        have passed; the next question gets a new process. To be called with `lock` held."""
        if self.process is None or self.process.poll() is not None:
            self._start()
        try:
            self.process.stdin.write(json.dumps(wish).encode() + b"\n")
            self.process.stdin.flush()
            while True:
                answer = json.loads(self._line(time.monotonic() + seconds))
                self._last = time.monotonic()
                yield answer
                if "done" in answer:
                    return
        except (BrokenPipeError, ValueError):
            self.stop()
            raise Ended from None
        except BaseException:
            # Ended itself, or whoever asked lost interest: what is still to come must not answer the next question.
            self.stop()
            raise

    def rest(self) -> None:
        """Ends the process when it has had nothing to do for a while; does not wait for one at work."""
        if self.lock.acquire(blocking=False):
            try:
                if self.process and time.monotonic() - self._last > IDLE_SECONDS:
                    self.stop()
            finally:
                self.lock.release()

    def close(self) -> None:
        """Ends the process now, at work or not."""
        if process := self.process:
            process.kill()
        with self.lock:
            self.stop()

    def stop(self) -> None:
        if self.process is None:
            return
        process, self.process = self.process, None
        process.kill()
        process.wait()
        process.stdin.close()
        process.stdout.close()

    def _line(self, until: float) -> bytes:
        while b"\n" not in self._kept:
            out = self.process.stdout
            ready, _, _ = wait.select([out], [], [], max(0, until - time.monotonic()))
            piece = os.read(out.fileno(), 1 << 16) if ready else b""
            if not piece or len(self._kept) > LONGEST_LINE:
                raise Ended
            self._kept += piece
        line, _, self._kept = self._kept.partition(b"\n")
        return line

    def _start(self) -> None:
        self.stop()
        package = Path(__file__).resolve().parents[2]
        environment = {
            "PYTHONPATH": os.pathsep.join([str(package), *(place for place in sys.path if place)]),
            "PATH": os.defpath, "LANG": "C.UTF-8", "MALLOC_ARENA_MAX": "2",
            # Nothing is ever fetched: a model is in a package or in a folder of the workshop's own.
            "HF_HUB_OFFLINE": "1", "TRANSFORMERS_OFFLINE": "1", "HF_HUB_DISABLE_TELEMETRY": "1",
        } | self.environment  # fmt: skip
        self._kept = b""
        self._last = time.monotonic()
        self.process = subprocess.Popen(
            [sys.executable, "-m", self.module],
            stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, env=environment,
            start_new_session=True,  # Ctrl-C in the terminal is for the server, which ends this process itself
        )  # fmt: skip


def close_in(memory: int) -> None:
    """Limits for the rest of the calling process: `memory` bytes of address space, no core file, last in the queue
    for the processor."""
    limit_memory(memory)
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    os.nice(10)  # people who wait for an answer come first


def limit_memory(memory: int) -> None:
    hard = resource.getrlimit(resource.RLIMIT_AS)[1]
    limit = memory if hard == resource.RLIM_INFINITY else min(memory, hard)
    resource.setrlimit(resource.RLIMIT_AS, (limit, hard))


def grant_time(seconds: float) -> None:
    """Another `seconds` of processor time, counted from now; then the kernel ends the process."""
    used = resource.getrusage(resource.RUSAGE_SELF)
    soft = int(used.ru_utime + used.ru_stime + seconds) + 1
    resource.setrlimit(resource.RLIMIT_CPU, (soft, resource.RLIM_INFINITY))
