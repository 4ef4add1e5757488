"""Figures: what the readings at a place amount to by a procedure, exact, with the weight of every reading in them.

Amounts are exact fractions in the SI unit of their kind. A weight is the partial derivative of the figure by a reading:
uncertainty is carried through it. Sizes of the engine type are stated, not measured, so they have no weight.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any

from witnessmark.trade.ground.units import QUANTITIES, UNITS, from_si, usual_unit
from witnessmark.trade.measuring import gradients
from witnessmark.trade.measuring.gradients import Gap, Held, Typed, Value
from witnessmark.trade.measuring.procedures import grid_codes, point_words, quantity_of, reading_codes

# Decimals shown where nobody typed any.
PLACES: dict[str, int] = {code: unit["places"] for code, unit in UNITS.items()}
MOST_PLACES = 6


@dataclass(frozen=True)
class Input:
    """A reading (the mean of its repeats) or a size: `amount` in SI; the unit and the decimals as typed, `places` None
    for a vulgar fraction."""

    amount: Fraction
    unit: str
    places: int | None


@dataclass(frozen=True)
class Figure:
    """One figure. `amount` is None when something is missing: `missing` then names the readings and sizes, or says why
    ("clearance volume is zero"). `picked` are the readings that the amount comes from, in the order asked; `unit` and
    `places` are for showing."""

    code: str
    words: str
    kind: str
    amount: Fraction | None
    weights: dict[str, Fraction]
    missing: list[str]
    unit: str
    places: int
    picked: list[str]


@dataclass(frozen=True)
class Across:
    """One comparison over all places. `amount` is None without values. `places` are those it speaks of: of highest and
    lowest all that share it, of spread the highest and the lowest, of under_share and neighbours_under those under
    `amount`, of ranking all, worst first. `pairs` are the neighbours of neighbours_under."""

    code: str
    words: str
    kind: str
    amount: Fraction | None
    places: list[str]
    pairs: list[tuple[str, str]] = field(default_factory=list)


def evaluate(
    procedure: dict[str, Any], inputs: Mapping[str, Input], lists: Mapping[str, Sequence[Input]]
) -> list[Figure]:
    """All figures of a sound procedure (`procedures.check` found no fault) in the order of its lines.

    `inputs` are readings and single sizes by name, `lists` the sizes of many values by theirs.
    """
    readings, grid = reading_codes(procedure), grid_codes(procedure)
    held, sets = _inputs(procedure, readings, inputs, lists)
    words = {code: point_words(procedure, code) for code in readings}
    words |= {line["code"]: line["words"] for line in (*procedure["sizes"], *procedure["figures"])}
    figures = []
    for line in procedure["figures"]:
        if line["along"]:
            value = _ALONG[line["do"]](_groups(procedure, line["along"], held))
        else:
            names = [name for code in line["of"] for name in (grid if code == "grid" else [code])]
            value = _plain(line, names, held, sets, words)
        held[line["code"]] = value
        figures.append(_figure(line, value, readings))
    return figures


def _inputs(
    procedure: dict[str, Any], readings: list[str], inputs: Mapping[str, Input], lists: Mapping[str, Sequence[Input]]
) -> tuple[dict[str, Held], dict[str, list[Value]]]:
    held: dict[str, Held] = {}
    may = {*procedure["optional"], *(reading["code"] for reading in procedure["readings"] if reading["optional"])}
    for code in readings:
        kind = QUANTITIES[quantity_of(procedure, code)]["kind"]
        if given := inputs.get(code):
            typed = (Typed(kind, given.unit, given.places, True),)
            held[code] = Value(given.amount, {code: Fraction(1)}, frozenset([code]), typed)
        else:
            held[code] = Gap((code,), code in may)
    sets = {}
    for size in procedure["sizes"]:
        code = size["code"]
        if size["quantity"] == "":
            continue
        kind = QUANTITIES[size["quantity"]]["kind"]
        if size["many"]:
            sets[code] = [_size(given, kind) for given in lists.get(code, ())]
        elif given := inputs.get(code):
            held[code] = _size(given, kind)
        else:
            held[code] = Gap((code,), False)
    return held, sets


def _size(given: Input, kind: str) -> Value:
    return Value(given.amount, typed=(Typed(kind, given.unit, given.places, False),))


def _plain(
    line: Mapping[str, Any],
    names: list[str],
    held: dict[str, Held],
    sets: dict[str, list[Value]],
    words: dict[str, str],
) -> Held:
    do, last = line["do"], names[-1]
    if do == "nearest":
        return gradients.nearest(held[names[0]], sets[last], last)
    of = [held[name] for name in names]
    if do == "quotient":
        # Two of one kind give a number of nobody's unit; otherwise the unit of the first stays.
        return gradients.quotient(*of, words[last], same_kind=line["kind"] in ("number", "share"))
    if do == "per_thousand":
        return gradients.quotient(*of, words[last], per=gradients.THOUSAND)
    if do == "ratio_of_volumes":
        return gradients.ratio_of_volumes(*of, words[last])
    if do == "scaled":
        return gradients.scaled(of[0], Fraction(line["by"]))
    return of[0] if do == "taken" else _PLAIN[do](of)


_PLAIN = {
    "largest": gradients.largest,
    "smallest": lambda of: gradients.largest(of, -1),
    "mean": gradients.mean,
    "sum": gradients.add,
    "spread": gradients.spread,
    "difference": lambda of: gradients.difference(*of),
    "distance": lambda of: gradients.distance(*of),
    "product": lambda of: gradients.product(*of),
    "cylinder_volume": lambda of: gradients.cylinder_volume(*of),
}
_ALONG = {
    "largest_spread": gradients.largest_spread,
    "largest_drop": gradients.largest_drop,
    "middle_less_ends": gradients.middle_less_ends,
}


def _groups(procedure: dict[str, Any], along: str, held: Mapping[str, Held]) -> list[list[Held]]:
    """The grid in groups that differ only along an axis, groups and their members in grid order."""
    position = next(i for i, axis in enumerate(procedure["grid"]) if axis["axis"] == along)
    groups: dict[tuple[str, ...], list[Held]] = {}
    for code in grid_codes(procedure):
        steps = code.split("/")
        groups.setdefault((*steps[:position], *steps[position + 1 :]), []).append(held[code])
    return list(groups.values())


def _figure(line: Mapping[str, Any], value: Held, readings: list[str]) -> Figure:
    kind = line["kind"]
    head = (line["code"], line["words"], kind)
    if isinstance(value, Gap):
        unit, places = _shown(kind, value.typed, None, False, False)
        unread = [code for code in readings if code in value.missing]
        missing = unread + [code for code in value.missing if code not in unread]
        return Figure(*head, None, {}, missing, unit, places, [])
    unit, places = _shown(kind, value.typed, value.amount, value.finer, value.computed)
    weights = {code: value.weights[code] for code in readings if code in value.weights}
    picked = [code for code in readings if code in value.picked]
    return Figure(*head, value.amount, weights, [], unit, places, picked)


def _shown(kind: str, typed: Sequence[Typed], amount: Fraction | None, finer: bool, computed: bool) -> tuple[str, int]:
    """Unit and decimals: those of the readings when they agree, else the usual ones of the kind."""
    same = [entered for entered in typed if entered.kind == kind]
    units = {entered.unit for entered in same if entered.reading} or {entered.unit for entered in same}
    unit = units.pop() if len(units) == 1 else usual_unit(kind)
    usual = PLACES.get(unit, 3)
    places = max(
        (entered.places for entered in same if entered.unit == unit and entered.places is not None), default=usual
    )
    if computed or any(entered.unit != unit or entered.places is None for entered in same):
        places = max(places, usual)
    places += finer
    if computed and amount:
        shown = abs(from_si(amount, unit))
        while places < MOST_PLACES and shown * 10**places < 10:
            places += 1  # a share of 0.00072 shown as 0.001 would say nothing
    return unit, places


def across(procedure: dict[str, Any], rows: Sequence[Mapping[str, Any]], rules: Mapping[str, Any]) -> list[Across]:
    """The lines of `across` over the places of an engine, in the order of the lines.

    A row is {"place", "bank", "index": position in its bank, "values": {name: amount in SI or None}}; places without
    a value are left out. `rules` are the workshop's, for the share of the highest.
    """
    kinds = {line["code"]: line["kind"] for line in procedure["figures"]}
    for code in reading_codes(procedure):
        kinds[code] = QUANTITIES[quantity_of(procedure, code)]["kind"]
    return [_across(line, kinds[line["of"]], rows, rules) for line in procedure["across"]]


Row = Mapping[str, Any]
There = Sequence[tuple[Row, Fraction]]  # the rows with a value, in their order; never empty


def _across(line: Mapping[str, Any], kind: str, rows: Sequence[Row], rules: Mapping[str, Any]) -> Across:
    do, head = line["do"], (line["code"], line["words"], "share" if line["do"] == "spread_share" else kind)
    there = [(row, row["values"][line["of"]]) for row in rows if row["values"].get(line["of"]) is not None]
    if not there:
        return Across(*head, None, [])
    if do in _OVER_ALL:
        return Across(*head, *_OVER_ALL[do](there))
    if do == "ranking":
        return Across(*head, *_ranking(there, kind))
    share = Fraction(rules["compression_share"]) / 100 if line["share"] == "rule" else Fraction(line["share"])
    bar = share * max(amount for _, amount in there)
    under = [row for row, amount in there if amount < bar]
    if do == "under_share":
        return Across(*head, bar, [row["place"] for row in under])
    pairs = _neighbours(under)
    both = {place for pair in pairs for place in pair}
    return Across(*head, bar, [row["place"] for row in under if row["place"] in both], pairs)


def _at(there: There, wanted: Fraction) -> list[str]:
    return [row["place"] for row, amount in there if amount == wanted]


def _highest(there: There) -> tuple[Fraction, list[str]]:
    high = max(amount for _, amount in there)
    return high, _at(there, high)


def _lowest(there: There) -> tuple[Fraction, list[str]]:
    low = min(amount for _, amount in there)
    return low, _at(there, low)


def _mean(there: There) -> tuple[Fraction, list[str]]:
    return sum((amount for _, amount in there), Fraction(0)) / len(there), []


def _spread(there: There) -> tuple[Fraction, list[str]]:
    (high, highest), (low, lowest) = _highest(there), _lowest(there)
    return high - low, [highest[0], lowest[0]] if high != low else []


def _spread_share(there: There) -> tuple[Fraction | None, list[str]]:
    spread, ends = _spread(there)
    high, _ = _highest(there)
    return (spread / high, ends) if high else (None, [])


_OVER_ALL = {
    "highest": _highest,
    "lowest": _lowest,
    "mean": _mean,
    "spread": _spread,
    "spread_share": _spread_share,
}


def _ranking(there: There, kind: str) -> tuple[Fraction, list[str]]:
    """Worst first: of pressures the lowest is the worst; of leaks, wear and clearances the highest."""
    sign = 1 if kind == "pressure" else -1
    order = sorted(there, key=lambda pair: sign * pair[1])
    return order[0][1], [row["place"] for row, _ in order]


def _neighbours(under: Sequence[Row]) -> list[tuple[str, str]]:
    """The places that lie next to each other in one bank."""
    return [
        (row["place"], other["place"])
        for row in under
        for other in under
        if row["bank"] == other["bank"] and other["index"] - row["index"] == 1
    ]
