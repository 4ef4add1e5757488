"""Uncertainty and verdicts against GTC, `uncertainties`, scipy and published examples, each with its source."""

from __future__ import annotations

import math
from fractions import Fraction

import GTC
import pytest
from scipy import stats
from uncertainties import ufloat

from witnessmark.trade.exact import normal_below, t_below
from witnessmark.trade.measuring_rules import DEFAULT
from witnessmark.trade.uncertainty import INFINITE, ROWS, Budget, Made, Share, combine, corrected, expansion, total
from witnessmark.trade.verdicts import judge

MM = Fraction(1, 1000)


def gauge(name: str, kind: str = "length", unit: str = "mm", mpe: str = "0", repeatability: str = "", fine="0.00001"):
    step = {"mm": MM, "V": Fraction(1)}[unit]
    return {
        "id": name, "name": name, "unit": unit, "kind": kind, "low": None, "high": None,
        "resolution": Fraction(fine) * step, "mpe": Fraction(mpe) * step,
        "repeatability": Fraction(repeatability) * step if repeatability else None,
    }  # fmt: skip


def made(code: str, readings: list[str], with_, part_c=None, gauge_c=None, alpha=None) -> Made:
    step = {"mm": MM, "V": Fraction(1)}[with_["unit"]]
    amounts = tuple(Fraction(text) * step for text in readings)
    return Made(code, amounts, with_, with_["name"], part_c, gauge_c, alpha)


def plain(u: str, dof: int | None = None) -> Budget:
    """A budget of which only its size counts; k is 2, as the examples take it."""
    return Budget(Fraction(u) ** 2, dof, Fraction(2), [], [])


def test_the_difference_of_two_readings_adds_their_variances():
    bore = made("bore", ["50.000"], gauge("bore gauge", repeatability="0.003"))
    shaft = made("shaft", ["49.940"], gauge("micrometer", repeatability="0.002"))
    budget = combine({"bore": Fraction(1), "shaft": Fraction(-1)}, {"bore": bore, "shaft": shaft}, DEFAULT)
    judged = ufloat(50.000, 0.003) - ufloat(49.940, 0.002)
    assert math.isclose(math.sqrt(budget.variance) * 1000, judged.std_dev, rel_tol=1e-12)
    assert math.isclose(judged.std_dev, 0.0036055513, abs_tol=5e-11)  # as three packages print it


# GUM, JCGM 100:2008, table H.2: five readings each; the data also in sandialabs/suncal, test_GUMH2.csv.
GUM_H2 = [
    (["5.007", "4.994", "5.005", "4.990", "4.999"], 4.9990, 0.0032),
    (["19.663", "19.639", "19.640", "19.685", "19.678"], 19.6610, 0.0095),
    (["1.0456", "1.0438", "1.0468", "1.0428", "1.0433"], 1.04446, 0.00075),
]


@pytest.mark.parametrize(("readings", "mean", "u"), GUM_H2)
def test_repeats_scatter_as_in_the_guides_own_table(readings, mean, u):
    voltmeter = gauge("voltmeter", "voltage", "V")
    budget = combine({"a": Fraction(1)}, {"a": made("a", readings, voltmeter)}, DEFAULT)
    judged = GTC.ta.estimate([float(text) for text in readings])
    assert budget.dof == 4 == judged.df
    assert math.isclose(math.sqrt(budget.variance), judged.u, rel_tol=1e-12)
    assert math.isclose(judged.x, mean, abs_tol=5e-6) and round(judged.u, len(str(u)) - 2) == u


def test_effective_degrees_of_freedom_of_the_end_gauge():
    """GUM H.1: 25 nm with 18, 9.7 nm with 25.6 (a whole number here: 25), 2.9 nm with 50, 16.6 nm with 2 degrees of
    freedom give 32 nm and 16; inputs also in GTC's own examples, results asserted by sandialabs/suncal."""
    parts = [("25", 18), ("9.7", 25), ("2.9", 50), ("16.6", 2)]
    variance, dof = total([Share("", "", Fraction(u) ** 2, freedom) for u, freedom in parts])
    assert round(math.sqrt(variance)) == 32 and dof == 16
    judged = sum(GTC.ureal(0, float(u), freedom) for u, freedom in parts)
    assert math.isclose(math.sqrt(variance), judged.u, rel_tol=1e-12) and dof == math.floor(judged.df)


def test_a_bearing_clearance_with_repeats_and_two_gauges():
    """Repeats, resolution and permissible error of two gauges: the same model written in GTC's own terms."""
    housing = made("housing", ["57.776", "57.779", "57.774"], gauge("bore gauge", mpe="0.002", fine="0.001"))
    journal = made("journal", ["57.727"], gauge("micrometer", mpe="0.002", fine="0.001"))
    weights = {"housing": Fraction(1), "journal": Fraction(-1)}
    budget = combine(weights, {"housing": housing, "journal": journal}, DEFAULT)
    error = 0.002 / math.sqrt(3)
    judged = (
        GTC.ta.estimate([57.776, 57.779, 57.774])
        + GTC.ureal(0, error)
        - GTC.ureal(57.727, 0.001 / math.sqrt(12))
        + GTC.ureal(0, error)
    )
    assert math.isclose(math.sqrt(budget.variance) * 1000, judged.u, rel_tol=1e-9)
    assert budget.dof == math.floor(judged.df)
    assert math.isclose(float(sum(line.share for line in budget.lines)), 1.0, rel_tol=1e-12)


