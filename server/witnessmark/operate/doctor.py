"""Looks the whole data folder over and says what it found, in words. Changes nothing."""

from __future__ import annotations

import shutil
import sqlite3
import time
from collections.abc import Callable
from contextlib import closing
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import Connection, Engine
from sqlalchemy.exc import DatabaseError

from witnessmark.config import Settings
from witnessmark.db import make_engine, reading
from witnessmark.log import heads, read
from witnessmark.media import previews
from witnessmark.media.store import folder, hash_file
from witnessmark.operate import backup, certificate, disk
from witnessmark.operate.log_check import LogReport, check_log
from witnessmark.people import devices, server_key, workshops
from witnessmark.people.workshops import Workshop
from witnessmark.projections import apply as projections
from witnessmark.proof.keys import unbase64, verify
from witnessmark.speech import states
from witnessmark.sync import marks
from witnessmark.web import static

WELL, LOOK, WRONG = "well", "look", "wrong"
ROOM_WANTED = 2 << 30  # bytes free below which somebody should make room
SHOWN = 5


@dataclass(frozen=True)
class Finding:
    """`state`: well, look (somebody should) or wrong (evidence or service is at risk). `words` is a sentence or two."""

    state: str
    what: str
    words: str


Told = Callable[[int, int], None]


def examine(settings: Settings, told: Told = lambda done, of: None) -> list[Finding]:
    """Every finding, good ones too. `told` hears how many originals have been read."""
    database = settings.data / "witnessmark.db"
    if settings.database.startswith("sqlite") and not database.exists():
        return [Finding(WRONG, "data folder", f"{settings.data} holds no workshop. Name the folder that does.")]
    found = [_file_system(settings), _room(settings), _clock()]
    if settings.database.startswith("sqlite"):
        found += _sqlite(settings)
    engine = make_engine(settings.database)
    try:
        with reading(engine) as conn:
            workshop = workshops.only(conn)
            if workshop is None:
                return [*found, Finding(WRONG, "workshop", "The database holds no workshop. Found one first.")]
            log = check_log(conn, workshop)
            found += _log(conn, settings, workshop, log)
            found += _strays(conn, workshop)
            found.append(_projections(conn))
        found += _originals(settings, engine, log, told)
    except DatabaseError as damage:
        words = f"The database cannot be read ({damage.orig}). Restore the last backup into another folder."
        return [*found, Finding(WRONG, "database", words), _keys(settings)]
    finally:
        engine.dispose()
    return [*found, _backup(settings, log), _keys(settings), _certificate(settings), _app(settings), _speech(settings)]


def _file_system(settings: Settings) -> Finding:
    kind = disk.file_system(settings.data)
    if disk.is_far(kind):
        return Finding(WRONG, "file system", f"The data folder lies on a network file system ({kind}). Move it here.")
    return Finding(WELL, "file system", f"The data folder lies on a disk of this machine ({kind or 'unknown kind'}).")


def _room(settings: Settings) -> Finding:
    free = shutil.disk_usage(settings.data).free
    words = f"{free / 1e9:.1f} GB are free."
    if free < ROOM_WANTED:
        return Finding(LOOK, "room", f"{words} Phones will soon be told to keep what they have: make room.")
    return Finding(WELL, "room", words)


def _clock() -> Finding:
    now = datetime.now().astimezone()
    if now.year < 2025:
        return Finding(WRONG, "clock", f"The server's clock says {now:%Y-%m-%d}: set it before anything is received.")
    return Finding(WELL, "clock", f"The server's clock says {now:%Y-%m-%d %H:%M:%S %z}. Compare it with another clock.")


def _sqlite(settings: Settings) -> list[Finding]:
    try:
        with closing(sqlite3.connect(settings.data / "witnessmark.db", timeout=10)) as raw:
            verdict = raw.execute("PRAGMA integrity_check").fetchone()[0]
            mode = raw.execute("PRAGMA journal_mode").fetchone()[0]
    except sqlite3.DatabaseError as damage:
        return [Finding(WRONG, "database", f"The database is damaged ({damage}). Restore the last backup elsewhere.")]
    found = [Finding(WELL, "database", "The database is in order.")]
    if verdict != "ok":
        found = [Finding(WRONG, "database", f"The database is damaged ({verdict}). Restore the last backup elsewhere.")]
    if mode != "wal":
        found.append(
            Finding(LOOK, "database", f"The database writes in mode '{mode}', not 'wal': start the server once.")
        )
    return found


def _log(conn: Connection, settings: Settings, workshop: Workshop, log: LogReport) -> list[Finding]:
    found = [Finding(WRONG, "log", fault) for fault in log.faults]
    promised = marks.issued(settings)
    if log.size < promised:
        words = f"{promised} entries were promised to phones, {log.size} are here: the server will ask for them again."
        found.append(Finding(WRONG, "log", words))
    head = heads.latest(conn, workshop.id)
    key = _key(settings)
    if head and key and not verify(unbase64(key.public_key), head.signature, head.bytes):
        found.append(Finding(WRONG, "log", "The newest head is not signed by this server's key."))
    return found or [Finding(WELL, "log", f"{log.size} entries, each as it was signed, root {log.root[:16]}...")]


