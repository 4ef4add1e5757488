"""A backup that is only called one after it was checked: the database, every original, the keys.

Order matters. The database comes first, in one consistent piece; originals are never changed or taken away, so
everything that piece names is still there to be copied afterwards, however busy the workshop is. Run again
into the same folder it adds what is new. A backup without `backup.json` was not finished.

A backup that is renewed counts at every moment: database and note change their places one after the other, and while
they do, the note that comes next lies beside the one before.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import sqlite3
from collections.abc import Callable
from contextlib import closing
from dataclasses import asdict, dataclass, field
from pathlib import Path

from sqlalchemy import Connection, Engine, select

from witnessmark.config import Settings
from witnessmark.db import make_engine, now, reading
from witnessmark.media.store import READ_BYTES, Folder, hash_file, sync_folder
from witnessmark.media.tables import media
from witnessmark.operate.log_check import check_log
from witnessmark.pack import shelf
from witnessmark.people import workshops
from witnessmark.sync import marks
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say

REPORT = "backup.json"
NEXT = "backup.json.next"
DATABASE = "witnessmark.db"
# Small files beside the database. The mark of the highest promised log size is left out: the backup knows its own.
BESIDE = ("keys", "certificate", "epoch")

OnProgress = Callable[[int, int], None]


@dataclass
class Backup:
    """What a backup holds. `log_size` counts entries; `missing` are files that entries name and nobody has sent yet."""

    made: str
    workshop: str
    log_size: int
    root: str
    originals: int
    bytes: int
    missing: list[str] = field(default_factory=list)
    damaged: list[str] = field(default_factory=list)

    @property
    def is_whole(self) -> bool:
        """True when every original this server has is in the backup, byte for byte."""
        return not self.damaged


def make(settings: Settings, target: Path, on_progress: OnProgress = lambda done, of: None) -> Backup:
    """Makes or renews a backup of the whole workshop in the folder `target`, checks it, and notes what it covers.

    Returns what it holds; `on_progress` gets how many originals are done. May run while the server works. Raises
    Refusal when the target is the data folder itself, when the database is not SQLite, or when the log does not check
    out: then the earlier backup in `target` stays as it was.
    """
    target = target.resolve()
    if target == settings.data.resolve() or settings.data.resolve() in target.parents:
        raise Refusal("inside", "target", say("server.backup.inside", folder=target))
    if not settings.database.startswith("sqlite"):
        raise Refusal("not_sqlite", "database", say("server.backup.not_sqlite"))
    target.mkdir(parents=True, exist_ok=True, mode=0o700)
    fresh = target / f"{DATABASE}.new"
    snapshot(settings.data / DATABASE, fresh)
    engine = make_engine(f"sqlite:///{fresh}")
    try:
        with reading(engine) as conn:
            workshop = workshops.only(conn)
            if workshop is None:
                raise Refusal("not_founded", "data", say("server.backup.no_workshop", folder=settings.data))
            log = check_log(conn, workshop)
            lengths = dict(tuple(row) for row in conn.execute(select(media.c.sha256, media.c.length)))
            packs = _ready_packs(conn)
        if log.faults:
            raise Refusal("log_damaged", "log", say("server.backup.not_renewed", faults=" ".join(log.faults)))
    except BaseException:
        engine.dispose()
        remove_database(fresh)
        raise
    engine.dispose()
    one_file(fresh)
    damaged, copied = _copy_originals(settings, target, lengths, on_progress)
    for name in BESIDE:
        _copy_beside(settings.data / name, target / name)
    _copy_packs(settings, target, packs)
    missing = sorted(set(log.named) - set(lengths))
    report = Backup(now(), workshop.name, log.size, log.root, len(lengths), copied, missing, damaged)
    _write(target / NEXT, json.dumps(asdict(report), indent=1).encode())
    _remove_beside(target / DATABASE)
    fresh.replace(target / DATABASE)
    (target / NEXT).replace(target / REPORT)
    sync_folder(target)
    if report.is_whole:
        # Phones may free what a checked backup holds: never say so of one with a hole.
        marks.note_durable(settings, log.size, log.short_of(lengths))
    return report


def snapshot(source: Path, target: Path) -> None:
    """One consistent copy of a live SQLite database, whole in one file. Raises Refusal if the copy is damaged."""
    if not source.is_file():
        raise Refusal("not_founded", "data", say("server.backup.not_there", folder=source))
    remove_database(target)
    with closing(sqlite3.connect(source)) as live, closing(sqlite3.connect(target)) as copy:
        live.backup(copy)
        # The copy is to be one file: a write-ahead log left beside it would be read into it later.
        copy.execute("PRAGMA journal_mode=DELETE")
        verdict = copy.execute("PRAGMA integrity_check").fetchone()[0]
    if verdict != "ok":
        raise Refusal("database_damaged", "database", say("server.backup.damaged", verdict=verdict))
    os.chmod(target, 0o600)


def note_of(folder: Path) -> Backup:
    """What a backup in `folder` says of itself. Raises Refusal when there is none or it was not finished."""
    try:
        return Backup(**json.loads((folder / REPORT).read_text()))
    except (FileNotFoundError, ValueError, TypeError):
        raise Refusal("no_backup", "folder", say("server.backup.none", folder=folder, report=REPORT)) from None


def is_noted(folder: Path, size: int, root: str) -> bool:
    """Whether a log of this size and root is the one that the note in `folder` names, or the note that was to follow it
    when renewing was cut off."""
    for name in (REPORT, NEXT):
        with contextlib.suppress(FileNotFoundError, ValueError):
            noted = json.loads((folder / name).read_text())
            if (noted["log_size"], noted["root"]) == (size, root):
                return True
    return False


def originals_of(engine: Engine) -> dict[str, int]:
    """Every original the database says is here: SHA-256 -> length in bytes."""
    with reading(engine) as conn:
        return dict(tuple(row) for row in conn.execute(select(media.c.sha256, media.c.length)))


def _ready_packs(conn: Connection) -> dict[str, str]:
    """Every pack that can be taken away: its place in the folder of packs -> SHA-256."""
    p = shelf.packs.c
    query = select(p.id, p.name, p.sha256).where(p.state == "ready")
    return {f"{id}/{name}": sha256 for id, name, sha256 in conn.execute(query)}


def copy_checked(source: Path, target: Path, sha256: str) -> int | None:
    """Copies a file and checks both what was read and what was written; returns its length, None if either differs."""
    target.parent.mkdir(parents=True, exist_ok=True)
    fresh = target.with_name(target.name + ".new")
    # A copy that a crash cut short may be closed against writing already.
    fresh.unlink(missing_ok=True)
    running, length = hashlib.sha256(), 0
    try:
        with source.open("rb") as stream, fresh.open("wb") as out:
            while piece := stream.read(READ_BYTES):
                running.update(piece)
                length += len(piece)
                out.write(piece)
            out.flush()
            os.fchmod(out.fileno(), 0o444)
            os.fsync(out.fileno())
    except FileNotFoundError:
        return None
    if running.hexdigest() != sha256 or hash_file(fresh) != sha256:
        fresh.unlink()
        return None
    fresh.replace(target)
    return length


def _copy_originals(
    settings: Settings, target: Path, lengths: dict[str, int], on_progress: OnProgress
) -> tuple[list[str], int]:
    here, there = Folder(settings.media), Folder(target / "media")
    damaged, total, touched = [], 0, set()
    for number, (sha256, length) in enumerate(sorted(lengths.items()), 1):
        copy = there.path(sha256)
        # What an earlier run copied is read again: a backup is only as good as its last reading.
        if not (copy.is_file() and copy.stat().st_size == length and hash_file(copy) == sha256):
            if copy_checked(here.path(sha256), copy, sha256) is None:
                damaged.append(sha256)
                continue
            touched |= {copy.parent, copy.parent.parent, there.root}
        total += length
        on_progress(number, len(lengths))
    for folder in touched:
        sync_folder(folder)
    return damaged, total


def _copy_beside(source: Path, target: Path) -> None:
    if source.is_dir():
        target.mkdir(exist_ok=True, mode=0o700)
        for file in source.iterdir():
            _copy_beside(file, target / file.name)
    elif source.is_file():
        _write(target, source.read_bytes(), source.stat().st_mode & 0o777)


def _copy_packs(settings: Settings, target: Path, packs: dict[str, str]) -> None:
    """Packs can be made again, but not with the same bytes as the one the customer holds."""
    for name, sha256 in packs.items():
        source, copy = settings.packs / name, target / "packs" / name
        if copy.is_file() and hash_file(copy) == sha256:
            continue
        if copy_checked(source, copy, sha256) is not None:
            sync_folder(copy.parent)


def _write(path: Path, data: bytes, mode: int = 0o600) -> None:
    fresh = path.with_name(path.name + ".new")
    fresh.unlink(missing_ok=True)
    with os.fdopen(os.open(fresh, os.O_WRONLY | os.O_CREAT | os.O_EXCL, mode), "wb") as out:
        out.write(data)
        out.flush()
        os.fsync(out.fileno())
    fresh.replace(path)
    sync_folder(path.parent)


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
