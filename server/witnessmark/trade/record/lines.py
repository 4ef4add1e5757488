"""The line that stands for an entry in the timeline: a title and a text in the words of the trade.

The patterns are in kinds.json. {name} is filled in, [a part in brackets] is left out when something named in it is
empty: "Photograph[: {place}[, {point}]]" gives "Photograph: bore 3, top".
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from functools import cache
from typing import Any

from witnessmark.trade.engine.locations import place_name
from witnessmark.trade.engine.stages import item_words, stage_words
from witnessmark.trade.engine.types import FASTENER_PARTS
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.ground.tables import table
from witnessmark.trade.measuring import procedure_words
from witnessmark.trade.record import own_words, statements
from witnessmark.trade.record.kinds import KINDS
from witnessmark.trade.tightening import words as tightening_words

STATEMENTS = ("gauge", "limit", "size", "procedure", "measuring_rules", "tightening_sheet", "torque_tool")
QUANTITY_WORDS: dict[str, str] = {quantity["code"]: quantity["words"] for quantity in table("quantities")["quantities"]}

_tokens = re.compile(r"\{([a-z0-9_]+)\}|([\[\]])|([^\[\]{}]+)")


def line(entry: Mapping[str, Any], engine_type: dict[str, Any] | None = None) -> dict[str, str]:
    """{"title", "text"} of an entry; with the engine type its places are named as this engine names them."""
    kind = KINDS.get(entry["kind"])
    if kind is None:
        return {"title": _capital(str(entry["kind"]).replace("_", " ")), "text": ""}

    values: dict[str, str] = {}

    def fill(name: str) -> str:
        if name not in values:
            values[name] = _value(name, entry, engine_type)
        return values[name]

    title, text = (_render(_pattern(kind.line[part]), fill).strip() for part in ("title", "text"))
    return {"title": _capital(title), "text": text}


@cache
def _pattern(text: str) -> tuple[Any, ...]:
    """Nested tuples: text stays text, {name} becomes ("fill", name), [...] becomes ("part", (...), its names)."""
    stack: list[list[Any]] = [[]]
    for name, bracket, plain in _tokens.findall(text):
        if name:
            stack[-1].append(("fill", name))
        elif bracket == "[":
            stack.append([])
        elif bracket == "]":
            inner = tuple(stack.pop())
            names = tuple(piece[1] for piece in inner if isinstance(piece, tuple) and piece[0] == "fill")
            stack[-1].append(("part", inner, names))
        else:
            stack[-1].append(plain)
    return tuple(stack[0])


def _render(pattern: tuple[Any, ...], fill: Callable[[str], str]) -> str:
    out = ""
    for piece in pattern:
        if isinstance(piece, str):
            # What somebody wrote may end its own sentence already.
            out += piece[1:] if piece.startswith(".") and out.endswith((".", "!", "?")) else piece
        elif piece[0] == "fill":
            out += fill(piece[1])
        elif all(map(fill, piece[2])):
            out += _render(piece[1], fill)
    return out


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _value(name: str, entry: Mapping[str, Any], engine_type: dict[str, Any] | None) -> str:
    body, location = entry["body"], entry["location"]
    if name in ("place", "point"):
        return _of_location(location, name, engine_type)
    if name in ("new_place", "new_point"):
        return _of_location(body.get("location"), name.removeprefix("new_"), engine_type)
    if name == "fastener_there":
        return _fastener_there(body, location, engine_type)
    if name == "joint_there":
        return _joint_there(body, location, engine_type)
    if name == "bolts_there":
        return tightening_words.bolts_words(body["bolts"], body["use"])
    if name == "departure_there":
        return tightening_words.departure_words(body["departure"])
    if name == "new":
        facts = body.get("changes", {})
        return "; ".join(
            say("trade.record.line.new_fact", name=_spaced(key), value=facts[key])
            for key in sorted(facts)
            if _readable(key, facts[key])
        )
    if name == "stands_for":
        return own_words.stands_for(body["means"])
    if name == "measured_as":
        return _measured_as(entry)
    if name == "state_there":
        return _state_there(entry)
    if name == "told":
        return " ".join(statements.details(_spec(entry, field)["is"], what) for field, what in body.items())
    value = body.get(name)
    if name == "quantity":
        return QUANTITY_WORDS.get(value, value)
    if name == "item":
        return item_words(body.get("stage", ""), value)
    return _in_words(_spec(entry, name), value)


def _spec(entry: Mapping[str, Any], field: str) -> Mapping[str, Any]:
    return KINDS[entry["kind"]].versions[entry["version"]]["body"].get(field, {"is": ""})


def _in_words(spec: Mapping[str, Any], value: Any) -> str:
    sort = spec["is"]
    if value is None:
        return ""
    if sort == "choice":
        return spec["of"].get(value, value)
    if sort == "yes_no":
        return spec["yes"] if value else spec["no"]
    if sort == "stage":
        return stage_words(value)
    if sort == "texts":
        return ", ".join(value)
    if sort == "engine_type":
        return str(value.get("name", ""))
    if sort in STATEMENTS:
        return statements.named(sort, value)
    if sort in ("changes", "job_changes"):
        return ", ".join(_spaced(name) for name in sorted(value))
    return str(value)


def _of_location(location: Any, name: str, engine_type: dict[str, Any] | None) -> str:
    if not location:
        return ""
    return location["point"] if name == "point" else place_name(engine_type, location["place"])


def _fastener_there(body: Mapping[str, Any], location: Any, engine_type: dict[str, Any] | None) -> str:
    fastener = body.get("fastener", "")
    if not location:
        return say("trade.record.line.fastener", fastener=fastener)
    where = place_name(engine_type, location["place"])
    # The place may be the fastener itself: then its number is said once.
    if location["place"].split("/")[0] in FASTENER_PARTS:
        return where
    return say("trade.record.line.fastener_at", place=where, fastener=fastener)


def _joint_there(body: Mapping[str, Any], location: Any, engine_type: dict[str, Any] | None) -> str:
    """The joint that was named, or the one that the place is a fastener of."""
    place = location["place"] if location else ""
    of_place = place.rpartition("/")[0] if place.split("/")[0] in FASTENER_PARTS else place
    return tightening_words.joint_name(engine_type, body.get("joint", of_place))


def _measured_as(entry: Mapping[str, Any]) -> str:
    """ "Cylinder bore, as found": the procedure that asked for a reading and the state of the engine."""
    state = _in_words(_spec(entry, "state"), entry["body"].get("state"))
    procedure = entry["body"].get("procedure")
    if not procedure:
        return _capital(state)
    return say("trade.record.line.measured_as", procedure=procedure_words.procedure_name(procedure), state=state)


def _state_there(entry: Mapping[str, Any]) -> str:
    """ "Thread oiled", "Bolt used before": what the state of a fastener is said of."""
    state = _in_words(_spec(entry, "state"), entry["body"].get("state"))
    if not state:
        return ""
    if entry["body"]["state"] in ("new", "used"):
        return say("trade.record.line.bolt_state", state=state)
    return say("trade.record.line.thread_state", state=state)


def _readable(name: str, value: Any) -> bool:
    return type(value) is str and value != "" and name not in ("engine_type", "earlier_job", "gauge_id", "spoken")


def _spaced(name: str) -> str:
    return name.replace("_", " ")
