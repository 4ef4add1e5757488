"""Which of the workshop's statements a job's figures, joints and transcripts rest on: a stranger works them out
again."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from witnessmark.log.rows import Row
from witnessmark.trade.measuring.known import FIELD
from witnessmark.trade.record import own_words
from witnessmark.trade.tightening import known as tightening_known

Test = Callable[[Mapping[str, Any]], bool]


def those_behind(rows: Sequence[Row], engine_types: set[str]) -> Test:
    """A test for entries of the workshop. `rows` are the job's, `engine_types` the identifiers it ever named."""
    figures, joints = _behind_figures(rows, engine_types), _behind_joints(rows)
    words = _behind_words(rows)
    return lambda entry: figures(entry) or joints(entry) or words(entry)


def _behind_figures(rows: Sequence[Row], engine_types: set[str]) -> Test:
    """Behind a job's figures stand: what a reading names in its basis; every version of the limits and sizes of its
    engine types and of the procedures it used; all measuring rules. And every gauge of the register, used or not: what
    would settle an open verdict is derived from it. None of it where nothing was read by a procedure or with a known
    gauge."""
    read = _bodies(rows, {"measured"})
    codes = {body.get("procedure", "") for body in read} - {""}
    basis = _basis(read)
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


def _behind_joints(rows: Sequence[Row]) -> Test:
    """Behind a job's runs stand what they and their fasteners name in their basis, and every description of the sheets
    they were begun by and of the tools that were used."""
    bodies = _bodies(rows, {"tightening_begun", "fastener_tightened"})
    basis = _basis(bodies)
    things = {body.get(name, "") for body in bodies for name in ("sheet", "tool_id")} - {""}

    def behind(entry: Mapping[str, Any]) -> bool:
        field = tightening_known.FIELD.get(entry["kind"])
        return field is not None and (entry["id"] in basis or entry["body"][field]["id"] in things)

    return behind


def _behind_words(rows: Sequence[Row]) -> Test:
    """Behind a machine transcript stand the workshop's own words: what was understood is read again with them."""
    heard = any(row.entry["kind"] == "transcript_made" for row in rows)
    return lambda entry: heard and entry["kind"] == own_words.KIND


def _bodies(rows: Sequence[Row], kinds: set[str]) -> list[Mapping[str, Any]]:
    """The bodies of some kinds, and what any correction changes."""
    bodies = [row.entry["body"] for row in rows if row.entry["kind"] in kinds]
    return bodies + [row.entry["body"]["changes"] for row in rows if row.entry["kind"] == "entry_corrected"]


def _basis(bodies: Sequence[Mapping[str, Any]]) -> set[str]:
    return {entry for body in bodies for entry in body.get("basis") or ()}
