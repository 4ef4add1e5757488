"""Budgets of uncertainty against published examples and two other programs; the source stands beside each."""

from __future__ import annotations

import itertools
import random
from fractions import Fraction
from math import isinf, sqrt

import GTC
import pytest
from scipy import stats
from uncertainties import ufloat

from tests.support.cases import all_cases
from witnessmark.trade.ground import exact
from witnessmark.trade.measuring import rules as measuring_rules
from witnessmark.trade.measuring import uncertainty
from witnessmark.trade.measuring.uncertainty import Made, Share

RULES = measuring_rules.DEFAULT
TWO_SIGMA = 1 - 2 * stats.norm.cdf(-2)  # what the GUM calls 95.45 per cent


def gauge(mpe="0", resolution="0.000001", repeatability=None, id="g", kind="length"):
    return {
        "id": id, "name": id, "sort": "other", "unit": "m" if kind == "length" else "", "kind": kind, "low": None,
        "high": None, "resolution": Fraction(resolution), "mpe": Fraction(mpe),
        "repeatability": Fraction(repeatability) if repeatability else None,
    }  # fmt: skip


def made(values, of=None, code="r"):
    amounts = tuple(Fraction(value) for value in values.split())
    return Made(code, amounts, of or gauge(), "g", None, None, None)


def plain(values, **numbers):
    return made(values, gauge(kind="number", **numbers))


@pytest.mark.parametrize(("column", "share"), [("k", 0.5 + TWO_SIGMA / 2), ("one_95", 0.95), ("two_95", 0.975)])
def test_every_factor_of_the_table_against_scipy(column, share):
    for freedom, row in uncertainty.ROWS:
        assert float(row[column]) == pytest.approx(stats.t.ppf(share, freedom), abs=6e-7)
    assert float(uncertainty.factor(None, column)) == pytest.approx(stats.norm.ppf(share), abs=6e-7)
    assert [freedom for freedom, _ in uncertainty.ROWS][:100] == list(range(1, 101))


# JCGM 100:2008, table G.2, column 95.45 (from memory, each recomputed above).
G2 = {
    1: "13.97", 2: "4.53", 3: "3.31", 4: "2.87", 5: "2.65", 6: "2.52", 7: "2.43", 8: "2.37", 9: "2.32", 10: "2.28",
    11: "2.25", 12: "2.23", 13: "2.21", 14: "2.20", 15: "2.18", 16: "2.17", 17: "2.16", 18: "2.15", 19: "2.14",
    20: "2.13", 25: "2.11", 30: "2.09", 35: "2.07", 40: "2.06", 45: "2.06", 50: "2.05", 100: "2.025", None: "2.000",
}  # fmt: skip
# t for two-sided 95 per cent, as printed in every book of tables.
BOOKS = {1: "12.706", 2: "4.303", 3: "3.182", 4: "2.776", 5: "2.571", 9: "2.262", 19: "2.093", None: "1.960"}


@all_cases(
    ("freedom", "printed", "column"),
    [(freedom, printed, "k") for freedom, printed in G2.items()]
    + [(freedom, printed, "two_95") for freedom, printed in BOOKS.items()],
)
def test_a_factor_as_printed(freedom, printed, column):
    places = len(printed.partition(".")[2])
    assert round(float(uncertainty.factor(freedom, column)), places) == float(printed)


def test_the_end_gauge_of_the_gum():
    """JCGM 100:2008, H.1, inputs as in GTC's own example (GUM_H1.rst). The GUM prints u = 32 nm and 16 degrees of
    freedom; unrounded it is 31.66 nm and 16.75, which GTC gives too."""
    measured = [("25", 18), ("5.8", 24), ("3.9", 5), ("6.7", 8)]
    # 50 mm times 0.1 K times 1e-6 per K, and 50 mm times 11.5e-6 per K times 0.05 K: half widths in nm, printed as
    # u = 2.9 and 16.6.
    rectangular = [("5", 50), ("28.75", 2)]
    shares = [Share("", "", Fraction(u) ** 2, freedom) for u, freedom in measured]
    shares += [Share("", "", Fraction(a) ** 2 / 3, freedom) for a, freedom in rectangular]
    variance, dof = uncertainty.total(shares)
    assert float(exact.sqrt(variance)) == pytest.approx(31.66, abs=0.005)
    assert dof == 16
    inputs = [*measured, *((float(a) / sqrt(3), freedom) for a, freedom in rectangular)]
    other = sum((GTC.ureal(0, float(u), freedom) for u, freedom in inputs), GTC.constant(0))
    assert other.u == pytest.approx(float(exact.sqrt(variance)), rel=1e-12)
    assert other.df == pytest.approx(16.75, abs=0.05)
    # The difference d alone: 9.7 nm with 25.6 degrees of freedom (sandialabs/suncal asserts both in its tests).
    d, d_dof = uncertainty.total(shares[1:4])
    assert float(exact.sqrt(d)) == pytest.approx(9.7, abs=0.05)
    assert d_dof == 25


