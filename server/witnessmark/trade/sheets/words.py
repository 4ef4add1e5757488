"""How a measurement sheet shows numbers and what it calls things. A typed reading never gains or loses a digit."""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from witnessmark.trade.ground.exact import round_up, significant, sqrt
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.ground.units import UNITS, decimal_text, from_si, read, to_si
from witnessmark.trade.measuring.figures import PLACES

STATES = {
    "as_found": say("trade.sheets.as_found"),
    "machined": say("trade.sheets.machined"),
    "built": say("trade.sheets.built"),
}
# A figure may rest on one read in an earlier state, never on a later one: a journal left alone is as it was found.
EARLIER = {"as_found": ("as_found",), "machined": ("machined", "as_found"), "built": ("built", "machined", "as_found")}
# A figure as found is not yet machined: what machining must reach does not judge it.
SORTS = {
    "as_found": ("new", "service"),
    "machined": ("machining", "new", "service"),
    "built": ("machining", "new", "service"),
}
SINGLE = say("trade.sheets.single")

_number = re.compile(r"[+\-\u2212]?[0-9.,/\s]*[0-9]").match
_plain = re.compile(r"-?[0-9]+(?:\.([0-9]+))?").fullmatch


def number_part(typed: str) -> str:
    """The digits as typed, without a unit that was typed behind them: "2.2440 in" -> "2.2440"."""
    number = _number(typed.strip())
    return number[0] if number else typed.strip()


def written(text: str) -> tuple[Fraction, int | None]:
    """A number as a sheet shows it, and its decimals (None for a vulgar fraction). The mean of long readings, or one
    turned into a smaller unit, has more digits than anybody may type, and must still be read."""
    plain = _plain(text)
    if plain:
        return Fraction(text), len(plain[1] or "")
    typed = read(text)
    return typed.amount, typed.places


def size_of(unit: str) -> Fraction:
    """The size of one step of a unit in SI; a difference of temperatures has no offset."""
    return to_si(Fraction(1), unit) - to_si(Fraction(0), unit)


def usual_places(unit: str) -> int:
    return PLACES.get(unit, 3)


def shown_unit(kind: str, unit: str, rules: Mapping[str, Any]) -> str:
    """The unit that the workshop wants for a kind of value, else the one that was typed."""
    return rules.get(f"shown_{kind}", "") or unit


def shown_places(places: int, unit: str, into: str) -> int:
    """Decimals in another unit, so that its last digit is no coarser than the last digit was."""
    if unit == into:
        return places
    step, last = size_of(unit) / 10**places, size_of(into)
    result = 0
    while last / 10**result > step and result < 9:
        result += 1
    return result


def amount_text(amount: Fraction, unit: str, places: int) -> str:
    """An amount in SI as the digits shown in `unit`."""
    return decimal_text(from_si(amount, unit), places)


def spread_text(variance: Fraction, unit: str) -> str:
    """A standard deviation, two digits that count, from its square in SI."""
    return significant(sqrt(variance) / size_of(unit), 2)


def expanded_text(variance: Fraction, k: Fraction, unit: str) -> str:
    """U = k·u in `unit`, rounded up to two digits that count, so that it never claims more than is known."""
    return round_up(k * sqrt(variance) / size_of(unit), 2)


def share_text(share: Fraction) -> str:
    """A share as per cent; a small one is said to be small and never to be nothing."""
    return "< 0.1" if 0 < share < Fraction(1, 1000) else decimal_text(share * 100, 1)


def probability_text(probability: Fraction) -> str:
    """A probability as per cent; nothing is ever said to be certain."""
    if probability > Fraction(999, 1000):
        return "> 99.9"
    return "< 0.1" if probability < Fraction(1, 1000) else decimal_text(probability * 100, 1)


def ink(text: str) -> float:
    """A shown number as a plain one, only for placing ink."""
    return float(text)


def kind_of(unit: str) -> str:
    return UNITS[unit]["kind"]
