"""The server of the simulation: the whole application on a real folder, with faults at any of its steps.

A step is a statement or commit of the database, or a call that changes the disk. At a step the process can be killed
(nothing of it runs on), fail with an error nobody expects, or find the disk full.
"""

from __future__ import annotations

import copy
import errno
import io
import os
import shutil
import sqlite3
import time
from base64 import b64decode, b64encode
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import unquote

from flask import Flask
from sqlalchemy import Engine, event
from sqlalchemy.exc import OperationalError

from tests.support.quick_hashes import QUICK
from tests.support.record import a_v6
from tests.support.workshop import MANAGER, PASSWORD
from witnessmark.app import create_app
from witnessmark.config import Settings
from witnessmark.db import db, prepare, writing
from witnessmark.operate import backup, restore
from witnessmark.people import invitations, persons, secrets
from witnessmark.people.persons import Person
from witnessmark.people.workshops import Workshop
from witnessmark.sync import desk, founding, join
from witnessmark.sync.founding import found_workshop, open_workshop

TECHNICIAN, PIN = "Tomas", "2718"
CHUNK_BYTES = 600  # so that even a small original comes in pieces
WRITES = ("replace", "fsync", "pwrite", "unlink", "utime", "fchmod", "mkdir")
GROWS = ("pwrite", "mkdir")


class Killed(BaseException):
    """The process of the server is gone. No handler of its own may catch this."""


@dataclass
class Faults:
    """What is to happen at the step that comes after `left` others; `full` from now on."""

    kill: int | None = None
    error: int | None = None
    full: bool = False
    dead: bool = False
    on: bool = False

    def step(self, sort: str) -> None:
        if self.dead:
            raise Killed
        if not self.on:
            return
        if self.kill is not None:
            self.kill -= 1
            if self.kill < 0:
                self.kill, self.dead = None, True
                raise Killed
        if self.error is not None:
            self.error -= 1
            if self.error < 0:
                self.error = None
                raise RuntimeError(f"a fault nobody expects, at {sort}")
        if self.full and sort in GROWS:
            raise OSError(errno.ENOSPC, "no space left on device")


@dataclass
class Time:
    """The clock of the bed, in milliseconds since 1970; the server's own may be wrong by `server_skew`."""

    now: int = 0
    server_skew: int = 0
    real: Callable[[], float] = field(default=time.time)

    def seconds(self) -> float:
        return (self.now + self.server_skew) / 1000


faults = Faults()
clock = Time()


@contextmanager
def bed() -> Iterator[None]:
    """Within it the process has the clock of the bed, cheap hashes, and a disk that can fail and is never forced."""
    real = {name: getattr(os, name) for name in WRITES}
    hashes = {name: getattr(secrets, name) for name in QUICK}
    kept = {"time": time.time, "open": io.open, "time_ns": time.time_ns}

    def watched(name: str) -> Callable:
        def call(*given, **named):
            faults.step(name)
            return None if name == "fsync" else real[name](*given, **named)

        return call

    def opened(file, mode="r", *given, **named):
        if "r" not in mode or "+" in mode:
            faults.step("open")
            if faults.on and faults.full:
                raise OSError(errno.ENOSPC, "no space left on device")
        return kept["open"](file, mode, *given, **named)

    for name in WRITES:
        setattr(os, name, watched(name))
    for name, cost in QUICK.items():
        setattr(secrets, name, cost)
    time.time, time.time_ns, io.open = clock.seconds, lambda: int(clock.seconds() * 1e9), opened
    try:
        yield
    finally:
        time.time, time.time_ns, io.open = kept["time"], kept["time_ns"], kept["open"]
        for name in WRITES:
            setattr(os, name, real[name])
        for name in QUICK:
            setattr(secrets, name, hashes[name])


@dataclass
class Template:
    """A founded workshop with a technician and an engine type, to be copied for each schedule."""

    folder: Path
    workshop: Workshop
    manager: Person
    engine_type: str
    app: Flask
    place: Place
    joined: tuple[str, ...] = ()


