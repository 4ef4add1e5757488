"""Putting a backup back: into a new folder, checked to the last byte, and never passing for the server it replaces."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

from sqlalchemy import Engine

from witnessmark.config import Settings
from witnessmark.db import make_engine, reading, upgrade, writing
from witnessmark.media import previews, store
from witnessmark.media.store import Folder
from witnessmark.operate import backup, backup_folder, exhibits
from witnessmark.operate.backup import BESIDE, OnProgress
from witnessmark.operate.backup_folder import DATABASE, BackupFolder
from witnessmark.operate.log_check import check_log
from witnessmark.people import workshops
from witnessmark.projections import apply as projections
from witnessmark.sync import desk, marks
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say


@dataclass
class Restored:
    """What came back: `log_size` and `root` are those of the backup, to which a record of the restore was added.
    `missing` are files that entries name and the backup does not hold: phones are asked for them; `named` says of each
    file that is missing or damaged, by its SHA-256, which exhibits need it."""

    workshop: str
    log_size: int
    root: str
    originals: int
    epoch: str
    missing: list[str] = field(default_factory=list)
    damaged: list[str] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)
    named: dict[str, str] = field(default_factory=dict)


def restore(
    source: Path, settings: Settings, on_progress: OnProgress = lambda done, of: None, passphrase: str = ""
) -> Restored:
    """Restores the backup in `source` into the data folder of `settings`, which must hold no database.

    Starts a new epoch, so that every phone offers again what the backup is too old to know. The database comes to its
    place last: until then no server can be started on half a workshop, and what was cut off is simply begun again.
    Raises Refusal when there is no finished backup, its database or keys are damaged, its passphrase is another, or the
    folder is taken.
    """
    folder = backup_folder.to_read(source, passphrase)
    note = backup.note_in(folder)
    database = settings.data / DATABASE
    if database.exists():
        raise Refusal("taken", "data", say("server.restore.not_empty", folder=settings.data))
    settings.data.mkdir(parents=True, exist_ok=True, mode=0o700)
    # A write-ahead log left over from before would be read into the restored database, without a word.
    fresh = settings.data / f"{DATABASE}.new"
    for leftover in (database, fresh):
        backup.remove_database(leftover)
    folder.get_file(DATABASE, fresh)
    backup.check_database(fresh)
    fresh.chmod(0o600)
    for beginning in BESIDE:
        for name in folder.names(beginning):
            folder.get_file(name, settings.data / name)
    issued = marks.issued(settings)
    epoch = marks.renew_epoch(settings)
    engine = make_engine(f"sqlite:///{fresh}")
    try:
        restored = _restored(engine, folder, settings, epoch, on_progress)
        with writing(engine) as conn:
            noted = desk.note_restored(conn, settings, issued)
    finally:
        engine.dispose()
    backup.one_file(fresh)
    fresh.replace(database)
    store.sync_folder(settings.data)
    marks.note_issued(settings, noted.position)
    if not backup.is_noted(folder, restored.log_size, restored.root):
        restored.faults.append(say("server.restore.other_log", here=restored.log_size, noted=note.log_size))
    return restored


def _restored(
    engine: Engine, folder: BackupFolder, settings: Settings, epoch: str, on_progress: OnProgress
) -> Restored:
    """Brings originals and packs back for the database in `engine`, and the database up to date with them."""
    upgrade(engine)
    with writing(engine) as conn:
        projections.prepare(conn)
    with reading(engine) as conn:
        workshop = workshops.only(conn)
        log = check_log(conn, workshop)
        packs = backup.ready_packs(conn)
    lengths = backup.originals_of(engine)
    damaged = _copy_originals(folder, settings, lengths, on_progress)
    missing = sorted(set(log.named) - set(lengths))
    with writing(engine) as conn:
        store.forget(conn, damaged)
        previews.forget_all(conn)
        named = exhibits.of_files(conn, workshop.id, [*missing, *damaged])
    faults = [*log.faults, *_copy_packs(folder, settings, packs)]
    whole = len(lengths) - len(damaged)
    return Restored(workshop.name, log.size, log.root, whole, epoch, missing, damaged, faults, named)


def _copy_originals(
    folder: BackupFolder, settings: Settings, lengths: dict[str, int], on_progress: OnProgress
) -> list[str]:
    home = Folder(settings.media)
    damaged, touched = [], set()
    for number, sha256 in enumerate(sorted(lengths), 1):
        here = home.path(sha256)
        touched |= {here.parent, here.parent.parent, home.root}
        # What is here already, from a restore that was cut off or from before, may be better than the backup's.
        whole = here.is_file() and store.hash_file(here) == sha256
        if not whole and folder.get(backup.name_of(sha256), here, sha256) is None:
            damaged.append(sha256)
        on_progress(number, len(lengths))
    for changed in touched:
        if changed.is_dir():
            store.sync_folder(changed)
    return damaged


def _copy_packs(folder: BackupFolder, settings: Settings, packs: dict[str, str]) -> list[str]:
    """What is wrong, in sentences: a pack that the backup does not hold whole."""
    return [
        say("server.restore.pack_damaged", pack=name)
        for name, sha256 in packs.items()
        if folder.get(f"packs/{name}", settings.packs / name, sha256) is None
    ]
