"""The torque tools and tightening sheets of the invented workshop, and its runs, each by what counted when it began."""

from __future__ import annotations

import json
import uuid
from collections.abc import Callable, Iterable, Iterator, Mapping
from datetime import datetime, timedelta
from itertools import cycle
from pathlib import Path
from typing import Any

from witnessmark.log.rows import Row
from witnessmark.trade.record.kinds import TYPED
from witnessmark.trade.tightening.known import FIELD, Known, basis_for_run, known, sheet_for

Step = dict[str, Any]
RUN = "run"  # the kind of a step that stands for many entries
# Seconds from one fastener to the next.
_PACE = (11, 9, 13, 8, 12)
_TOOL = {
    "serial": "", "low": "", "high": "", "class": "", "deviation": "", "calibrated": "", "due": "",
    "cycles_most": 5000, "cycles_at_calibration": 0, "certificate": "", "retired": False, "notes": "",
}  # fmt: skip
_SHEET = {
    "bolt": "reusable", "uses_most": 0, "length_most": "", "two_people": False, "holds": [], "withdrawn": False,
    "note": "",
}  # fmt: skip
_STAGE = {"proposed": False, "after": ""}
_BEGUN: dict[str, Any] = {"direction": "tighten", "bolts": "new", "use": 0, "remark": ""}
# The bolts of a tightening sheet are released in one stage of its own.
_LET_GO = {"target": "", "unit": "", "method": "release"}
_KIND = {field: kind for kind, field in FIELD.items()}
# The key that a part of a run is written under -> the kind of entry it makes.
_KINDS = {
    "order": "fastener_tightened",
    "answer": "departure_answered",
    "restart": "tightening_stage_restarted",
    "witness": "tightening_witnessed",
    "close": "tightening_closed",
}


def tap_by_tap(entries: Iterable[Step]) -> Iterator[Step]:
    """The steps of a job, a run turned into one step for each of its entries, `after` seconds later than it began.

    `place` becomes that of each fastener. A part of a run is {"in": stage, "order": labels} with "typed" {label: value}
    and "undo" (the reason why the last of them is taken back), or {"answer": departure}, {"restart": stage} with their
    "reason", {"witness": remark}, {"close": remark}.
    """
    joints: dict[str, str] = {}
    for step in entries:
        if step["kind"] != RUN:
            yield step
            continue
        common = {name: step[name] for name in ("at", "phone", "who", "run") if name in step}
        joint = joints.setdefault(step["run"], step.get("joint", ""))
        after, pace = 0, cycle(_PACE)
        if "joint" in step:
            begun = {name: step.get(name, usual) for name, usual in _BEGUN.items()}
            yield common | begun | {"kind": "tightening_begun", "place": _first(joint), "joint": joint}
        for part in step["parts"]:
            kind = next(_KINDS[name] for name in _KINDS if name in part)
            for label in part.get("order", "").split() or [""]:
                after += next(pace)
                where = f"{joint}/{label}" if label else _first(joint)
                fastener = common | {"kind": kind, "place": where, "after": after, "label": label, "part": part}
                fastener["ref"] = f"{step['run']}/{part.get('in', '')}/{label}"
                yield fastener
            if "undo" in part:
                after += next(pace)
                undone = {"kind": "entry_withdrawn", "corrects": fastener["ref"], "reason": part["undo"]}
                yield common | undone | {"after": after}


def _first(joint: str) -> str:
    return f"{joint}/1"


