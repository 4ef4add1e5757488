"""A reading far from its neighbours asks 'again?' once. It forbids nothing: a worn bore is odd too, and true.

Common practice, no source: the usual slip is one wrong digit, a tenth of a millimetre or more. So a length is odd when
it lies at least 0.075 mm from the nearest neighbour, and further than twice what the neighbours differ.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from witnessmark.trade.ground import units
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.sheets.words import number_part, written

# The least distance that is odd, in SI units; of other kinds half the size of the nearest neighbour. A gap or a
# projection differs from place to place by nature: under 5 mm a length must also be half its neighbour away.
_LEAST = {"length": Fraction(75, 1_000_000), "share": Fraction(1, 4), "angle": Fraction(2)}
_SMALL = Fraction(5, 1000)
# With no neighbour at all the nominal size is one, but wear and oversize lie between.
_FROM_NOMINAL = Fraction(2, 1000)


def odd(sheet: dict[str, Any], place: str, reading: str, amount: str, unit: str) -> str:
    """The question to ask once about a reading that is about to be kept, "" when there is none. `amount` and `unit` as
    typed; what cannot be read is not odd but wrong, and refused elsewhere."""
    try:
        typed = units.read(amount, unit)
    except Refusal:
        return ""
    kind = units.UNITS[typed.unit]["kind"]
    size = units.to_si(typed.amount, typed.unit)
    there = _amounts(sheet, kind)
    again = there.get(place, {}).get(reading)
    neighbours = [again] if again is not None else _neighbours(_grid(sheet), there, place, reading)
    near = nearest(size, kind, neighbours)
    if not neighbours:
        near = _nominal(sheet, size, kind)
    if near is None:
        return ""
    beside = units.from_si(near, typed.unit)
    apart = abs(typed.amount - beside)
    places = typed.places if typed.places is not None else 3
    while Fraction(1, 10**places) > apart / 4:
        places += 1  # 0.4 and 0.04 to one decimal would read as 0.4 apart from 0.0
    shown, away, other = (
        f"{text} {typed.unit}".rstrip()
        for text in (number_part(amount), units.decimal_text(apart, places), units.decimal_text(beside, places))
    )
    if again is not None:
        return say("trade.sheets.odd_before", value=shown, away=away, other=other)
    if neighbours:
        return say("trade.sheets.odd_neighbour", value=shown, away=away, other=other)
    return say("trade.sheets.odd_nominal", value=shown, away=away, other=other)


def mark(sheet: dict[str, Any]) -> None:
    """Sets `odd` on every reading of a sheet that lies far from its neighbours."""
    by_kind: dict[str, dict[str, dict[str, Fraction]]] = {}
    grid = _grid(sheet)
    for place in sheet["places"]:
        for code, shown in place["readings"].items():
            if shown["borrowed"] or shown["mean"] == "":
                continue
            kind = units.UNITS[shown["unit"]]["kind"]
            there = by_kind.get(kind) or by_kind.setdefault(kind, _amounts(sheet, kind))
            amount = there[place["place"]][code]
            neighbours = _neighbours(grid, there, place["place"], code)
            shown["odd"] = nearest(amount, kind, neighbours) is not None


def nearest(amount: Fraction, kind: str, neighbours: Sequence[Fraction]) -> Fraction | None:
    """The neighbour nearest to an amount that is far from all of them, None when it is not far. SI units."""
    if not neighbours:
        return None
    near = min(neighbours, key=lambda neighbour: (abs(neighbour - amount), neighbour))
    apart = abs(near - amount)
    least = _LEAST.get(kind, abs(near) / 2)
    if kind == "length" and abs(near) < _SMALL:
        least = max(least, abs(near) / 2)
    if len(neighbours) > 1:
        least = max(least, 2 * (max(neighbours) - min(neighbours)))
    return near if apart > 0 and apart >= least else None


def _amounts(sheet: dict[str, Any], kind: str) -> dict[str, dict[str, Fraction]]:
    """The readings of one kind, in SI units, by place and reading; borrowed ones were not read here."""
    amounts: dict[str, dict[str, Fraction]] = {}
    for place in sheet["places"]:
        here = amounts.setdefault(place["place"], {})
        for code, shown in place["readings"].items():
            if shown["borrowed"] or shown["mean"] == "" or units.UNITS[shown["unit"]]["kind"] != kind:
                continue
            here[code] = units.to_si(written(shown["mean"])[0], shown["unit"])
    return amounts


def _neighbours(grid: set[str], there: dict[str, dict[str, Fraction]], place: str, reading: str) -> list[Fraction]:
    """The other readings of the grid at this place; where there are none, the same reading at the other places."""
    if reading in grid:
        here = [amount for code, amount in there.get(place, {}).items() if code != reading and code in grid]
        if here:
            return here
    return [readings[reading] for code, readings in there.items() if code != place and reading in readings]


def _grid(sheet: dict[str, Any]) -> set[str]:
    axes = [[value["code"] for value in axis["values"]] for axis in sheet["axes"]]
    return {"/".join(codes) for codes in itertools.product(*axes)} if axes else set()


def _nominal(sheet: dict[str, Any], size: Fraction, kind: str) -> Fraction | None:
    nominal = sheet["sizes"].get("nominal")
    if nominal is None or units.UNITS[nominal["unit"]]["kind"] != kind or kind != "length":
        return None
    amount = units.to_si(written(nominal["values"][0])[0], nominal["unit"])
    return amount if abs(amount - size) > _FROM_NOMINAL else None
