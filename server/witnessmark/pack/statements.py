"""Which of the workshop's statements a job's figures rest on, so that a stranger can work them out again."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from witnessmark.log.rows import Row
from witnessmark.trade.known import FIELD


def those_behind(rows: Sequence[Row], engine_types: set[str]) -> Callable[[Mapping[str, Any]], bool]:
    """A test for entries of the workshop. `rows` are the job's, `engine_types` the identifiers it ever named.

    Behind its figures stand: what a reading names in its basis; every version of the limits and sizes of its engine
    types and of the procedures it used; all measuring rules. And every gauge of the register, used or not: what would
    settle an open verdict is told from it. None of it where nothing was read by a procedure or with a known gauge.
    """
    read = [row.entry["body"] for row in rows if row.entry["kind"] == "measured"]
    read += [row.entry["body"]["changes"] for row in rows if row.entry["kind"] == "entry_corrected"]
    codes = {body.get("procedure", "") for body in read} - {""}
    basis = {entry for body in read for entry in body.get("basis") or ()}
    if not codes and not basis and not any(body.get("gauge_id", "") for body in read):
        return lambda entry: False

    def behind(entry: Mapping[str, Any]) -> bool:
        kind = entry["kind"]
        if kind not in FIELD:
            return False
        if entry["id"] in basis or kind in ("gauge_described", "measuring_rules_set"):
            return True
        what = entry["body"][FIELD[kind]]
        if kind == "procedure_described":
            return what["code"] in codes
        return what["engine_type"] in engine_types and what["procedure"] in codes

    return behind
