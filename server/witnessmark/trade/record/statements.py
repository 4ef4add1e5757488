"""The workshop's own statements in words: gauges, limits, procedures, tightening sheets …, as their lines say them.

Everything here is read from the statement alone, so that a line reads the same wherever it stands; a procedure of the
workshop's own is called by its code, since its name may have changed since.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import prod
from typing import Any

from witnessmark.trade.measuring.procedure_words import spaced, subject
from witnessmark.trade.tightening.departures import times
from witnessmark.trade.tightening.words import joint_words

SORTS = {"new": "new", "service": "service", "machining": "machining"}
RULES = {
    "guarded": "guarded by the whole uncertainty",
    "guarded_95": "guarded, 95 % sure",
    "simple": "simple, uncertainty not counted",
}


def named(sort: str, what: Mapping[str, Any]) -> str:
    """What a statement is about, for the title of its line. `sort` is the sort of its field in kinds.json."""
    if sort in ("gauge", "torque_tool"):
        return what["name"]
    if sort == "tightening_sheet":
        return f"{what['name']}, {joint_words(what['joint'])}"
    if sort == "procedure":
        return f"{what['name']}, edition {what['edition']}"
    if sort == "measuring_rules":
        return RULES.get(what["rule"], what["rule"])
    if sort == "limit":
        return f"{subject(what, 'figures', 'figure')}, {bounds(what)} ({SORTS.get(what['sort'], what['sort'])})"
    values = ", ".join(_with_unit(value, what["unit"]) if what["unit"] else spaced(value) for value in what["values"])
    return f"{subject(what, 'sizes', 'code')}, {values}"


def told(sort: str, what: Mapping[str, Any]) -> str:
    """What else a statement says, in sentences, for the text of its line."""
    if sort == "gauge":
        said = _of_gauge(what)
    elif sort == "torque_tool":
        said = _of_tool(what)
    elif sort == "tightening_sheet":
        said = _of_sheet(what)
    elif sort == "procedure":
        count = prod(len(axis["values"]) for axis in what["grid"]) if what["grid"] else 0
        said = [f"Readings at each place: {count + len(what['readings'])}; figures: {len(what['figures'])}"]
    elif sort == "measuring_rules":
        said = [
            f"Compression at least {what['compression_share']} % of the highest",
            f"Temperatures to plus or minus {what['temperature_half_width']} K; "
            f"expansion to plus or minus {what['expansion_half_width']} %",
            what["note"],
        ]
    else:
        said = _of_limit(what)
    return " ".join(_sentence(one) for one in said if one)


def bounds(limit: Mapping[str, Any]) -> str:
    """ "at most 0.02 mm", "at least 9 bar", "0.03 to 0.06 mm"."""
    low, high, unit = limit["low"], limit["high"], limit["unit"]
    if low and high:
        return _with_unit(f"{low} to {high}", unit)
    return _with_unit(f"at most {high}" if high else f"at least {low}", unit)


def _of_gauge(gauge: Mapping[str, Any]) -> list[str]:
    return [
        "Out of use" if gauge["retired"] else "",
        f"Reads to {_with_unit(gauge['resolution'], gauge['unit'])}; "
        f"permissible error plus or minus {_with_unit(gauge['mpe'], gauge['unit'])}",
        *_of_calibration(gauge),
        gauge["notes"],
    ]


def _of_limit(what: Mapping[str, Any]) -> list[str]:
    return [
        "Withdrawn" if what["withdrawn"] else "",
        what["where"] and f"Only at {', '.join(what['where'])}",
        f"From: {what['source']}",
        what.get("valid_from", "") and f"Valid from {what['valid_from']}",
        what.get("valid_until", "") and f"Valid until {what['valid_until']}",
        what["note"],
    ]


def _of_tool(tool: Mapping[str, Any]) -> list[str]:
    return [
        "Out of use" if tool["retired"] else "",
        _range(tool["low"], tool["high"], tool["unit"]),
        tool["deviation"] and f"Permissible deviation plus or minus {tool['deviation']} %",
        *_of_calibration(tool),
        tool["notes"],
    ]


def _range(low: str, high: str, unit: str) -> str:
    if low and high:
        return f"From {low} to {_with_unit(high, unit)}"
    return f"Up to {_with_unit(high, unit)}" if high else low and f"From {_with_unit(low, unit)}"


def _of_sheet(sheet: Mapping[str, Any]) -> list[str]:
    thread, most, length = sheet["thread"], sheet["uses_most"], sheet["length_most"]
    stages = "; ".join(_stage(one) for one in sheet["stages"])
    return [
        "Withdrawn" if sheet["withdrawn"] else "",
        f"Thread {thread['size']}" + (f", class {thread['class']}" if thread["class"] else ""),
        "Stretch bolts" if sheet["bolt"] == "stretch" else "",
        f"Tightened {times(most)} in all at most" if most else "",
        length and f"No longer than {length} mm",
        f"Stages: {stages}",
        "The order is only a proposal" if any(one["proposed"] for one in sheet["stages"]) else "",
        "A second person witnesses it" if sheet["two_people"] else "",
        f"From: {sheet['source']}",
        sheet["note"],
    ]


def _stage(stage: Mapping[str, Any]) -> str:
    """ "Snug, 20 N·m"; the target is not said twice when the name of the stage says it."""
    target = _with_unit(stage["target"], stage["unit"])
    return stage["words"] if not target or target in stage["words"] else f"{stage['words']}, {target}"


def _of_calibration(thing: Mapping[str, Any]) -> list[str]:
    return [
        thing["serial"] and f"Serial number {thing['serial']}",
        thing["certificate"] and f"Certificate {thing['certificate']}",
        thing["calibrated"] and f"Calibrated {thing['calibrated']}",
        thing["due"] and f"Due {thing['due']}",
    ]


def _with_unit(text: str, unit: str) -> str:
    return f"{text} {unit}".rstrip()


def _sentence(text: str) -> str:
    return text if text.endswith((".", "!", "?")) else f"{text}."
