"""Whether a limit or a size speaks of something its procedure has, in a unit that fits it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from witnessmark.trade.ground.errors import Fault
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.ground.units import QUANTITIES, UNITS


def limit_faults(limit: Mapping[str, Any], procedure: Mapping[str, Any]) -> list[Fault]:
    """Faults of a sound limit against its procedure: the figure must be there, the unit of the figure's kind."""
    line = next((figure for figure in procedure["figures"] if figure["code"] == limit["figure"]), None)
    if line is None:
        known = ", ".join(figure["code"] for figure in procedure["figures"])
        return [
            Fault(
                "figure",
                say("trade.measuring.no_such_figure", procedure=procedure["name"], figure=limit["figure"], known=known),
            )
        ]
    return _unit_faults(line["words"], line["kind"], limit["unit"])


def size_faults(size: Mapping[str, Any], procedure: Mapping[str, Any]) -> list[Fault]:
    """Faults of a sound size against its procedure: asked for there, as many values, the unit fits."""
    wanted = next((entry for entry in procedure["sizes"] if entry["code"] == size["code"]), None)
    if wanted is None:
        known = ", ".join(size["code"] for size in procedure["sizes"]) or say("trade.measuring.none")
        return [
            Fault(
                "code", say("trade.measuring.no_such_size", procedure=procedure["name"], size=size["code"], known=known)
            )
        ]
    if not wanted["many"] and len(size["values"]) > 1:
        return [Fault("values", say("trade.measuring.size_is_single", size=wanted["words"].capitalize()))]
    if wanted["quantity"] == "":
        return []
    return _unit_faults(wanted["words"], QUANTITIES[wanted["quantity"]]["kind"], size["unit"])


def _unit_faults(words: str, kind: str, unit: str) -> list[Fault]:
    if UNITS[unit]["kind"] == kind:
        return []
    units = ", ".join(code or say("trade.measuring.no_unit") for code, unit in UNITS.items() if unit["kind"] == kind)
    return [
        Fault(
            "unit",
            say(
                "trade.measuring.unit_of_other_kind",
                what=words.capitalize(),
                unit=unit or say("trade.measuring.plain_numbers"),
                units=units,
            ),
        )
    ]
