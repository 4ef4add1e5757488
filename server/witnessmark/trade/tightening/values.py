"""What was recorded of one fastener, held against what its stage asks for, and whether the tool fits.

Everything is compared as exact fractions in SI. Nothing is refused here: each answer is a sort of departure with its
sentence, or None. A torque tool is the plain data of `trade/tightening/tools.py`.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from fractions import Fraction
from typing import Any

from witnessmark.trade.ground import described
from witnessmark.trade.ground.amounts import exact_text, in_unit
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.ground.units import UNITS, Reading, convert, read, to_si

# (sort of departure, its sentence)
Objection = tuple[str, str]

TOOLS = {
    "click": say("trade.tightening.tool.click"),
    "dial": say("trade.tightening.tool.dial"),
    "electronic": say("trade.tightening.tool.electronic"),
    "beam": say("trade.tightening.tool.beam"),
    "angle_gauge": say("trade.tightening.tool.angle_gauge"),
}
# method of a stage -> the sorts of tool it can be done with; letting go takes any
FITS = {"torque": ("click", "dial", "electronic", "beam"), "angle": ("angle_gauge", "electronic")}
BY = {
    "torque": say("trade.tightening.by.torque"),
    "angle": say("trade.tightening.by.angle"),
    "stretch": say("trade.tightening.by.stretch"),
    "feel": say("trade.tightening.by.feel"),
    "release": say("trade.tightening.by.release"),
}
STATE = {
    "dry": say("trade.tightening.state.dry"),
    "oiled": say("trade.tightening.state.oiled"),
    "sealant": say("trade.tightening.state.sealant"),
    "locking": say("trade.tightening.state.locking"),
    "new": say("trade.tightening.state.new"),
    "used": say("trade.tightening.state.used"),
}
# States that exclude each other.
STATES = (("dry", "oiled", "sealant", "locking"), ("new", "used"))
# Sentences by the method of the stage.
AGAIN = {
    "torque": "trade.tightening.again.torque",
    "angle": "trade.tightening.again.angle",
    "release": "trade.tightening.again.release",
}
OUT_OF_TURN = {
    "torque": "trade.tightening.out_of_turn.torque",
    "angle": "trade.tightening.out_of_turn.angle",
    "release": "trade.tightening.out_of_turn.release",
}
STILL_TO_BE = {
    "torque": "trade.tightening.still_to_be.torque",
    "angle": "trade.tightening.still_to_be.angle",
    "release": "trade.tightening.still_to_be.release",
}
_ABOVE = {
    "torque": "trade.tightening.above.torque",
    "angle": "trade.tightening.above.angle",
    "release": "trade.tightening.above.release",
}
_BELOW = {
    "torque": "trade.tightening.below.torque",
    "angle": "trade.tightening.below.angle",
    "release": "trade.tightening.below.release",
}
# A click wrench is used in this upper part of its range; ISO 6789-1 has it calibrated at 20, 60 and 100 per cent.
CLICK_FROM = Fraction(20, 100)


def wanted(stage: Mapping[str, Any]) -> str:
    """The target as it is said: `60 N·m`."""
    return f"{stage['target']} {stage['unit']}".strip()


def value_objection(stage: Mapping[str, Any], label: str, body: Mapping[str, Any]) -> Objection | None:
    """Over, under or not comparable. A tap says that the tool reached its target, so it is never either; a stage
    without a target takes any value."""
    if stage["target"] == "" or body["given"] == "tap":
        return None
    about = {"stage": stage["words"], "fastener": label}
    reading = _read(body["value"], body["unit"])
    if reading is None or UNITS[reading.unit]["kind"] != UNITS[stage["unit"]]["kind"]:
        if body["value"].strip():
            typed = f"{body['value']} {body['unit']}".rstrip()
            words = say("trade.tightening.value_not_comparable", **about, value=typed, target=wanted(stage))
        else:
            words = say("trade.tightening.value_missing", **about, target=wanted(stage))
        return "other_unit", words
    amount = convert(reading.amount, reading.unit, stage["unit"])
    target = Fraction(stage["target"])
    low, high = target - Fraction(stage["minus"]), target + Fraction(stage["plus"])
    bare = _read(body["value"], "")
    value = body["value"].strip() if bare and bare.unit else f"{body['value'].strip()} {reading.unit}"
    if reading.unit != stage["unit"]:
        value += f" ({exact_text(amount)} {stage['unit']})"
    about |= {"value": value, "unit": stage["unit"]}
    if amount > high:
        return "over", say(_ABOVE[stage["method"]], **about, limit=exact_text(high))
    if amount < low:
        return "under", say(_BELOW[stage["method"]], **about, limit=exact_text(low))
    return None


def method_objection(stage: Mapping[str, Any], label: str, body: Mapping[str, Any]) -> Objection | None:
    """Done by another method than the stage asks for."""
    if body["method"] == stage["method"]:
        return None
    about = {"stage": stage["words"], "fastener": label, "done": BY.get(body["method"], body["method"])}
    return "wrong_tool", say("trade.tightening.other_method", **about, wanted=BY[stage["method"]])


def state_objection(sheet: Mapping[str, Any], stage: Mapping[str, Any], state: str) -> Objection | None:
    """The thread was in another state than the sheet asks for. Dry, oiled and the like are held against each other,
    and new against used; letting go takes any."""
    sheet_state = sheet.get("state", "")
    alike = any(sheet_state in group and state in group for group in STATES)
    if stage["method"] == "release" or sheet_state == state or not alike:
        return None
    about = {"stage": stage["words"], "state": STATE[state], "wanted": STATE[sheet_state]}
    return "other_state", say("trade.tightening.other_state", **about)


def tool_objections(
    stage: Mapping[str, Any], tool: Mapping[str, Any], set_value: str, claimed: str, counted: int | None = None
) -> list[Objection]:
    """What is wrong with a tool for a stage: its sort, its date, its range. `set_value` is what it was set to when
    that is not the target (a crow-foot or an extension in line), `claimed` the time of the tap. `counted` is how
    many fasteners the record had counted for the tool by then, None when nobody counted."""
    words, name, result = stage["words"], tool["name"], []
    fits = FITS.get(stage["method"])
    if fits and tool["sort"] in TOOLS and tool["sort"] not in fits:
        about = {"stage": words, "tool": name, "sort": TOOLS[tool["sort"]]}
        unfit = (
            say("trade.tightening.not_for_torque", **about)
            if stage["method"] == "torque"
            else say("trade.tightening.not_for_angle", **about)
        )
        result.append(("wrong_tool", unfit))
    elif fits and (reason := _outside(stage, tool, set_value)):
        result.append(("out_of_range", reason))
    if tool["due"] and claimed[:10] > tool["due"]:
        result.append(("overdue_tool", say("trade.tightening.was_due", stage=words, tool=name, day=tool["due"])))
    if tool["retired"]:
        result.append(("wrong_tool", say("trade.tightening.tool_out_of_use", stage=words, tool=name)))
    since = 0 if counted is None else counted - tool["cycles_at_calibration"]
    if 0 < tool["cycles_most"] < since:
        about = {"stage": words, "tool": name, "done": since, "most": tool["cycles_most"]}
        result.append(("overdue_count", say("trade.tightening.was_due_by_count", **about)))
    return result


def usable(tool: Mapping[str, Any]) -> tuple[Fraction | None, Fraction | None]:
    """The ends, in the tool's unit, between which it is used: its range, of a click wrench 20 to 100 % of it."""
    low, high = described.amount(tool["low"]), described.amount(tool["high"])
    if tool["sort"] == "click" and high is not None:
        least = high * CLICK_FROM
        low = least if low is None or low < least else low
    return low, high


