"""The workshop's gauges: what is written down of one, whether it was overdue, and what it can read.

A gauge is plain data, so it can stand in an entry; numbers are decimal text in its own unit:

    {"id": uuid, "name": "bore gauge 4", "sort": "bore_gauge",      a code of data/gauge_sorts.json
     "serial": "BG-0417", "unit": "mm", "low": "50", "high": "160", ends of its range, "" where there is none
     "resolution": "0.001", "mpe": "0.003",                         maximum permissible error, plus or minus
     "repeatability": "",      standard deviation of single readings, where somebody has studied it
     "certificate": "", "calibrated": "2026-02-10", "due": "2027-02-10",   days, or "" when nobody said
     "retired": false, "notes": ""}
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any, TypedDict

from witnessmark.trade.ground import described, shapes
from witnessmark.trade.ground.errors import Fault
from witnessmark.trade.ground.sentences import listed, say
from witnessmark.trade.ground.tables import table
from witnessmark.trade.ground.units import UNITS, to_si

SORTS: dict[str, dict[str, Any]] = {sort["code"]: sort for sort in table("gauge_sorts")["sorts"]}

_FIELDS: tuple[described.Field, ...] = (
    ("id", say("trade.measuring.field_id"), shapes.uuid),
    ("name", say("trade.measuring.field_name"), shapes.text(80, 1)),
    ("sort", say("trade.measuring.field_sort"), described.one_of(SORTS, say("trade.measuring.not_a_gauge_sort"))),
    ("serial", say("trade.measuring.field_serial"), shapes.text(60)),
    ("unit", say("trade.measuring.field_unit"), described.unit),
    ("low", say("trade.measuring.field_range_low"), described.number_or_nothing),
    ("high", say("trade.measuring.field_range_high"), described.number_or_nothing),
    ("resolution", say("trade.measuring.field_resolution"), described.number),
    ("mpe", say("trade.measuring.field_mpe"), described.number),
    ("repeatability", say("trade.measuring.field_repeatability"), described.number_or_nothing),
    ("certificate", say("trade.measuring.field_certificate"), shapes.text(120)),
    ("calibrated", say("trade.measuring.field_calibrated"), described.day_or_nothing),
    ("due", say("trade.measuring.field_due"), described.day_or_nothing),
    ("retired", say("trade.measuring.field_retired"), shapes.yes_no),
    ("notes", say("trade.measuring.field_notes"), shapes.text(1000)),
)


class InSi(TypedDict):
    """A gauge's numbers, exact, in the SI unit of its kind; `low`, `high` and `repeatability` None when not given."""

    id: str
    name: str
    sort: str
    unit: str
    kind: str
    low: Fraction | None
    high: Fraction | None
    resolution: Fraction
    mpe: Fraction
    repeatability: Fraction | None


def check(gauge: Any) -> list[Fault]:
    """All faults of a gauge, none when it can be used. Never raises, whatever it is given."""
    faults = described.faults_of(gauge, _FIELDS, "gauge", say("trade.measuring.a_gauge"))
    if faults:
        return faults
    sort = SORTS[gauge["sort"]]
    if UNITS[gauge["unit"]]["kind"] not in sort["kinds"]:
        kinds, unit = listed(sort["kinds"], "or"), gauge["unit"] or say("trade.measuring.a_plain_number")
        faults.append(Fault("unit", say("trade.measuring.gauge_unit", unit=unit, sort=sort["words"], kinds=kinds)))
    if described.range_reversed(gauge, "low", "high"):
        faults.append(Fault("high", say("trade.measuring.range_reversed", high=gauge["high"], low=gauge["low"])))
    if Fraction(gauge["resolution"]) <= 0:
        faults.append(Fault("resolution", say("trade.measuring.resolution_zero")))
    if Fraction(gauge["mpe"]) < 0:
        faults.append(Fault("mpe", say("trade.measuring.mpe_signed")))
    if gauge["repeatability"] and Fraction(gauge["repeatability"]) <= 0:
        faults.append(Fault("repeatability", say("trade.measuring.repeatability_zero")))
    if gauge["calibrated"] and gauge["due"] and gauge["due"] < gauge["calibrated"]:
        faults.append(
            Fault("due", say("trade.measuring.due_before_calibrated", due=gauge["due"], calibrated=gauge["calibrated"]))
        )
    return faults


def in_si(gauge: dict[str, Any]) -> InSi:
    """The numbers of a sound gauge in SI. Widths (resolution, errors) have no offset: 2 °F is 10/9 K."""
    unit = gauge["unit"]
    nothing = to_si(Fraction(0), unit)

    def size(text: str) -> Fraction | None:
        return to_si(Fraction(text), unit) if text else None

    def width(text: str) -> Fraction:
        return to_si(Fraction(text), unit) - nothing

    return {
        "id": gauge["id"],
        "name": gauge["name"],
        "sort": gauge["sort"],
        "unit": unit,
        "kind": UNITS[unit]["kind"],
        "low": size(gauge["low"]),
        "high": size(gauge["high"]),
        "resolution": width(gauge["resolution"]),
        "mpe": width(gauge["mpe"]),
        "repeatability": width(gauge["repeatability"]) if gauge["repeatability"] else None,
    }


def overdue(gauge: dict[str, Any], claimed: str) -> bool:
    """True when the gauge was past its date at a time or day as claimed (the local day is what counts). On the day
    itself it is still good; a gauge without a date is never overdue."""
    return gauge["due"] != "" and claimed[:10] > gauge["due"]


def in_range(gauge: dict[str, Any], amount: Fraction) -> bool:
    """True when the gauge reaches an amount in SI; the ends of its range belong to it."""
    numbers = in_si(gauge)
    low, high = numbers["low"], numbers["high"]
    return (low is None or low <= amount) and (high is None or amount <= high)


def stands_in(gauge: InSi, other: InSi) -> bool:
    """True when a gauge can be put to what another is put to, its range left aside."""
    if gauge["kind"] != other["kind"]:
        return False
    same = gauge["sort"] == other["sort"] != "other"
    return same or any(take in SORTS[other["sort"]]["takes"] for take in SORTS[gauge["sort"]]["takes"])
