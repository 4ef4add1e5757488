"""What the workshop states about gauges, limits, procedures, sheets, tools …: checked, then written at the desk."""

from __future__ import annotations

import uuid
from collections.abc import Callable, Sequence
from typing import Any

from sqlalchemy import Connection

from witnessmark.config import Settings
from witnessmark.projections import engine_types, measuring
from witnessmark.sync import desk
from witnessmark.trade.ground.errors import Fault, Refusal
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.measuring import gauges, limits, procedures
from witnessmark.trade.measuring import rules as measuring_rules
from witnessmark.trade.measuring.known import FIELD
from witnessmark.trade.measuring.limit_subjects import limit_faults, size_faults
from witnessmark.trade.tightening import known as tightening_known
from witnessmark.trade.tightening import sheets as tightening_sheets
from witnessmark.trade.tightening import tools as torque_tools
from witnessmark.trade.tightening.beyond_tools import beyond_tools

_CHECKS: dict[str, Callable[[Any], Sequence[Fault]]] = {
    "gauge_described": gauges.check,
    "limit_set": limits.check,
    "size_set": limits.check_size,
    "procedure_described": procedures.check,
    "measuring_rules_set": measuring_rules.check,
    "torque_tool_described": torque_tools.check,
}
_SUBJECTS = {"limit_set": limit_faults, "size_set": size_faults}
_FIELD = FIELD | tightening_known.FIELD

_WITH_ID = ("gauge_described", "limit_set", "size_set", *tightening_known.FIELD)
_NO_ENGINE_TYPE = Fault("engine_type", say("server.engine_types.unknown"))


def describe(
    conn: Connection, settings: Settings, workshop: str, author: str, kind: str, what: dict[str, Any]
) -> dict[str, Any]:
    """Writes one statement; returns it as `measuring.statements` gives it. Requires a connection from `db.writing`.

    A new gauge, limit, size, sheet or tool comes with the id "" and is given one. What is stated already is not written
    again. Raises Refusal with the first fault, `where` under the statement's field: `limit.high`.
    """
    if kind in _WITH_ID and what.get("id") == "":
        what = what | {"id": str(uuid.uuid4())}
    _refuse(kind, _faults(conn, workshop, kind, what))
    subject = measuring.subject(kind, what)
    before = measuring.statements(conn, workshop, kind, subject)
    if not before or before[-1]["what"] != what:
        desk.write(conn, settings, author, kind, body={_FIELD[kind]: what})
    return measuring.statements(conn, workshop, kind, subject)[-1]


def faults(conn: Connection, workshop: str, kind: str, what: dict[str, Any]) -> Sequence[Fault]:
    """Everything that `describe` would refuse in a statement, none when it would write it. Writes nothing."""
    if kind in _WITH_ID and what.get("id") == "":
        what = what | {"id": str(uuid.uuid4())}
    return _faults(conn, workshop, kind, what)


def _faults(conn: Connection, workshop: str, kind: str, what: dict[str, Any]) -> Sequence[Fault]:
    if kind == "tightening_sheet_described":
        faults = sheet_faults(conn, workshop, what)
    else:
        faults = _CHECKS[kind](what)
        if not faults and kind in _SUBJECTS:
            faults = _subject_faults(conn, workshop, kind, what)
    if faults:
        return faults
    before = measuring.statements(conn, workshop, kind, measuring.subject(kind, what))
    newest = before[-1]["what"] if before else None
    return [] if newest is None or newest == what else _faults_after(kind, newest, what)


def sheet_faults(conn: Connection, workshop: str, sheet: dict[str, Any]) -> Sequence[Fault]:
    """All faults of a tightening sheet: by itself, for its engine type, for its thread, for the tools there are."""
    named = sheet.get("engine_type")
    known = engine_types.usable(conn, workshop, [named]) if type(named) is str else {}
    if result := tightening_sheets.check(sheet, known.get(named)):
        return result
    if named not in known:
        return [_NO_ENGINE_TYPE]
    tools = measuring.known_tightening(conn, workshop).tools.values()
    return beyond_tools(sheet, (tool.data for tool in tools))


def _subject_faults(conn: Connection, workshop: str, kind: str, what: dict) -> list[Fault]:
    """A limit or size is for an engine type that is described here, and for what its procedure has."""
    if not engine_types.named(conn, workshop, [what["engine_type"]]):
        return [_NO_ENGINE_TYPE]
    procedure = measuring.known(conn, workshop).procedures.get(what["procedure"])
    if procedure is None:
        return [Fault("procedure", say("server.procedures.none_called", code=repr(what["procedure"])))]
    return _SUBJECTS[kind](what, procedure.data)


def _faults_after(kind: str, newest: dict, what: dict) -> list[Fault]:
    """What a statement must not change in the one it replaces."""
    if kind == "procedure_described" and what["edition"] <= newest["edition"]:
        reason = say(
            "server.procedures.edition_taken",
            edition=newest["edition"],
            name=newest["name"],
            next=newest["edition"] + 1,
        )
        return [Fault("edition", reason)]
    fixed = {
        "limit_set": ("engine_type", "procedure", "figure"),
        "size_set": ("engine_type", "procedure", "code"),
        "tightening_sheet_described": ("engine_type",),
    }
    for name in fixed.get(kind, ()):
        if what[name] != newest[name]:
            return [Fault(name, say("server.registers.another"))]
    return []


def _refuse(kind: str, faults: Sequence[Fault]) -> None:
    if faults:
        first, more = faults[0], len(faults) - 1
        message = say("server.registers.more_faults", first=first.message, count=more) if more else first.message
        field = _FIELD[kind]
        where = first.where if first.where == field else f"{field}.{first.where}"
        raise Refusal(f"faulty_{field}", where, message)
