"""A verdict as a sheet shows it: the limit with its source, where the figure stands, and what would settle it."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from witnessmark.trade import units, verdicts
from witnessmark.trade.figures import Figure
from witnessmark.trade.sheet_words import amount_text, ink, share_text, shown_places, size_of
from witnessmark.trade.uncertainty import Budget


def verdict(
    limit: Mapping[str, Any], one: Figure, unit: str, places: int, budget: Budget, rules: Mapping[str, Any]
) -> dict[str, Any]:
    """The verdict on a figure that has an amount. `unit` and `places` are those in which the figure is shown."""
    low, high = (units.to_si(Fraction(limit[end]), limit["unit"]) if limit[end] else None for end in ("low", "high"))
    judged = verdicts.judge(one.amount or Fraction(0), budget, low, high, rules["rule"])
    typed = [len(limit[end].partition(".")[2]) for end in ("low", "high") if limit[end]]
    finest = max([*typed, shown_places(one.places, one.unit, limit["unit"])])
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
        "probability": "" if judged.probability is None else share_text(judged.probability),
        "rule": rules["rule"],
        "settle": [],
        "draw": {
            "low": None if low is None else ink(amount_text(low, unit, places + 3)),
            "high": None if high is None else ink(amount_text(high, unit, places + 3)),
        },
    }
