"""The database grows with the program: step by step, all or nothing."""

from __future__ import annotations

import shutil

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from sqlalchemy import Table, text

from witnessmark.db import db, make_engine, migrations_folder, reading, upgrade
from witnessmark.log import tables as log_tables
from witnessmark.media import tables as media_tables
from witnessmark.pack import shelf as pack_tables
from witnessmark.people import tables as people_tables

MIGRATED = {
    table.name
    for room in (log_tables, media_tables, people_tables, pack_tables)
    for table in vars(room).values()
    if isinstance(table, Table)
}


@pytest.fixture
def engine(tmp_path):
    made = make_engine(f"sqlite:///{tmp_path / 'witnessmark.db'}")
    yield made
    made.dispose()


def schema(engine, kind: str) -> dict[str, str]:
    with reading(engine) as conn:
        rows = conn.execute(text("SELECT name, sql FROM sqlite_master WHERE type = :kind"), {"kind": kind})
        return {name: sql for name, sql in rows}


def test_the_migrations_make_exactly_the_tables_the_program_uses(engine):
    upgrade(engine)
    with reading(engine) as conn:
        context = MigrationContext.configure(
            conn,
            opts={
                "compare_type": True,
                "include_name": lambda name, kind, _parents: kind != "table" or name in MIGRATED,
                "include_object": lambda thing, name, kind, *_: kind != "table" or name in MIGRATED,
            },
        )
        assert compare_metadata(context, db.metadata) == []
    assert MIGRATED <= schema(engine, "table").keys()


def test_the_migrations_make_the_same_refusals_as_the_metadata(engine, tmp_path):
    upgrade(engine)
    other = make_engine(f"sqlite:///{tmp_path / 'other.db'}")
    db.metadata.create_all(other, tables=[db.metadata.tables[name] for name in MIGRATED])
    try:
        assert schema(engine, "trigger") == schema(other, "trigger") != {}
    finally:
        other.dispose()


def test_bringing_up_to_date_twice_changes_nothing(engine):
    upgrade(engine)
    before = schema(engine, "table")
    upgrade(engine)
    assert schema(engine, "table") == before


def test_a_migration_that_fails_leaves_nothing_behind(engine, tmp_path):
    folder = tmp_path / "migrations"
    shutil.copytree(migrations_folder(), folder, ignore=shutil.ignore_patterns("__pycache__"))
    last = sorted(p.stem[:4] for p in (folder / "versions").glob("*.py"))[-1]
    (folder / "versions" / "9999_broken.py").write_text(
        "from alembic import op\nimport sqlalchemy as sa\n"
        f"revision = '9999'\ndown_revision = '{last}'\n"
        "def upgrade():\n"
        "    op.create_table('half_done', sa.Column('id', sa.Integer))\n"
        "    raise RuntimeError('the disk went away')\n"
    )
    with pytest.raises(RuntimeError, match="disk went away"):
        upgrade(engine, folder)
    assert schema(engine, "table") == {}
    upgrade(engine)
    assert "half_done" not in schema(engine, "table")
