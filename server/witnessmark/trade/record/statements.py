"""The workshop's own statements in words: gauges, limits, procedures, tightening sheets …, as their lines say them.

Everything here is read from the statement alone, so that a line reads the same wherever it stands; a procedure of the
workshop's own is called by its code, since its name may have changed since.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import prod
from typing import Any

from witnessmark.trade.ground.sentences import say
from witnessmark.trade.measuring.procedure_words import spaced, subject
from witnessmark.trade.tightening.departures import times
from witnessmark.trade.tightening.words import joint_words

SORTS = {
    "new": say("trade.record.limit.new"),
    "service": say("trade.record.limit.service"),
    "machining": say("trade.record.limit.machining"),
}
RULES = {
    "guarded": say("trade.record.rule.guarded"),
    "guarded_95": say("trade.record.rule.guarded_95"),
    "simple": say("trade.record.rule.simple"),
}


def named(sort: str, what: Mapping[str, Any]) -> str:
    """What a statement is about, for the title of its line. `sort` is the sort of its field in kinds.json."""
    if sort in ("gauge", "torque_tool"):
        return what["name"]
    if sort == "tightening_sheet":
        return say("trade.record.named.sheet", name=what["name"], fasteners=joint_words(what["joint"]))
    if sort == "procedure":
        return say("trade.record.named.procedure", name=what["name"], edition=what["edition"])
    if sort == "measuring_rules":
        return RULES.get(what["rule"], what["rule"])
    if sort == "limit":
        about = {"figure": subject(what, "figures", "figure"), "bounds": bounds(what)}
        return say("trade.record.named.limit", **about, sort=SORTS.get(what["sort"], what["sort"]))
    values = ", ".join(_with_unit(value, what["unit"]) if what["unit"] else spaced(value) for value in what["values"])
    return say("trade.record.named.size", size=subject(what, "sizes", "code"), values=values)


def details(sort: str, what: Mapping[str, Any]) -> str:
    """What else a statement says, in sentences, for the text of its line."""
    if sort == "gauge":
        parts = _of_gauge(what)
    elif sort == "torque_tool":
        parts = _of_tool(what)
    elif sort == "tightening_sheet":
        parts = _of_sheet(what)
    elif sort == "procedure":
        count = prod(len(axis["values"]) for axis in what["grid"]) if what["grid"] else 0
        readings = count + len(what["readings"])
        parts = [say("trade.record.procedure", readings=readings, figures=len(what["figures"]))]
    elif sort == "measuring_rules":
        parts = [
            say("trade.record.rules.compression", percent=str(what["compression_share"])),
            say(
                "trade.record.rules.half_widths",
                kelvin=str(what["temperature_half_width"]),
                percent=str(what["expansion_half_width"]),
            ),
            what["note"],
        ]
    else:
        parts = _of_limit(what)
    return " ".join(_sentence(part) for part in parts if part)


def bounds(limit: Mapping[str, Any]) -> str:
    """ "at most 0.02 mm", "at least 9 bar", "0.03 to 0.06 mm"."""
    low, high, unit = limit["low"], limit["high"], limit["unit"]
    if low and high:
        return say("trade.record.bounds.both", low=low, high=_with_unit(high, unit))
    if high:
        return say("trade.record.bounds.high", high=_with_unit(high, unit))
    return say("trade.record.bounds.low", low=_with_unit(low, unit))


def _of_gauge(gauge: Mapping[str, Any]) -> list[str]:
    return [
        say("trade.record.out_of_use") if gauge["retired"] else "",
        say(
            "trade.record.gauge",
            resolution=_with_unit(gauge["resolution"], gauge["unit"]),
            error=_with_unit(gauge["mpe"], gauge["unit"]),
        ),
        *_of_calibration(gauge),
        gauge["notes"],
    ]


def _of_limit(what: Mapping[str, Any]) -> list[str]:
    return [
        say("trade.record.withdrawn") if what["withdrawn"] else "",
        what["where"] and say("trade.record.only_at", places=", ".join(what["where"])),
        say("trade.record.source", source=what["source"]),
        what.get("valid_from", "") and say("trade.record.valid_from", day=what["valid_from"]),
        what.get("valid_until", "") and say("trade.record.valid_until", day=what["valid_until"]),
        what["note"],
    ]


def _of_tool(tool: Mapping[str, Any]) -> list[str]:
    return [
        say("trade.record.out_of_use") if tool["retired"] else "",
        _range(tool["low"], tool["high"], tool["unit"]),
        tool["deviation"] and say("trade.record.tool_deviation", percent=tool["deviation"]),
        *_of_calibration(tool),
        tool["notes"],
    ]


def _range(low: str, high: str, unit: str) -> str:
    if low and high:
        return say("trade.record.range.both", low=low, high=_with_unit(high, unit))
    if high:
        return say("trade.record.range.high", high=_with_unit(high, unit))
    return low and say("trade.record.range.low", low=_with_unit(low, unit))


def _of_sheet(sheet: Mapping[str, Any]) -> list[str]:
    thread, most, length = sheet["thread"], sheet["uses_most"], sheet["length_most"]
    stages = "; ".join(_stage(stage) for stage in sheet["stages"])
    return [
        say("trade.record.withdrawn") if sheet["withdrawn"] else "",
        say("trade.record.sheet.thread_class", size=thread["size"], strength=thread["class"])
        if thread["class"]
        else say("trade.record.sheet.thread", size=thread["size"]),
        say("trade.record.sheet.stretch") if sheet["bolt"] == "stretch" else "",
        say("trade.record.sheet.uses_most", times=times(most)) if most else "",
        length and say("trade.record.sheet.length_most", length=length),
        say("trade.record.sheet.stages", stages=stages),
        say("trade.record.sheet.proposed") if any(stage["proposed"] for stage in sheet["stages"]) else "",
        say("trade.record.sheet.two_people") if sheet["two_people"] else "",
        say("trade.record.source", source=sheet["source"]),
        sheet["note"],
    ]


def _stage(stage: Mapping[str, Any]) -> str:
    """ "Snug, 20 N·m"; the target is not said twice when the name of the stage says it."""
    target = _with_unit(stage["target"], stage["unit"])
    if not target or target in stage["words"]:
        return stage["words"]
    return say("trade.record.sheet.stage", stage=stage["words"], target=target)


def _of_calibration(thing: Mapping[str, Any]) -> list[str]:
    return [
        thing["serial"] and say("trade.record.serial", number=thing["serial"]),
        thing["certificate"] and say("trade.record.certificate", number=thing["certificate"]),
        thing["calibrated"] and say("trade.record.calibrated", day=thing["calibrated"]),
        thing["due"] and say("trade.record.due", day=thing["due"]),
    ]


def _with_unit(text: str, unit: str) -> str:
    return f"{text} {unit}".rstrip()


def _sentence(text: str) -> str:
    return text if text.endswith((".", "!", "?")) else f"{text}."