# JCGM 100:2008, table H.2 (data as in sandialabs/suncal, test/test_GUMH2.csv).
H2 = [
    ("5.007 4.994 5.005 4.990 4.999", "4.9990", 0.0032, 4),
    ("19.663 19.639 19.640 19.685 19.678", "19.6610", 0.0095, 4),
    ("1.0456 1.0438 1.0468 1.0428 1.0433", "1.04446", 0.00075, 5),
]


@pytest.mark.parametrize(("values", "mean", "u", "places"), H2)
def test_type_a_of_the_gum(values, mean, u, places):
    reading = plain(values)
    budget = uncertainty.combine({"r": Fraction(1)}, {"r": reading}, RULES)
    assert uncertainty.mean(reading) == Fraction(mean)
    assert round(float(exact.sqrt(budget.variance)), places) == u
    assert budget.dof == 4 and [line.source for line in budget.lines] == ["scatter"]


def test_mean_and_scatter_of_twenty_bolts():
    """Shigley, Mechanical Engineering Design, 9th edition, table 8-13: mean 34.3, s 4.91 (with n - 1)."""
    bolts = "23.6 27.6 28.0 29.4 30.3 30.7 32.9 33.8 33.8 33.8 34.7 35.6 35.6 37.4 37.8 37.8 39.2 40.0 40.5 42.7"
    reading = plain(bolts)
    assert round(float(uncertainty.mean(reading)), 1) == 34.3
    assert round(float(exact.sqrt(uncertainty.scatter(reading))), 2) == 4.91


def test_a_difference_of_two_readings():
    """50.000 +/- 0.003 less 49.940 +/- 0.002: 0.060, u = 0.0036055513 (uncertainties, GTC and metrolopy agree)."""
    readings = {
        "a": plain("50.000", repeatability="0.003", id="a"),
        "b": plain("49.940", repeatability="0.002", id="b"),
    }
    weights = {"a": Fraction(1), "b": Fraction(-1)}
    u = exact.sqrt(uncertainty.combine(weights, readings, RULES).variance)
    other = ufloat(50.000, 0.003) - ufloat(49.940, 0.002)
    assert float(u) == pytest.approx(0.0036055513, abs=1e-10) == other.std_dev
    assert float(uncertainty.mean(readings["a"]) - uncertainty.mean(readings["b"])) == pytest.approx(
        other.nominal_value, abs=1e-12
    )


def test_rectangles():
    """A half width a has u = a over root 3; a resolution r has r over root 12 (JCGM 100:2008, 4.3.7 and F.2.2.1)."""
    reading = plain("10", mpe="0.003", resolution="0.001")
    lines = uncertainty.combine({"r": Fraction(1)}, {"r": reading}, RULES).lines
    by_source = {line.source: float(exact.sqrt(line.variance)) for line in lines}
    assert by_source["permissible error"] == pytest.approx(0.003 / sqrt(3), rel=1e-12)
    assert by_source["resolution"] == pytest.approx(0.001 / sqrt(12), rel=1e-12)


