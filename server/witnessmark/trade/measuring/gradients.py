"""The operations of a procedure's lines, each worked together with its exact partial derivatives (forward mode).

What every operation means is said in trade/measuring/procedures.py. A value carries its derivative by every reading
in it; the derivatives of a largest or a smallest are those of the reading that it picked.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from witnessmark.trade.ground.exact import PI
from witnessmark.trade.ground.sentences import say


@dataclass(frozen=True)
class Typed:
    """How an amount was typed: kind, unit, decimals (None for a vulgar fraction), and whether it is a reading."""

    kind: str
    unit: str
    places: int | None
    reading: bool


@dataclass(frozen=True)
class Value:
    """An amount in SI and what it comes from. `finer`: averaged or divided, so one decimal more is worth showing;
    `computed`: its unit was made by the operation, so nobody typed its decimals."""

    amount: Fraction
    weights: Mapping[str, Fraction] = field(default_factory=dict)
    picked: frozenset[str] = frozenset()
    typed: tuple[Typed, ...] = ()
    finer: bool = False
    computed: bool = False


@dataclass(frozen=True)
class Gap:
    """No amount: the names that are missing, or the reason. `may`: each of them may be missing."""

    missing: tuple[str, ...]
    may: bool
    typed: tuple[Typed, ...] = ()


Held = Value | Gap
HALF = Fraction(1, 2)
THOUSAND = Fraction(1000)


def _gap(gaps: Sequence[Gap], of: Sequence[Held]) -> Gap:
    names = tuple(dict.fromkeys(name for gap in gaps for name in gap.missing))
    return Gap(names, all(gap.may for gap in gaps), _typed(of))


def _typed(of: Sequence[Held]) -> tuple[Typed, ...]:
    return tuple(dict.fromkeys(typed for operand in of for typed in operand.typed))


def _made(
    amount: Fraction, terms: Sequence[tuple[Fraction, Value]], of: Sequence[Held], finer: bool = False,
    computed: bool = False,
) -> Value:  # fmt: skip
    """A value whose derivative is the sum of the terms' (factor, value)."""
    weights: dict[str, Fraction] = {}
    for factor, value in terms:
        for name, weight in value.weights.items():
            weights[name] = weights.get(name, Fraction(0)) + factor * weight
    values = [operand for operand in of if isinstance(operand, Value)]
    return Value(
        amount,
        {name: weight for name, weight in weights.items() if weight},
        frozenset().union(*(value.picked for _, value in terms)),
        _typed(of),
        finer or any(value.finer for value in values),
        computed or any(value.computed for value in values),
    )


def _there(of: Sequence[Held], least: int = 1) -> list[Value] | Gap:
    """The values that are there; a gap when one is missing that may not be, or when fewer than `least` are left."""
    gaps = [operand for operand in of if isinstance(operand, Gap)]
    values = [operand for operand in of if isinstance(operand, Value)]
    must = [gap for gap in gaps if not gap.may]
    if must or len(values) < least:
        return _gap(must or gaps, of)
    return values


def largest(of: Sequence[Held], sign: int = 1) -> Held:
    """The largest; the smallest with `sign` -1. Of equal ones the first counts."""
    values = _there(of)
    if isinstance(values, Gap):
        return values
    best = max(values, key=lambda value: sign * value.amount)
    return _made(best.amount, [(Fraction(1), best)], of)


def spread(of: Sequence[Held]) -> Held:
    values = _there(of, 2)
    if isinstance(values, Gap):
        return values
    top = max(range(len(values)), key=lambda i: values[i].amount)
    # Never the same one twice: equal readings have a spread of zero, yet both are uncertain.
    low = min((i for i in range(len(values)) if i != top), key=lambda i: values[i].amount)
    return linear([(Fraction(1), values[top]), (Fraction(-1), values[low])], of)


def linear(terms: Sequence[tuple[Fraction, Value]], of: Sequence[Held], finer: bool = False) -> Value:
    amount = sum((factor * value.amount for factor, value in terms), Fraction(0))
    return _made(amount, terms, of, finer)


def mean(of: Sequence[Held]) -> Held:
    values = _there(of)
    if isinstance(values, Gap):
        return values
    return linear([(Fraction(1, len(values)), value) for value in values], of, finer=True)


def strict(of: Sequence[Held]) -> list[Value] | Gap:
    """All values, or a gap when any is missing."""
    gaps = [operand for operand in of if isinstance(operand, Gap)]
    return _gap(gaps, of) if gaps else [operand for operand in of if isinstance(operand, Value)]


