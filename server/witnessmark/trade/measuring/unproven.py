"""A figure that is not proven, and what any other set of shares in its variance would make of it.

Variances are first cut to fifteen digits, rounded up, so that a phone need not carry hundreds; all else is exact.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from witnessmark.trade.ground.exact import round_up, sqrt
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.measuring import uncertainty
from witnessmark.trade.measuring.gauges import InSi
from witnessmark.trade.measuring.uncertainty import Made, Share, error_text, gauge_of, total, width_text
from witnessmark.trade.measuring.verdicts import guard_squared, room_to, stands

ERROR = "permissible error"


@dataclass(frozen=True)
class Unproven:
    """`amount` and limits in SI (None where open), the readings and their weights, the measuring rules, and the unit to
    speak in."""

    amount: Fraction
    low: Fraction | None
    high: Fraction | None
    weights: Mapping[str, Fraction]
    made: Mapping[str, Made]
    rules: Mapping[str, Any]
    unit: str


def room(unproven: Unproven) -> Fraction:
    """The distance to the nearer limit, below zero beyond it."""
    return room_to(unproven.amount, unproven.low, unproven.high)[0]


def goal(unproven: Unproven) -> str:
    """In words: within or outside the limit."""
    return say("trade.measuring.inside") if room(unproven) > 0 else say("trade.measuring.outside")


def counted(unproven: Unproven) -> list[tuple[Fraction, str, Made]]:
    """The readings that count in the figure: weight, name, reading."""
    return [(weight, name, unproven.made[name]) for name, weight in unproven.weights.items() if weight]


def short(amount: Fraction) -> Fraction:
    return Fraction(round_up(amount, 15))


def shares(unproven: Unproven, made: Mapping[str, Made] | None = None) -> list[Share]:
    """The shares as things are, or with readings made otherwise."""
    budget = uncertainty.shares(unproven.weights, made or unproven.made, unproven.rules)
    return [replace(share, variance=short(share.variance)) for share in budget]


def guard2(unproven: Unproven, budget: Iterable[Share]) -> Fraction:
    """The square of the guard band that such shares ask for."""
    squared = guard_squared(*total(budget), unproven.low, unproven.high, unproven.rules["rule"])
    assert squared is not None, "a variance gives a guard band"
    return squared


def settled(unproven: Unproven, budget: Iterable[Share]) -> bool:
    return stands(room(unproven), guard2(unproven, budget)) != "not proven"


def leaves(unproven: Unproven, budget: Iterable[Share]) -> str:
    """The guard band in words: "± 0.0035 mm"."""
    return f"± {width_text(sqrt(guard2(unproven, budget), 30), unproven.unit, round_up)}"


def gauge_named(unproven: Unproven, id: str) -> InSi:
    """The gauge of that identifier among the readings; of several descriptions the coarsest."""
    there = [gauge_of(made) for _, _, made in counted(unproven) if gauge_of(made)["id"] == id]
    return max(there, key=lambda gauge: gauge["mpe"])


def called(gauge: InSi) -> str:
    return f"{gauge['name']} ({error_text(gauge)})"
