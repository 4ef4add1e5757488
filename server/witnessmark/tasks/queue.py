"""The queue of background work: `ask` puts a piece of work in, the worker (tasks.worker) takes it out.

A piece of work is a name and short texts, nothing more, so that whoever asks needs no part of what does it.
"""

from __future__ import annotations

import logging
import sqlite3
from contextlib import closing
from functools import lru_cache
from pathlib import Path

from huey import SqliteHuey

from witnessmark.config import Settings

log = logging.getLogger(__name__)


def put(settings: Settings, work: str, *arguments: str) -> None:
    """Puts `work` (a name of tasks.worker.WORK) into the queue and returns. The same again is harmless.

    Never raises for the queue's own troubles: the work is already recorded elsewhere, and whoever recorded it must
    not get an error for it. The worker looks for forgotten work by itself.
    """
    try:
        queue(settings).task_done_by_worker(work, *arguments)
    except (sqlite3.Error, OSError) as error:
        log.warning("%s %s could not be asked for, the worker has to find it: %s", work, arguments, error)


def mend(settings: Settings) -> bool:
    """Begins an empty queue in place of one that a power cut tore; returns whether it had to.

    The queue is not forced to the disk, so it may be torn. To be called by the worker before it takes from it.
    """
    try:
        with closing(sqlite3.connect(settings.tasks, timeout=10)) as raw:
            if raw.execute("PRAGMA quick_check").fetchone()[0] == "ok":
                return False
    except sqlite3.OperationalError:
        return False
    except sqlite3.DatabaseError as error:
        log.warning("the queue was torn, an empty one takes its place: %s", error)
    for name in ("", "-wal", "-shm", "-journal"):
        settings.tasks.with_name(settings.tasks.name + name).unlink(missing_ok=True)
    _open.cache_clear()
    return True


def waiting(settings: Settings) -> int:
    """How many pieces of work nobody has taken yet."""
    return len(queue(settings))


def queue(settings: Settings) -> SqliteHuey:
    """The queue of this data folder, one object a process."""
    return _open(settings.tasks)


@lru_cache(maxsize=8)
def _open(file: Path) -> SqliteHuey:
    file.parent.mkdir(parents=True, exist_ok=True)
    # No result is stored: what the work leaves behind is in the database. No fsync: the worker finds lost work again.
    huey = SqliteHuey("witnessmark", filename=str(file), results=False, fsync=False, cache_mb=1, timeout=10)
    huey.doers = {}

    @huey.task(name="work")
    def work(name: str, *arguments: str) -> None:
        huey.doers[name](*arguments)

    huey.task_done_by_worker = work
    return huey
