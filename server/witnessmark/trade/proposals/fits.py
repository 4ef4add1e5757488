"""Limits and fits after ISO 286: from a code such as `20 H7/p6` to limits of size and to the kind of fit.

Amounts are exact fractions in metres. The tables and what they are worth: data/iso286.json.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.tables import table
from witnessmark.trade.ground.units import UNITS, convert, decimal_text, read, to_si

_TABLE: dict[str, Any] = table("iso286")
LETTERS: tuple[str, ...] = (*"abcdefgh", "js", *"kmnprstux")
GRADES = range(5, 14)
USUAL: list[dict[str, str]] = _TABLE["usual"]

_LEAST, _MOST = 1, _TABLE["main"][-1]  # mm
_LONGEST = 60  # characters of a code
_MICRON = Fraction(1, 1_000_000)
_EXAMPLE = "Write it such as 20 H7/p6, 20 H7 or Ø50 H8/f7."
_written = re.compile(
    r"\s*[Øø⌀]?\s*(?P<size>[^Øø⌀]*?)\s*(?P<first>(?:[A-Z]{1,2}|[a-z]{1,2})[0-9]{1,2})"
    r"(?:\s*[/\-\s]\s*(?P<second>(?:[A-Z]{1,2}|[a-z]{1,2})[0-9]{1,2}))?\s*"
).fullmatch


@dataclass(frozen=True)
class Limits:
    """One tolerance zone at one nominal size: `code` as `H7`, deviations and sizes in metres."""

    code: str
    hole: bool
    nominal: Fraction
    upper: Fraction
    lower: Fraction

    @property
    def largest(self) -> Fraction:
        return self.nominal + self.upper

    @property
    def smallest(self) -> Fraction:
        return self.nominal + self.lower


@dataclass(frozen=True)
class Code:
    """What was typed: the nominal size in metres and as text (`20 mm`), and the zones, "" where one is not given."""

    nominal: Fraction
    size: str
    hole: str
    shaft: str


@dataclass(frozen=True)
class Fit:
    """`least` and `greatest` clearance in metres, below zero where parts interfere. `kind` is clearance, transition or
    interference; a clearance or interference of exactly nothing still counts as one (ISO 286-1:2010, 3.3, from
    memory)."""

    kind: str
    least: Fraction
    greatest: Fraction


def read_code(text: str) -> Code:
    """Reads `20 H7/p6`, `20H7`, `Ø50 H8/f7`, `12,5 g6`, `2 in H7/s6`; millimetres unless a unit is written.
    Raises Refusal for anything else."""
    bare = " ".join(text.split())
    # Nobody writes a longer one, and the pattern takes long over what is none.
    found = _written(bare) if len(bare) <= _LONGEST else None
    if found is None or not found["size"]:
        raise Refusal("bad_value", "code", f"'{bare[:40]}' is no size with a tolerance. {_EXAMPLE}")
    reading = read(found["size"])
    unit = reading.unit or "mm"
    if UNITS[unit]["kind"] != "length":
        raise Refusal("bad_value", "code", f"{unit} is no unit of length. {_EXAMPLE}")
    first, second = found["first"], found["second"] or ""
    if second and (first[0].islower() or second[0].isupper()):
        raise Refusal("bad_value", "code", "A fit names the hole first, in capitals, then the shaft: 20 H7/p6.")
    hole, shaft = ("", first) if first[0].islower() else (first, second)
    size = found["size"].replace("\u2212", "-")
    return Code(to_si(reading.amount, unit), size if reading.unit else f"{size} mm", hole, shaft)


def limits(nominal: Fraction, code: str) -> Limits:
    """The zone `code` at a nominal size in metres. Raises Refusal for a size, letter or grade that is not in the
    tables."""
    size = nominal * 1000
    if not _LEAST <= size <= _MOST:
        shown = f"{decimal_text(size, 3)} mm"
        raise Refusal("bad_value", "code", f"{shown} is outside the tables, which reach from {_LEAST} to {_MOST} mm.")
    found = re.fullmatch(r"([A-Z]{1,2}|[a-z]{1,2})([0-9]{1,2})", code)
    if found is None:
        raise Refusal("bad_value", "code", f"'{code[:20]}' is no tolerance class. {_EXAMPLE}")
    letter, grade, hole = found[1].lower(), int(found[2]), found[1].isupper()
    if letter not in LETTERS:
        known = ", ".join(one.upper() if hole else one for one in LETTERS)
        raise Refusal("bad_value", "code", f"The letter {found[1]} is not in the tables here. Known are {known}.")
    if grade not in GRADES:
        raise Refusal("bad_value", "code", f"Grade {grade} is not in the tables here: {GRADES[0]} to {GRADES[-1]} are.")
    upper, lower = (_of_hole if hole else _of_shaft)(size, letter, grade)
    return Limits(code, hole, nominal, upper * _MICRON, lower * _MICRON)


def fit(hole: Limits, shaft: Limits) -> Fit:
    """The fit of a hole with a shaft."""
    least, greatest = hole.smallest - shaft.largest, hole.largest - shaft.smallest
    kind = "clearance" if least >= 0 else "interference" if greatest <= 0 else "transition"
    return Fit(kind, least, greatest)


def actual(hole: Fraction, shaft: Fraction) -> Fit:
    """The fit of two measured sizes in metres, taken as they are: what the gauges leave open is the caller's to add."""
    clearance = hole - shaft
    return Fit("clearance" if clearance >= 0 else "interference", clearance, clearance)


