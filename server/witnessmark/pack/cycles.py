"""How many fasteners a torque tool had tightened by then, over the whole log: a run says when it was too many."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import Connection

from witnessmark.log import read
from witnessmark.log.rows import Row

KIND = "fastener_tightened"


def by_then(conn: Connection, workshop: str, rows: Sequence[Row]) -> dict[str, int]:
    """Fastener's entry -> how many were tightened with its tool up to it, for the rows of one job; withdrawn ones are
    left out. The records of other jobs that are counted are not in the pack, so this is the workshop's word."""
    own = {row.id: row.entry["body"].get("tool_id", "") for row in rows if row.entry["kind"] == KIND}
    tools = sorted(set(own.values()) - {""})
    if not tools:
        return {}
    answers = read.holding(conn, workshop, '"kind":"entry_withdrawn"')
    withdrawn = {row.entry["body"]["entry"] for row in answers if row.entry["kind"] == "entry_withdrawn"}
    result = {}
    for tool in tools:
        number = 0
        for row in read.holding(conn, workshop, f'"tool_id":"{tool}"'):
            if row.entry["kind"] == KIND and row.entry["body"]["tool_id"] == tool and row.id not in withdrawn:
                number += 1
                if row.id in own:
                    result[row.id] = number
    return result
