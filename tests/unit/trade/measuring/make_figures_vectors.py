"""Makes the `made` part of tests/vectors/figures.json anew, from a fixed seed:

    python -m tests.unit.trade.measuring.make_figures_vectors

The `worked` part is worked by hand and stays as it is. What is made holds both sides to the same last digit;
that it is right is judged by the worked cases and by naive_figures.py.
"""

import json
import random
from fractions import Fraction
from pathlib import Path

from witnessmark.trade.ground.units import QUANTITIES, decimal_text, from_si, read, to_si
from witnessmark.trade.measuring.figures import Input, evaluate
from witnessmark.trade.measuring.procedures import grid_codes, quantity_of, reading_codes

PATH = Path(__file__).parents[3] / "vectors" / "figures.json"
CASES, SEED = 24, 20261125
AROUND = {"length": "0.08650", "volume": "0.0000450", "pressure": "1100000", "share": "0.12", "number": "4",
          "speed": "2400", "temperature": "360"}  # fmt: skip
WIDTH = {"length": Fraction(1, 2000), "number": Fraction(1, 4), "temperature": Fraction(1, 20)}
OTHERS = {"mm": "in", "in": "mm", "um": "thou", "thou": "um", "bar": "psi", "cm³": "in³", "°C": "°F"}
PLACES = {"mm": 3, "in": 4, "um": 1, "thou": 1, "bar": 2, "kPa": 0, "psi": 0, "cm³": 2, "in³": 3, "%": 1, "": 1}


def typed(chance, kind, unit):
    """One typed value: mostly decimals near the usual size, now and then a vulgar fraction, zero or below zero."""
    if kind == "length" and unit in ("in", "thou") and chance.random() < 0.15:
        return f"{chance.randint(1, 12)} {chance.choice([1, 3, 5, 7])}/{chance.choice([8, 16, 64])} {unit}"
    if chance.random() < 0.04:
        return chance.choice(["0", "-0.02", "−0.4", "0.000"]) + f" {unit}"
    middle, width = Fraction(AROUND[kind]), WIDTH.get(kind, Fraction(1, 5))
    amount = middle * (1 + width * Fraction(chance.randint(-40, 40), 40))
    places = max(0, PLACES.get(unit, 1) + chance.choice([-1, 0, 0, 0, 0, 1]))
    text = decimal_text(from_si(amount, unit), places)
    return (text.replace(".", ",") if chance.random() < 0.2 else text) + f" {unit}"


def case(chance, procedure):
    readings, grid = reading_codes(procedure), set(grid_codes(procedure))
    may = {*procedure["optional"], *(reading["code"] for reading in procedure["readings"] if reading["optional"])}
    quantities = {code: quantity_of(procedure, code) for code in readings}
    quantities |= {size["code"]: size["quantity"] for size in procedure["sizes"]}
    many = {size["code"] for size in procedure["sizes"] if size["many"]}
    unit_of = {}
    inputs, lists = {}, {}
    for code, quantity in quantities.items():
        kind = QUANTITIES[quantity]["kind"]
        unit = unit_of.setdefault(quantity, chance.choice(QUANTITIES[quantity]["units"]))
        if chance.random() < 0.05:
            unit = OTHERS.get(unit, unit)
        if code in many:
            lists[code] = [typed(chance, kind, unit) for _ in range(chance.choice([0, 1, 3, 6]))]
        elif chance.random() >= (0.35 if code in may else 0.03 if code in grid else 0.06):
            ties = [inputs[name] for name in inputs if quantities[name] == quantity and name not in lists]
            inputs[code] = chance.choice(ties) if ties and chance.random() < 0.2 else typed(chance, kind, unit)
    return inputs, lists


def as_input(text):
    reading = read(text)
    return Input(to_si(reading.amount, reading.unit), reading.unit, reading.places)


def written(figure):
    shown = {"unit": figure.unit, "places": figure.places}
    if figure.amount is None:
        return {"missing": figure.missing, **shown}
    weights = {name: str(weight) for name, weight in figure.weights.items()}
    return {"amount": str(figure.amount), "weights": weights, "picked": figure.picked, **shown}


def main():
    vectors = json.loads(PATH.read_text())
    chance = random.Random(SEED)
    made = []
    for procedure in vectors["procedures"]:
        for _ in range(CASES):
            inputs, lists = case(chance, procedure)
            sets = {code: [as_input(text) for text in texts] for code, texts in lists.items()}
            figures = evaluate(procedure, {code: as_input(text) for code, text in inputs.items()}, sets)
            expected = {figure.code: written(figure) for figure in figures}
            made.append({"of": procedure["code"], "inputs": inputs, "lists": lists, "figures": expected})
    write(vectors | {"made": made})


def write(vectors):
    """One line a case: a change is then a line in a difference."""
    parts = []
    for name, value in vectors.items():
        if isinstance(value, list):
            lines = ",\n".join("  " + json.dumps(item, ensure_ascii=False) for item in value)
            parts.append(f" {json.dumps(name)}: [\n{lines}\n ]")
        else:
            parts.append(f" {json.dumps(name)}: {json.dumps(value, ensure_ascii=False)}")
    PATH.write_text("{\n" + ",\n".join(parts) + "\n}\n")


if __name__ == "__main__":
    main()
