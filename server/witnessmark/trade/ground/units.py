"""Typed values and their units. What was typed stays as it was typed; beside it stands the exact number.

Factors are exact rationals (data/quantities.json, which names their sources), so no conversion loses a digit.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.ground.tables import table

UNITS: dict[str, dict[str, Any]] = table("quantities")["units"]
QUANTITIES: dict[str, dict[str, Any]] = {quantity["code"]: quantity for quantity in table("quantities")["quantities"]}

_typed = re.compile(
    r"(?P<sign>[+\-\u2212]?)\s*"
    r"(?:(?:(?P<whole>[0-9]{1,9})\s+)?(?P<over>[0-9]{1,6})/(?P<under>[0-9]{1,6})"
    r"|(?P<number>[0-9]{1,15}(?:[.,][0-9]{1,15})?|[.,][0-9]{1,15}))"
    r"\s*(?P<unit>[^0-9\s.,+\-/][^0-9]{0,18}[^\s]?|)"
).fullmatch


@dataclass(frozen=True)
class Reading:
    """A typed value: `text` exactly as typed, `amount` its exact number in `unit` (a code of the table, "" for none),
    `places` how many decimals were typed (None for a vulgar fraction)."""

    text: str
    amount: Fraction
    unit: str
    places: int | None


def _spellings() -> dict[str, str]:
    exact = {spelling: code for code, unit in UNITS.items() for spelling in (code, *unit["also"]) if spelling}
    # Exact spelling first, so that Pa and pA stay two things; then small letters for those who shout.
    return {spelling.lower(): code for spelling, code in exact.items()} | exact


_SPELLINGS = _spellings()


def unit_code(typed: str) -> str:
    """The unit somebody wrote ("Nm", "lb ft", "deg C") by its code. Raises Refusal for an unknown one."""
    bare = " ".join(typed.split())
    if bare == "":
        return ""
    code = _SPELLINGS.get(bare) or _SPELLINGS.get(bare.lower())
    if code is None:
        known = ", ".join(code for code in UNITS if code)
        raise Refusal("bad_value", "unit", say("trade.ground.unknown_unit", unit=bare, known=known))
    return code


def read(text: str, unit: str | None = None) -> Reading:
    """The value in `text`. `unit` is the unit chosen beside it; a unit in the text must not contradict it.

    Comma and point both mark decimals; a second mark or a thousands mark is refused, never guessed.
    """
    typed = _typed(text.strip())
    if typed is None:
        raise Refusal("bad_value", "value", say("trade.ground.not_readable", text=text.strip()[:40]))
    written, chosen = unit_code(typed["unit"]), unit_code(unit or "")
    if written and chosen and written != chosen:
        raise Refusal("bad_value", "unit", say("trade.ground.units_differ", written=written, chosen=chosen))
    if typed["under"] is not None:
        if int(typed["under"]) == 0:
            raise Refusal("bad_value", "value", say("trade.ground.over_nothing"))
        amount = int(typed["whole"] or 0) + Fraction(int(typed["over"]), int(typed["under"]))
        places = None
    else:
        whole, _, decimals = typed["number"].replace(",", ".").partition(".")
        amount = Fraction(int(whole + decimals or "0"), 10 ** len(decimals))
        places = len(decimals)
    return Reading(text, -amount if typed["sign"] in ("-", "\u2212") else amount, written or chosen, places)


def read_quantity(quantity: str, text: str, unit: str | None = None) -> Reading:
    """As `read`, and the unit must be of the quantity's kind; with none given it is the quantity's usual one.
    A quantity that is not in the table may have any unit."""
    reading = read(text, unit)
    known = QUANTITIES.get(quantity)
    if known is None:
        return reading
    code = reading.unit or known["units"][0]
    if UNITS[code]["kind"] != known["kind"]:
        allowed = ", ".join(known["units"]) or say("trade.ground.no_unit")
        raise Refusal(
            "bad_value", "unit", say("trade.ground.wrong_unit", quantity=known["words"], unit=code, units=allowed)
        )
    return Reading(reading.text, reading.amount, code, reading.places)


def usual_unit(kind: str) -> str:
    """The unit in which a kind is mostly given: that of its first quantity, "mm" for a length, "" for a number."""
    return next((quantity["units"][0] for quantity in QUANTITIES.values() if quantity["kind"] == kind), "")


def with_unit(value: str, unit: str) -> str:
    """A value with its unit as they stand on paper: "60 N·m", "90°", "12%"."""
    close = not unit or UNITS.get(unit, {}).get("close", False)
    return value + (unit if close else f" {unit}")


def to_si(amount: Fraction, unit: str) -> Fraction:
    """The exact amount in the SI unit of its kind: m, N·m, Pa, m³, K, kg; ° and r/min stay as they are."""
    spec = UNITS[unit]
    return (amount + _rational(spec.get("offset", ["0", "1"]))) * _rational(spec["scale"])


def from_si(amount: Fraction, unit: str) -> Fraction:
    """The exact amount in `unit` of an amount in the SI unit of its kind."""
    spec = UNITS[unit]
    return amount / _rational(spec["scale"]) - _rational(spec.get("offset", ["0", "1"]))


def convert(amount: Fraction, unit: str, into: str) -> Fraction:
    """The exact amount in another unit of the same kind. Raises Refusal between kinds (a torque is no length)."""
    if UNITS[unit]["kind"] != UNITS[into]["kind"]:
        plain = say("trade.ground.plain_number")
        raise Refusal("bad_value", "unit", say("trade.ground.not_convertible", unit=unit or plain, into=into or plain))
    return from_si(to_si(amount, unit), into)


def decimal_text(amount: Fraction, places: int) -> str:
    """The amount to `places` decimals, halves rounded away from zero, for showing only."""
    scaled = abs(amount) * 10**places
    digits = str((2 * scaled.numerator + scaled.denominator) // (2 * scaled.denominator)).rjust(places + 1, "0")
    sign = "-" if amount < 0 and digits.strip("0") else ""
    return sign + (f"{digits[:-places]}.{digits[-places:]}" if places else digits)


def _rational(pair: list[str]) -> Fraction:
    return Fraction(int(pair[0]), int(pair[1]))
