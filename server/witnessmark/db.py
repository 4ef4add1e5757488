"""The database object, and the two ways to use it: `reading` and `writing`.

SQLite needs care that SQLAlchemy's default does not take: a transaction that begins as a reader and then
writes fails at once under load, whatever the busy timeout. So every writing transaction begins IMMEDIATE.
"""

from __future__ import annotations

import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from contextvars import ContextVar
from datetime import datetime
from pathlib import Path

from alembic import command
from alembic.config import Config as AlembicConfig
from flask_sqlalchemy import SQLAlchemy
from sqlalchemy import Connection, Engine, Table, create_engine, event, insert

db = SQLAlchemy()

BUSY_MS = 10_000


def make_engine(url: str) -> Engine:
    """An engine for `url` with the project's SQLite settings. Its errors never quote the values of a statement."""
    return prepare(create_engine(url, hide_parameters=True))


def prepare(engine: Engine) -> Engine:
    """Sets WAL, FULL synchronous writes, foreign keys, all triggers and explicit BEGIN on SQLite; returns it."""
    if engine.dialect.name != "sqlite":
        return engine

    @event.listens_for(engine, "connect")
    def on_connect(raw, _record):
        # The driver's own transaction handling commits DDL behind our back; we say BEGIN ourselves.
        raw.isolation_level = None
        for pragma in (
            f"busy_timeout={BUSY_MS}",
            "journal_mode=WAL",
            "synchronous=FULL",
            "foreign_keys=ON",
            # Without it INSERT OR REPLACE takes a row away behind the back of the triggers that guard the log.
            "recursive_triggers=ON",
        ):
            raw.execute(f"PRAGMA {pragma}")

    @event.listens_for(engine, "begin")
    def on_begin(connection):
        wants_write = connection.get_execution_options().get("writes", False)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if wants_write else "BEGIN")

    return engine


@contextmanager
def reading(engine: Engine) -> Iterator[Connection]:
    """One consistent view of the database, for reading only."""
    with engine.connect() as connection, connection.begin():
        yield connection


@contextmanager
def writing(engine: Engine) -> Iterator[Connection]:
    """One writing transaction: committed when the block ends well, rolled back otherwise."""
    with engine.connect().execution_options(writes=True) as connection, connection.begin():
        yield connection


_set_back: ContextVar[float] = ContextVar("set_back", default=0.0)


def clock() -> float:
    """Seconds since 1970 by the server's clock, on which every stamp of the record rests."""
    return time.time() - _set_back.get()


@contextmanager
def clock_set_back(seconds: float) -> Iterator[None]:
    """Within the block the record is stamped `seconds` earlier. For invented data only: the demo's past."""
    token = _set_back.set(seconds)
    try:
        yield
    finally:
        _set_back.reset(token)


def add_rows(connection: Connection, table: Table, names: Sequence[str], rows: Sequence[tuple]) -> None:
    """Adds many rows, each with the values of the columns `names` in that order, as the driver takes them.

    SQLAlchemy's own way spends as long on preparing a row as SQLite on storing it; here nothing is converted,
    so the values have to be text, bytes, whole numbers, floats, booleans or None.
    """
    statement = insert(table).values({name: None for name in names}).compile(dialect=connection.dialect)
    if statement.positiontup != list(names):
        raise ValueError(f"{table.name}: the driver takes its values as {statement.positiontup}, not {list(names)}")
    connection.exec_driver_sql(str(statement), list(rows))


def now() -> str:
    """This moment by the server's clock: RFC 3339, UTC, milliseconds, `2026-05-14T09:38:07.120Z`."""
    return moment(clock())


def moment_here() -> str:
    """This moment by the server's clock in the workshop's own zone, as an entry claims it."""
    return datetime.fromtimestamp(clock()).astimezone().isoformat(timespec="milliseconds")


def moment(seconds: float) -> str:
    """Seconds since 1970 as RFC 3339 text, UTC, milliseconds."""
    whole = int(seconds)
    return f"{time.strftime('%Y-%m-%dT%H:%M:%S', time.gmtime(whole))}.{int((seconds - whole) * 1000):03d}Z"


def migrations_folder() -> Path:
    """Where the numbered migrations lie: beside the package in a wheel, at the top of the checkout otherwise."""
    here = Path(__file__).resolve().parent
    shipped = here / "shipped" / "migrations"
    return shipped if shipped.is_dir() else here.parent.parent / "migrations"


def upgrade(engine: Engine, folder: Path | None = None) -> None:
    """Brings the database to the newest shape in ONE transaction: a migration that fails leaves nothing behind."""
    alembic = AlembicConfig()
    alembic.set_main_option("script_location", str(folder or migrations_folder()))
    with writing(engine) as connection:
        alembic.attributes["connection"] = connection
        command.upgrade(alembic, "heads")
