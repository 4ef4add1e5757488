"""Checks the whole data folder and reports its findings in words. Changes nothing."""

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
from witnessmark.db import clock, make_engine, moment, now, reading
from witnessmark.log import heads, read
from witnessmark.media import previews
from witnessmark.media.store import folder, hash_file
from witnessmark.operate import backup, certificate, disk
from witnessmark.operate.device_chains import DeviceChains
from witnessmark.operate.log_check import LogReport, check_log
from witnessmark.people import devices, server_key, workshops
from witnessmark.people.workshops import Workshop
from witnessmark.projections import apply as projections
from witnessmark.proof.keys import unbase64, verify
from witnessmark.speech import states
from witnessmark.sync import marks
from witnessmark.trade.ground.sentences import listed, say
from witnessmark.web import static

WELL, LOOK, WRONG = "well", "look", "wrong"
ROOM_WANTED = 2 << 30  # bytes free below which somebody should make room
CLOCK_MAY_LAG = 60.0  # seconds behind the last stamp, as after a clock was set right by a little
SHOWN = 5


@dataclass(frozen=True)
class Finding:
    """`state`: well, look (somebody should) or wrong (evidence or service is at risk). `words` is a sentence or two."""

    state: str
    what: str
    words: str


OnProgress = Callable[[int, int], None]


def examine(settings: Settings, on_progress: OnProgress = lambda done, of: None) -> list[Finding]:
    """Every finding, good ones too. `on_progress` gets how many originals have been read."""
    database = settings.data / "witnessmark.db"
    if settings.database.startswith("sqlite") and not database.exists():
        return [Finding(WRONG, say("server.doctor.data_folder"), say("server.doctor.no_folder", folder=settings.data))]
    findings = [_file_system(settings), _room(settings), _clock()]
    if settings.database.startswith("sqlite"):
        findings += _sqlite(settings)
    engine = make_engine(settings.database)
    try:
        with reading(engine) as conn:
            workshop = workshops.only(conn)
            if workshop is None:
                return [*findings, Finding(WRONG, "workshop", say("server.doctor.no_workshop"))]
            log = check_log(conn, workshop, DeviceChains())
            findings += _log(conn, settings, workshop, log)
            findings += _strays(conn, workshop)
            findings.append(_projections(conn))
        findings += _originals(settings, engine, log, on_progress)
    except DatabaseError as damage:
        words = say("server.doctor.unreadable", reason=damage.orig)
        return [*findings, Finding(WRONG, "database", words), _keys(settings)]
    finally:
        engine.dispose()
    findings += [_backup(settings, log), _keys(settings), _certificate(settings)]
    return [*findings, _app(settings), _speech(settings)]


def _file_system(settings: Settings) -> Finding:
    kind = disk.file_system(settings.data)
    if disk.is_far(kind):
        return Finding(WRONG, say("server.doctor.file_system"), say("server.doctor.far_disk", sort=kind))
    near = say("server.doctor.near_disk", sort=kind or say("server.doctor.unknown_sort"))
    return Finding(WELL, say("server.doctor.file_system"), near)


def _room(settings: Settings) -> Finding:
    free = shutil.disk_usage(settings.data).free
    words = say("server.doctor.room", gigabytes=f"{free / 1e9:.1f}")
    if free < ROOM_WANTED:
        return Finding(LOOK, "room", say("server.doctor.little_room", room=words))
    return Finding(WELL, "room", words)


def _clock() -> Finding:
    now = datetime.now().astimezone()
    if now.year < 2025:
        return Finding(WRONG, "clock", say("server.doctor.wrong_clock", time=f"{now:%Y-%m-%d}"))
    return Finding(WELL, "clock", say("server.doctor.clock", time=f"{now:%Y-%m-%d %H:%M:%S %z}"))


def _sqlite(settings: Settings) -> list[Finding]:
    try:
        with closing(sqlite3.connect(settings.data / "witnessmark.db", timeout=10)) as raw:
            verdict = raw.execute("PRAGMA integrity_check").fetchone()[0]
            mode = raw.execute("PRAGMA journal_mode").fetchone()[0]
    except sqlite3.DatabaseError as damage:
        return [Finding(WRONG, "database", say("server.doctor.damaged", reason=damage))]
    findings = [Finding(WELL, "database", say("server.doctor.database_fine"))]
    if verdict != "ok":
        findings = [Finding(WRONG, "database", say("server.doctor.damaged", reason=verdict))]
    if mode != "wal":
        findings.append(Finding(LOOK, "database", say("server.doctor.mode", mode=repr(mode))))
    return findings


def _log(conn: Connection, settings: Settings, workshop: Workshop, log: LogReport) -> list[Finding]:
    findings = [Finding(WRONG, "log", fault) for fault in log.faults]
    promised = marks.issued(settings)
    if log.size < promised:
        words = say("server.doctor.promised", promised=promised, here=log.size)
        findings.append(Finding(WRONG, "log", words))
    head = heads.latest(conn, workshop.id)
    if head and head.time > moment(clock() + CLOCK_MAY_LAG):
        findings.append(Finding(LOOK, "clock", say("server.doctor.clock_behind", time=head.time, now=now())))
    key = _key(settings)
    if head and key and not verify(unbase64(key.public_key), head.signature, head.bytes):
        findings.append(Finding(WRONG, "log", say("server.doctor.head_not_signed")))
    return findings or [Finding(WELL, "log", say("server.doctor.log_fine", count=log.size, root=log.root[:16]))]


