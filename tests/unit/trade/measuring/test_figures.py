"""What readings amount to, exactly, and how much of it hangs on each reading."""

import copy
import json
from fractions import Fraction
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from tests.support.cases import all_cases
from tests.unit.trade.measuring.make_figures_vectors import as_input, written
from tests.unit.trade.measuring.naive_figures import naive
from witnessmark.trade.ground.exact import PI
from witnessmark.trade.ground.units import QUANTITIES, UNITS, decimal_text, from_si, to_si, usual_unit
from witnessmark.trade.measuring.figures import PLACES, Input, across, evaluate
from witnessmark.trade.measuring.procedures import BUILT_IN, check, grid_codes

VECTORS = json.loads((Path(__file__).parents[3] / "vectors" / "figures.json").read_text())
PROCEDURES = {procedure["code"]: procedure for procedure in VECTORS["procedures"]}


def evaluated(case):
    sets = {code: [as_input(text) for text in texts] for code, texts in case["lists"].items()}
    inputs = {code: as_input(text) for code, text in case["inputs"].items()}
    return {figure.code: figure for figure in evaluate(PROCEDURES[case["of"]], inputs, sets)}


def shown(figure):
    if figure.amount is None:
        return None
    return f"{decimal_text(from_si(figure.amount, figure.unit), figure.places)} {figure.unit}".strip()


@all_cases("code", PROCEDURES)
def test_the_procedures_of_the_vectors_are_sound(code):
    assert check(PROCEDURES[code]) == []


@all_cases("case", VECTORS["worked"], ids=lambda case: case["name"])
def test_a_case_worked_by_hand(case):
    """Sources stand in each case: definitions as published, numbers worked by hand."""
    figures = evaluated(case)
    assert case["source"]
    assert {code: shown(figures[code]) for code in case["figures"]} == case["figures"]
    for code, amount in case.get("exact", {}).items():
        assert figures[code].amount == Fraction(amount)
    for code, weights in case.get("weights", {}).items():
        assert figures[code].weights == {name: Fraction(weight) for name, weight in weights.items()}
    for name in ("missing", "picked"):
        assert {code: getattr(figures[code], name) for code in case.get(name, {})} == case.get(name, {})


@all_cases("case", VECTORS["made"], ids=lambda case: case["of"])
def test_both_sides_agree_to_the_last_digit(case):
    assert {code: written(figure) for code, figure in evaluated(case).items()} == case["figures"]


def near(amount, other):
    """Equal, or both with pi, which is written down to different lengths."""
    if amount is None or other is None:
        return amount is other
    return abs(amount - other) <= abs(other) * Fraction(1, 10**12)


@all_cases("case", VECTORS["made"], ids=lambda case: case["of"])
def test_a_second_hand_comes_to_the_same_amounts(case):
    amounts = {code: as_input(text).amount for code, text in case["inputs"].items()}
    sets = {code: [as_input(text).amount for text in texts] for code, texts in case["lists"].items()}
    expected = naive(PROCEDURES[case["of"]], amounts, sets)
    for code, figure in evaluated(case).items():
        assert near(figure.amount, expected[code]), code


def row(given):
    values = {name: text and as_input(text).amount for name, text in given["values"].items()}
    return given | {"values": values}


@all_cases("case", VECTORS["across"], ids=lambda case: case["name"])
def test_a_comparison_of_all_places(case):
    rules = {"compression_share": case["compression_share"]}
    lines = {line.code: line for line in across(PROCEDURES[case["of"]], [row(line) for line in case["rows"]], rules)}
    for code, (amount, places, *pairs) in case["across"].items():
        line = lines[code]
        assert line.places == places
        assert [list(pair) for pair in line.pairs] == (pairs[0] if pairs else [])
        if amount is None:
            assert line.amount is None
        else:
            wanted = as_input(amount)
            assert decimal_text(from_si(line.amount, wanted.unit), wanted.places) == amount.split(" ")[0]


def test_pi_is_pi():
    """From memory: 3.14159265358979323846 are the first digits."""
    assert decimal_text(PI, 20) == "3.14159265358979323846"


@all_cases("kind", sorted({unit["kind"] for unit in UNITS.values()} - {""}))
def test_every_kind_has_a_unit_to_be_shown_in(kind):
    assert UNITS[usual_unit(kind)]["kind"] == kind