def beyond(size: Fraction, zone: Limits) -> Fraction:
    """By how much a measured size lies outside its limits: above as a positive, below as a negative amount, else 0."""
    return max(size - zone.largest, Fraction(0)) + min(size - zone.smallest, Fraction(0))


def microns(amount: Fraction, sign: bool = False) -> str:
    """An amount in metres as micrometres, with the decimal that half a grade may need: `+7`, `-6.5`, `0`."""
    value = convert(amount, "m", "um")
    shown = decimal_text(value, 0 if value.denominator == 1 else 1)
    return f"+{shown}" if sign and value > 0 else shown


def tolerance(nominal: Fraction, grade: int) -> Fraction:
    """The standard tolerance IT`grade` in metres at a nominal size in metres, within the tables."""
    return _grade(nominal * 1000, grade) * _MICRON


def _grade(size: Fraction, grade: int) -> Fraction:
    return Fraction(_TABLE["grades"][str(grade)][_step(size, _TABLE["main"])])


def _step(size: Fraction, steps: list[int]) -> int:
    return next(place for place, largest in enumerate(steps) if size <= largest)


def _fundamental(size: Fraction, letter: str, written: str) -> Fraction:
    row = _TABLE["fundamental"][letter]
    found = row[_step(size, _TABLE["main"] if len(row) == len(_TABLE["main"]) else _TABLE["fine"])]
    if found is None:
        shown = decimal_text(size, 3)
        raise Refusal("bad_value", "code", f"The standard has no {written} at {shown} mm. Take the letter before it.")
    return Fraction(found)


def _of_shaft(size: Fraction, letter: str, grade: int) -> tuple[Fraction, Fraction]:
    it = _grade(size, grade)
    if letter == "js":
        return it / 2, -it / 2
    start = _fundamental(size, letter, letter)
    if letter <= "h":
        return start, start - it
    if letter == "k" and grade > 7:
        start = Fraction(0)
    return start + it, start


def _of_hole(size: Fraction, letter: str, grade: int) -> tuple[Fraction, Fraction]:
    it = _grade(size, grade)
    if letter == "js":
        return it / 2, -it / 2
    start = _fundamental(size, letter, letter.upper())
    if letter <= "h":
        return it - start, -start
    upper = _upper_of_tight_hole(size, letter, grade, start)
    return upper, upper - it


def _upper_of_tight_hole(size: Fraction, letter: str, grade: int, start: Fraction) -> Fraction:
    """Holes K to X: the shaft's deviation turned round, plus the step between this grade and the finer one, so that
    H7/p6 and P7/h6 give the same fit. For K, M, N up to grade 8, from P on up to grade 7, above 3 mm."""
    smallest_step = size <= _TABLE["main"][0]
    if letter == "k" and grade > 8 and not smallest_step:
        raise Refusal("bad_value", "code", f"The standard has no K{grade} above 3 mm. K5 to K8 are there.")
    if letter == "n" and grade > 8 and not smallest_step:
        return Fraction(0)
    # The one cell the standard sets by hand (ISO 286-1:2010, note to the table of holes, from memory).
    if letter == "m" and grade == 6 and 250 < size <= 315:
        return Fraction(-9)
    if smallest_step or grade > (8 if letter in "kmn" else 7):
        return -start
    return -start + _grade(size, grade) - _grade(size, grade - 1)