def template(folder: Path) -> Template:
    """Makes the template in an empty folder. Requires the bed."""
    settings = settings_in(folder / "template")
    workshop, manager = found_workshop(settings, "Reed & Daughter, invented engine works", MANAGER, PASSWORD)
    app, place = create_app(settings), Place()
    with app.app_context():
        with writing(db.engine) as conn:
            persons.add(conn, workshop.id, TECHNICIAN, "technician", pin=PIN)
            body = {"engine_type": a_v6()}
            desk.write(conn, settings, manager.id, "engine_type_described", body=body)
        with db.engine.connect() as raw:
            raw.exec_driver_sql("PRAGMA wal_checkpoint(TRUNCATE)")
        db.engine.dispose()
    return Template(settings.data, workshop, manager, body["engine_type"]["id"], _app_of_many(app, place), place)


@contextmanager
def migrated() -> Iterator[None]:
    """Within it every database has its newest shape already, as the template's: looking would take most of a start."""
    modules = (founding, restore)
    upgrade = founding.upgrade
    for module in modules:
        module.upgrade = lambda engine: None
    try:
        yield
    finally:
        for module in modules:
            module.upgrade = upgrade


def settings_in(folder: Path) -> Settings:
    return Settings(folder, secure_cookies=False, speech="none", chunk_bytes=CHUNK_BYTES)


class Server:
    """One server and its folder through all its restarts."""

    def __init__(self, made: Template, folder: Path) -> None:
        self.made, self.folder = made, folder
        self.settings = settings_in(folder / "data")
        shutil.copytree(made.folder, self.settings.data)
        self.app = made.app
        self._start()

    @property
    def engine(self) -> Engine:
        with self.app.app_context():
            return db.engine

    def answer(self, request: dict, body_share: float = 1.0) -> dict | None:
        """What the server answers to a phone's request, of whose body it gets the first `body_share`; None if it died.

        The answer's body is base64. After a death the server has been started again.
        """
        body = b64decode(request["body"])
        got = body if body_share >= 1 else body[: int(len(body) * body_share)]
        headers: dict = {}

        def start_response(status: str, given: list, _error=None) -> None:
            headers.update(status=int(status.split()[0]), headers=given)

        faults.on = True
        try:
            pieces = self.app.wsgi_app(_environ(request, got, len(body)), start_response)
            whole = b"".join(pieces)
            if hasattr(pieces, "close"):
                pieces.close()
        except Killed:
            self.restart()
            return None
        finally:
            faults.on = False
        return headers | {"body": b64encode(whole).decode(), "cut": False}

    def restart(self) -> None:
        """As a new process would: nothing in memory survives."""
        faults.dead = False
        while True:
            try:
                return self._start()
            except (Killed, RuntimeError):  # at its start it can be killed, or fail, as at any other moment
                faults.dead = False

    def _start(self) -> None:
        self.made.place.file = self.settings.data / backup.DATABASE
        self.app.config["WITNESSMARK"] = self.settings
        self.app.extensions.pop("witnessmark.uploads", None)
        self.engine.dispose()
        assert open_workshop(self.settings, self.engine), "no workshop was founded in this folder"

    def invite(self) -> str:
        with writing(self.engine) as conn:
            return invitations.invite(conn, self.made.workshop.id, self.made.manager.id, 900).code

    def block(self, device: str) -> None:
        with writing(self.engine) as conn:
            join.block(conn, self.settings, self.made.manager, device, "lost on the way")

    def desk_note(self, job: str, text: str) -> None:
        with writing(self.engine) as conn:
            desk.write(conn, self.settings, self.made.manager.id, "note_made", job=job, body={"text": text})

    def has_older_backup(self) -> bool:
        return (self.folder / "backup-before").is_dir()

    def back_up(self, keep: bool) -> bool:
        """Makes or renews the backup, a copy of which is kept before if asked; False when it died on the way, with the
        server started again."""
        if keep:
            shutil.rmtree(self.folder / "backup-before", ignore_errors=True)
            shutil.copytree(self.folder / "backup", self.folder / "backup-before")
        with self._dying() as well:
            backup.make(self.settings, self.folder / "backup")
        return well[0]

    def keep_database(self) -> None:
        """A plain copy of the database file, as somebody without the command would make it."""
        backup.snapshot(self.settings.data / backup.DATABASE, self.folder / "copy.db")

    def restore(self, source: str) -> None:
        """Puts a backup in place of what the server holds: its data folder is lost, or only its database."""
        self.engine.dispose()
        faults.full = False  # it is another disk
        if source == "copy.db":
            backup.remove_database(self.settings.data / backup.DATABASE)
            shutil.copyfile(self.folder / source, self.settings.data / backup.DATABASE)
        else:
            shutil.rmtree(self.settings.data)
            well = [False]
            # A restore that was cut off is begun again, unless all was in its place already.
            while not well[0] and not (self.settings.data / backup.DATABASE).exists():
                with self._dying(again=False) as well:
                    restore.restore(self.folder / source, self.settings)
        self._start()

    @contextmanager
    def _dying(self, again: bool = True) -> Iterator[list[bool]]:
        """A command beside the server, with the same faults; what it yields says whether it came to its end."""
        well = [False]
        faults.on = True
        try:
            yield well
            well[0] = True
        except (Killed, RuntimeError, OSError, OperationalError):  # what is injected, and nothing a command refuses
            faults.dead = False
        finally:
            faults.on = False
        if not well[0] and again:
            self.restart()