@all_cases("unit", UNITS)
def test_every_unit_has_its_usual_decimals(unit):
    assert PLACES[unit] in range(7)


# What must hold whatever is measured.

BORE = PROCEDURES["own_bore"]
lengths = st.fractions(min_value=-1, max_value=1, max_denominator=10**7)
grids = st.lists(lengths, min_size=6, max_size=6).map(lambda amounts: dict(zip(grid_codes(BORE), amounts, strict=True)))


def figures_of(procedure, amounts, sets=None):
    inputs = {code: Input(amount, "", None) for code, amount in amounts.items()}
    lists = {code: [Input(amount, "", None) for amount in members] for code, members in (sets or {}).items()}
    return {figure.code: figure for figure in evaluate(procedure, inputs, lists)}


@given(amounts=grids)
def test_ovality_taper_and_spread_are_never_below_zero(amounts):
    figures = figures_of(BORE, amounts)
    assert min(figures[code].amount for code in ("ovality", "taper", "spread")) >= 0
    assert figures["spread"].amount >= max(figures["ovality"].amount, figures["taper"].amount)
    assert figures["taper"].amount >= abs(figures["taper_ends"].amount)
    assert figures["smallest"].amount <= figures["mean"].amount <= figures["largest"].amount


@given(amounts=grids, more=lengths)
def test_a_constant_on_every_reading_moves_the_mean_and_leaves_the_form_alone(amounts, more):
    before = figures_of(BORE, amounts)
    after = figures_of(BORE, {code: amount + more for code, amount in amounts.items()})
    for code in ("ovality", "taper", "taper_ends", "barrel", "spread"):
        assert after[code].amount == before[code].amount
        assert after[code].weights == before[code].weights
        assert sum(before[code].weights.values()) == 0
    for code in ("mean", "largest", "smallest"):
        assert after[code].amount == before[code].amount + more
        assert sum(before[code].weights.values()) == 1


@given(amounts=grids, by=st.fractions(min_value=0, max_value=5, max_denominator=50))
def test_twice_the_size_is_twice_the_figure(amounts, by):
    before = figures_of(BORE, amounts)
    after = figures_of(BORE, {code: by * amount for code, amount in amounts.items()})
    for code in ("ovality", "taper", "taper_ends", "barrel", "spread", "mean", "largest"):
        assert after[code].amount == by * before[code].amount


@given(amounts=grids, thrust=st.permutations(["top", "middle", "bottom"]))
def test_ovality_does_not_ask_which_height_comes_first(amounts, thrust):
    moved = {f"{to}/{side}": amounts[f"{of}/{side}"] for of, to in zip(["top", "middle", "bottom"], thrust, strict=True)
             for side in ("thrust", "axial")}  # fmt: skip
    before, after = figures_of(BORE, amounts), figures_of(BORE, moved)
    for code in ("ovality", "taper", "spread", "mean", "largest", "smallest"):
        assert after[code].amount == before[code].amount


@given(amounts=grids)
def test_the_order_in_which_readings_were_taken_is_of_no_account(amounts):
    backwards = dict(reversed(amounts.items()))
    assert figures_of(BORE, amounts) == figures_of(BORE, backwards)


@given(thou=st.lists(st.integers(3300, 3500), min_size=6, max_size=6))
def test_inches_and_millimetres_give_the_same_exact_amount(thou):
    inch = {
        code: Input(to_si(Fraction(n, 1000), "in"), "in", 3) for code, n in zip(grid_codes(BORE), thou, strict=True)
    }
    # 25.4 mm to the inch, exactly: as many millimetres with five decimals.
    mm = {code: Input(to_si(Fraction(n * 254, 10000), "mm"), "mm", 5) for code, n in
          zip(grid_codes(BORE), thou, strict=True)}  # fmt: skip
    for a, b in zip(evaluate(BORE, inch, {}), evaluate(BORE, mm, {}), strict=True):
        assert (a.amount, a.weights, a.missing, a.picked) == (b.amount, b.weights, b.missing, b.picked)


CALCULATED = ("product", "quotient", "cylinder_volume", "ratio_of_volumes", "per_thousand")
positive = st.fractions(min_value=Fraction(1, 100), max_value=50, max_denominator=1000)