def _strays(conn: Connection, workshop: Workshop) -> list[Finding]:
    counts = read.stray_counts(conn, workshop.id)
    if not counts:
        return []
    names = {phone.id: f"{phone.letter}, {phone.name}" for phone in devices.phones(conn, workshop.id)}
    phones = [
        say("server.doctor.stray_of", count=count, phone=names.get(id, id), code=code)
        for (id, code), count in sorted(counts.items())
    ]
    shown = "; ".join(phones[:SHOWN])
    if len(phones) > SHOWN:
        shown = say("server.doctor.and_more", names=shown)
    words = say("server.doctor.strays", count=sum(counts.values()), phones=shown)
    return [Finding(LOOK, "strays", words)]


def _projections(conn: Connection) -> Finding:
    if projections.is_current(conn):
        return Finding(WELL, "reading", say("server.doctor.views_fine"))
    return Finding(LOOK, "reading", say("server.doctor.views_old"))


def _originals(settings: Settings, engine: Engine, log: LogReport, on_progress: OnProgress) -> list[Finding]:
    lengths, shelf = backup.originals_of(engine), folder(settings)
    bad = []
    for number, sha256 in enumerate(sorted(lengths), 1):
        if not shelf.has(sha256) or hash_file(shelf.path(sha256)) != sha256:
            bad.append(sha256)
        on_progress(number, len(lengths))
    findings = []
    if bad:
        findings.append(
            Finding(WRONG, "originals", say("server.doctor.originals_damaged", count=len(bad), files=_some(bad)))
        )
    if missing := sorted(set(log.named) - set(lengths)):
        words = say("server.doctor.originals_missing", count=len(missing), files=_some(missing))
        findings.append(Finding(LOOK, "originals", words))
    if strays := [name for name in shelf.names() if name not in lengths]:
        words = say("server.doctor.originals_stray", count=len(strays), files=_some(strays))
        findings.append(Finding(LOOK, "originals", words))
    findings = findings or [Finding(WELL, "originals", say("server.doctor.originals_fine", count=len(lengths)))]
    if left := previews.waiting(engine):
        findings.append(Finding(LOOK, "previews", say("server.doctor.previews", count=len(left))))
    return findings


def _backup(settings: Settings, log: LogReport) -> Finding:
    covered = marks.durable_size(settings)
    if not covered:
        return Finding(LOOK, "backup", say("server.doctor.no_backup"))
    age = (time.time() - settings.durable.stat().st_mtime) / 86400
    words = say("server.doctor.backup_age", held=covered, all=log.size, days=f"{age:.0f}")
    return Finding(LOOK if age > 7 else WELL, "backup", words)


def _key(settings: Settings) -> server_key.ServerKey | None:
    try:
        return server_key.load(settings.server_key)
    except (OSError, ValueError):
        return None


def _keys(settings: Settings) -> Finding:
    key = _key(settings)
    if key is None:
        words = say("server.doctor.no_key", file=settings.server_key)
        return Finding(WRONG, "keys", words)
    mode = settings.server_key.stat().st_mode & 0o777
    if mode & 0o077:
        return Finding(WRONG, "keys", say("server.doctor.key_open", file=settings.server_key, mode=f"{mode:o}"))
    return Finding(WELL, "keys", say("server.doctor.key_fine", server=key.server_id))


def _certificate(settings: Settings) -> Finding:
    left = certificate.days_left(settings)
    if left is None:
        return Finding(LOOK, "certificate", say("server.doctor.no_certificate"))
    if left < 1:
        return Finding(WRONG, "certificate", say("server.doctor.certificate_expired"))
    return Finding(WELL, "certificate", say("server.doctor.certificate_fine", days=left))


def _app(settings: Settings) -> Finding:
    faces = [static.app_folder(settings) / face / "index.html" for face in ("office", "bay")]
    if all(face.is_file() for face in faces):
        return Finding(WELL, "app", say("server.doctor.pages_fine"))
    words = say("server.doctor.pages_missing")
    node = shutil.which("node")
    words = say("server.doctor.node_at", state=words, path=node) if node else say("server.doctor.no_node", state=words)
    return Finding(WRONG, "app", words)


def _speech(settings: Settings) -> Finding:
    """Never worse than "check": without it everything is stored and played, only not transcribed."""
    if states.is_off(settings):
        return Finding(WELL, "speech", say("server.doctor.speech_off"))
    if reason := states.no_decoder():
        return Finding(LOOK, "speech", reason)
    findings = states.states(settings)
    usable = [state.id for state in findings if state.usable]
    if not usable:
        words = say("server.doctor.no_recogniser")
        return Finding(LOOK, "speech", say("server.doctor.why_no_recogniser", state=words))
    words = say("server.doctor.recognisers", names=listed(usable))
    return Finding(WELL, "speech", words)


def _some(names: list[str]) -> str:
    shown = ", ".join(f"{name[:12]}..." for name in names[:SHOWN])
    return say("server.doctor.and_more", names=shown) if len(names) > SHOWN else shown
