"""The worker: does what is asked for in the queue, and looks for what was forgotten.

`WORK` says which name is done by which function. Each function takes (tools, *texts), may be called twice with
the same texts, and keeps its own account of what went wrong; an exception is written to the log and no more.
"""

from __future__ import annotations

import logging
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import partial

from huey.consumer import Consumer
from sqlalchemy import Engine, select
from sqlalchemy.exc import DBAPIError

from witnessmark.config import Settings
from witnessmark.db import make_engine, reading, writing
from witnessmark.media import previews
from witnessmark.media.tables import media
from witnessmark.media.uploads import Uploads
from witnessmark.pack import issue, shelf
from witnessmark.projections import media_refs
from witnessmark.tasks import queue
from witnessmark.tasks.sounds import Listener

log = logging.getLogger(__name__)

THREADS = 3  # a pack or a long spoken note may take a minute; pictures go on meanwhile
LOOK_AROUND_SECONDS = 3
SWEEP_SECONDS = 3600
LAST_WORD_SECONDS = 10  # given to work under way when the worker has to stop
SWEPT_AT_ONCE = 500  # phones' previews looked through in one transaction


@dataclass
class Tools:
    """What every piece of work may need."""

    settings: Settings
    engine: Engine
    bench: previews.Bench = field(default_factory=previews.Bench)
    listener: Listener = field(init=False)

    def __post_init__(self):
        self.listener = Listener(self.settings, self.engine)

    def rest(self) -> None:
        """Sends home what has had nothing to do for a while."""
        self.bench.rest()
        self.listener.rest()

    def close(self) -> None:
        self.bench.close()
        self.listener.close()


def look_at_picture(tools: Tools, sha256: str) -> None:
    """Previews and facts of one original, unless somebody was quicker."""
    with reading(tools.engine) as conn:
        row = conn.execute(select(media.c.looked).where(media.c.sha256 == sha256)).first()
    if row is not None and row.looked is None:
        previews.make(tools.settings, tools.engine, tools.bench, sha256)


def cut_pack(tools: Tools, id: str) -> None:
    """The pack that was asked for, unless somebody else has it in hand."""
    issue.issue(tools.engine, tools.settings, id)


def hear_sound(tools: Tools, name: str, again: str = "") -> None:
    """Transcribes one sound (entry id, or SHA-256 of its original), unless that stands there already."""
    tools.listener.listen(name, again)


WORK: dict[str, Callable[..., None]] = {
    "picture": look_at_picture,
    "sound": hear_sound,
    "pack": cut_pack,
}


class _Crew(Consumer):
    """Huey's consumer; who started it says when to stop."""

    def _set_signal_handlers(self):
        pass


def run(settings: Settings, stop: threading.Event) -> None:
    """Works until `stop` is set; work under way gets LAST_WORD_SECONDS, what is cut off is begun again next time."""
    engine = make_engine(settings.database)
    tools = Tools(settings, engine)
    queue.mend(settings)
    line = queue.queue(settings)
    line.doers.update({name: partial(work, tools) for name, work in WORK.items()})
    try:
        shelf.put_back(engine)
    except DBAPIError:
        # On a full disk reading is served all the same, and packs that were under way wait for room.
        log.exception("putting back packs that were under way")
    crew = _Crew(line, workers=THREADS, periodic=False, max_delay=0.5, shutdown_timeout=LAST_WORD_SECONDS)
    crew.start()
    swept = -SWEEP_SECONDS
    try:
        while True:
            try:
                crew.check_worker_health()
                tools.rest()
                find_forgotten(tools)
                if time.monotonic() - swept > SWEEP_SECONDS:
                    swept = time.monotonic()
                    sweep(tools)
            except Exception:
                log.exception("looking around for forgotten work")
            if stop.wait(LOOK_AROUND_SECONDS):
                return
    finally:
        crew.stop(graceful=True)
        tools.close()
        line.doers.clear()
        engine.dispose()


def sweep(tools: Tools) -> int:
    """Throws away uploads that were abandoned and phones' previews that have served or that no record names; returns
    how many."""
    gone, after = Uploads(tools.settings, tools.engine).sweep(), ""
    while True:
        # Read and dropped in one transaction: a preview whose record comes in meanwhile is not taken for one without.
        with writing(tools.engine) as conn:
            names = previews.provisional(conn, after, SWEPT_AT_ONCE)
            ended = media_refs.unnamed(conn, names) | previews.looked_at(conn, names)
            previews.drop_provisional(tools.settings, conn, ended)
        gone += len(ended)
        if len(names) < SWEPT_AT_ONCE:
            return gone
        after = names[-1]


def find_forgotten(tools: Tools) -> int:
    """Asks again for pictures nobody looked at, packs nobody began and sounds nobody listened to, once the queue is
    empty: after a crash, or when a recogniser has come that was not there before."""
    if queue.waiting(tools.settings):
        return 0
    waiting = [("picture", sha256) for sha256 in previews.waiting(tools.engine)]
    waiting += [("pack", id) for id in shelf.waiting(tools.engine)]
    waiting += [("sound", id) for id in tools.listener.waiting()]
    for work, name in waiting:
        queue.put(tools.settings, work, name)
    return len(waiting)