@pytest.mark.parametrize("readings", [2, 6])
def test_what_one_gauge_is_wrong_by_is_not_averaged_away_and_stays_in_a_difference(readings):
    """The permissible error of one gauge alike in all readings, or each for itself: GTC gives both ends, the larger is
    taken. A mean keeps it whole, a difference keeps both."""
    one = gauge("micrometer", mpe="0.003")
    codes = [f"r{n}" for n in range(readings)]
    taken = {code: made(code, ["50"], one) for code in codes}
    error = 0.003 / math.sqrt(3)
    alike, fine = GTC.ureal(0, error), 0.00001 / math.sqrt(12)
    mean = combine({code: Fraction(1, readings) for code in codes}, taken, DEFAULT)
    judged = sum(50 + alike + GTC.ureal(0, fine) for _ in codes) / readings
    assert math.isclose(math.sqrt(mean.variance) * 1000, judged.u, rel_tol=1e-9)
    difference = combine({"r0": Fraction(1), "r1": Fraction(-1)}, taken, DEFAULT)
    judged = (GTC.ureal(50, error) + GTC.ureal(0, fine)) - (GTC.ureal(50, error) + GTC.ureal(0, fine))
    assert math.isclose(math.sqrt(difference.variance) * 1000, judged.u, rel_tol=1e-9)


# An 86 mm bore measured at 30 °C instead of 20: Delta D = alpha D Delta T with the coefficients of Callister,
# Fundamentals of Materials Science and Engineering, 3rd edition, table B.6. Worked by hand.
WARM = [("aluminium_356", "0.0185"), ("grey_iron", "0.0098")]


@pytest.mark.parametrize(("material", "larger"), WARM)
def test_a_warm_bore_is_brought_back_to_twenty_degrees(material, larger):
    warm = made(
        "bore", [str(86 + Fraction(larger))], gauge("bore gauge"), Fraction(30), Fraction(20), expansion(material)
    )
    assert abs(corrected(warm, DEFAULT) / MM - 86) < Fraction(5, 100_000)


def test_the_coverage_factors_are_students():
    for freedom, row in ROWS:
        for column, p in {"k": 0.97724987, "one_95": 0.95, "two_95": 0.975}.items():
            assert math.isclose(float(row[column]), stats.t.ppf(p, freedom), abs_tol=0.006), (freedom, column)
    assert math.isclose(float(INFINITE["one_95"]), 1.644854, abs_tol=0.006) and INFINITE["k"] == 2


@pytest.mark.parametrize("z", ["-8", "-3.1", "-1", "-0.0001", "0", "0.6111", "1.4", "2.575829", "6.5"])
def test_the_two_distributions_are_those_of_scipy(z):
    assert math.isclose(float(normal_below(Fraction(z))), stats.norm.cdf(float(z)), rel_tol=1e-9, abs_tol=1e-16)
    for freedom in (1, 2, 3, 7, 30, 100):
        assert math.isclose(
            float(t_below(Fraction(z), freedom)), stats.t.cdf(float(z), freedom), rel_tol=1e-9, abs_tol=1e-16
        )


# JCGM 106:2012, from memory: 7.3.3 example 1 (a Zener diode, one limit) and 7.4 (viscosity of an oil, two limits); the
# inputs of the second also at metrologyrules.com, 2022/03.
JCGM_106 = [("-5.47", "0.05", None, "-5.40", 0.9192), ("13.6", "1.8", "12.5", "16.3", 0.66263)]


@pytest.mark.parametrize(("value", "u", "low", "high", "expected"), JCGM_106)
def test_the_probability_of_conformity_is_that_of_the_published_examples(value, u, low, high, expected):
    ends = [Fraction(end) if end else None for end in (low, high)]
    verdict = judge(Fraction(value), plain(u), *ends, "guarded")
    assert math.isclose(float(verdict.probability), expected, abs_tol=5e-5)


# ILAC-G8:09/2019, risk of a wrong pass at the guarded limit: w = 0 up to 50 %, w = U (k = 2) under 2.5 %, both as
# quoted at tla.sgs.com, decision rule; ISO 14253-1:2017 takes 1.65 u for 95 %, from memory.
RISK = [("simple", "0", 0.5, 0.5), ("guarded", "2", 0.02275, 0.025), ("guarded_95", "1.645", 0.05, 0.0501)]


@pytest.mark.parametrize(("rule", "guard", "expected", "most"), RISK)
def test_the_risk_at_the_guarded_limit(rule, guard, expected, most):
    u = Fraction(1)
    at_limit = judge(10 - Fraction(guard) * u, plain("1"), None, Fraction(10), rule)
    risk = 1 - float(at_limit.probability)
    assert math.isclose(risk, expected, abs_tol=1e-4) and risk <= most
    assert judge(10 - Fraction(guard) * u - Fraction(1, 100), plain("1"), None, Fraction(10), rule).standing == "within"
    beyond = judge(10 - Fraction(guard) * u + Fraction(1, 100), plain("1"), None, Fraction(10), rule).standing
    assert beyond == ("outside" if rule == "simple" else "not proven")


# Largest bore 86.030 mm, U = 0.005 mm: the four words of ILAC-G8 4.2.3 (pass, conditional pass, conditional fail, fail;
# named at metrologyrules.com), of which the two in the middle are "not proven" here. Worked by hand.
SHOP = [
    ("86.020", "within"),
    ("86.025", "within"),
    ("86.027", "not proven"),
    ("86.033", "not proven"),
    ("86.036", "outside"),
]


@pytest.mark.parametrize(("value", "standing"), SHOP)
def test_a_bore_against_its_largest_size(value, standing):
    verdict = judge(Fraction(value), plain("0.0025"), None, Fraction("86.030"), "guarded")
    assert verdict.standing == standing
    assert (verdict.excess is None) == (Fraction(value) <= Fraction("86.030"))
