"""Readings, budgets and what is open, from the plain JSON of the vectors."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from witnessmark.trade.ground.units import to_si
from witnessmark.trade.measuring import gauges, uncertainty
from witnessmark.trade.measuring import rules as measuring_rules
from witnessmark.trade.measuring.unproven import Unproven


def fraction(text: str | None) -> Fraction | None:
    return None if text is None else Fraction(text)


def text(amount: Fraction | None) -> str | None:
    return None if amount is None else f"{amount.numerator}/{amount.denominator}"


def made(given: dict[str, Any], register: dict[str, dict[str, Any]]) -> uncertainty.Made:
    gauge = register.get(given["gauge"] or "")
    return uncertainty.Made(
        code=given["code"],
        amounts=tuple(to_si(Fraction(value), given["unit"]) for value in given["values"]),
        gauge=gauges.in_si(gauge) if gauge else None,
        gauge_name=given["gauge_name"],
        part_c=fraction(given["part_c"]),
        gauge_c=fraction(given["gauge_c"]),
        alpha=uncertainty.expansion(given["material"]),
        words=given["words"],
        unit=given["unit"],
    )


def unproven(case: dict[str, Any], register: dict[str, dict[str, Any]]) -> Unproven:
    ends = [to_si(Fraction(case[end]), case["unit"]) if case[end] else None for end in ("low", "high")]
    return Unproven(
        amount=Fraction(case["amount"]),
        low=ends[0],
        high=ends[1],
        weights={name: Fraction(weight) for name, weight in case["weights"].items()},
        made={name: made(reading, register) for name, reading in case["made"].items()},
        rules=measuring_rules.DEFAULT | case["rules"],
        unit=case["unit"],
    )
