"""Makes tests/vectors/built_in_figures.json anew, from a fixed seed: each procedure of the program, random readings.

    python -m tests.unit.trade.measuring.make_built_in_vectors

It holds office and phone to the same last digit; whether a figure is right is judged elsewhere.
"""

import json
import random
from pathlib import Path

from tests.unit.trade.measuring.make_figures_vectors import as_input, case, written
from witnessmark.trade.measuring.figures import evaluate
from witnessmark.trade.measuring.procedures import BUILT_IN

PATH = Path(__file__).parents[3] / "vectors" / "built_in_figures.json"
CASES, SEED = 4, 20261126  # as many at least, and until every figure came to something
ABOUT = (
    "Figures of the procedures that come with the program. Made by tests/unit/trade/measuring/make_built_in_vectors.py."
)


def evaluated(case):
    sets = {code: [as_input(text) for text in texts] for code, texts in case["lists"].items()}
    figures = evaluate(BUILT_IN[case["of"]], {code: as_input(text) for code, text in case["inputs"].items()}, sets)
    return {figure.code: written(figure) for figure in figures}


def main():
    chance = random.Random(SEED)
    lines = []
    for code, procedure in BUILT_IN.items():
        numbers = procedure | {"sizes": [size for size in procedure["sizes"] if size["quantity"]]}
        left, count = {line["code"] for line in procedure["figures"]}, 0
        while left or count < CASES:
            inputs, lists = case(chance, numbers)
            made_case = {"of": code, "inputs": inputs, "lists": lists}
            figures = evaluated(made_case)
            left -= {name for name, figure in figures.items() if "amount" in figure}
            lines.append(json.dumps(made_case | {"figures": figures}, ensure_ascii=False))
            count += 1
    made = ",\n".join(f"  {line}" for line in lines)
    PATH.write_text(f'{{\n "about": {json.dumps(ABOUT)},\n "made": [\n{made}\n ]\n}}\n')


if __name__ == "__main__":
    main()