@given(data=st.data(), code=st.sampled_from(sorted(PROCEDURES)))
def test_weights_are_the_exact_partial_derivatives(data, code):
    """Every operation but five is linear near a point without ties, so a step small enough gives the exact derivative;
    of the five a central step differs by a term of the second order."""
    procedure = PROCEDURES[code]
    names = [code for code in [*grid_codes(procedure), *(r["code"] for r in procedure["readings"])]]
    names += [size["code"] for size in procedure["sizes"] if not size["many"]]
    drawn = data.draw(st.lists(positive, min_size=len(names), max_size=len(names), unique=True))
    amounts = dict(zip(names, drawn, strict=True))
    sets = {size["code"]: [Fraction(1), Fraction(3)] for size in procedure["sizes"] if size["many"]}
    at = figures_of(procedure, amounts, sets)
    step = Fraction(1, 10**12)
    curved = set()
    for line in procedure["figures"]:
        if line["do"] in CALCULATED or curved & set(line["of"]):
            curved.add(line["code"])
    for name in data.draw(st.lists(st.sampled_from(names), min_size=1, max_size=3, unique=True)):
        if name in {size["code"] for size in procedure["sizes"]}:
            assert all(name not in figure.weights for figure in at.values())
            continue
        up, down = (figures_of(procedure, amounts | {name: amounts[name] + change}, sets) for change in (step, -step))
        for figure, figure_at in at.items():
            if figure_at.amount is None or tied(up[figure], down[figure], figure_at):
                continue
            slope = (up[figure].amount - down[figure].amount) / (2 * step)
            weight = figure_at.weights.get(name, Fraction(0))
            if figure in curved:
                assert abs(slope - weight) <= abs(weight) / 10**6 + Fraction(1, 10**9)
            else:
                assert slope == weight, figure


def tied(up, down, at):
    """Whether the step changes which reading decides: at a tie there is no derivative, and one of two sides counts."""
    return (
        up.picked != at.picked
        or down.picked != at.picked
        or up.weights.keys() != down.weights.keys()
        or (any(up.weights[weight] * down.weights[weight] < 0 for weight in up.weights))
    )


@given(amounts=grids, gone=st.sets(st.sampled_from(grid_codes(BORE)), min_size=1))
def test_whatever_is_missing_is_named_and_nothing_is_made_up(amounts, gone):
    figures = figures_of(BORE, {code: amount for code, amount in amounts.items() if code not in gone})
    for code in ("largest", "mean", "ovality", "taper", "barrel"):
        assert figures[code].amount is None and figures[code].weights == {}
        assert figures[code].missing == [code for code in grid_codes(BORE) if code in gone]


@given(
    value=lengths, members=st.lists(lengths, min_size=1, max_size=8),
)  # fmt: skip
def test_the_nearest_of_a_set_is_in_it_and_none_is_nearer(value, members):
    journal = PROCEDURES["own_journal"]
    amounts = {code: value for code in grid_codes(journal)}
    step = figures_of(journal, amounts, {"undersizes": members})["step"].amount
    assert step in members
    away = abs(step - value)
    assert all(abs(member - value) > away or (abs(member - value) == away and member >= step) for member in members)


@all_cases("code", BUILT_IN)
def test_a_procedure_that_comes_with_the_program_can_be_worked_through(code):
    """With every reading and size at hand each figure has an amount, and nothing is asked for twice."""
    procedure = copy.deepcopy(BUILT_IN[code])
    names = grid_codes(procedure) + [reading["code"] for reading in procedure["readings"]]
    quantities = {line["code"]: line["quantity"] for line in (*procedure["readings"], *procedure["sizes"])}
    names += [size["code"] for size in procedure["sizes"] if not size["many"] and size["quantity"]]
    inputs = {}
    for index, name in enumerate(names):
        unit = QUANTITIES[quantities.get(name, procedure["quantity"])]["units"][0]
        inputs[name] = Input(to_si(Fraction(50 + index, 7), unit), unit, 3)
    sets = {size["code"]: [Input(Fraction(1, 500), "mm", 2)] for size in procedure["sizes"] if size["many"]}
    figures = evaluate(procedure, inputs, sets)
    assert [figure.missing for figure in figures] == [[] for _ in procedure["figures"]]
    empty = evaluate(procedure, {}, {})
    assert all(figure.amount is None and figure.missing for figure in empty)
