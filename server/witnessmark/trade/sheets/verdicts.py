"""A verdict as a sheet shows it: the limit with its source, where the figure stands, and what would settle it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from witnessmark.trade.ground import units
from witnessmark.trade.measuring import settling, unproven, verdicts
from witnessmark.trade.measuring.figures import Figure
from witnessmark.trade.measuring.uncertainty import Budget, Made
from witnessmark.trade.sheets.words import amount_text, ink, probability_text, shown_places, size_of


@dataclass(frozen=True)
class Grounds:
    """What a figure is judged by: its readings and their weights, its budget, the rules; the gauges of the register and
    the day on which one of them would have to be in date."""

    weights: Mapping[str, Fraction]
    made: Mapping[str, Made]
    budget: Budget
    rules: Mapping[str, Any]
    register: Sequence[Mapping[str, Any]]
    day: str


def verdict(limit: Mapping[str, Any], figure: Figure, unit: str, places: int, grounds: Grounds) -> dict[str, Any]:
    """The verdict on a figure that has an amount. `unit` and `places` are those in which the figure is shown."""
    amount, rules = figure.amount or Fraction(0), grounds.rules
    low, high = (units.to_si(Fraction(limit[end]), limit["unit"]) if limit[end] else None for end in ("low", "high"))
    judged = verdicts.judge(amount, grounds.budget, low, high, rules["rule"])
    settle: list[str] = []
    if judged.standing == "not proven":
        open_ = unproven.Unproven(amount, low, high, grounds.weights, grounds.made, rules, unit)
        settle = settling.settle(open_, grounds.register, grounds.day)
    typed = [len(limit[end].partition(".")[2]) for end in ("low", "high") if limit[end]]
    finest = max([*typed, shown_places(figure.places, figure.unit, limit["unit"])])
    return {
        "limit": limit["id"],
        "sort": limit["sort"],
        "low": limit["low"],
        "high": limit["high"],
        "unit": limit["unit"],
        "source": limit["source"],
        "standing": judged.standing,
        "excess": "" if judged.excess is None else units.decimal_text(judged.excess / size_of(limit["unit"]), finest),
        "side": judged.side,
        "probability": "" if judged.probability is None else probability_text(judged.probability),
        "rule": rules["rule"],
        "settle": settle,
        "draw": {
            "low": None if low is None else ink(amount_text(low, unit, places + 3)),
            "high": None if high is None else ink(amount_text(high, unit, places + 3)),
        },
    }
