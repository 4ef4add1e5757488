"""Verdicts by the three rules, on the limit itself and a hair beside it. Vectors shared with the phone."""

import json
from fractions import Fraction
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from tests.support.cases import all_cases
from tests.support.made import fraction, text
from witnessmark.trade.measuring import rules as measuring_rules
from witnessmark.trade.measuring import verdicts
from witnessmark.trade.measuring.uncertainty import Budget, factor

VECTORS = json.loads((Path(__file__).parents[3] / "vectors" / "verdicts.json").read_text())
AMOUNTS = st.fractions(-5, 5, max_denominator=1000)
ENDS = st.none() | AMOUNTS
BUDGETS = st.tuples(st.fractions(0, 2, max_denominator=1000), st.none() | st.integers(1, 200)).map(
    lambda of: Budget(of[0], of[1], factor(of[1]), [], [])
)
RULES = st.sampled_from(sorted(measuring_rules.RULES))


@all_cases(("amount", "variance", "dof", "low", "high", "rule", "verdict"), VECTORS["judged"], ids=str)
def test_a_verdict(amount, variance, dof, low, high, rule, verdict):
    budget = Budget(fraction(variance), dof, factor(dof), [], [])
    judged = verdicts.judge(Fraction(amount), budget, fraction(low), fraction(high), rule)
    assert {
        "standing": judged.standing,
        "excess": text(judged.excess),
        "side": judged.side,
        "probability": text(judged.probability),
        "guard2": text(judged.guard2),
    } == verdict


@given(amount=AMOUNTS, budget=BUDGETS, low=ENDS, high=ENDS, rule=RULES)
def test_what_every_verdict_must_be(amount, budget, low, high, rule):
    if low is not None and high is not None and low > high:
        low, high = high, low
    verdict = verdicts.judge(amount, budget, low, high, rule)
    inside = (low is None or amount >= low) and (high is None or amount <= high)
    if low is None and high is None:
        assert verdict.standing == "no limit"
        return
    assert (verdict.standing == "within") <= inside
    assert (verdict.standing == "outside") <= (not inside)
    assert (verdict.excess is None) == inside
    assert (verdict.side == "") == (verdict.standing == "within")
    assert 0 <= verdict.probability <= 1
    if rule == "simple":
        assert verdict.standing == ("within" if inside else "outside")
    if rule == "guarded_95" and verdict.standing == "within" and budget.dof is None:
        assert verdict.probability >= Fraction(949, 1000)
    if rule == "guarded_95" and verdict.standing == "outside" and budget.dof is None:
        assert verdict.probability <= Fraction(51, 1000)


@given(amount=AMOUNTS, budget=BUDGETS, low=ENDS, high=ENDS, rule=RULES)
def test_turned_round_the_verdict_is_the_same(amount, budget, low, high, rule):
    if low is not None and high is not None and low > high:
        low, high = high, low
    verdict = verdicts.judge(amount, budget, low, high, rule)
    turned = verdicts.judge(-amount, budget, None if high is None else -high, None if low is None else -low, rule)
    assert (turned.standing, turned.excess, turned.guard2) == (verdict.standing, verdict.excess, verdict.guard2)


@given(amount=AMOUNTS, budget=BUDGETS, high=AMOUNTS)
def test_whatever_the_stricter_rule_proves_the_looser_one_proves(amount, budget, high):
    strict = verdicts.judge(amount, budget, None, high, "guarded").standing
    usual = verdicts.judge(amount, budget, None, high, "guarded_95").standing
    simple = verdicts.judge(amount, budget, None, high, "simple").standing
    assert strict in ("not proven", usual) and usual in ("not proven", simple)


@given(amount=AMOUNTS, high=AMOUNTS)
def test_nothing_is_proven_without_an_uncertainty(amount, high):
    unknown = Budget(None, None, factor(None), [], ["why"])
    assert verdicts.judge(amount, unknown, None, high, "guarded").standing == "not proven"
    assert verdicts.judge(amount, unknown, None, high, "simple").standing in ("within", "outside")
