"""The gauges and limits of the invented workshop, and its measurements, each with what was known when it was made."""

from __future__ import annotations

import json
import uuid
from collections.abc import Callable, Iterator, Mapping
from datetime import datetime, timedelta
from itertools import accumulate, cycle
from pathlib import Path
from typing import Any

from witnessmark.log.rows import Row
from witnessmark.trade.measuring.known import FIELD, Known, basis_for, known
from witnessmark.trade.measuring.procedures import point_words, quantity_of
from witnessmark.trade.record.kinds import TYPED

Step = dict[str, Any]
# Seconds from one reading of a grid to the next.
_PACE = (17, 15, 21, 13, 19)
_NOTHING = {
    "gauge": {
        "serial": "", "low": "", "high": "", "repeatability": "", "certificate": "", "calibrated": "", "due": "",
        "retired": False, "notes": "",
    },
    "limit": {"low": "", "high": "", "where": [], "valid_from": "", "valid_until": "", "withdrawn": False, "note": ""},
    "size": {"unit": "", "where": [], "withdrawn": False, "note": ""},
}  # fmt: skip
_KIND = {field: kind for kind, field in FIELD.items()}


def one_by_one(entries: list[Step]) -> Iterator[Step]:
    """The steps of a job, a grid of readings turned into one step each, `after` seconds later than it began."""
    for step in entries:
        if "readings" not in step:
            yield step
            continue
        readings = [
            (code, value)
            for code, values in step["readings"].items()
            for value in (values if isinstance(values, list) else [values])
        ]
        for index, ((code, value), after) in enumerate(
            zip(readings, accumulate(cycle(_PACE), initial=0), strict=False)
        ):
            reading = {name: given for name, given in step.items() if name not in ("readings", "remark", "ref")}
            if index == 0 and "remark" in step:
                reading["remark"] = step["remark"]
            if index == len(readings) - 1 and "ref" in step:
                reading["ref"] = step["ref"]
            yield reading | {"reading": code, "value": value, "after": after}


class Measuring:
    """Gives the statements that are due, remembers them, and fills in what a phone would know when it measures."""

    def __init__(self, path: Path, engine_types: Mapping[str, Any], moment: Callable[[str], datetime], now: datetime):
        self._statements = json.loads(path.read_text(encoding="utf-8"))["said"]
        self._engine_types, self._moment, self._now = engine_types, moment, now
        self._ids: dict[tuple[Any, ...], str] = {}
        self._entries: list[dict[str, Any]] = []
        self._known: Known = known([])
        self._gauges: dict[str, str] = {}

    def due(self, until: datetime) -> Iterator[tuple[datetime, list[tuple[str, dict[str, Any]]]]]:
        """What the manager stated up to a moment and is not written yet: when, and (kind, body) of each."""
        while self._statements and self._moment(self._statements[0]["at"]) <= until:
            group = self._statements.pop(0)
            yield self._moment(group["at"]), list(self._bodies(group))

    def _bodies(self, group: dict[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
        if "rules" in group:
            yield _KIND["rules"], {"rules": group["rules"]}
        for gauge in group.get("gauges", ()):
            days = {name: self._day(gauge[name]) for name in ("calibrated", "due") if name in gauge}
            yield self._of("gauge", gauge | days, (gauge["name"],))
        for procedure in group.get("procedures", ()):
            yield _KIND["procedure"], {"procedure": procedure}
        if "engine_type" not in group:
            return
        common = {"engine_type": self._engine_types[group["engine_type"]]["id"], "source": group["source"]}
        common |= {"note": group["note"]} if "note" in group else {}
        for field, code in (("size", "code"), ("limit", "figure")):
            for statement in group.get(f"{field}s", ()):
                where = tuple(statement.get("where", ()))
                key = (group["engine_type"], statement["procedure"], statement[code], statement.get("sort", ""), where)
                yield self._of(field, common | statement, key)

    def _of(self, field: str, given: dict[str, Any], key: tuple[Any, ...]) -> tuple[str, dict[str, Any]]:
        """A later statement about the same thing keeps its identifier and so replaces the earlier one."""
        identifier = self._ids.setdefault((field, *key), str(uuid.uuid4()))
        return _KIND[field], {field: _NOTHING[field] | given | {"id": identifier}}

    def _day(self, days: int) -> str:
        return (self._now + timedelta(days=days)).date().isoformat()

    def note(self, rows: list[Row]) -> None:
        """Remembers what was written, as a phone does that has heard of it."""
        for row in rows:
            entry = row.entry
            self._entries.append({name: entry[name] for name in ("id", "kind", "body", "claimed")})
        self._known = known(self._entries)
        self._gauges = {statement.data["name"]: identifier for identifier, statement in self._known.gauges.items()}

    def body(self, step: Step, engine_type: str) -> dict[str, Any]:
        """The body of one reading, with what it is judged by as known now. `engine_type` is its identifier."""
        procedure = self._known.procedures[step["procedure"]].data
        gauge = self._gauges[step["gauge"]]
        taken = {name: step.get(name, "") for name in ("part_temperature", "gauge_temperature", "material", "remark")}
        return taken | {
            "procedure": procedure["code"],
            "edition": procedure["edition"],
            "reading": step["reading"],
            "state": step.get("state", "as_found"),
            "quantity": quantity_of(procedure, step["reading"]),
            "value": step["value"],
            "unit": step["unit"],
            "gauge": step["gauge"],
            "gauge_id": gauge,
            "basis": basis_for(self._known, engine_type, procedure["code"], step["place"], gauge),
            **TYPED,
        }

    def point(self, step: Step) -> str:
        return point_words(self._known.procedures[step["procedure"]].data, step["reading"])