def _strays(conn: Connection, workshop: Workshop) -> list[Finding]:
    counts = read.stray_counts(conn, workshop.id)
    if not counts:
        return []
    names = {phone.id: f"{phone.letter}, {phone.name}" for phone in devices.phones(conn, workshop.id)}
    told = [f"{count} from {names.get(id, id)} ({code})" for (id, code), count in sorted(counts.items())]
    words = (
        f"{sum(counts.values())} records could not be tied to the chain of the phone that sent them: "
        f"{'; '.join(told[:SHOWN])}{' and more' if len(told) > SHOWN else ''}. "
        "Their bytes are kept in the table log_strays: look at these phones."
    )
    return [Finding(LOOK, "strays", words)]


def _projections(conn: Connection) -> Finding:
    if projections.is_current(conn):
        return Finding(WELL, "reading", "Timeline, search and list of jobs are of this version.")
    return Finding(LOOK, "reading", "Timeline, search and list of jobs are older than the program: rebuild them.")


def _originals(settings: Settings, engine: Engine, log: LogReport, told: Told) -> list[Finding]:
    lengths, shelf = backup.originals_of(engine), folder(settings)
    bad = []
    for number, sha256 in enumerate(sorted(lengths), 1):
        if not shelf.has(sha256) or hash_file(shelf.path(sha256)) != sha256:
            bad.append(sha256)
        told(number, len(lengths))
    found = []
    if bad:
        found.append(Finding(WRONG, "originals", f"{len(bad)} are damaged or gone: {_some(bad)}. Restore them."))
    if missing := sorted(set(log.named) - set(lengths)):
        words = (
            f"{len(missing)} files are named by entries and have not arrived: {_some(missing)}. Let the phones send."
        )
        found.append(Finding(LOOK, "originals", words))
    if strays := [name for name in shelf.names() if name not in lengths]:
        words = f"{len(strays)} files lie in the folder without being in the register: {_some(strays)}."
        found.append(Finding(LOOK, "originals", words))
    found = found or [Finding(WELL, "originals", f"{len(lengths)} originals, every byte as it was received.")]
    if left := previews.waiting(engine):
        found.append(Finding(LOOK, "previews", f"{len(left)} pictures wait for their previews."))
    return found


def _backup(settings: Settings, log: LogReport) -> Finding:
    covered = marks.durable_size(settings)
    if not covered:
        return Finding(LOOK, "backup", "There is no checked backup. Make one on another disk.")
    age = (time.time() - settings.durable.stat().st_mtime) / 86400
    words = f"The last checked backup holds {covered} of {log.size} entries and is {age:.0f} days old."
    return Finding(LOOK if age > 7 else WELL, "backup", words)


def _key(settings: Settings) -> server_key.ServerKey | None:
    try:
        return server_key.load(settings.server_key)
    except (OSError, ValueError):
        return None


def _keys(settings: Settings) -> Finding:
    key = _key(settings)
    if key is None:
        words = f"{settings.server_key} is gone or is no key: the server cannot sign. Bring it back from a backup."
        return Finding(WRONG, "keys", words)
    mode = settings.server_key.stat().st_mode & 0o777
    if mode & 0o077:
        return Finding(WRONG, "keys", f"Others on this machine can read {settings.server_key} ({mode:o}): chmod 600.")
    return Finding(WELL, "keys", f"The server's key is there and private; it is server {key.server_id}.")


def _certificate(settings: Settings) -> Finding:
    left = certificate.days_left(settings)
    if left is None:
        return Finding(LOOK, "certificate", "There is no certificate yet: it is made when the server starts.")
    if left < 1:
        return Finding(WRONG, "certificate", "The server's certificate has run out: start the server again.")
    return Finding(WELL, "certificate", f"The server's certificate is good for another {left} days.")


def _app(settings: Settings) -> Finding:
    faces = [static.app_folder(settings) / face / "index.html" for face in ("office", "bay")]
    if all(face.is_file() for face in faces):
        return Finding(WELL, "app", "The pages of office and bay are built.")
    words = "The pages of office and bay are not built: run `python pwa/build_app.py`, or install from a wheel."
    node = shutil.which("node")
    return Finding(WRONG, "app", f"{words} Node is {'at ' + node if node else 'not on PATH'}.")


def _speech(settings: Settings) -> Finding:
    """Never worse than a look: without it everything is kept and played, only not written down."""
    if states.is_off(settings):
        return Finding(WELL, "speech", "Speech is off: what is spoken is kept and played, and not written down.")
    if reason := states.no_decoder():
        return Finding(LOOK, "speech", reason)
    found = states.states(settings)
    usable = [state.id for state in found if state.usable]
    if not usable:
        words = "No recogniser can be used: what is spoken is kept and played, and not written down."
        return Finding(LOOK, "speech", f"{words} `witnessmark speech` says why.")
    words = f"What is spoken is written down by {', '.join(usable)}."
    return Finding(WELL, "speech", words)


def _some(names: list[str]) -> str:
    return ", ".join(f"{name[:12]}..." for name in names[:SHOWN]) + (" and more" if len(names) > SHOWN else "")
