"""Works out anew what the vectors of gauges, limits, rules, exact numbers, budgets, verdicts and settling come to:

    python -m tests.unit.trade.measuring.make_measuring_vectors

The cases themselves stand in the files and are added there by hand, with anything in place of what they come to. Read
the differences before keeping them: the phone is held to these texts, digit for digit. That they are right is judged by
tests/outside, by properties, and by carrying out what the sentences promise.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path
from typing import Any

from tests.support.made import fraction, made, text, unproven
from witnessmark.trade.ground import exact
from witnessmark.trade.measuring import gauges, limits, settling, uncertainty, verdicts
from witnessmark.trade.measuring import rules as measuring_rules
from witnessmark.trade.measuring.uncertainty import Budget, factor

PATH = Path(__file__).parents[3] / "vectors"


def faults(check: Callable[[Any], list[Any]]) -> Callable[..., list[Any]]:
    return lambda given, _: [given, [[fault.where, fault.message] for fault in check(given)]]


def in_si(gauge: dict[str, Any], _: Any) -> list[Any]:
    return [
        gauge,
        {name: value if isinstance(value, str) else text(value) for name, value in gauges.in_si(gauge).items()},
    ]


def budget(case: dict[str, Any], register: dict[str, Any]) -> dict[str, Any]:
    rules = measuring_rules.DEFAULT | case["rules"]
    readings = {name: made(reading, register) for name, reading in case["made"].items()}
    combined = uncertainty.combine({n: Fraction(w) for n, w in case["weights"].items()}, readings, rules)
    return case | {
        "corrected": {name: text(uncertainty.corrected(reading, rules)) for name, reading in readings.items()},
        "budget": {
            "variance": text(combined.variance),
            "dof": combined.dof,
            "k": text(combined.k),
            "lines": [[line.source, line.words, text(line.variance), text(line.share)] for line in combined.lines],
            "unknown": combined.unknown,
        },
    }


def verdict(amount: str, variance: str | None, dof: int | None, low: Any, high: Any, rule: str, _: Any) -> list[Any]:
    known = Budget(fraction(variance), dof, factor(dof), [], [])
    judged = verdicts.judge(Fraction(amount), known, fraction(low), fraction(high), rule)
    numbers = {name: text(getattr(judged, name)) for name in ("excess", "probability", "guard2")}
    return [amount, variance, dof, low, high, rule, {"standing": judged.standing, "side": judged.side, **numbers}]


def settle(case: dict[str, Any], register: dict[str, Any]) -> dict[str, Any]:
    figure = unproven(case, register)
    amounts = [weight * uncertainty.corrected(made, figure.rules) for weight, made in _pairs(figure)]
    figure = unproven(case | {"amount": text(sum(amounts, Fraction(0)))}, register)
    known = uncertainty.combine(figure.weights, figure.made, figure.rules)
    return case | {
        "amount": text(figure.amount),
        "standing": verdicts.judge(figure.amount, known, figure.low, figure.high, figure.rules["rule"]).standing,
        "settle": settling.settle(figure, [register[name] for name in case["register"]], case["day"]),
    }


def _pairs(figure: Any) -> list[tuple[Fraction, Any]]:
    return [(weight, figure.made[name]) for name, weight in figure.weights.items()]


# file -> group -> what a case comes to, from the case as it stands
MADE: dict[str, dict[str, Callable[..., Any]]] = {
    "exact": {
        "roots": lambda amount, digits, _: [amount, digits, text(exact.sqrt(Fraction(amount), digits))],
        "normal": lambda z, _: [z, text(exact.normal_below(Fraction(z)))],
        "student": lambda t, freedom, _: [t, freedom, text(exact.t_below(Fraction(t), freedom))],
        "shown": lambda amount, digits, *_: [
            *(amount, digits),
            *(show(Fraction(amount), digits) for show in (exact.significant, exact.round_up, exact.round_down)),
        ],
    },
    "gauges": {
        "checks": faults(gauges.check),
        "in_si": in_si,
        "overdue": lambda gauge, claimed, _: [gauge, claimed, gauges.overdue(gauge, claimed)],
        "in_range": lambda gauge, amount, _: [gauge, amount, gauges.in_range(gauge, Fraction(amount))],
        "stands_in": lambda gauge, other, _: [gauge, other, gauges.stands_in(gauges.in_si(gauge), gauges.in_si(other))],
    },
    "limits": {
        "checks": faults(limits.check),
        "sizes": faults(limits.check_size),
        "covers": lambda where, place, _: [where, place, limits.covers(where, place)],
    },
    "measuring_rules": {"checks": faults(measuring_rules.check)},
    "uncertainty": {
        "budgets": budget,
        "factors": lambda dof, column, _: [dof, column, text(factor(dof, column))],
    },
    "verdicts": {"judged": verdict},
    "settling": {"cases": settle},
}


def made_again(name: str) -> dict[str, Any]:
    result = json.loads((PATH / f"{name}.json").read_text())
    for group, come_to in MADE[name].items():
        result[group] = [
            come_to(case, result.get("gauges")) if isinstance(case, dict) else come_to(*case) for case in result[group]
        ]
    return result


def written(groups: dict[str, Any]) -> str:
    """One case a line, so that differences can be read."""
    parts = []
    for name, group in groups.items():
        brackets = "[]" if isinstance(group, list) else "{}"
        if isinstance(group, list):
            lines = [json.dumps(case, ensure_ascii=False) for case in group]
        elif isinstance(group, dict):
            lines = [f"{json.dumps(key)}: {json.dumps(value, ensure_ascii=False)}" for key, value in group.items()]
        else:
            parts.append(f"  {json.dumps(name)}: {json.dumps(group, ensure_ascii=False)}")
            continue
        inner = ",\n    ".join(lines)
        parts.append(f"  {json.dumps(name)}: {brackets[0]}\n    {inner}\n  {brackets[1]}")
    return "{\n" + ",\n".join(parts) + "\n}\n"


if __name__ == "__main__":
    for file in MADE:
        (PATH / f"{file}.json").write_text(written(made_again(file)))
