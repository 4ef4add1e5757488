"""Cuts a pack that was asked for, keeps it, and says in the log that it was given out."""

from __future__ import annotations

import hashlib
import logging
import shutil
import time
from pathlib import Path

from sqlalchemy import Engine

from witnessmark.config import Settings
from witnessmark.db import reading, writing
from witnessmark.pack import shelf
from witnessmark.pack.build import Built, build
from witnessmark.sync import desk
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say

log = logging.getLogger(__name__)

SECONDS_BETWEEN_REPORTS = 0.3
FAILED = say("pack.issue.failed")


def issue(engine: Engine, settings: Settings, id: str) -> None:
    """Cuts the waiting pack `id`; does nothing if somebody else has taken it in hand.

    What goes wrong is noted with the pack, in words. The log says that a pack was issued in the same transaction
    that makes it ready: no pack is given out without that record.
    """
    pack = shelf.begin(engine, id)
    if pack is None:
        return
    folder = shelf.folder_of(settings, id)
    shutil.rmtree(folder, ignore_errors=True)  # what a worker that was cut off may have left
    try:
        folder.mkdir(parents=True)
        with reading(engine) as conn:
            built = build(conn, settings, pack.job, pack.sort, folder, _Teller(engine, id))
        _give_out(engine, settings, pack, built)
    except Exception as error:
        shutil.rmtree(folder, ignore_errors=True)
        if not isinstance(error, Refusal):
            log.exception("pack %s of job %s", id, pack.job)
        shelf.note(engine, id, state="failed", words=error.message if isinstance(error, Refusal) else FAILED)


def _give_out(engine: Engine, settings: Settings, pack: shelf.Pack, built: Built) -> None:
    sha256 = _hash(built.path)
    body = {
        "sort": pack.sort,
        "pack_sha256": built.tag_manifest,
        "head_size": built.head_size,
        "entries": built.entries,
    }
    with writing(engine) as conn:
        desk.write(conn, settings, pack.asked_by, "pack_issued", job=pack.job, body=body)
        shelf.note_in(conn, pack.id, state="ready", words="Ready.", name=built.name, size=built.size, sha256=sha256)


class _Teller:
    """Notes progress, but not more often than anybody looks."""

    def __init__(self, engine: Engine, id: str):
        self._engine, self._id, self._reported = engine, id, 0.0

    def __call__(self, done: int, total: int, words: str) -> None:
        if done == total or time.monotonic() - self._reported >= SECONDS_BETWEEN_REPORTS:
            self._reported = time.monotonic()
            shelf.note(self._engine, self._id, done=done, total=total, words=words[:1].upper() + words[1:])


def _hash(path: Path) -> str:
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()