class Tightening:
    """Gives the statements that are due, remembers them, and fills in what a phone would know at the joint."""

    def __init__(self, path: Path, engine_types: Mapping[str, Any], moment: Callable[[str], datetime], now: datetime):
        self._statements = json.loads(path.read_text(encoding="utf-8"))["said"]
        self._engine_types, self._moment, self._now = engine_types, moment, now
        self._ids: dict[tuple[str, ...], str] = {}
        self._entries: list[dict[str, Any]] = []
        self._known: Known = known([])
        self._tools: dict[str, str] = {}
        self._runs: dict[str, tuple[str, dict[str, Any]]] = {}

    def due(self, until: datetime) -> Iterator[tuple[datetime, list[tuple[str, dict[str, Any]]]]]:
        """What the manager stated up to a moment and is not written yet: when, and (kind, body) of each."""
        while self._statements and self._moment(self._statements[0]["at"]) <= until:
            group = self._statements.pop(0)
            yield self._moment(group["at"]), list(self._bodies(group))

    def _bodies(self, group: dict[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
        for tool in group.get("tools", ()):
            days = {name: self._day(tool[name]) for name in ("calibrated", "due") if name in tool}
            yield self._of("tool", _TOOL | tool | days, (tool["name"],))
        for given in group.get("sheets", ()):
            sheet = {name: value for name, value in given.items() if name != "order"}
            order = given["order"].split()
            stages = [_STAGE | {"order": order} | stage for stage in given["stages"]]
            common = {"engine_type": self._engine_types[group["engine_type"]]["id"], "source": group["source"]}
            yield self._of("sheet", _SHEET | common | sheet | {"stages": stages}, (group["engine_type"], given["name"]))

    def _of(self, field: str, what: dict[str, Any], key: tuple[str, ...]) -> tuple[str, dict[str, Any]]:
        """A later statement about the same thing keeps its identifier and so replaces the earlier one."""
        identifier = self._ids.setdefault((field, *key), str(uuid.uuid4()))
        return _KIND[field], {field: what | {"id": identifier}}

    def _day(self, days: int) -> str:
        return (self._now + timedelta(days=days)).date().isoformat()

    def note(self, rows: list[Row]) -> None:
        """Remembers what was written, as a phone does that has heard of it."""
        for row in rows:
            self._entries.append({name: row.entry[name] for name in ("id", "kind", "body", "claimed")})
        self._known = known(self._entries)
        self._tools = {statement.data["name"]: identifier for identifier, statement in self._known.tools.items()}

    def body(self, step: Step, engine_type: str) -> dict[str, Any]:
        """The body of one entry of a run. `engine_type` is its identifier."""
        if step["kind"] == "tightening_begun":
            return self._begin(step, engine_type)
        run, sheet = self._runs[step["run"]]
        part = step["part"]
        if step["kind"] == "fastener_tightened":
            return self._tap(run, sheet, part, step["label"])
        if step["kind"] == "departure_answered":
            return {"run": run, "departure": part["answer"], "reason": part["reason"]}
        if step["kind"] == "tightening_stage_restarted":
            return {"run": run, "stage": part["restart"], "reason": part["reason"]}
        return {"run": run, "remark": part.get("witness", part.get("close", ""))}

    def _begin(self, step: Step, engine_type: str) -> dict[str, Any]:
        statement = sheet_for(self._known, engine_type, step["joint"], step["direction"])
        if statement is None:
            raise RuntimeError(f"The demo's story has no tightening sheet for {step['joint']}.")
        run, sheet = str(uuid.uuid4()), statement.data
        self._runs[step["run"]] = run, sheet
        begun = {name: step[name] for name in ("joint", *_BEGUN)}
        return begun | {"run": run, "sheet": sheet["id"], "basis": basis_for_run(self._known, sheet["id"])}

    def _tap(self, run: str, sheet: dict[str, Any], part: Step, label: str) -> dict[str, Any]:
        stage = next((stage for stage in sheet["stages"] if stage["code"] == part["in"]), _LET_GO)
        typed, tool = part.get("typed", {}).get(label), part.get("tool", "")
        return {
            "fastener": label,
            "value": typed or stage["target"],
            "unit": part.get("unit", stage["unit"]),
            "method": stage["method"],
            "tool": tool,
            "state": part.get("state", sheet["state"]),
            "remark": part.get("remark", ""),
            "run": run,
            "stage": part["in"],
            "given": "typed" if typed else "tap",
            "tool_id": self._tools.get(tool, ""),
            "set_value": "",
            "basis": basis_for_run(self._known, sheet["id"], self._tools.get(tool, "")),
            **TYPED,
        }
