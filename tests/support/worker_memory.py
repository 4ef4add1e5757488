"""The worker in a process of its own, given work and weighed in between."""

from __future__ import annotations

import os
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import Engine

from witnessmark.config import Settings, to_environment
from witnessmark.db import reading, writing
from witnessmark.media import previews
from witnessmark.media.store import adopt
from witnessmark.pack import shelf
from witnessmark.projections import spoken_notes
from witnessmark.tasks import queue, worker

MOST_SECONDS = 600  # for one piece of work


@dataclass
class Worker:
    """A worker under way on a workshop's folder; `person` asks for its packs."""

    pid: int
    settings: Settings
    engine: Engine
    workshop: str
    person: str

    def megabytes(self) -> float:
        """What the worker itself holds, without the processes that come for some work and go again."""
        for line in Path(f"/proc/{self.pid}/status").read_text().splitlines():
            if line.startswith("VmRSS:"):
                return int(line.split()[1]) / 1024
        raise RuntimeError("the worker has ended")

    def pack(self, job: str, sort: str = "sealed") -> None:
        """Has a pack made, and waits for it."""
        with writing(self.engine) as conn:
            request_id = shelf.request(conn, self.workshop, job, sort, self.person).id
        queue.put(self.settings, "pack", request_id)
        self._until(lambda: self._pack(request_id).state not in ("waiting", "working"))
        if self._pack(request_id).state != "ready":
            raise RuntimeError(f"no pack: {self._pack(request_id).words}")

    def pictures(self, originals: list[bytes]) -> None:
        """Has the previews of these made, and waits for them."""
        for data in originals:
            with writing(self.engine) as conn:
                sha256, _ = adopt(self.settings, conn, data)
            queue.put(self.settings, "picture", sha256)
        self._until(lambda: not previews.waiting(self.engine))

    def sounds(self, ids: list[str]) -> None:
        """Has these recordings heard, by the ids of their records, and waits for their transcripts."""
        for id in ids:
            queue.put(self.settings, "sound", id)
        self._until(lambda: not any(self._unheard(id) for id in ids))

    def _unheard(self, id: str) -> list:
        with reading(self.engine) as conn:
            return spoken_notes.without_transcript(conn, id=id)

    def _pack(self, id: str) -> shelf.Pack:
        with reading(self.engine) as conn:
            return shelf.get(conn, self.workshop, id)

    def _until(self, done: Callable[[], bool]) -> None:
        until = time.monotonic() + MOST_SECONDS
        while not done():
            if time.monotonic() > until:
                raise RuntimeError("the worker is not getting on")
            time.sleep(0.02)


@contextmanager
def working(settings: Settings, engine: Engine, workshop: str, person: str) -> Iterator[Worker]:
    """A worker in a process of its own, for the length of a `with`."""
    process = subprocess.Popen(
        [sys.executable, "-m", "tests.support.worker_memory"],
        stdin=subprocess.PIPE,
        env=os.environ | to_environment(settings) | {"PYTHONPATH": os.pathsep.join(filter(None, sys.path))},
    )
    try:
        yield Worker(process.pid, settings, engine, workshop, person)
    finally:
        process.stdin.close()
        process.wait(60)


def _work() -> None:
    """The process: works until nobody holds its standard input any more."""
    from witnessmark import config

    stop = threading.Event()
    threading.Thread(target=lambda: (sys.stdin.read(), stop.set()), daemon=True).start()
    worker.run(config.from_environment(), stop)


if __name__ == "__main__":
    _work()
