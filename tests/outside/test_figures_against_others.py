"""Figures and their weights judged by another hand: the package `uncertainties` differentiates by itself, in floats."""

import json
import math
from pathlib import Path

from uncertainties import ufloat, umath

from tests.support.cases import all_cases
from tests.unit.trade.measuring.make_figures_vectors import as_input
from witnessmark.trade.measuring.figures import evaluate

VECTORS = json.loads((Path(__file__).parents[1] / "vectors" / "figures.json").read_text())
PROCEDURES = {procedure["code"]: procedure for procedure in VECTORS["procedures"]}
# The lines of the vectors' procedures written in the other package's own arithmetic.
FORMULAS = {
    "own_swept": {
        "swept": lambda v: math.pi / 4 * v["bore"] ** 2 * v["stroke"],
        "engine": lambda v: math.pi / 4 * v["bore"] ** 2 * v["stroke"] * v["cylinders"],
        "ratio": lambda v: (math.pi / 4 * v["bore"] ** 2 * v["stroke"] + v["chamber"]) / v["chamber"],
    },
    "own_clearance": {
        "clearance": lambda v: v["housing"] - v["journal"],
        "per_diameter": lambda v: (v["housing"] - v["journal"]) / v["journal"],
        "half": lambda v: (v["housing"] - v["journal"]) / 2,
        "apart": lambda v: umath.sqrt((v["housing"] - v["journal"] - v["strip"]) ** 2),
    },
    "own_oil": {
        "per_thousand": lambda v: v["running"] / (v["speed"] / 1000),
        "times_idle": lambda v: v["running"] / v["idle"],
    },
    "own_preload": {"shim": lambda v: (v["free"] - v["fitted"] - v["target"]) * v["lever"]},
    "own_compression": {"gain_share": lambda v: (v["wet"] - v["dry"]) / v["dry"]},
}


def judgeable(case):
    """The figures that come to an amount and have a formula here; where two sizes are equal, "apart" has no slope."""
    inputs = {code: as_input(text) for code, text in case["inputs"].items()}
    return [
        (figure, FORMULAS[case["of"]][figure.code])
        for figure in evaluate(PROCEDURES[case["of"]], inputs, {})
        if figure.code in FORMULAS[case["of"]]
        and figure.amount is not None
        and (figure.code, figure.amount) != ("apart", 0)
    ]


CASES = [case for case in VECTORS["made"] if case["of"] in FORMULAS and judgeable(case)]


@all_cases("case", CASES, ids=lambda case: case["of"])
def test_amount_and_weights(case):
    inputs = {code: as_input(text) for code, text in case["inputs"].items()}
    procedure = PROCEDURES[case["of"]]
    sizes = {size["code"] for size in procedure["sizes"]}
    values = {code: float(value.amount) if code in sizes else ufloat(float(value.amount), 1.0, code)
              for code, value in inputs.items()}  # fmt: skip
    for figure, formula in judgeable(case):
        judged = formula(values)
        size = max(abs(float(value.amount)) for value in inputs.values())
        close = {"rel_tol": 1e-9, "abs_tol": 1e-12 * size}
        assert math.isclose(judged.nominal_value, float(figure.amount), **close), figure.code
        slopes = {variable.tag: slope for variable, slope in judged.derivatives.items()}
        for code in slopes.keys() | figure.weights.keys():
            weight = float(figure.weights.get(code, 0))
            assert math.isclose(slopes.get(code, 0.0), weight, rel_tol=1e-6, abs_tol=1e-9 * max(1, abs(weight)))


def test_every_formula_was_judged():
    judged = {(case["of"], code) for case in CASES for code, figure in case["figures"].items() if "amount" in figure}
    assert {(of, code) for of, formulas in FORMULAS.items() for code in formulas} <= judged
