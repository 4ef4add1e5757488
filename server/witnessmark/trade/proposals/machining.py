"""Which oversize or undersize step cleans up all bores or journals of an engine, and the one reading that forces it.

A step is added to the nominal size of bores and taken from that of journals. It cleans up when every reading leaves at
least the stock allowance to cut. Lengths are exact fractions in one and the same unit of length.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say


@dataclass(frozen=True)
class Tried:
    """A step that was looked at: `short` is how much of the allowance is missing (0 or less: it cleans up), `listed`
    whether a piston or bearing of this step is listed."""

    step: Fraction
    target: Fraction
    short: Fraction
    listed: bool


@dataclass(frozen=True)
class Machining:
    """`chosen` is the smallest listed step that cleans up, None when no step is left; `forced_by` the place in
    `readings` of the one that forces it; `tried` all steps from the smallest on, up to the chosen one."""

    chosen: Tried | None
    forced_by: int
    tried: list[Tried]


def machine(
    readings: Sequence[Fraction],
    nominal: Fraction,
    steps: Sequence[Fraction],
    stock: Fraction,
    *,
    bores: bool,
    listed: Sequence[Fraction] | None = None,
) -> Machining:
    """The step for all `readings` together. `listed` names the steps for which a piston or bearing can be had; None
    when all can. `stock` is the least allowance on the diameter. Raises Refusal when there is nothing to decide on."""
    if not readings:
        raise Refusal("bad_value", "readings", say("trade.proposals.no_reading"))
    if not steps or min(steps) <= 0:
        raise Refusal("bad_value", "steps", say("trade.proposals.no_steps"))
    if stock < 0:
        raise Refusal("bad_value", "stock", say("trade.proposals.stock_negative"))
    way = 1 if bores else -1
    worst = max(readings) if bores else min(readings)
    tried = []
    for step in sorted(set(steps)):
        target = nominal + way * step
        tried.append(Tried(step, target, stock - way * (target - worst), listed is None or step in listed))
        if tried[-1].short <= 0 and tried[-1].listed:
            return Machining(tried[-1], list(readings).index(worst), tried)
    return Machining(None, list(readings).index(worst), tried)
