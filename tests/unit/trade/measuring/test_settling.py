"""What would settle a figure: every promise in the sentences is kept when it is carried out."""

import json
import re
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

from tests.support.cases import all_cases
from tests.support.made import unproven
from witnessmark.trade.measuring import gauges, settling, uncertainty, verdicts
from witnessmark.trade.measuring.more_readings import repeats, with_readings
from witnessmark.trade.measuring.unproven import settled, shares

VECTORS = json.loads((Path(__file__).parents[3] / "vectors" / "settling.json").read_text())
GAUGES = VECTORS["gauges"]
READINGS_IN_ALL = re.compile(r"([0-9]+) readings in all ")
OPEN = [case for case in VECTORS["cases"] if case["standing"] == "not proven"]


def settle(case):
    return settling.settle(unproven(case, GAUGES), [GAUGES[name] for name in case["register"]], case["day"])


@all_cases("case", VECTORS["cases"])
def test_the_sentences(case):
    assert settle(case) == case["settle"]


@all_cases("case", VECTORS["cases"])
def test_there_is_something_to_say_only_when_nothing_is_proven(case):
    figure = unproven(case, GAUGES)
    budget = uncertainty.combine(figure.weights, figure.made, figure.rules)
    judged = verdicts.judge(figure.amount, budget, figure.low, figure.high, figure.rules["rule"])
    assert judged.standing == case["standing"]
    assert bool(case["settle"]) == (judged.standing == "not proven")
    assert all(sentence.endswith(".") for sentence in case["settle"])


def with_error(figure, name, error):
    """The readings as if the gauge of that name had this permissible error, in its own unit."""
    put = {}
    for code, made in figure.made.items():
        gauge = made.gauge
        if gauge["name"] == name:
            gauge = gauge | {"mpe": Fraction(error) * uncertainty.step(gauge["unit"])}
        put[code] = replace(made, gauge=gauge)
    return put


@all_cases("case", [case for case in OPEN if case["settle"][0].startswith(("A gauge with", "Gauges with"))])
def test_the_permissible_error_that_is_named_would_do_and_a_hair_more_would_not(case):
    figure = unproven(case, GAUGES)
    wanted, named = case["settle"][0].split(" would prove it")[0].split(" in place of ")
    names = re.findall(r"(?:^|, | and )([^()]+) \(± ", named)
    errors = re.findall(r"± ([0-9.]+)", wanted)
    put, worse = figure, figure
    for name, error in zip(names, errors, strict=True):
        last = Fraction(1, 10 ** len(error.partition(".")[2]))
        put = replace(put, made=with_error(put, name, error))
        worse = replace(worse, made=with_error(worse, name, Fraction(error) + last))
    assert settled(put, shares(put))
    assert not settled(worse, shares(worse))


@all_cases("case", [case for case in OPEN if READINGS_IN_ALL.match(case["settle"][-1])])
def test_the_number_of_readings_that_is_named_is_the_least(case):
    figure = unproven(case, GAUGES)
    n, taken = int(READINGS_IN_ALL.match(case["settle"][-1])[1]), repeats(figure)
    assert settled(figure, with_readings(shares(figure), taken, n))
    fewest = min(each.count for each in taken if each.scatter / each.count > each.floor)
    assert not any(settled(figure, with_readings(shares(figure), taken, fewer)) for fewer in range(fewest + 1, n))


@all_cases("case", [case for case in OPEN if any("In the register" in sentence for sentence in case["settle"])])
def test_a_gauge_that_is_named_is_in_date_in_range_and_would_do(case):
    figure = unproven(case, GAUGES)
    for sentence in case["settle"]:
        if not sentence.startswith("In the register"):
            continue
        names = re.findall(r"[:,] ([^:,()]+) \(±", sentence)
        assert names, sentence
        for name in names:
            gauge = next(GAUGES[key] for key in case["register"] if GAUGES[key]["name"] == name)
            assert not gauge["retired"] and not gauges.overdue(gauge, case["day"])
            replaced = [
                {
                    code: replace(made, gauge=gauges.in_si(gauge)) if made.gauge["id"] == id else made
                    for code, made in figure.made.items()
                }
                for id in {made.gauge["id"] for made in figure.made.values()}
                if id != gauge["id"]
            ]
            assert any(settled(figure, shares(figure, made)) for made in replaced)


def test_the_vectors_have_every_sort_of_sentence():
    sentences = " ".join(sentence for case in OPEN for sentence in case["settle"])
    for words in (
        "A gauge with", "Gauges with", "A finer gauge alone", "In the register", "No gauge in the register",
        "readings in all at", "More readings will not", "More than 100 readings", "With 10 readings", "on the limit",
        "to the register, or measure", "Measure again", "within the limit", "outside the limit", "in place of",
    ):  # fmt: skip
        assert words in sentences, words
