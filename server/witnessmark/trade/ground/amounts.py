"""Showing an exact amount with as many decimals as it needs, and no more."""

from __future__ import annotations

from fractions import Fraction

from witnessmark.trade.ground.units import decimal_text, from_si

MOST_PLACES = 6


def exact_text(amount: Fraction, least: int = 0) -> str:
    """The amount in decimals: at least `least` of them, more where it needs them to be exact, rounded at the sixth."""
    places = least
    while places < MOST_PLACES and (amount * 10**places).denominator != 1:
        places += 1
    return decimal_text(amount, places)


def in_unit(amount: Fraction, unit: str, least: int = 0) -> str:
    """An amount in SI, written out in `unit` with the unit: `86.500 mm`."""
    return f"{exact_text(from_si(amount, unit), least)} {unit}".rstrip()