@all_cases("seed", range(40))
def test_random_budgets_against_gtc(seed):
    """Each gauge on one reading only, so that every source stands for itself in both programs."""
    chance = random.Random(seed)
    weights, readings, other = {}, {}, GTC.constant(0)
    for i in range(chance.randint(1, 6)):
        n, code = chance.choice([1, 2, 3, 5, 8]), str(i)
        values = " ".join(f"{50 + chance.randint(-90, 90) / 10_000:.4f}" for _ in range(n))
        mpe, r = f"0.00{chance.randint(0, 40):02}", "0.0001"
        studied = "0.0007" if n == 1 and chance.random() < 0.5 else None
        readings[code] = plain(values, mpe=mpe, resolution=r, repeatability=studied, id=code)
        weights[code] = Fraction(chance.randint(-6, 6), chance.choice([1, 2, 3]))
        mean, scatter = uncertainty.mean(readings[code]), float(uncertainty.scatter(readings[code]))
        floor = float(r) / sqrt(12)
        u, dof = (sqrt(scatter / n), n - 1) if n > 1 else (float(studied or 0), float("inf"))
        u, dof = (u, dof) if u > floor else (floor, float("inf"))
        a = float(mpe) / sqrt(3)
        read = GTC.ureal(float(mean), u, dof) + (GTC.ureal(0, a) if a else GTC.constant(0))
        other += float(weights[code]) * read
    budget = uncertainty.combine(weights, readings, RULES)
    assert sqrt(budget.variance) == pytest.approx(other.u, rel=1e-9)
    if budget.dof is None:
        assert other.u == 0 or isinf(other.df)
    else:
        # GTC caps what it calls infinite at some large number; both cut the same fraction otherwise.
        assert budget.dof == int(other.df + 1e-9) or other.df > 1e5
    assert float(budget.k) >= stats.t.ppf(0.5 + TWO_SIGMA / 2, budget.dof or 1e12) - 1e-6


@all_cases("weights", list(itertools.product([-1, 0.5, 1], repeat=3)))
def test_one_gauge_on_three_readings_is_the_worst_of_two_likenesses(weights):
    """With uncertainties: one shared error, or three of the same size; ours is the larger."""
    a = 0.003 / sqrt(3)
    shared = ufloat(0, a)
    alike = sum(weight * shared for weight in weights)
    alone = sum(weight * ufloat(0, a) for weight in weights)
    readings = {str(i): plain("50", mpe="0.003", resolution="0.0000001") for i in range(3)}
    exact_weights = {str(i): Fraction(weight) for i, weight in enumerate(weights)}
    budget = uncertainty.combine(exact_weights, readings, RULES)
    assert sqrt(budget.variance) == pytest.approx(max(alike.std_dev, alone.std_dev), rel=1e-6)


# Changes of length worked out from Callister, Fundamentals of Materials Science and Engineering, 3rd edition, table
# B.6: an 86 mm bore read at 30 degrees in place of 20, in mm.
@pytest.mark.parametrize(("material", "grown"), [("aluminium_356", 0.0185), ("grey_iron", 0.0098)])
def test_a_warm_bore_is_too_large(material, grown):
    reading = Made("r", (Fraction("0.086"),), gauge(), "g", Fraction(30), Fraction(20), uncertainty.expansion(material))
    assert float(uncertainty.mean(reading) - uncertainty.corrected(reading, RULES)) * 1000 == pytest.approx(
        grown, abs=6e-5
    )


def test_temperature_against_uncertainties():
    """The same model by automatic differentiation: the length at 20 degrees from four uncertain inputs."""
    alpha = float(uncertainty.expansion("aluminium_356"))
    steel = float(uncertainty.GAUGE_EXPANSION)
    part, by = ufloat(31, 1 / sqrt(3)), ufloat(23, 1 / sqrt(3))
    metal, of_gauge = ufloat(alpha, 0.1 * alpha / sqrt(3)), ufloat(steel, 0.1 * steel / sqrt(3))
    other = 0.086 * (1 + of_gauge * (by - 20)) / (1 + metal * (part - 20))
    reading = Made(
        "r", (Fraction("0.086"),), gauge(), "g", Fraction(31), Fraction(23), uncertainty.expansion("aluminium_356")
    )
    lines = uncertainty.combine({"r": Fraction(1)}, {"r": reading}, RULES).lines
    u = next(sqrt(line.variance) for line in lines if line.source == "temperature")
    # Ours leaves out the second-order factor 1 + alpha times 11 K.
    assert u == pytest.approx(other.std_dev, rel=1e-3)
    assert float(uncertainty.corrected(reading, RULES)) == pytest.approx(other.nominal_value, rel=1e-12)
