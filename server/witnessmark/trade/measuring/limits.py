"""Limits and sizes of an engine type as the workshop typed them, each with its source, and where and when they count.

Both are plain data, so they can stand in an entry; numbers are decimal text:

    limit = {"id": uuid, "engine_type": uuid, "procedure": "cylinder_bore", "figure": "largest",
             "sort": "service", "low": "", "high": "86.150", "unit": "mm",   one end may be open, not both
             "where": ["bore/3", "valve/*/inlet"],                           [] everywhere
             "source": "Maker's manual, 3rd edition, page 41",
             "valid_from": "", "valid_until": "", "withdrawn": false, "note": ""}
    size  = {"id": uuid, "engine_type": uuid, "procedure": "cylinder_bore", "code": "nominal", "values": ["86.000"],
             "unit": "mm", "where": [], "source": "…", "withdrawn": false, "note": ""}

A size with the code "material" has one value, a code of data/materials.json, and no unit.
A pattern of `where` is a place code with * for a whole segment; it takes in a place and all that lies in it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from fractions import Fraction
from typing import Any

from witnessmark.trade.ground import described, shapes
from witnessmark.trade.ground.errors import Fault
from witnessmark.trade.ground.tables import table

SORTS = {"new": "new part", "service": "service limit", "machining": "machining"}
MATERIALS: dict[str, dict[str, Any]] = {one["code"]: one for one in table("materials")["materials"]}

_is_code = re.compile(r"[a-z][a-z0-9_]{0,39}").fullmatch
_is_pattern = re.compile(r"[a-z][a-z0-9_]{0,39}(?:/(?:[A-Za-z0-9_]{1,20}|\*)){0,5}").fullmatch
_some_patterns = shapes.texts(100, 80)


def _code(value: Any) -> str | None:
    return None if type(value) is str and _is_code(value) else "is no code of small letters, digits and _"


def _where(value: Any) -> str | None:
    if reason := _some_patterns(value):
        return reason
    bad = next((one for one in value if not _is_pattern(one)), None)
    return None if bad is None else f"names {bad}, which is no place such as bore/3 or valve/*/inlet"


_LIMIT: tuple[described.Field, ...] = (
    ("id", "The identifier", shapes.uuid),
    ("engine_type", "The engine type", shapes.uuid),
    ("procedure", "The procedure", _code),
    ("figure", "The figure", _code),
    ("sort", "The sort of limit", described.one_of(SORTS, "is none of new, service and machining")),
    ("low", "The lower limit", described.number_or_nothing),
    ("high", "The upper limit", described.number_or_nothing),
    ("unit", "The unit", described.unit),
    ("where", "Where", _where),
    ("source", "The source", shapes.text(300, 1)),
    ("valid_from", "The first day", described.day_or_nothing),
    ("valid_until", "The last day", described.day_or_nothing),
    ("withdrawn", "Withdrawn", shapes.yes_no),
    ("note", "The note", shapes.text(1000)),
)
_SIZE: tuple[described.Field, ...] = (
    ("id", "The identifier", shapes.uuid),
    ("engine_type", "The engine type", shapes.uuid),
    ("procedure", "The procedure", _code),
    ("code", "The size", _code),
    ("values", "The list of values", shapes.texts(60, 40)),
    ("unit", "The unit", described.unit),
    ("where", "Where", _where),
    ("source", "The source", shapes.text(300, 1)),
    ("withdrawn", "Withdrawn", shapes.yes_no),
    ("note", "The note", shapes.text(1000)),
)


def check(limit: Any) -> list[Fault]:
    """All faults of a limit, none when it can be used. Never raises, whatever it is given."""
    faults = described.faults_of(limit, _LIMIT, "limit", "A limit")
    if faults:
        return faults
    if limit["low"] == limit["high"] == "":
        faults.append(Fault("high", "A limit has a lower end, an upper end or both; this one has neither."))
    if described.upside_down(limit, "low", "high"):
        faults.append(Fault("high", f"The upper limit {limit['high']} lies below the lower one, {limit['low']}."))
    if limit["valid_from"] and limit["valid_until"] and limit["valid_until"] < limit["valid_from"]:
        faults.append(
            Fault("valid_until", f"The last day {limit['valid_until']} lies before the first, {limit['valid_from']}.")
        )
    return faults


def check_size(size: Any) -> list[Fault]:
    """All faults of a size, none when it can be used. Never raises, whatever it is given."""
    faults = described.faults_of(size, _SIZE, "size", "A size")
    if faults:
        return faults
    values = size["values"]
    if not values:
        return [Fault("values", "A size has at least one value.")]
    if size["code"] == "material":
        if len(values) != 1 or values[0] not in MATERIALS:
            faults.append(Fault("values", f"A material is one of {', '.join(MATERIALS)}."))
        if size["unit"]:
            faults.append(Fault("unit", "A material has no unit."))
        return faults
    bad = [one for one in values if described.number(one)]
    if bad:
        return [Fault("values", f"{bad[0]} is not a number such as 86.000.")]
    seen: dict[Fraction, str] = {}
    for one in values:
        if Fraction(one) in seen:
            return [Fault("values", f"{seen[Fraction(one)]} and {one} are the same size.")]
        seen[Fraction(one)] = one
    return faults


def covers(where: Iterable[str], place: str) -> bool:
    """True when one of the patterns takes in the place; no pattern at all means everywhere."""
    patterns = list(where)
    return not patterns or any(_covers(pattern.split("/"), place.split("/")) for pattern in patterns)


def _covers(pattern: list[str], place: list[str]) -> bool:
    if len(pattern) > len(place):
        return False
    return all(wanted in ("*", there) for wanted, there in zip(pattern, place, strict=False))


def counts_for(one: Mapping[str, Any], engine_type: str, procedure: str, place: str, day: str = "") -> bool:
    """True when a limit or size counts for a procedure at a place of an engine type on a day ("" for any day)."""
    return (
        not one["withdrawn"]
        and one["engine_type"] == engine_type
        and one["procedure"] == procedure
        and covers(one["where"], place)
        and (day == "" or one.get("valid_from", "") <= day <= (one.get("valid_until", "") or "9999-12-31"))
    )
