"""What a figure proves against its limits, by the rule that the workshop chose. Every decision compares squares of
exact numbers; roots serve only what is shown.

    guarded     ISO 14253-1 in its editions up to 2013, ILAC-G8:09/2019 with w = U: within limits when the value lies
                inside by at least U = k u, outside when it lies outside by more than U, else not proven
    guarded_95  ISO 14253-1:2017: the same with 1.65 u, one-sided 95 %; where the limits stand so close that both sides
                count (under 6 u, more where degrees of freedom are few), two-sided 95 %, from memory
    simple      the value alone decides
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from witnessmark.trade.ground.exact import normal_below, sqrt, t_below
from witnessmark.trade.measuring.uncertainty import INFINITE, Budget, factor

Standing = Literal["within", "outside", "not proven", "no limit"]

_NARROW = 6  # in u: closer limits are near to each other for guarded_95


@dataclass(frozen=True)
class Verdict:
    """`excess` is by how much the value lies beyond the limit of `side` (None when inside both); `side` names the limit
    that it breaks, or that it comes too near to be proven within, else "". `probability` is that the true size lies
    within the limits (JCGM 106:2012, 7), None when the uncertainty is not known. `guard2` is the guard band squared."""

    standing: Standing
    excess: Fraction | None
    side: Literal["low", "high", ""]
    probability: Fraction | None
    guard2: Fraction | None


def judge(amount: Fraction, budget: Budget, low: Fraction | None, high: Fraction | None, rule: str) -> Verdict:
    """The verdict on an amount, limits None where open, all in SI; `rule` is a code of measuring_rules.RULES."""
    if low is None and high is None:
        return Verdict("no limit", None, "", None, None)
    room, side = room_to(amount, low, high)
    excess = -room if room < 0 else None
    probability = _probability(amount, budget, low, high)
    guard2 = guard_squared(budget.variance, budget.dof, low, high, rule)
    if guard2 is None:
        return Verdict("not proven", excess, side if excess else "", probability, None)
    proven = stands(room, guard2)
    if proven == "within":
        side = ""
    return Verdict(proven, excess, side, probability, guard2)


def stands(room: Fraction, guard2: Fraction) -> Standing:
    """Within, outside or not proven, from the room to the nearer limit (below zero beyond it) and the guard band
    squared. On the guarded limit itself it is within; that far beyond the limit it is not yet outside."""
    if room >= 0 and room * room >= guard2:
        return "within"
    if room < 0 and room * room > guard2:
        return "outside"
    return "not proven"


def guard_squared(
    variance: Fraction | None, dof: int | None, low: Fraction | None, high: Fraction | None, rule: str
) -> Fraction | None:
    """The square of the guard band; None when it cannot be known, which does not matter to simple acceptance."""
    if rule == "simple":
        return Fraction(0)
    if variance is None:
        return None
    if rule == "guarded":
        return factor(dof) ** 2 * variance
    one_sided = factor(dof, "one_95")
    near = low is not None and high is not None and (high - low) ** 2 < near_squared(one_sided) * variance
    return (factor(dof, "two_95") if near else one_sided) ** 2 * variance


def near_squared(one_sided: Fraction) -> Fraction:
    """How near, in u squared, two limits must stand for both sides to count, by the one-sided factor: Student's tails
    are long, so with few degrees of freedom the farther limit still counts at a greater distance."""
    return _NARROW**2 * (one_sided / INFINITE["one_95"]) ** 4


def room_to(amount: Fraction, low: Fraction | None, high: Fraction | None) -> tuple[Fraction, Literal["low", "high"]]:
    """The distance to the nearer limit, below zero when beyond it; of two equally near the upper."""
    below = None if low is None else amount - low
    above = None if high is None else high - amount
    if above is None or (below is not None and below < above):
        assert below is not None, "one of the limits is given"
        return below, "low"
    return above, "high"


def _probability(amount: Fraction, budget: Budget, low: Fraction | None, high: Fraction | None) -> Fraction | None:
    """How likely the true size lies within the limits: normal, or Student's where the degrees of freedom are few."""
    if budget.variance is None:
        return None
    u = sqrt(budget.variance, 30)
    if u == 0:
        inside = (low is None or low <= amount) and (high is None or amount <= high)
        return Fraction(1 if inside else 0)

    def below(limit: Fraction) -> Fraction:
        z = (limit - amount) / u
        return normal_below(z) if budget.dof is None or budget.dof > 100 else t_below(z, budget.dof)

    return (Fraction(1) if high is None else below(high)) - (Fraction(0) if low is None else below(low))
