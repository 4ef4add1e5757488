"""Budgets of uncertainty. Vectors shared with the phone; against other programs: tests/outside."""

import json
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from tests.support.cases import all_cases
from tests.support.made import made, text
from witnessmark.trade.measuring import gauges, uncertainty
from witnessmark.trade.measuring import rules as measuring_rules

VECTORS = json.loads((Path(__file__).parents[3] / "vectors" / "uncertainty.json").read_text())
RULES = measuring_rules.DEFAULT
BORE = gauges.in_si(VECTORS["gauges"]["bore"])
WEIGHTS = st.fractions(-3, 3, max_denominator=12)
READING = st.lists(st.integers(85_990, 86_010), min_size=1, max_size=6).map(
    lambda values: tuple(Fraction(value, 10**6) for value in values)
)


def bore(code, amounts):
    return uncertainty.Made(code, amounts, BORE, "bore gauge 4", None, None, None, unit="mm")


@all_cases("case", VECTORS["budgets"])
def test_a_budget(case):
    rules = RULES | case["rules"]
    readings = {name: made(reading, VECTORS["gauges"]) for name, reading in case["made"].items()}
    weights = {name: Fraction(weight) for name, weight in case["weights"].items()}
    budget = uncertainty.combine(weights, readings, rules)
    assert {
        "variance": text(budget.variance),
        "dof": budget.dof,
        "k": text(budget.k),
        "lines": [[line.source, line.words, text(line.variance), text(line.share)] for line in budget.lines],
        "unknown": budget.unknown,
    } == case["budget"]
    assert {name: text(uncertainty.corrected(reading, rules)) for name, reading in readings.items()} == case[
        "corrected"
    ]


@all_cases(("freedom", "column", "factor"), VECTORS["factors"], ids=str)
def test_a_factor(freedom, column, factor):
    assert text(uncertainty.factor(freedom, column)) == factor


@given(given_=st.lists(st.tuples(WEIGHTS, READING), min_size=1, max_size=6))
def test_the_shares_of_a_budget_make_the_whole(given_):
    weights = {str(i): weight for i, (weight, _) in enumerate(given_)}
    readings = {str(i): bore(str(i), amounts) for i, (_, amounts) in enumerate(given_)}
    budget = uncertainty.combine(weights, readings, RULES)
    assert budget.variance == sum(line.variance for line in budget.lines)
    assert sum(line.share for line in budget.lines) == (1 if any(weights.values()) else 0)
    assert all(line.variance >= 0 for line in budget.lines)
    assert [line.variance for line in budget.lines] == sorted((line.variance for line in budget.lines), reverse=True)
    doubled = uncertainty.combine({name: -2 * weight for name, weight in weights.items()}, readings, RULES)
    assert (doubled.variance, doubled.dof) == (4 * budget.variance, budget.dof)


@given(amounts=READING, other=READING)
def test_a_gauge_is_not_averaged_away_and_a_difference_keeps_it(amounts, other):
    """Its permissible error stays whole in a mean; in a difference it counts for each end (JCGM 100:2008, F.1.2.3)."""
    readings = {"a": bore("a", amounts), "b": bore("b", other)}
    square = BORE["mpe"] ** 2 / 3
    for weights, times in (((Fraction(1, 2), Fraction(1, 2)), 1), ((Fraction(1), Fraction(-1)), 2)):
        budget = uncertainty.shares(dict(zip("ab", weights, strict=True)), readings, RULES)
        assert [share.variance for share in budget if share.source == "permissible error"] == [times * square]


def test_one_reading_says_that_nothing_is_known_of_its_scatter_unless_it_was_studied():
    """One reading shows no scatter (JCGM 100:2008, 4.2.2 divides by n - 1, from memory): the budget says so."""
    lines = uncertainty.combine({"a": Fraction(1)}, {"a": bore("a", (Fraction(86, 1000),))}, RULES).lines
    (scatter,) = [line for line in lines if line.source == "scatter"]
    assert (scatter.variance, "not known" in scatter.words, BORE["name"] in scatter.words) == (0, True, True)
    studied = BORE | {"repeatability": Fraction(2, 1_000_000)}
    for gauge, amounts in ((studied, (Fraction(86, 1000),)), (BORE, (Fraction(86, 1000),) * 2)):
        reading = replace(bore("a", amounts), gauge=gauge)
        lines = uncertainty.combine({"a": Fraction(1)}, {"a": reading}, RULES).lines
        assert "not known" not in " ".join(line.words for line in lines)


def test_degrees_of_freedom_stop_where_they_change_nothing():
    """A hair of scatter under a large error gives more of them than a phone's numbers hold."""
    hair = Fraction(1, 10**30)
    readings = {"a": bore("a", (Fraction(86, 1000), Fraction(86, 1000) + hair))}
    fine = replace(readings["a"], gauge=BORE | {"resolution": hair / 100})
    combined = uncertainty.combine({"a": Fraction(1)}, {"a": fine}, RULES)
    assert (combined.dof, uncertainty.freedom_text(combined.dof)) == (10000, "10000 or more")
    assert combined.k == uncertainty.factor(10000)


@given(amounts=READING)
def test_scatter_and_resolution_are_not_counted_twice(amounts):
    budget = uncertainty.shares({"a": Fraction(1)}, {"a": bore("a", amounts)}, RULES)
    reading = bore("a", amounts)
    repeats = [share for share in budget if share.source in ("scatter", "resolution")]
    assert len([share for share in repeats if share.variance]) == 1
    assert sum(share.variance for share in repeats) == max(
        uncertainty.scatter(reading) / len(amounts), BORE["resolution"] ** 2 / 12
    )


@given(part=st.integers(-20, 60), gauge=st.integers(-20, 60), amounts=READING)
def test_a_size_is_corrected_only_when_all_is_known(part, gauge, amounts):
    known = replace(
        bore("a", amounts), part_c=Fraction(part), gauge_c=Fraction(gauge), alpha=uncertainty.expansion("grey_iron")
    )
    for missing in ("part_c", "gauge_c", "alpha"):
        left = replace(known, **{missing: None})
        assert uncertainty.corrected(left, RULES) == uncertainty.mean(left)
    if part > 20 and gauge == 20:
        assert uncertainty.corrected(known, RULES) < uncertainty.mean(known)


@given(freedoms=st.lists(st.integers(1, 40), min_size=1, max_size=5), data=st.data())
def test_degrees_of_freedom_lie_between_the_fewest_and_their_sum(freedoms, data):
    """JCGM 100:2008, G.4.1."""
    variances = data.draw(st.lists(st.fractions(Fraction(1, 100), 9), min_size=len(freedoms), max_size=len(freedoms)))
    shares = [uncertainty.Share("", "", v, n) for v, n in zip(variances, freedoms, strict=True)]
    _, dof = uncertainty.total(shares)
    assert dof is not None and min(freedoms) <= dof <= sum(freedoms)


@given(dof=st.integers(1, 20_000), column=st.sampled_from(["k", "one_95", "two_95"]))
def test_factors_fall_towards_that_of_the_normal_distribution(dof, column):
    assert uncertainty.factor(dof, column) >= uncertainty.factor(dof + 1, column) >= uncertainty.factor(None, column)


def test_metals_have_a_source_and_a_coefficient():
    assert uncertainty.expansion("grey_iron") == Fraction("11.4") / 10**6
    assert uncertainty.expansion("") is uncertainty.expansion("wood") is None