def range_words(tool: Mapping[str, Any]) -> str:
    """The ends between which a tool is used, in words; it has one at least."""
    low, high = usable(tool)
    if low is None:
        return say("trade.tightening.range.high", high=exact_text(high), unit=tool["unit"])
    if high is None:
        return say("trade.tightening.range.low", low=exact_text(low), unit=tool["unit"])
    return say("trade.tightening.range.both", low=exact_text(low), high=exact_text(high), unit=tool["unit"])


def tool_of(tools: Sequence[Mapping[str, Any]], body: Mapping[str, Any], claimed: str) -> dict[str, Any] | None:
    """The tool of a tap as it was described then, from descriptions {"entry", "tool", "claimed"} in the order of the
    log: the one that the tap's basis names, else the newest claimed before the tap, else the first."""
    editions = [tool for tool in tools if body["tool_id"] and tool["tool"]["id"] == body["tool_id"]]
    if not editions:
        return None
    named = next((edition for edition in editions if edition["entry"] in body["basis"]), None)
    when = datetime.fromisoformat(claimed)
    before = (edition for edition in reversed(editions) if datetime.fromisoformat(edition["claimed"]) <= when)
    return (named or next(before, editions[0]))["tool"]


def _outside(stage: Mapping[str, Any], tool: Mapping[str, Any], set_value: str) -> str:
    target = _read(stage["target"], stage["unit"])
    typed = _read(set_value, "") if set_value else None
    reading = Reading(typed.text, typed.amount, typed.unit or stage["unit"], typed.places) if typed else target
    if reading is None or UNITS[reading.unit]["kind"] != UNITS[tool["unit"]]["kind"]:
        return ""
    low, high = usable(tool)
    amount = convert(reading.amount, reading.unit, tool["unit"])
    if (low is None or low <= amount) and (high is None or amount <= high):
        return ""
    shown = in_unit(to_si(reading.amount, reading.unit), reading.unit)
    about = {"stage": stage["words"], "value": shown, "tool": tool["name"], "range": range_words(tool)}
    if tool["sort"] == "click":
        return say("trade.tightening.stage_beyond_click", **about)
    return say("trade.tightening.stage_beyond_tool", **about)


def _read(value: str, unit: str) -> Reading | None:
    try:
        return read(value, unit)
    except Refusal:
        return None
