"""What all things have in common that the workshop describes in its own words: exact fields, numbers as text, days."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from fractions import Fraction
from typing import Any

from witnessmark.trade.ground import shapes
from witnessmark.trade.ground.errors import Fault
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.ground.units import UNITS

# (name in the record, name in a sentence, its check)
Field = tuple[str, str, shapes.Check]

_day = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}").fullmatch


def faults_of(given: Any, fields: Sequence[Field], where: str, thing: str) -> list[Fault]:
    """The faults of a record that must have exactly these fields. `thing` names it in a sentence ("A gauge")."""
    if type(given) is not dict:
        return [Fault(where, say("trade.ground.no_object", thing=thing))]
    known = {name for name, _, _ in fields}
    faults = [
        Fault(name, say("trade.ground.unknown_field", field=name))
        for name in sorted(str(key) for key in given if key not in known)
    ]
    for name, _, _ in fields:
        if name not in given:
            faults.append(Fault(name, say("trade.ground.missing_field", field=name)))
    for name, words, reason_against in fields:
        if name in given and (reason := reason_against(given[name])):
            faults.append(Fault(name, say("trade.ground.field_fault", field=words, reason=reason)))
    return faults


def number(value: Any) -> str | None:
    """A number as text with a decimal point, exact as written."""
    return say("trade.ground.not_a_number") if shapes.decimal(value) else None


def number_or_nothing(value: Any) -> str | None:
    return None if value == "" else number(value)


def day(value: Any) -> str | None:
    """A day of the calendar: 2026-05-14."""
    if type(value) is str and _day(value):
        try:
            date.fromisoformat(value)
            return None
        except ValueError:
            pass
    return say("trade.ground.not_a_day")


def day_or_nothing(value: Any) -> str | None:
    return None if value == "" else day(value)


def unit(value: Any) -> str | None:
    return None if type(value) is str and value in UNITS else say("trade.ground.not_a_unit")


def one_of(words: Iterable[str], reason: str) -> shapes.Check:
    allowed = frozenset(words)
    return lambda value: None if type(value) is str and value in allowed else reason


def amount(text: str) -> Fraction | None:
    """The number of a field that was checked, None for an empty one."""
    return Fraction(text) if text else None


def range_reversed(record: Mapping[str, Any], low: str, high: str) -> bool:
    """True when both ends are given and the lower lies above the upper."""
    return record[low] != "" and record[high] != "" and Fraction(record[low]) > Fraction(record[high])
