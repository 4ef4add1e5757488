"""The operations of procedures written down a second time, as plainly as possible and without derivatives: a judge for
trade/measuring/figures.py that shares no line with it. Amounts are fractions in SI; None is a figure that
cannot be had."""

import itertools
import statistics
from fractions import Fraction

PI = Fraction("3.14159265358979323846264338327950288419716939937510")  # from memory: the first fifty decimals


def naive(procedure, amounts, sets):
    """Every figure by its code."""
    axes = [axis["axis"] for axis in procedure["grid"]]
    steps = [[value["code"] for value in axis["values"]] for axis in procedure["grid"]]
    grid = ["/".join(codes) for codes in itertools.product(*steps)] if axes else []
    readings = grid + [reading["code"] for reading in procedure["readings"]]
    may = {*procedure["optional"], *(reading["code"] for reading in procedure["readings"] if reading["optional"])}
    held = {name: amounts.get(name) for name in readings + [size["code"] for size in procedure["sizes"]]}
    # What is missing from a figure may be missing when each single name behind it may.
    excused = {name: name in may for name in held}
    for line in procedure["figures"]:
        names = [name for of in line["of"] for name in (grid if of == "grid" else [of])]
        held[line["code"]] = naive_figure(line, names, held, excused, sets, axes, steps)
        excused[line["code"]] = may_be_missing(line, names, held, excused, sets)
    return {line["code"]: held[line["code"]] for line in procedure["figures"]}


def may_be_missing(line, names, held, excused, sets):
    without = [name for name in names if name not in sets and held.get(name) is None]
    blamed = [name for name in without if not excused[name]] or without
    short_of_set = line["do"] == "nearest" and not sets.get(names[-1])
    return bool(blamed) and all(excused[name] for name in blamed) and not short_of_set


def naive_figure(line, names, held, excused, sets, axes, steps):
    do = line["do"]
    if do == "nearest":
        value, members = held[names[0]], sets.get(names[1], [])
        return min(sorted(members), key=lambda m: abs(m - value)) if members and value is not None else None
    values = [held[name] for name in names]
    lacking = any(held[name] is None and not excused[name] for name in names)
    if do in ("largest", "smallest", "mean", "spread"):
        return None if lacking else of_those_there(do, [value for value in values if value is not None])
    if line["along"]:
        return None if lacking else along_an_axis(do, axes.index(line["along"]), held, steps)
    if None in values:
        return None
    a, b = values[0], values[-1]
    if do in ("quotient", "per_thousand", "ratio_of_volumes") and b == 0:
        return None
    return {
        "taken": lambda: a,
        "sum": lambda: sum(values),
        "difference": lambda: a - b,
        "distance": lambda: abs(a - b),
        "product": lambda: a * b,
        "quotient": lambda: a / b,
        "scaled": lambda: a * Fraction(line["by"]),
        "cylinder_volume": lambda: PI * a * a * b / 4,
        "ratio_of_volumes": lambda: (a + b) / b,
        "per_thousand": lambda: a / (b / 1000),
    }[do]()


def of_those_there(do, there):
    if len(there) < (2 if do == "spread" else 1):
        return None
    return {"largest": max, "smallest": min, "mean": statistics.mean, "spread": lambda v: max(v) - min(v)}[do](there)


def along_an_axis(do, axis, held, steps):
    results = []
    for rest in itertools.product(*(codes for i, codes in enumerate(steps) if i != axis)):
        row = [held["/".join([*rest[:axis], step, *rest[axis:]])] for step in steps[axis]]
        some = [value for value in row if value is not None]
        if do == "largest_spread" and len(some) > 1:
            results.append(max(some) - min(some))
        if do == "largest_drop" and None not in (row[0], row[-1]):
            results.append(row[0] - row[-1])
        if do == "middle_less_ends" and None not in row:
            results.append(row[1] - (row[0] + row[2]) / 2)
    return max(results, key=abs) if results else None
