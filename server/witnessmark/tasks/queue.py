"""The queue of background work: `ask` puts a piece of work in, the worker (tasks.worker) takes it out.

A piece of work is a name and short texts, nothing more, so that whoever asks needs no part of what does it.
"""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from huey import SqliteHuey

from witnessmark.config import Settings


def ask(settings: Settings, work: str, *arguments: str) -> None:
    """Puts `work` (a name of tasks.worker.WORK) into the queue and returns. The same again is harmless."""
    queue(settings).task_done_by_worker(work, *arguments)


def waiting(settings: Settings) -> int:
    """How many pieces of work nobody has taken yet."""
    return len(queue(settings))


def queue(settings: Settings) -> SqliteHuey:
    """The queue of this data folder, one object a process."""
    return _open(settings.tasks)


@lru_cache(maxsize=8)
def _open(file: Path) -> SqliteHuey:
    file.parent.mkdir(parents=True, exist_ok=True)
    # No result is kept: what the work leaves behind is in the database. No fsync: what is lost is found again.
    found = SqliteHuey("witnessmark", filename=str(file), results=False, fsync=False, cache_mb=1, timeout=10)
    found.doers = {}

    @found.task(name="work")
    def work(name: str, *arguments: str) -> None:
        found.doers[name](*arguments)

    found.task_done_by_worker = work
    return found
