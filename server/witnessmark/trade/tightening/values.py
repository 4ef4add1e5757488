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
from witnessmark.trade.ground.units import UNITS, Reading, convert, read, to_si

# (sort of departure, its sentence)
Found = tuple[str, str]

TOOLS = {
    "click": "a click wrench",
    "dial": "a dial wrench",
    "electronic": "an electronic wrench",
    "beam": "a beam wrench",
    "angle_gauge": "an angle gauge",
}
# method of a stage -> the sorts of tool it can be done with; letting go takes any
FITS = {"torque": ("click", "dial", "electronic", "beam"), "angle": ("angle_gauge", "electronic")}
BY = {
    "torque": "by torque",
    "angle": "by angle",
    "stretch": "by stretch",
    "feel": "by feel",
    "release": "by letting go",
}
DONE = {"torque": "tightened", "angle": "turned", "release": "let go"}
STATE = {
    "dry": "dry",
    "oiled": "oiled",
    "sealant": "with sealant",
    "locking": "with locking compound",
    "new": "new",
    "used": "used before",
}
# States that exclude each other.
STATES = (("dry", "oiled", "sealant", "locking"), ("new", "used"))
REACHED = {"torque": "tightened to", "angle": "turned by", "release": "let go at"}
# A click wrench is used in this upper part of its range; ISO 6789-1 has it calibrated at 20, 60 and 100 per cent.
CLICK_FROM = Fraction(20, 100)


def wanted(stage: Mapping[str, Any]) -> str:
    """The target as it is said: `60 N·m`."""
    return f"{stage['target']} {stage['unit']}".strip()


def value_found(stage: Mapping[str, Any], label: str, body: Mapping[str, Any]) -> Found | None:
    """Over, under or not comparable. A tap says that the tool reached its target, so it is never either; a stage
    without a target takes any value."""
    if stage["target"] == "" or body["given"] == "tap":
        return None
    start = f"{stage['words']}: fastener {label} was"
    reading = _read(body["value"], body["unit"])
    if reading is None or UNITS[reading.unit]["kind"] != UNITS[stage["unit"]]["kind"]:
        typed = f"as {body['value']} {body['unit']}".rstrip() if body["value"].strip() else "without a value"
        return "other_unit", f"{start} recorded {typed}, which cannot be compared with {wanted(stage)}."
    amount = convert(reading.amount, reading.unit, stage["unit"])
    target = Fraction(stage["target"])
    low, high = target - Fraction(stage["minus"]), target + Fraction(stage["plus"])
    bare = _read(body["value"], "")
    said = body["value"].strip() if bare and bare.unit else f"{body['value'].strip()} {reading.unit}"
    if reading.unit != stage["unit"]:
        said += f" ({exact_text(amount)} {stage['unit']})"
    reached = f"{start} {REACHED[stage['method']]} {said}"
    if amount > high:
        return "over", f"{reached}, above the {exact_text(high)} {stage['unit']} allowed."
    if amount < low:
        return "under", f"{reached}, below the {exact_text(low)} {stage['unit']} asked for."
    return None


def method_found(stage: Mapping[str, Any], label: str, body: Mapping[str, Any]) -> Found | None:
    """Done by another method than the stage asks for."""
    if body["method"] == stage["method"]:
        return None
    done = f"{stage['words']}: fastener {label} was done {BY.get(body['method'], body['method'])}"
    return "wrong_tool", f"{done}; the stage asks for it {BY[stage['method']]}."


def state_found(sheet: Mapping[str, Any], stage: Mapping[str, Any], state: str) -> Found | None:
    """The thread was in another state than the sheet asks for. Dry, oiled and the like are held against each other,
    and new against used; letting go takes any."""
    asked = sheet.get("state", "")
    alike = any(asked in group and state in group for group in STATES)
    if stage["method"] == "release" or asked == state or not alike:
        return None
    return "other_state", f"{stage['words']}: the thread was {STATE[state]}; the sheet asks for it {STATE[asked]}."


def tool_found(
    stage: Mapping[str, Any], tool: Mapping[str, Any], set_value: str, claimed: str, counted: int | None = None
) -> list[Found]:
    """What is wrong with a tool for a stage: its sort, its date, its range. `set_value` is what it was set to when
    that is not the target (a crow-foot or an extension in line), `claimed` the time of the tap. `counted` is how
    many fasteners the record had counted for the tool by then, None when nobody counted."""
    words, name, found = stage["words"], tool["name"], []
    fits = FITS.get(stage["method"])
    if fits and tool["sort"] in TOOLS and tool["sort"] not in fits:
        method = "torque" if stage["method"] == "torque" else "an angle"
        found.append(("wrong_tool", f"{words}: {name} is {TOOLS[tool['sort']]}, which does not fit {method}."))
    elif fits and (reason := _outside(stage, tool, set_value)):
        found.append(("out_of_range", f"{words}: {reason}"))
    if tool["due"] and claimed[:10] > tool["due"]:
        found.append(("overdue_tool", f"{words}: the calibration of {name} was due on {tool['due']}."))
    if tool["retired"]:
        found.append(("wrong_tool", f"{words}: {name} is out of use."))
    since = 0 if counted is None else counted - tool["cycles_at_calibration"]
    if 0 < tool["cycles_most"] < since:
        said = f"{words}: since its calibration {name} had done {since} cycles; it is due after {tool['cycles_most']}."
        found.append(("overdue_count", said))
    return found


def usable(tool: Mapping[str, Any]) -> tuple[Fraction | None, Fraction | None]:
    """The ends, in the tool's unit, between which it is used: its range, of a click wrench 20 to 100 % of it."""
    low, high = described.amount(tool["low"]), described.amount(tool["high"])
    if tool["sort"] == "click" and high is not None:
        least = high * CLICK_FROM
        low = least if low is None or low < least else low
    return low, high


def tool_of(tools: Sequence[Mapping[str, Any]], body: Mapping[str, Any], claimed: str) -> dict[str, Any] | None:
    """The tool of a tap as it was described then, from descriptions {"entry", "tool", "claimed"} in the order of the
    log: the one that the tap's basis names, else the newest claimed before the tap, else the first."""
    said = [one for one in tools if body["tool_id"] and one["tool"]["id"] == body["tool_id"]]
    if not said:
        return None
    named = next((one for one in said if one["entry"] in body["basis"]), None)
    when = datetime.fromisoformat(claimed)
    before = (one for one in reversed(said) if datetime.fromisoformat(one["claimed"]) <= when)
    return (named or next(before, said[0]))["tool"]


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
    ends = [f"from {exact_text(low)}" if low is not None else "", f"to {exact_text(high)}" if high is not None else ""]
    share = ", 20 to 100 % of its range" if tool["sort"] == "click" else ""
    return (
        f"{shown} lies outside what {tool['name']} is used for, {' '.join(filter(None, ends))} {tool['unit']}{share}."
    )


def _read(value: str, unit: str) -> Reading | None:
    try:
        return read(value, unit)
    except Refusal:
        return None