def add(of: Sequence[Held]) -> Held:
    values = strict(of)
    return values if isinstance(values, Gap) else linear([(Fraction(1), value) for value in values], of)


def scaled(operand: Held, by: Fraction) -> Held:
    return operand if isinstance(operand, Gap) else linear([(by, operand)], [operand], finer=True)


def difference(first: Held, second: Held) -> Held:
    values = strict([first, second])
    if isinstance(values, Gap):
        return values
    return linear([(Fraction(1), values[0]), (Fraction(-1), values[1])], values)


def distance(first: Held, second: Held) -> Held:
    values = strict([first, second])
    if isinstance(values, Gap):
        return values
    sign = Fraction(-1 if values[0].amount < values[1].amount else 1)
    return linear([(sign, values[0]), (-sign, values[1])], values)


def product(first: Held, second: Held) -> Held:
    values = strict([first, second])
    if isinstance(values, Gap):
        return values
    a, b = values
    return _made(a.amount * b.amount, [(b.amount, a), (a.amount, b)], values, finer=True)


def quotient(first: Held, second: Held, words: str, same_kind: bool = False, per: Fraction = Fraction(1)) -> Held:
    """per · first / second. `words` names the divisor, for the reason when it is zero."""
    values = strict([first, second])
    if isinstance(values, Gap):
        return values
    a, b = values
    if b.amount == 0:
        return Gap((say("trade.measuring.divisor_zero", divisor=words),), False, _typed(values))
    terms = [(per / b.amount, a), (-per * a.amount / b.amount**2, b)]
    return _made(per * a.amount / b.amount, terms, values, finer=not same_kind, computed=same_kind)


def cylinder_volume(diameter: Held, length: Held) -> Held:
    values = strict([diameter, length])
    if isinstance(values, Gap):
        return values
    d, height = values
    terms = [(PI / 2 * d.amount * height.amount, d), (PI / 4 * d.amount**2, height)]
    return _made(PI / 4 * d.amount**2 * height.amount, terms, values, computed=True)


def ratio_of_volumes(swept: Held, clearance: Held, words: str) -> Held:
    values = strict([swept, clearance])
    if isinstance(values, Gap):
        return values
    s, c = values
    if c.amount == 0:
        return Gap((say("trade.measuring.divisor_zero", divisor=words),), False, _typed(values))
    terms = [(1 / c.amount, s), (-s.amount / c.amount**2, c)]
    return _made((s.amount + c.amount) / c.amount, terms, values, computed=True)


def nearest(operand: Held, members: Sequence[Value], name: str) -> Held:
    """The member nearest to the value: a stated size, so it does not move with the readings."""
    if isinstance(operand, Gap) or not members:
        gaps = [operand] if isinstance(operand, Gap) else []
        return _gap([*gaps, *([] if members else [Gap((name,), False)])], [operand, *members])
    best = min(members, key=lambda member: (abs(member.amount - operand.amount), member.amount))
    return Value(best.amount, {}, operand.picked, _typed([operand, *members]))


def largest_spread(groups: Sequence[Sequence[Held]]) -> Held:
    return _largest_of([spread(group) for group in groups], groups, signed=False)


def largest_drop(groups: Sequence[Sequence[Held]]) -> Held:
    return _largest_of([difference(group[0], group[-1]) for group in groups], groups)


def middle_less_ends(groups: Sequence[Sequence[Held]]) -> Held:
    def largest_step(group: Sequence[Held]) -> Held:
        values = strict(group)
        if isinstance(values, Gap):
            return values
        first, middle, last = values
        return linear([(-HALF, first), (Fraction(1), middle), (-HALF, last)], values, finer=True)

    return _largest_of([largest_step(group) for group in groups], groups)


def _largest_of(results: Sequence[Held], groups: Sequence[Sequence[Held]], signed: bool = True) -> Held:
    """The result largest in size, the first of equal ones; groups that lack only what may be missing are left out."""
    every = [operand for group in groups for operand in group]
    must = [operand for operand in every if isinstance(operand, Gap) and not operand.may]
    if must:
        return _gap(must, every)
    values = _there(results)
    if isinstance(values, Gap):
        return _gap([values], every)
    best = max(values, key=lambda value: abs(value.amount) if signed else value.amount)
    return _made(best.amount, [(Fraction(1), best)], every, finer=best.finer)
