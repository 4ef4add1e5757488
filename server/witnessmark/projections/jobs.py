"""The jobs of a workshop: their facts as last known, their stage, how much each holds."""

from __future__ import annotations

from sqlalchemy import delete, insert

from witnessmark.projections import tables
from witnessmark.projections.batch import Batch, Record, parts
from witnessmark.projections.words import JOB_WORDS, STAGE, tag

VERSION = 3
TABLES = [tables.job, JOB_WORDS]

SEARCHED = ("number", "vehicle", "registration", "engine_number", "complaint", "received_as")


def apply(batch: Batch) -> None:
    """Writes the facts of every job in the batch, and its search words and stage."""
    last = {record.entry["job"]: record for record in batch.records}
    for some in parts([last[id] for id in sorted(last)]):
        rows = [record.job["row"] for record in some]
        batch.conn.execute(delete(tables.job).where(tables.job.c.row.in_(rows)))
        batch.conn.execute(insert(tables.job), [record.job for record in some])
        JOB_WORDS.replace(
            batch.conn, [(record.job["row"], words_of(record), tag(STAGE, record.job["stage"])) for record in some]
        )


def words_of(record: Record) -> str:
    """What a job is searched by in the list of jobs, as of its last record."""
    engine_type = record.engine_type or {}
    return " ".join([*(record.job[name] for name in SEARCHED), engine_type.get("name", "")])
