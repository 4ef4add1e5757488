"""The workshop's torque tools: what is written down of one, whether it is overdue, what it can be used for.

A tool is plain data, so it can stand in an entry; numbers are decimal text in its own unit:

    {"id": uuid, "name": "wrench W1", "sort": "click",      a code of data/torque_tools.json
     "serial": "W-0417", "unit": "N·m", "low": "20", "high": "100",     ends of its range, "" where there is none
     "class": "II A",           type and class after ISO 6789-1, "" when nobody said
     "deviation": "4",          per cent of the value, plus or minus, that it may be off; "" for what its class permits
     "calibrated": "2026-02-10", "due": "2027-02-10",       days, or "" when nobody said
     "cycles_most": 5000,       how many fasteners until it is calibrated again; 0: they are not counted
     "cycles_at_calibration": 0,                            how many the record had counted when it was calibrated
     "certificate": "", "retired": false, "notes": ""}

Calibration after 5000 cycles or twelve months, whichever comes first, is the usual rule where the workshop has none of
its own (ISO 6789:2003 as a maker of torque wrenches tells it).
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from witnessmark.trade.ground import described, shapes
from witnessmark.trade.ground.amounts import exact_text
from witnessmark.trade.ground.errors import Fault
from witnessmark.trade.ground.exact import round_down
from witnessmark.trade.ground.sentences import listed, say
from witnessmark.trade.ground.tables import table
from witnessmark.trade.ground.units import UNITS, convert, from_si, read, to_si
from witnessmark.trade.tightening.values import CLICK_FROM, FITS, Objection, range_words, usable

SORTS: dict[str, dict[str, str]] = {sort["code"]: sort for sort in table("torque_tools")["sorts"]}
CLASSES: dict[str, dict[str, str]] = {tool_class["code"]: tool_class for tool_class in table("torque_tools")["classes"]}
SMALL_TO = Fraction(table("torque_tools")["small_to"])  # N·m

_FIELDS: tuple[described.Field, ...] = (
    ("id", say("trade.tightening.field.id"), shapes.uuid),
    ("name", say("trade.tightening.field.name"), shapes.text(80, 1)),
    ("sort", say("trade.tightening.field.sort"), described.one_of(SORTS, say("trade.tightening.wrong.sort"))),
    ("serial", say("trade.tightening.field.serial"), shapes.text(60)),
    ("unit", say("trade.tightening.field.unit"), described.unit),
    ("low", say("trade.tightening.field.low"), described.number_or_nothing),
    ("high", say("trade.tightening.field.high"), described.number_or_nothing),
    (
        "class",
        say("trade.tightening.field.tool_class"),
        described.one_of(("", *CLASSES), say("trade.tightening.wrong.class")),
    ),
    ("deviation", say("trade.tightening.field.deviation"), described.number_or_nothing),
    ("calibrated", say("trade.tightening.field.calibrated"), described.day_or_nothing),
    ("due", say("trade.tightening.field.due"), described.day_or_nothing),
    ("cycles_most", say("trade.tightening.field.cycles_most"), shapes.whole(0, 1_000_000)),
    ("cycles_at_calibration", say("trade.tightening.field.cycles_at_calibration"), shapes.whole(0, 1_000_000_000)),
    ("certificate", say("trade.tightening.field.certificate"), shapes.text(120)),
    ("retired", say("trade.tightening.field.retired"), shapes.yes_no),
    ("notes", say("trade.tightening.field.notes"), shapes.text(1000)),
)


def check(tool: Any) -> list[Fault]:
    """All faults of a torque tool, none when it can be used. Never raises, whatever it is given."""
    faults = described.faults_of(tool, _FIELDS, "tool", say("trade.tightening.thing.tool"))
    if faults:
        return faults
    sort = SORTS[tool["sort"]]
    if UNITS[tool["unit"]]["kind"] != sort["kind"]:
        return [Fault("unit", _wrong_unit(tool["unit"], sort))]
    faults = _range(tool) + _deviation(tool, sort)
    if tool["calibrated"] and tool["due"] and tool["due"] < tool["calibrated"]:
        about = {"due": tool["due"], "calibrated": tool["calibrated"]}
        faults.append(Fault("due", say("trade.tightening.torque_tool.due_before", **about)))
    return faults


def _wrong_unit(unit: str, sort: dict[str, str]) -> str:
    if sort["kind"] == "torque":
        if unit:
            return say("trade.tightening.torque_tool.wrong_unit", unit=unit, sort=sort["words"])
        return say("trade.tightening.torque_tool.no_unit", sort=sort["words"])
    if unit:
        return say("trade.tightening.torque_tool.wrong_unit_angle", unit=unit, sort=sort["words"])
    return say("trade.tightening.torque_tool.no_unit_angle", sort=sort["words"])


def _range(tool: dict[str, Any]) -> list[Fault]:
    faults = []
    if tool["low"] and Fraction(tool["low"]) < 0:
        faults.append(Fault("low", say("trade.tightening.torque_tool.low")))
    if tool["high"] and Fraction(tool["high"]) <= 0:
        faults.append(Fault("high", say("trade.tightening.torque_tool.high")))
    elif described.range_reversed(tool, "low", "high"):
        words = say("trade.tightening.torque_tool.reversed", high=tool["high"], low=tool["low"])
        faults.append(Fault("high", words))
    elif tool["sort"] == "click" and tool["high"] == "":
        faults.append(Fault("high", say("trade.tightening.torque_tool.click_high")))
    return faults


def _deviation(tool: dict[str, Any], sort: dict[str, str]) -> list[Fault]:
    code, stated = tool["class"], described.amount(tool["deviation"])
    if code and sort["type"] == "":
        return [Fault("class", say("trade.tightening.torque_tool.no_class", sort=sort["words"]))]
    if code and code.split()[0] != sort["type"]:
        known = listed(code for code in CLASSES if code.split()[0] == sort["type"])
        about = {"code": code, "sort": sort["words"], "type": sort["type"], "classes": known}
        return [Fault("class", say("trade.tightening.torque_tool.wrong_class", **about))]
    if stated is None:
        return []
    if stated <= 0:
        return [Fault("deviation", say("trade.tightening.torque_tool.deviation"))]
    permitted = permitted_by(code, _largest(tool)) if code else None
    if permitted is not None and stated > permitted:
        about = {"code": code, "permitted": exact_text(permitted), "stated": tool["deviation"]}
        return [Fault("deviation", say("trade.tightening.torque_tool.deviation_over", **about))]
    return []


def _largest(tool: dict[str, Any]) -> Fraction | None:
    return to_si(Fraction(tool["high"]), tool["unit"]) if tool["high"] else None


def permitted_by(code: str, largest: Fraction | None) -> Fraction:
    """What a class of ISO 6789-1 permits, in per cent of the value; `largest` is the tool's largest torque in N·m. A
    tool whose range nobody knows gets the wider of the two."""
    both = CLASSES[code]
    return Fraction(both["small" if largest is None or largest <= SMALL_TO else "large"])


def deviation(tool: dict[str, Any]) -> tuple[Fraction | None, str]:
    """What a sound tool may be off in per cent of the value, and where that comes from; None for an angle gauge of
    which nobody said."""
    if tool["deviation"]:
        return Fraction(tool["deviation"]), say("trade.tightening.torque_tool.as_stated")
    if tool["class"]:
        return permitted_by(tool["class"], _largest(tool)), say(
            "trade.tightening.torque_tool.by_class", code=tool["class"]
        )
    usual = SORTS[tool["sort"]]["usual"]
    if usual:
        return permitted_by(usual, _largest(tool)), say("trade.tightening.torque_tool.by_usual_class", code=usual)
    return None, say("trade.tightening.torque_tool.not_known")


def cycles_since(tool: dict[str, Any], counted: int) -> int:
    """How many fasteners since the calibration, of so many that the record has counted for the tool in all."""
    return max(0, counted - tool["cycles_at_calibration"])


def overdue_by_date(tool: dict[str, Any], claimed: str) -> bool:
    """True when the tool was past its date at a time or day as claimed (the local day is what counts). On the day
    itself it is still good; a tool without a date is never overdue by it."""
    return tool["due"] != "" and claimed[:10] > tool["due"]


def overdue_by_cycles(tool: dict[str, Any], counted: int) -> bool:
    """True when the tool did more fasteners since its calibration than it may; the last one allowed is still good."""
    return tool["cycles_most"] > 0 and cycles_since(tool, counted) > tool["cycles_most"]


def overdue(tool: dict[str, Any], claimed: str, counted: int = 0) -> list[str]:
    """Why a tool is overdue, in sentences; none while it is not. `counted`: all the record has counted for it."""
    sentences = []
    if overdue_by_date(tool, claimed):
        sentences.append(say("trade.tightening.torque_tool.was_due", tool=tool["name"], day=tool["due"]))
    if overdue_by_cycles(tool, counted):
        done, most = cycles_since(tool, counted), tool["cycles_most"]
        sentences.append(say("trade.tightening.torque_tool.due_by_count", tool=tool["name"], done=done, most=most))
    return sentences


def in_range(tool: dict[str, Any], amount: Fraction) -> bool:
    """True when the tool is used for an amount in SI: within its range, a click wrench between 20 % and 100 % of it.
    The ends belong to it."""
    low, high = usable(tool)
    inside = from_si(amount, tool["unit"])
    return (low is None or low <= inside) and (high is None or inside <= high)


def fits(tool: dict[str, Any], method: str, target: str, unit: str) -> list[Objection]:
    """What speaks against a tool for a stage, as (sort, sentence); none when it fits. `method` is that of a stage;
    letting go takes any tool and any value, and so does a target that is empty.

    The sorts are `retired`, `wrong_tool`, `other_unit` and `out_of_range`. Raises Refusal for a target that is no
    number and for an unknown unit.
    """
    name, sort = tool["name"], SORTS[tool["sort"]]
    objections: list[Objection] = (
        [("retired", say("trade.tightening.torque_tool.out_of_use", tool=name))] if tool["retired"] else []
    )
    if method not in FITS:
        return objections
    if tool["sort"] not in FITS[method]:
        about = {"tool": name, "sort": sort["words"]}
        words = (
            say("trade.tightening.torque_tool.not_for_torque", **about)
            if method == "torque"
            else say("trade.tightening.torque_tool.not_for_angle", **about)
        )
        return [*objections, ("wrong_tool", words)]
    if target == "":
        return objections
    reading = read(target, unit)
    kind = UNITS[reading.unit]["kind"]
    value = f"{exact_text(reading.amount)} {reading.unit}".rstrip()
    if kind != method:
        words = (
            say("trade.tightening.torque_tool.no_torque", value=value)
            if method == "torque"
            else say("trade.tightening.torque_tool.no_angle", value=value)
        )
        return [*objections, ("other_unit", words)]
    if kind != UNITS[tool["unit"]]["kind"] or in_range(tool, to_si(reading.amount, reading.unit)):
        return objections
    return [
        *objections,
        ("out_of_range", _out_of_range(tool, convert(reading.amount, reading.unit, tool["unit"]), value)),
    ]


def _out_of_range(tool: dict[str, Any], amount: Fraction, value: str) -> str:
    about = {"value": value, "tool": tool["name"], "range": range_words(tool)}
    if tool["sort"] == "click" and amount < Fraction(tool["high"]) * CLICK_FROM:
        share = round_down(amount * 100 / Fraction(tool["high"]), 2)
        return say("trade.tightening.torque_tool.low_in_range", **about, share=share)
    return say("trade.tightening.torque_tool.beyond", **about)
