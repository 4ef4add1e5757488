"""Valve clearance by shim: which shim goes where, from those already on the engine first, and the gap that results.

New shim = shim now + gap measured - gap wanted; of the set the nearest, the thinner of two equally near (more gap burns
no valve). Lengths are exact fractions in one and the same unit.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say

FORMULA = say("trade.proposals.shim_formula")


@dataclass(frozen=True)
class Valve:
    """What was measured at a valve, and the gap wanted there."""

    place: str
    gap: Fraction
    shim: Fraction
    target: Fraction


@dataclass(frozen=True)
class Shim:
    """For one valve: `wanted` thickness by the formula, `chosen` from the set, the `gap` that results, and where it
    comes `from`: "stays", "new", or the place of the valve whose shim is taken. `reached` is False when the wanted
    thickness lies outside the set by more than half its last step."""

    place: str
    wanted: Fraction
    chosen: Fraction
    gap: Fraction
    source: str
    reached: bool


def nearest(wanted: Fraction, thicknesses: Sequence[Fraction]) -> Fraction:
    """The nearest of a set, the smaller of two equally near."""
    return min(thicknesses, key=lambda thickness: (abs(thickness - wanted), thickness))


def shims(valves: Sequence[Valve], thicknesses: Sequence[Fraction]) -> list[Shim]:
    """A shim for each valve, in the order given. Raises Refusal for an empty set."""
    if not thicknesses:
        raise Refusal("bad_value", "set", say("trade.proposals.no_set"))
    wanted = [valve.shim + valve.gap - valve.target for valve in valves]
    chosen = [_chosen(valve.shim, want, thicknesses) for valve, want in zip(valves, wanted, strict=True)]
    # What comes off one valve can go to another: only shims that do not stay where they are.
    free = [(valve.shim, valve.place) for valve, shim in zip(valves, chosen, strict=True) if shim != valve.shim]
    choices = []
    for valve, want, shim in zip(valves, wanted, chosen, strict=True):
        source = "stays"
        if shim != valve.shim:
            spare = next((entry for entry in free if entry[0] == shim), None)
            source = spare[1] if spare else "new"
            if spare:
                free.remove(spare)
        choices.append(
            Shim(valve.place, want, shim, valve.gap + valve.shim - shim, source, _reached(want, thicknesses))
        )
    return choices


def _chosen(now: Fraction, wanted: Fraction, thicknesses: Sequence[Fraction]) -> Fraction:
    best = nearest(wanted, thicknesses)
    # The shim in place is as good as any of the set that is no nearer.
    return now if abs(now - wanted) <= abs(best - wanted) else best


def _reached(wanted: Fraction, thicknesses: Sequence[Fraction]) -> bool:
    ordered = sorted(set(thicknesses))
    if len(ordered) == 1:
        return wanted == ordered[0]
    low, high = (ordered[1] - ordered[0]) / 2, (ordered[-1] - ordered[-2]) / 2
    return ordered[0] - low <= wanted <= ordered[-1] + high
