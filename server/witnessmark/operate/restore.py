"""Putting a backup back: into a new folder, checked to the last byte, and never passing for the server it replaces."""

from __future__ import annotations

import shutil
from dataclasses import dataclass, field
from pathlib import Path

from witnessmark.config import Settings
from witnessmark.db import make_engine, reading, upgrade, writing
from witnessmark.media import previews, store
from witnessmark.media.store import Folder
from witnessmark.operate import backup
from witnessmark.operate.backup import BESIDE, DATABASE, OnProgress
from witnessmark.operate.log_check import check_log
from witnessmark.people import workshops
from witnessmark.sync import marks
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say


@dataclass
class Restored:
    """What came back. `missing` are files that entries name and the backup does not hold: phones are asked for them."""

    workshop: str
    log_size: int
    originals: int
    epoch: str
    missing: list[str] = field(default_factory=list)
    damaged: list[str] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)


def restore(source: Path, settings: Settings, on_progress: OnProgress = lambda done, of: None) -> Restored:
    """Restores the backup in `source` into the data folder of `settings`, which must hold no database.

    Starts a new epoch, so that every phone offers again what the backup is too old to know. The database comes to its
    place last: until then no server can be started on half a workshop, and what was cut off is simply begun again.
    Raises Refusal when there is no finished backup or the folder is taken.
    """
    note = backup.note_of(source)
    database = settings.data / DATABASE
    if database.exists():
        raise Refusal("taken", "data", say("server.restore.not_empty", folder=settings.data))
    settings.data.mkdir(parents=True, exist_ok=True, mode=0o700)
    # A write-ahead log left over from before would be read into the restored database, without a word.
    fresh = settings.data / f"{DATABASE}.new"
    for leftover in (database, fresh):
        backup.remove_database(leftover)
    shutil.copyfile(source / DATABASE, fresh)
    fresh.chmod(0o600)
    for name in BESIDE:
        _copy(source / name, settings.data / name)
    epoch = marks.renew_epoch(settings)
    if (source / "packs").is_dir():
        shutil.copytree(source / "packs", settings.packs, dirs_exist_ok=True)

    engine = make_engine(f"sqlite:///{fresh}")
    try:
        upgrade(engine)
        with reading(engine) as conn:
            workshop = workshops.only(conn)
            log = check_log(conn, workshop)
        lengths = backup.originals_of(engine)
        damaged = _copy_originals(source, settings, lengths, on_progress)
        with writing(engine) as conn:
            store.forget(conn, damaged)
            previews.forget_all(conn)
    finally:
        engine.dispose()
    backup.one_file(fresh)
    fresh.replace(database)
    store.sync_folder(settings.data)
    marks.note_issued(settings, log.size)
    faults = list(log.faults)
    if not backup.is_noted(source, log.size, log.root):
        faults.append(say("server.restore.other_log", here=log.size, noted=note.log_size))
    missing = sorted(set(log.named) - set(lengths))
    return Restored(workshop.name, log.size, len(lengths) - len(damaged), epoch, missing, damaged, faults)


def _copy_originals(source: Path, settings: Settings, lengths: dict[str, int], on_progress: OnProgress) -> list[str]:
    backed_up, home = Folder(source / "media"), Folder(settings.media)
    damaged, touched = [], set()
    for number, sha256 in enumerate(sorted(lengths), 1):
        here = home.path(sha256)
        touched |= {here.parent, here.parent.parent, home.root}
        # What is here already, from a restore that was cut off or from before, may be better than the backup's.
        whole = here.is_file() and store.hash_file(here) == sha256
        if not whole and backup.copy_checked(backed_up.path(sha256), here, sha256) is None:
            damaged.append(sha256)
        on_progress(number, len(lengths))
    for folder in touched:
        store.sync_folder(folder)
    return damaged


def _copy(source: Path, target: Path) -> None:
    if source.is_dir():
        target.mkdir(exist_ok=True, mode=0o700)
        for file in source.iterdir():
            _copy(file, target / file.name)
    elif source.is_file():
        shutil.copyfile(source, target)
        target.chmod(source.stat().st_mode & 0o777)
