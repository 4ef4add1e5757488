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
from witnessmark.trade.ground.tables import table
from witnessmark.trade.ground.units import UNITS, to_si

SORTS: dict[str, dict[str, Any]] = {one["code"]: one for one in table("gauge_sorts")["sorts"]}

_FIELDS: tuple[described.Field, ...] = (
    ("id", "The identifier", shapes.uuid),
    ("name", "The name", shapes.text(80, 1)),
    ("sort", "The sort", described.one_of(SORTS, "is no sort of gauge that is known here")),
    ("serial", "The serial number", shapes.text(60)),
    ("unit", "The unit", described.unit),
    ("low", "The lower end of the range", described.number_or_nothing),
    ("high", "The upper end of the range", described.number_or_nothing),
    ("resolution", "The resolution", described.number),
    ("mpe", "The permissible error", described.number),
    ("repeatability", "The repeatability", described.number_or_nothing),
    ("certificate", "The certificate", shapes.text(120)),
    ("calibrated", "The day of calibration", described.day_or_nothing),
    ("due", "The day when calibration is due", described.day_or_nothing),
    ("retired", "Retired", shapes.yes_no),
    ("notes", "The notes", shapes.text(1000)),
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
    faults = described.faults_of(gauge, _FIELDS, "gauge", "A gauge")
    if faults:
        return faults
    sort = SORTS[gauge["sort"]]
    if UNITS[gauge["unit"]]["kind"] not in sort["kinds"]:
        kinds, unit = " or ".join(sort["kinds"]), gauge["unit"] or "A plain number"
        faults.append(Fault("unit", f"{unit} does not fit a gauge of the sort {sort['words']}, which reads {kinds}."))
    if described.upside_down(gauge, "low", "high"):
        faults.append(Fault("high", f"The range ends at {gauge['high']}, below where it begins, {gauge['low']}."))
    if Fraction(gauge["resolution"]) <= 0:
        faults.append(Fault("resolution", "The resolution must be above zero: the smallest step that can be read."))
    if Fraction(gauge["mpe"]) < 0:
        faults.append(Fault("mpe", "The permissible error is given without a sign; it counts plus and minus."))
    if gauge["repeatability"] and Fraction(gauge["repeatability"]) <= 0:
        faults.append(Fault("repeatability", "The repeatability must be above zero; leave it empty if not studied."))
    if gauge["calibrated"] and gauge["due"] and gauge["due"] < gauge["calibrated"]:
        faults.append(Fault("due", f"Due on {gauge['due']} lies before the calibration on {gauge['calibrated']}."))
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
    return same or any(one in SORTS[other["sort"]]["takes"] for one in SORTS[gauge["sort"]]["takes"])
