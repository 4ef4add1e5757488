"""What somebody says, as a proposal: place, quantity, value, unit, condition, disposition, and what is still missing.

A proposal is offered to a person and never recorded without a tap. Nothing is guessed: a unit that was not said stays
"", a place must be there on the engine, digits stay as they were said (88.90 is not 88.9), and what can be taken in two
ways is asked for. Shapes: Screen and Proposal in pwa/src/trade/spoken/types.ts.
"""

from __future__ import annotations

from typing import Any

from witnessmark.trade.engine.locations import place_name, places
from witnessmark.trade.ground.units import QUANTITIES, UNITS, with_unit
from witnessmark.trade.spoken.corrections import segments
from witnessmark.trade.spoken.items import items
from witnessmark.trade.spoken.merge import merged
from witnessmark.trade.spoken.points import on_screen
from witnessmark.trade.spoken.slots import slots
from witnessmark.trade.spoken.text import MOST_TOKENS, tokens
from witnessmark.trade.spoken.words import disposition_words, index

Proposal = dict[str, Any]
# So many words without a meaning, and half as many as had one, are talk; beside a figure one is enough.
_TALK = 3


def read(
    text: str, screen: dict[str, Any], engine_type: dict[str, Any] | None, own: list[dict[str, Any]] | None = None
) -> Proposal:
    """The proposal that a line of speech comes to. Never raises, whatever was said."""
    found = tokens(text)
    if len(found) > MOST_TOKENS:
        return {**_nothing(screen), "asks": ["again"], "left": [token.raw for token in found]}
    engine_places = places(engine_type) if engine_type is not None else None
    said = [
        (segment.correction, slots(segment.items, screen, engine_type, engine_places))
        for segment in segments(items(found, index(own or [])))
    ]
    whole = merged(said)
    return _proposal(whole, screen)


def _nothing(screen: dict[str, Any]) -> Proposal:
    return {
        "place": screen["place"], "place_spoken": False, "point": screen["point"],
        "quantity": screen["quantity"], "quantity_spoken": False, "value": "", "value_to": "", "unit": "",
        "conditions": [], "disposition": "", "asks": [], "maybe": [], "withdrawn": False, "left": [],
    }  # fmt: skip


def _proposal(said: Any, screen: dict[str, Any]) -> Proposal:
    result = _nothing(screen)
    result["withdrawn"] = said.withdrawn
    result["left"] = said.left
    if said.withdrawn:
        return result
    asks: list[str] = []
    if said.place_named:
        result["place"], result["place_spoken"] = said.place, True
        if said.place != screen["place"] and not said.place_from_screen:
            # Another place than the screen's: its point is not that of the screen.
            result["point"] = ""
    if said.place_from_screen:
        result["place"], result["place_spoken"] = screen["place"], False
    if said.point:
        result["point"] = on_screen(said.point, screen)
    result["conditions"], result["disposition"] = said.conditions, said.disposition
    result["value"], result["value_to"], result["unit"] = said.value, said.value_to, said.unit
    result["maybe"] = said.maybe
    _quantity(result, said, asks)
    measuring = _is_measured(screen, result, said)
    if not result["place"]:
        asks.append("place")
    if said.point_doubt:
        asks.append("point")
    if measuring:
        _asks_of_measurement(result, said, asks)
    elif not result["unit"]:
        result["value"], result["value_to"], result["maybe"] = "", "", []
    if said.condition_doubt:
        asks.append("condition")
    if said.disposition_doubt:
        asks.append("disposition")
    if said.unknown >= (1 if measuring else _TALK) and 2 * said.unknown >= said.known:
        asks.append("again")
    result["asks"] = list(dict.fromkeys(asks))
    return result


def _quantity(found: Proposal, said: Any, asks: list[str]) -> None:
    if said.quantity:
        found["quantity"], found["quantity_spoken"] = said.quantity, True
    elif said.quantity_doubt:
        found["quantity"], found["quantity_spoken"] = "", True
    elif not found["quantity"] and said.unit:
        found["quantity"] = _only_quantity(UNITS[said.unit]["kind"])


def _only_quantity(kind: str) -> str:
    """The one quantity that such a unit can be of: newton metres are a torque. A share may be of anything."""
    fitting = [code for code, one in QUANTITIES.items() if one["kind"] == kind]
    return fitting[0] if len(fitting) == 1 and kind != "share" else ""


def _is_measured(screen: dict[str, Any], found: Proposal, said: Any) -> bool:
    if screen["sort"] in ("measure", "tighten"):
        return True
    figure = bool(found["value"] or said.digits_doubt)
    asked = bool(said.quantity) or (said.quantity_doubt and not said.other_figure)
    if screen["sort"] == "finding" or not (figure or asked):
        return False
    # "Crankpin five scored", of an engine that has three, and "a crack of two inches" are no measurements.
    return bool(asked or found["quantity"]) or not (said.conditions or said.disposition)


def _asks_of_measurement(found: Proposal, said: Any, asks: list[str]) -> None:
    if not found["quantity"]:
        asks.append("quantity")
    if said.digits_doubt:
        asks.append("digits")
    elif not found["value"] or found["value_to"]:
        asks.append("value")
    kind = QUANTITIES[found["quantity"]]["kind"] if found["quantity"] in QUANTITIES else ""
    if found["unit"] and kind and UNITS[found["unit"]]["kind"] != kind:
        found["unit"] = ""
        asks.append("unit")
    elif said.unit_doubt or (not found["unit"] and kind != "number"):
        asks.append("unit")


def complete(proposal: Proposal, screen: dict[str, Any]) -> bool:
    """True when a tap can make it a record: a measurement has place, quantity, value and unit (a count has none), a
    finding a place and a condition or disposition; and nothing is left to ask."""
    if proposal["withdrawn"] or proposal["asks"] or not proposal["place"]:
        return False
    if screen["sort"] == "finding" or (screen["sort"] == "any" and not proposal["quantity"]):
        return bool(proposal["conditions"] or proposal["disposition"])
    quantity = QUANTITIES.get(proposal["quantity"])
    return bool(proposal["value"]) and quantity is not None and (bool(proposal["unit"]) or quantity["kind"] == "number")


def said(proposal: Proposal, engine_type: dict[str, Any] | None) -> str:
    """The proposal in words: "bore 3, top, thrust: 88.94 mm"; "piston 2: scuffed; replace"."""
    where = ", ".join(one for one in (place_name(engine_type, proposal["place"]), proposal["point"]) if one)
    value = proposal["value"] + (f" to {proposal['value_to']}" if proposal["value_to"] else "")
    unit = proposal["unit"]
    measured = with_unit(value, unit) if value else ""
    quantity = QUANTITIES[proposal["quantity"]]["words"] if proposal["quantity_spoken"] and proposal["quantity"] else ""
    what = [
        " ".join(one for one in (quantity, measured) if one),
        ", ".join(proposal["conditions"]),
        disposition_words(proposal["disposition"]) if proposal["disposition"] else "",
    ]
    rest = "; ".join(one for one in what if one)
    return f"{where}: {rest}" if where and rest else where or rest
