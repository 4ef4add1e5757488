"""Where the entries of a job's runs lie in the log, so that a run can be read without the whole record."""

from __future__ import annotations

from sqlalchemy import Connection, func, select

from witnessmark.db import add_rows
from witnessmark.projections import folded, tables
from witnessmark.projections.batch import Batch
from witnessmark.trade.record.runs import KINDS, by_run

VERSION = 1
TABLES = [tables.run]


def apply(batch: Batch) -> None:
    """Files each entry of a run under its job, and each fastener under the tool that tightened it."""
    filed = []
    for row, _, _, entry, *_ in batch.records:
        if entry["kind"] not in KINDS:
            continue
        run, joint, tool = (entry["body"].get(name, "") for name in ("run", "joint", "tool_id"))
        if run or tool:
            filed.append((row, batch.workshop, entry["job"], entry["id"], run, joint, tool))
    if filed:
        names = ("row", "workshop", "job", "id", "run", "joint", "tool")
        add_rows(batch.conn, tables.run, names, filed)


def of_job(conn: Connection, workshop: str, job: str) -> dict[str, list[dict]]:
    """Run -> its entries in the order of the log, corrections applied, as trade/record/runs.py by_run gives them."""
    return by_run(folded.of_jobs(conn, workshop, tables.run, [job]))


def counted_by_then(conn: Connection, workshop: str, job: str) -> dict[str, int]:
    """Fastener's entry -> how many were tightened with its tool up to it, in the order of the log, for one job."""
    c, answer = tables.run.c, tables.answer.c
    tools = select(c.tool).where(c.workshop == workshop, c.job == job, c.tool != "")
    withdrawn = select(answer.row).where(answer.workshop == workshop, answer.target == c.id, answer.sort == "withdrawn")
    number = func.count().over(partition_by=c.tool, order_by=c.row).label("number")
    every = select(c.id, c.job, number).where(c.workshop == workshop, c.tool.in_(tools), ~withdrawn.exists()).subquery()
    return {id: number for id, _, number in conn.execute(select(every).where(every.c.job == job))}


def counted(conn: Connection, workshop: str) -> dict[str, int]:
    """Tool -> how many fasteners were tightened with it, as the record has it; withdrawn ones are left out."""
    c, answer = tables.run.c, tables.answer.c
    withdrawn = select(answer.row).where(answer.workshop == workshop, answer.target == c.id, answer.sort == "withdrawn")
    query = select(c.tool, func.count()).where(c.workshop == workshop, c.tool != "", ~withdrawn.exists())
    return {tool: count for tool, count in conn.execute(query.group_by(c.tool))}
