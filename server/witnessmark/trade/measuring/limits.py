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
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.ground.tables import table

SORTS = {
    "new": say("trade.measuring.sort_new"),
    "service": say("trade.measuring.sort_service"),
    "machining": say("trade.measuring.sort_machining"),
}
MATERIALS: dict[str, dict[str, Any]] = {material["code"]: material for material in table("materials")["materials"]}

_is_code = re.compile(r"[a-z][a-z0-9_]{0,39}").fullmatch
_is_pattern = re.compile(r"[a-z][a-z0-9_]{0,39}(?:/(?:[A-Za-z0-9_]{1,20}|\*)){0,5}").fullmatch
_some_patterns = shapes.texts(100, 80)


def _code(value: Any) -> str | None:
    return None if type(value) is str and _is_code(value) else say("trade.measuring.not_a_code")


def _where(value: Any) -> str | None:
    if reason := _some_patterns(value):
        return reason
    bad = next((pattern for pattern in value if not _is_pattern(pattern)), None)
    return None if bad is None else say("trade.measuring.not_a_pattern", place=bad)


_LIMIT: tuple[described.Field, ...] = (
    ("id", say("trade.measuring.field_id"), shapes.uuid),
    ("engine_type", say("trade.measuring.field_engine_type"), shapes.uuid),
    ("procedure", say("trade.measuring.field_procedure"), _code),
    ("figure", say("trade.measuring.field_figure"), _code),
    ("sort", say("trade.measuring.field_limit_sort"), described.one_of(SORTS, say("trade.measuring.not_a_limit_sort"))),
    ("low", say("trade.measuring.field_low"), described.number_or_nothing),
    ("high", say("trade.measuring.field_high"), described.number_or_nothing),
    ("unit", say("trade.measuring.field_unit"), described.unit),
    ("where", say("trade.measuring.field_where"), _where),
    ("source", say("trade.measuring.field_source"), shapes.text(300, 1)),
    ("valid_from", say("trade.measuring.field_first_day"), described.day_or_nothing),
    ("valid_until", say("trade.measuring.field_last_day"), described.day_or_nothing),
    ("withdrawn", say("trade.measuring.field_withdrawn"), shapes.yes_no),
    ("note", say("trade.measuring.field_note"), shapes.text(1000)),
)
_SIZE: tuple[described.Field, ...] = (
    ("id", say("trade.measuring.field_id"), shapes.uuid),
    ("engine_type", say("trade.measuring.field_engine_type"), shapes.uuid),
    ("procedure", say("trade.measuring.field_procedure"), _code),
    ("code", say("trade.measuring.field_size"), _code),
    ("values", say("trade.measuring.field_values"), shapes.texts(60, 40)),
    ("unit", say("trade.measuring.field_unit"), described.unit),
    ("where", say("trade.measuring.field_where"), _where),
    ("source", say("trade.measuring.field_source"), shapes.text(300, 1)),
    ("withdrawn", say("trade.measuring.field_withdrawn"), shapes.yes_no),
    ("note", say("trade.measuring.field_note"), shapes.text(1000)),
)


def check(limit: Any) -> list[Fault]:
    """All faults of a limit, none when it can be used. Never raises, whatever it is given."""
    faults = described.faults_of(limit, _LIMIT, "limit", say("trade.measuring.a_limit"))
    if faults:
        return faults
    if limit["low"] == limit["high"] == "":
        faults.append(Fault("high", say("trade.measuring.limit_empty")))
    if described.range_reversed(limit, "low", "high"):
        faults.append(Fault("high", say("trade.measuring.limits_reversed", high=limit["high"], low=limit["low"])))
    if limit["valid_from"] and limit["valid_until"] and limit["valid_until"] < limit["valid_from"]:
        faults.append(
            Fault(
                "valid_until",
                say("trade.measuring.days_reversed", last=limit["valid_until"], first=limit["valid_from"]),
            )
        )
    return faults


def check_size(size: Any) -> list[Fault]:
    """All faults of a size, none when it can be used. Never raises, whatever it is given."""
    faults = described.faults_of(size, _SIZE, "size", say("trade.measuring.a_size"))
    if faults:
        return faults
    values = size["values"]
    if not values:
        return [Fault("values", say("trade.measuring.size_empty"))]
    if size["code"] == "material":
        if len(values) != 1 or values[0] not in MATERIALS:
            faults.append(Fault("values", say("trade.measuring.not_a_material", known=", ".join(MATERIALS))))
        if size["unit"]:
            faults.append(Fault("unit", say("trade.measuring.material_unit")))
        return faults
    bad = [value for value in values if described.number(value)]
    if bad:
        return [Fault("values", say("trade.measuring.size_no_number", value=bad[0]))]
    seen: dict[Fraction, str] = {}
    for size_value in values:
        if Fraction(size_value) in seen:
            return [
                Fault("values", say("trade.measuring.sizes_equal", first=seen[Fraction(size_value)], second=size_value))
            ]
        seen[Fraction(size_value)] = size_value
    return faults


def covers(where: Iterable[str], place: str) -> bool:
    """True when one of the patterns takes in the place; no pattern at all means everywhere."""
    patterns = list(where)
    return not patterns or any(_covers(pattern.split("/"), place.split("/")) for pattern in patterns)


def _covers(pattern: list[str], place: list[str]) -> bool:
    if len(pattern) > len(place):
        return False
    return all(wanted in ("*", there) for wanted, there in zip(pattern, place, strict=False))


def counts_for(size: Mapping[str, Any], engine_type: str, procedure: str, place: str, day: str = "") -> bool:
    """True when a limit or size counts for a procedure at a place of an engine type on a day ("" for any day)."""
    return (
        not size["withdrawn"]
        and size["engine_type"] == engine_type
        and size["procedure"] == procedure
        and covers(size["where"], place)
        and (day == "" or size.get("valid_from", "") <= day <= (size.get("valid_until", "") or "9999-12-31"))
    )
