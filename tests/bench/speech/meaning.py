"""Whether a proposal says what a line means: all of it, some of it, or something else."""

from __future__ import annotations

from typing import Any

from tests.bench.speech.lines import Said
from witnessmark.trade.ground.tables import table
from witnessmark.trade.spoken import parse as spoken

ENGINES = {one["name"]: one for one in table("invented_engine_types")["engine_types"]}


def proposal(text: str, line: Said) -> dict[str, Any]:
    return spoken.read(text, line.screen(), ENGINES[line.engine])


def right(found: dict[str, Any], line: Said) -> bool:
    """Every slot of the line, and nothing beside: place, point, quantity, value and unit, or place, conditions and
    disposition."""
    if line.sort == "measure":
        wanted = {**line.means, "value_to": "", "conditions": [], "disposition": "", "withdrawn": False}
    else:
        wanted = {"point": "", **line.means, "value": "", "value_to": "", "withdrawn": False}
    told = {**found, "conditions": sorted(found["conditions"])}
    return all(told[slot] == (sorted(value) if slot == "conditions" else value) for slot, value in wanted.items())


def complete(found: dict[str, Any], line: Said) -> bool:
    return spoken.complete(found, line.screen())
