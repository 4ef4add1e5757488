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
    read_tokens = tokens(text)
    if len(read_tokens) > MOST_TOKENS:
        return {**_nothing(screen), "asks": ["again"], "left": [token.raw for token in read_tokens]}
    engine_places = places(engine_type) if engine_type is not None else None
    segments_read = [
        (segment.correction, slots(segment.items, screen, engine_type, engine_places))
        for segment in segments(items(read_tokens, index(own or [])))
    ]
    whole = merged(segments_read)
    return _proposal(whole, screen)


def _nothing(screen: dict[str, Any]) -> Proposal:
    return {
        "place": screen["place"], "place_spoken": False, "point": screen["point"],
        "quantity": screen["quantity"], "quantity_spoken": False, "value": "", "value_to": "", "unit": "",
        "conditions": [], "disposition": "", "asks": [], "maybe": [], "withdrawn": False, "left": [],
    }  # fmt: skip


def _proposal(slots: Any, screen: dict[str, Any]) -> Proposal:
    result = _nothing(screen)
    result["withdrawn"] = slots.withdrawn
    result["left"] = slots.left
    if slots.withdrawn:
        return result
    asks: list[str] = []
    if slots.place_named:
        result["place"], result["place_spoken"] = slots.place, True
        if slots.place != screen["place"] and not slots.place_from_screen:
            # Another place than the screen's: its point is not that of the screen.
            result["point"] = ""
    if slots.place_from_screen:
        result["place"], result["place_spoken"] = screen["place"], False
    if slots.point:
        result["point"] = on_screen(slots.point, screen)
    result["conditions"], result["disposition"] = slots.conditions, slots.disposition
    result["value"], result["value_to"], result["unit"] = slots.value, slots.value_to, slots.unit
    result["maybe"] = slots.maybe
    _quantity(result, slots, asks)
    measuring = _is_measured(screen, result, slots)
    if not result["place"]:
        asks.append("place")
    if slots.point_doubt:
        asks.append("point")
    if measuring:
        _asks_of_measurement(result, slots, asks)
    elif not result["unit"]:
        result["value"], result["value_to"], result["maybe"] = "", "", []
    if slots.condition_doubt:
        asks.append("condition")
    if slots.disposition_doubt:
        asks.append("disposition")
    if slots.unknown >= (1 if measuring else _TALK) and 2 * slots.unknown >= slots.known:
        asks.append("again")
    result["asks"] = list(dict.fromkeys(asks))
    return result


def _quantity(proposal: Proposal, slots: Any, asks: list[str]) -> None:
    if slots.quantity:
        proposal["quantity"], proposal["quantity_spoken"] = slots.quantity, True
    elif slots.quantity_doubt:
        proposal["quantity"], proposal["quantity_spoken"] = "", True
    elif not proposal["quantity"] and slots.unit:
        proposal["quantity"] = _only_quantity(UNITS[slots.unit]["kind"])


def _only_quantity(kind: str) -> str:
    """The one quantity that such a unit can be of: newton metres are a torque. A share may be of anything."""
    fitting = [code for code, quantity in QUANTITIES.items() if quantity["kind"] == kind]
    return fitting[0] if len(fitting) == 1 and kind != "share" else ""


def _is_measured(screen: dict[str, Any], proposal: Proposal, slots: Any) -> bool:
    if screen["sort"] in ("measure", "tighten"):
        return True
    figure = bool(proposal["value"] or slots.digits_doubt)
    measured = bool(slots.quantity) or (slots.quantity_doubt and not slots.other_figure)
    if screen["sort"] == "finding" or not (figure or measured):
        return False
    # "Crankpin five scored", of an engine that has three, and "a crack of two inches" are no measurements.
    return bool(measured or proposal["quantity"]) or not (slots.conditions or slots.disposition)


def _asks_of_measurement(proposal: Proposal, slots: Any, asks: list[str]) -> None:
    if not proposal["quantity"]:
        asks.append("quantity")
    if slots.digits_doubt:
        asks.append("digits")
    elif not proposal["value"] or proposal["value_to"]:
        asks.append("value")
    kind = QUANTITIES[proposal["quantity"]]["kind"] if proposal["quantity"] in QUANTITIES else ""
    if proposal["unit"] and kind and UNITS[proposal["unit"]]["kind"] != kind:
        proposal["unit"] = ""
        asks.append("unit")
    elif slots.unit_doubt or (not proposal["unit"] and kind != "number"):
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


def in_words(proposal: Proposal, engine_type: dict[str, Any] | None) -> str:
    """The proposal in words: "bore 3, top, thrust: 88.94 mm"; "piston 2: scuffed; replace"."""
    where = ", ".join(words for words in (place_name(engine_type, proposal["place"]), proposal["point"]) if words)
    value = proposal["value"] + (f" to {proposal['value_to']}" if proposal["value_to"] else "")
    unit = proposal["unit"]
    measured = with_unit(value, unit) if value else ""
    quantity = QUANTITIES[proposal["quantity"]]["words"] if proposal["quantity_spoken"] and proposal["quantity"] else ""
    what = [
        " ".join(words for words in (quantity, measured) if words),
        ", ".join(proposal["conditions"]),
        disposition_words(proposal["disposition"]) if proposal["disposition"] else "",
    ]
    rest = "; ".join(words for words in what if words)
    return f"{where}: {rest}" if where and rest else where or rest
