"""Verdicts, probabilities and guard bands against published examples and scipy; the source stands beside each."""

from __future__ import annotations

from fractions import Fraction
from math import sqrt

import pytest
from scipy import integrate, stats

from tests.support.cases import all_cases
from witnessmark.trade.ground import exact
from witnessmark.trade.measuring import verdicts
from witnessmark.trade.measuring.uncertainty import Budget, factor


def budget(u, dof=None):
    return Budget(Fraction(u) ** 2, dof, factor(dof), [], [])


def judged(amount, u, low="", high="", rule="guarded", dof=None):
    ends = [Fraction(end) if end else None for end in (low, high)]
    return verdicts.judge(Fraction(amount), budget(u, dof), *ends, rule)


@all_cases("step", range(-45, 46))
def test_the_normal_distribution_against_scipy(step):
    z = Fraction(step, 5)
    assert float(exact.normal_below(z)) == pytest.approx(stats.norm.cdf(float(z)), rel=1e-9, abs=1e-18)


@all_cases("freedom", [1, 2, 3, 4, 5, 6, 9, 10, 19, 20, 50, 99, 100])
def test_students_distribution_against_scipy(freedom):
    for step in range(-60, 61, 3):
        t = Fraction(step, 7)
        assert float(exact.t_below(t, freedom)) == pytest.approx(stats.t.cdf(float(t), freedom), rel=1e-9, abs=1e-15)


def test_the_zener_diode_of_jcgm_106():
    """JCGM 106:2012, 7.3.3, example 1 (from memory, recomputed): -5.47 V, u 0.05 V, at most -5.40 V: 0.9192."""
    assert float(judged("-5.47", "0.05", high="-5.40").probability) == pytest.approx(0.9192, abs=5e-5)


def test_the_engine_oil_of_jcgm_106():
    """JCGM 106:2012, 7.4 (inputs as quoted at metrologyrules.com, March 2022): SAE 40, 13.6 mm2/s, u 1.8, 12.5 to
    16.3 mm2/s: 0.66263."""
    assert float(judged("13.6", "1.8", "12.5", "16.3").probability) == pytest.approx(0.66263, abs=5e-6)


# ILAC-G8:09/2019, table of guard bands w for U = 2u: the risk at the acceptance limit (quoted by a laboratory; w = 0
# and w = U also in another's statement of its decision rules).
RISKS = [("0", 0.50), ("0.83", 0.05), ("1", 0.025), ("1.5", 0.0016), ("3", 0.000001)]


@pytest.mark.parametrize(("w", "risk"), RISKS)
def test_the_risk_at_the_acceptance_limit(w, risk):
    risk_of_ours = 1 - judged(-Fraction(w), "0.5", high="0").probability
    assert risk_of_ours <= Fraction(str(risk))
    assert float(risk_of_ours) == pytest.approx(stats.norm.cdf(-2 * float(w)), rel=1e-6)


# A shop case, plain arithmetic: bore at most 86.030, U = 0.005 with k = 2. ILAC-G8:09/2019, 4.2.3, has four words; we
# have three, as both conditional ones are not proven.
SHOP = [
    ("86.020", "pass"), ("86.025", "pass"), ("86.027", "conditional pass"), ("86.033", "conditional fail"),
    ("86.036", "fail"),
]  # fmt: skip
OURS = {"pass": "within", "conditional pass": "not proven", "conditional fail": "not proven", "fail": "outside"}


@pytest.mark.parametrize(("amount", "word"), SHOP)
def test_the_shop_case(amount, word):
    verdict = judged(amount, "0.0025", high="86.030")
    assert verdict.standing == OURS[word]
    assert (verdict.excess is not None) == (word.endswith("fail"))
    assert verdict.guard2 == Fraction("0.005") ** 2
    simple = judged(amount, "0.0025", high="86.030", rule="simple").standing
    assert simple == ("within" if word.endswith("pass") else "outside")


def test_the_guard_band_of_the_edition_of_2017():
    """ISO 14253-1:2017 asks for 95 per cent by default: 1.65 u, 0.83 of U (secondary sources; 1.65 from memory)."""
    guard = sqrt(judged("0", "1", high="100", rule="guarded_95").guard2)
    assert guard == pytest.approx(stats.norm.ppf(0.95), abs=1e-6)
    assert round(guard, 2) in (1.64, 1.65) and guard / 2 == pytest.approx(0.83, abs=0.01)


@all_cases("apart", [1, 2, 3, 3.9, 4, 5, 5.9, 6.1, 8, 20])
@all_cases("dof", [None, 2, 5, 30])
def test_guarded_at_95_keeps_95_per_cent_between_near_limits_too(apart, dof):
    """By scipy, at every place between the limits that the rule calls within."""
    spread = stats.norm() if dof is None else stats.t(dof)
    for step in range(101):
        amount = Fraction(str(apart)) * step / 100
        verdict = judged(amount, "1", low="0", high=str(apart), rule="guarded_95", dof=dof)
        chance = spread.cdf(apart - float(amount)) - spread.cdf(-float(amount))
        assert float(verdict.probability) == pytest.approx(chance, abs=1e-9)
        if verdict.standing == "within":
            assert chance >= (0.95 - 1e-4 if dof is None or apart < 6 else 0.945)


@pytest.mark.parametrize("dof", [1, 4, 20])
def test_few_readings_make_a_wider_guard_band(dof):
    """U = t u with t for 95.45 per cent (JCGM 100:2008, G.4), so the risk at the limit stays what it is for many."""
    guard = exact.sqrt(judged("0", "1", high="100", dof=dof).guard2)
    at_the_limit = judged(Fraction(100) - guard, "1", high="100", dof=dof)
    assert float(1 - at_the_limit.probability) == pytest.approx(stats.norm.cdf(-2), abs=1e-6)


@pytest.mark.parametrize(("amount", "u", "low", "high"), [("0.3", "0.2", "0", "0.5"), ("-1.2", "0.7", "-1", "2")])
def test_a_probability_is_the_area_between_the_limits(amount, u, low, high):
    """Numerical integration of the density, JCGM 106:2012, 7.1 (from memory)."""
    area, _ = integrate.quad(stats.norm(float(amount), float(u)).pdf, float(low), float(high))
    assert float(judged(amount, u, low, high).probability) == pytest.approx(area, abs=1e-9)