def _app_of_many(pattern: Flask, place: Place) -> Flask:
    """One application for every folder the bed will make: SQLAlchemy then works out each statement once."""
    app = copy.copy(pattern)
    app.config = copy.copy(pattern.config)
    options = {"hide_parameters": True, "creator": place.connect}
    app.config.update(SQLALCHEMY_ENGINE_OPTIONS=options)
    app.extensions = {name: extension for name, extension in pattern.extensions.items() if name != "sqlalchemy"}
    app.teardown_appcontext_funcs = []
    db.init_app(app)
    with app.app_context():
        _watch(prepare(db.engine))
    return app


@dataclass
class Place:
    """The database that connections lead to just now."""

    file: Path | None = None

    def connect(self) -> sqlite3.Connection:
        return sqlite3.connect(self.file, check_same_thread=False)


def _watch(engine: Engine) -> None:
    """Makes steps of what the database does."""

    @event.listens_for(engine, "connect")
    def quick(raw, _record):
        raw.execute("PRAGMA synchronous=OFF")

    @event.listens_for(engine, "before_cursor_execute")
    def statement(_conn, cursor, statement, _parameters, _context, _many):
        faults.step("statement")
        if statement.startswith("BEGIN IMMEDIATE"):
            pages = cursor.execute("PRAGMA page_count").fetchone()[0]
            cursor.execute(f"PRAGMA max_page_count={pages if faults.on and faults.full else 2**30}")

    commit = engine.dialect.do_commit

    def committed(connection) -> None:
        faults.step("commit")
        commit(connection)
        faults.step("committed")

    engine.dialect.do_commit = committed


def _environ(request: dict, body: bytes, announced: int) -> dict:
    path, _, query = request["path"].partition("?")
    environ = {
        "REQUEST_METHOD": request["method"], "SCRIPT_NAME": "", "PATH_INFO": unquote(path), "QUERY_STRING": query,
        "SERVER_NAME": "localhost", "SERVER_PORT": "80", "SERVER_PROTOCOL": "HTTP/1.1", "REMOTE_ADDR": "10.0.0.7",
        "wsgi.version": (1, 0), "wsgi.url_scheme": "http", "wsgi.input": io.BytesIO(body), "wsgi.errors": io.StringIO(),
        "wsgi.multithread": False, "wsgi.multiprocess": False, "wsgi.run_once": False,
    }  # fmt: skip
    if request["method"] not in ("GET", "HEAD"):
        environ["CONTENT_LENGTH"] = str(announced)
    for name, value in request["headers"].items():
        key = name.upper().replace("-", "_")
        environ[key if key == "CONTENT_TYPE" else f"HTTP_{key}"] = value
    return environ
