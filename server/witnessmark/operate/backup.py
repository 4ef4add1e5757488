"""A backup that is only called one after it was checked: the database, every original, the keys.

Order matters. The database comes first, in one consistent piece; originals are never changed or taken away, so
everything that piece names is still there to be copied afterwards, however busy the workshop is. Run again
into the same folder it adds what is new. A backup without `backup.json` was not finished.

A backup that is renewed counts at every moment: database and note change their places one after the other, and while
they do, the note that comes next lies beside the one before.
"""

from __future__ import annotations

import contextlib
import json
import os
import sqlite3
from collections.abc import Callable, Sequence
from contextlib import closing
from dataclasses import asdict, dataclass, field
from pathlib import Path

from sqlalchemy import Connection, Engine, select

from witnessmark.config import Settings
from witnessmark.db import make_engine, now, reading
from witnessmark.media.store import Folder, sync_folder
from witnessmark.media.tables import media
from witnessmark.operate import backup_folder, exhibits
from witnessmark.operate.backup_folder import DATABASE, REPORT, BackupFolder, EncryptedFolder
from witnessmark.operate.log_check import check_log
from witnessmark.pack import shelf
from witnessmark.people import workshops
from witnessmark.sync import marks
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import listed, say

NEXT = "backup.json.next"
# Small files beside the database. The mark of the highest promised log size is left out: the backup knows its own.
BESIDE = ("keys", "certificate", "epoch")

OnProgress = Callable[[int, int], None]


@dataclass
class Backup:
    """What a backup holds. `log_size` counts entries; `missing` are files that entries name and nobody has sent yet,
    `keys` the files with private keys, under their names in the data folder, and `named` says of each file that is
    missing or damaged, by its SHA-256, which exhibits need it."""

    made: str
    workshop: str
    log_size: int
    root: str
    originals: int
    bytes: int
    missing: list[str] = field(default_factory=list)
    damaged: list[str] = field(default_factory=list)
    keys: list[str] = field(default_factory=list)
    named: dict[str, str] = field(default_factory=dict)

    @property
    def is_whole(self) -> bool:
        """True when every original this server has is in the backup, byte for byte."""
        return not self.damaged


def make(
    settings: Settings, target: Path, on_progress: OnProgress = lambda done, of: None, passphrase: str = ""
) -> Backup:
    """Makes or renews a backup of the whole workshop in the folder `target`, checks it, and notes what it covers.

    With a passphrase every file in it is encrypted; the copy of the database that is checked first lies in the data
    folder meanwhile. Returns what the backup holds; `on_progress` gets how many originals are done. May run while the
    server works. Raises Refusal when the target is the data folder itself or a backup of the other sort, when the
    passphrase is wrong or too short, when the database is not SQLite, or when the log does not check out: then the
    earlier backup in `target` stays as it was.
    """
    target = target.resolve()
    if target == settings.data.resolve() or settings.data.resolve() in target.parents:
        raise Refusal("inside", "target", say("server.backup.inside", folder=target))
    if not settings.database.startswith("sqlite"):
        raise Refusal("not_sqlite", "database", say("server.backup.not_sqlite"))
    target.mkdir(parents=True, exist_ok=True, mode=0o700)
    folder = backup_folder.to_fill(target, passphrase)
    fresh = (settings.data if isinstance(folder, EncryptedFolder) else target) / f"{DATABASE}.new"
    try:
        return _fill(settings, folder, fresh, on_progress)
    finally:
        remove_database(fresh)


def _fill(settings: Settings, folder: BackupFolder, fresh: Path, on_progress: OnProgress) -> Backup:
    snapshot(settings.data / DATABASE, fresh)
    engine = make_engine(f"sqlite:///{fresh}")
    try:
        with reading(engine) as conn:
            workshop = workshops.only(conn)
            if workshop is None:
                raise Refusal("not_founded", "data", say("server.backup.no_workshop", folder=settings.data))
            log = check_log(conn, workshop)
            lengths = dict(tuple(row) for row in conn.execute(select(media.c.sha256, media.c.length)))
            packs = ready_packs(conn)
            if log.faults:
                raise Refusal("log_damaged", "log", say("server.backup.not_renewed", faults=" ".join(log.faults)))
        damaged, copied = _copy_originals(settings, folder, lengths, on_progress)
        missing = sorted(set(log.named) - set(lengths))
        with reading(engine) as conn:
            named = exhibits.of_files(conn, workshop.id, [*missing, *damaged])
    finally:
        engine.dispose()
    one_file(fresh)
    beside = [name for beginning in BESIDE for name in BackupFolder(settings.data).names(beginning)]
    for name in beside:
        source = settings.data / name
        folder.put_bytes(source.read_bytes(), name, source.stat().st_mode & 0o777)
    _copy_packs(settings, folder, packs)
    keys = [name for name in beside if _is_private(settings.data / name)]
    sums = (len(lengths), copied, missing, damaged)
    report = Backup(now(), workshop.name, log.size, log.root, *sums, keys, named)
    note = json.dumps(asdict(report), indent=1).encode()
    folder.put_bytes(note, NEXT)
    _remove_beside(folder.path(DATABASE))
    folder.take(fresh, DATABASE)
    folder.put_bytes(note, REPORT)
    folder.path(NEXT).unlink()
    sync_folder(folder.root)
    if report.is_whole:
        # Phones may free what a checked backup holds: never say so of one with a hole.
        marks.note_durable(settings, log.size, log.short_of(lengths))
    return report


def key_words(keys: Sequence[str]) -> str:
    """What private keys open, in words; `keys` are names as `Backup.keys` has them."""
    words = {
        "keys/server.pem": say("server.backup.key_of_log"),
        "certificate/authority.key": say("server.backup.key_of_authority"),
        "certificate/server.key": say("server.backup.key_of_certificate"),
    }
    return listed([words.get(name, name) for name in keys])


def _is_private(file: Path) -> bool:
    return b"PRIVATE KEY" in file.read_bytes()


def snapshot(source: Path, target: Path) -> None:
    """One consistent copy of a live SQLite database, whole in one file. Raises Refusal if the copy is damaged."""
    if not source.is_file():
        raise Refusal("not_founded", "data", say("server.backup.not_there", folder=source))
    remove_database(target)
    with closing(sqlite3.connect(source)) as live, closing(sqlite3.connect(target)) as copy:
        live.backup(copy)
        # The copy is to be one file: a write-ahead log left beside it would be read into it later.
        copy.execute("PRAGMA journal_mode=DELETE")
    check_database(target)
    os.chmod(target, 0o600)


def check_database(database: Path) -> None:
    """Raises Refusal if a database file is damaged."""
    try:
        with closing(sqlite3.connect(database)) as copy:
            verdict = copy.execute("PRAGMA integrity_check").fetchone()[0]
    except sqlite3.DatabaseError as error:
        verdict = str(error)
    if verdict != "ok":
        raise Refusal("database_damaged", "database", say("server.backup.damaged", verdict=verdict))


def note_in(folder: BackupFolder) -> Backup:
    """What a backup says of itself. Raises Refusal when there is none or it was not finished."""
    try:
        return Backup(**json.loads(folder.get_bytes(REPORT)))
    except (Refusal, ValueError, TypeError):
        raise Refusal("no_backup", "folder", say("server.backup.none", folder=folder.root, report=REPORT)) from None


def is_noted(folder: BackupFolder, size: int, root: str) -> bool:
    """Whether a log of this size and root is the one that the note in `folder` names, or the note that was to follow it
    when renewing was cut off."""
    for name in (REPORT, NEXT):
        with contextlib.suppress(Refusal, ValueError):
            noted = json.loads(folder.get_bytes(name))
            if (noted["log_size"], noted["root"]) == (size, root):
                return True
    return False


def originals_of(engine: Engine) -> dict[str, int]:
    """Every original the database says is here: SHA-256 -> length in bytes."""
    with reading(engine) as conn:
        return dict(tuple(row) for row in conn.execute(select(media.c.sha256, media.c.length)))


def ready_packs(conn: Connection) -> dict[str, str]:
    """Every pack that can be taken away: its place in the folder of packs -> SHA-256."""
    p = shelf.packs.c
    query = select(p.id, p.name, p.sha256).where(p.state == "ready")
    return {f"{id}/{name}": sha256 for id, name, sha256 in conn.execute(query)}


def name_of(sha256: str) -> str:
    """The name of an original in a backup. Raises ValueError for anything that is not a SHA-256."""
    return Folder(Path("media")).path(sha256).as_posix()


def _copy_originals(
    settings: Settings, folder: BackupFolder, lengths: dict[str, int], on_progress: OnProgress
) -> tuple[list[str], int]:
    here = Folder(settings.media)
    damaged, total, touched = [], 0, set()
    for number, (sha256, length) in enumerate(sorted(lengths.items()), 1):
        name = name_of(sha256)
        # What an earlier run copied is read again: a backup is only as good as its last reading.
        if not folder.holds(name, sha256):
            if folder.put(here.path(sha256), name, sha256) is None:
                damaged.append(sha256)
                continue
            copy = folder.path(name)
            touched |= {copy.parent, copy.parent.parent, folder.root}
        total += length
        on_progress(number, len(lengths))
    for changed in touched:
        sync_folder(changed)
    return damaged, total


def _copy_packs(settings: Settings, folder: BackupFolder, packs: dict[str, str]) -> None:
    """Packs can be made again, but not with the same bytes as the one the customer holds."""
    for name, sha256 in packs.items():
        if folder.holds(f"packs/{name}", sha256):
            continue
        if folder.put(settings.packs / name, f"packs/{name}", sha256) is not None:
            sync_folder(folder.path(f"packs/{name}").parent)


def one_file(database: Path) -> None:
    """Folds the write-ahead log that reading left behind back into the one file, and makes sure of the disk."""
    with closing(sqlite3.connect(database)) as copy:
        copy.execute("PRAGMA journal_mode=DELETE")
    with database.open("rb") as stream:
        os.fsync(stream.fileno())


def remove_database(database: Path) -> None:
    """Takes a database away with all that SQLite keeps beside it."""
    database.unlink(missing_ok=True)
    _remove_beside(database)


def _remove_beside(database: Path) -> None:
    """What somebody who opened it may have left there would be read into the database that takes its place."""
    for ending in ("-wal", "-shm", "-journal"):
        database.with_name(database.name + ending).unlink(missing_ok=True)
