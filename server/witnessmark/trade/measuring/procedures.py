"""Measuring procedures: what one holds, what its lines mean, the check that gathers all its faults, its file.

A procedure is plain data, so it can stand in an entry:

    {"code": "cylinder_bore", "edition": 1, "name": "Cylinder bore",      a workshop's own code starts with own_
     "part": "bore", "quantity": "diameter",                              codes of parts.json and quantities.json
     "about": "…", "cautions": ["…"],
     "grid": [{"axis": "height", "words": "height", "values": [{"code": "top", "words": "top"}, …]}, …],   0 to 3 axes
     "readings": [{"code": "ridge", "words": "unworn ridge", "quantity": "diameter", "optional": true,
                   "borrow": null}],                                      beside the grid
     "optional": ["middle/axial"],                                        readings of the grid that may be missing
     "sizes": [{"code": "nominal", "words": "nominal bore", "quantity": "diameter", "many": false}],
     "figures": [{"code": "ovality", "words": "ovality", "kind": "length", "do": "largest_spread", "of": ["grid"],
                  "along": "direction", "by": "", "definition": "…", "guide": null}],
     "across": [{"code": "worst", "words": "most worn", "do": "highest", "of": "wear", "share": "", "definition": "…"}],
     "walk": "place", "drawing": "bore"}

A reading of the grid is called by its axis values: "top/thrust". A reading with `borrow` {"procedure", "figure",
"part"} takes a figure of another procedure when nobody reads it. A size comes from the engine type; one with quantity
"" is text (a material), one with `many` a set. A guide {"words", "of", "by"} is common practice, shown, never a limit.

A line of `figures` names readings, sizes, earlier figures, or "grid" for all readings of the grid. Every operation
works on exact amounts in SI units. The words offered are in data/operations.json; what they do:

    taken             the value itself
    largest, smallest the largest or smallest; of equal ones the first named counts
    mean, sum         of all values
    spread            largest less smallest; of equal readings two different ones count, for both are uncertain
    difference        first less second, with its sign
    distance          the same without its sign
    product           first times second; one of them is a number or a share
    quotient          first divided by second; division by zero gives no figure
    scaled            the value times the fraction `by`
    largest_spread    the grid in groups that differ only along the axis `along`; largest less smallest in each group;
                      the largest of these. Along the direction it is ovality, along the height it is taper
    largest_drop      the same groups; first less last along the axis; the one largest in size, its sign kept. The other
                      definition of taper: it differs for a barrel-shaped bore
    middle_less_ends  the same groups, axis of three; middle less the mean of the ends; the one largest in size, its
                      sign kept: above zero a barrel journal (or a belled bore), below zero an hourglass
    cylinder_volume   pi/4 times the first (diameter) squared times the second (length)
    ratio_of_volumes  (first + second) / second: swept and clearance volume give the compression ratio
    per_thousand      first per 1000 r/min of the second (a speed)
    nearest           the member of the set `second` nearest to the first; of two equally near the smaller

An optional reading that is missing is left out of largest, smallest, mean, spread and the operations along an axis; any
other line that needs it gives no figure. A spread needs two values, and so does each group along an axis.

A line of `across` takes one name over all places of the engine:

    highest, lowest   the value and where it is
    spread            highest less lowest
    spread_share      the same as a share of the highest
    mean              of all places
    under_share       the places whose value is under `share` of the highest ("rule": the share that the workshop set)
    neighbours_under  of these, the neighbouring cylinders of one bank that are both under
    ranking           all places, worst first: a pressure lowest first, everything else highest first
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterable
from typing import Any

from witnessmark.trade.engine.types import PARTS
from witnessmark.trade.ground import shapes
from witnessmark.trade.ground.errors import Fault
from witnessmark.trade.ground.exchange import Exchange
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.ground.tables import table
from witnessmark.trade.ground.units import QUANTITIES
from witnessmark.trade.measuring.procedure_lines import Name, check_across, check_figures

MOST_GRID_READINGS = 144
BUILT_IN: dict[str, dict[str, Any]] = {procedure["code"]: procedure for procedure in table("procedures")["procedures"]}

WALKS = {"place": say("trade.measuring.walk_place"), "reading": say("trade.measuring.walk_reading")}
DRAWINGS = ("bore", "journal", "housing", "face", "lobe", "pin", "list")

_is_code = re.compile(r"[a-z][a-z0-9_]{0,39}").fullmatch
_is_value = re.compile(r"[a-z0-9][a-z0-9_]{0,29}").fullmatch


def _code(value: Any) -> str | None:
    return None if type(value) is str and _is_code(value) else say("trade.measuring.not_a_code")


def _known(table_name: str, codes: Iterable[str]) -> shapes.Check:
    known = frozenset(codes)
    return lambda value: (
        None if type(value) is str and value in known else say("trade.measuring.not_in_table", table=table_name)
    )


_FIELDS = (
    ("code", _code),
    ("edition", shapes.whole(1, 1_000_000)),
    ("name", shapes.text(80, 1)),
    ("part", _known(say("trade.measuring.table_parts"), PARTS)),
    ("quantity", _known(say("trade.measuring.table_quantities"), QUANTITIES)),
    ("about", shapes.text(2000)),
    ("cautions", shapes.texts(20, 300)),
    ("optional", shapes.texts(MOST_GRID_READINGS, 100)),
    ("walk", shapes.choice(WALKS)),
    ("drawing", shapes.choice(dict.fromkeys(DRAWINGS, ""))),
)
_LISTS = {"grid": 3, "readings": 40, "sizes": 20, "figures": 60, "across": 20}
_KEYS = [name for name, _ in _FIELDS] + list(_LISTS)
_words = shapes.text(80, 1)


def check(procedure: Any) -> list[Fault]:
    """All faults of a procedure, none when it can be used. Never raises, whatever it is given.

    Its frame is judged first, then grid, readings and sizes, then its lines: a line cannot be judged while the names
    that it uses are in doubt. Whether a borrowed figure exists is known only where all procedures are.
    """
    if type(procedure) is not dict:
        return [Fault("procedure", say("trade.measuring.procedure_no_object"))]
    faults: list[Fault] = []
    for name in sorted(str(key) for key in procedure if key not in _KEYS):
        faults.append(Fault(name, say("trade.measuring.unknown_field", field=name)))
    for name in _KEYS:
        if name not in procedure:
            faults.append(Fault(name, say("trade.measuring.missing_field", field=name)))
    for name, reason_against in _FIELDS:
        if name in procedure and (reason := reason_against(procedure[name])):
            faults.append(Fault(name, say("trade.ground.field_fault", field=name, reason=reason)))
    for name, most in _LISTS.items():
        if name in procedure and type(procedure[name]) is not list:
            faults.append(Fault(name, say("trade.measuring.not_a_list", field=name)))
        elif name in procedure and len(procedure[name]) > most:
            faults.append(
                Fault(name, say("trade.measuring.too_many_lines", field=name, lines=len(procedure[name]), most=most))
            )
    if faults:
        return faults
    names: dict[str, Name] = {}
    for part in (_grid, _readings, _sizes):
        part(procedure, names, faults)
    if faults:
        return faults
    axes = {axis["axis"]: len(axis["values"]) for axis in procedure["grid"]}
    check_figures(procedure["figures"], names, axes, grid_codes(procedure), faults)
    check_across(procedure["across"], names, faults)
    _whose(procedure, faults)
    return faults


def _grid(procedure: dict[str, Any], names: dict[str, Name], faults: list[Fault]) -> None:
    axes: set[str] = set()
    before, readings = len(faults), 1
    for index, axis in enumerate(procedure["grid"]):
        where, line = f"grid.{index}", say("trade.measuring.axis", number=index + 1)
        if type(axis) is not dict or axis.keys() != {"axis", "words", "values"}:
            faults.append(Fault(where, say("trade.measuring.axis_fields", line=line)))
            continue
        if reason := _code(axis["axis"]):
            faults.append(
                Fault(f"{where}.axis", say("trade.measuring.line_field_fault", line=line, field="axis", reason=reason))
            )
        else:
            line = say("trade.measuring.line_named", line=line, code=axis["axis"])
            if axis["axis"] in axes:
                faults.append(Fault(f"{where}.axis", say("trade.measuring.axes_alike", line=line, axis=axis["axis"])))
            axes.add(axis["axis"])
        if reason := _words(axis["words"]):
            faults.append(
                Fault(
                    f"{where}.words", say("trade.measuring.line_field_fault", line=line, field="words", reason=reason)
                )
            )
        _axis_values(where, line, axis["values"], faults)
        readings *= len(axis["values"]) if type(axis["values"]) is list else 1
    if len(faults) == before and readings > MOST_GRID_READINGS:
        faults.append(Fault("grid", say("trade.measuring.grid_too_large", asked=readings, most=MOST_GRID_READINGS)))
    if len(faults) > before:
        return
    kind = QUANTITIES[procedure["quantity"]]["kind"]
    codes = grid_codes(procedure)
    names.update({code: Name(kind, "reading") for code in codes})
    for code in procedure["optional"]:
        if code not in codes:
            faults.append(Fault("optional", say("trade.measuring.optional_unknown", code=code)))


def _axis_values(where: str, line: str, values: Any, faults: list[Fault]) -> None:
    if type(values) is not list or not 1 <= len(values) <= 12:
        faults.append(Fault(f"{where}.values", say("trade.measuring.axis_values", line=line)))
        return
    seen: set[str] = set()
    for index, value in enumerate(values):
        here = f"{where}.values.{index}"
        if type(value) is not dict or value.keys() != {"code", "words"}:
            faults.append(Fault(here, say("trade.measuring.value_fields", line=line, number=index + 1)))
            continue
        if type(value["code"]) is not str or not _is_value(value["code"]):
            faults.append(Fault(f"{here}.code", say("trade.measuring.value_code", line=line, number=index + 1)))
        elif value["code"] in seen:
            faults.append(Fault(f"{here}.code", say("trade.measuring.values_alike", line=line, code=value["code"])))
        else:
            seen.add(value["code"])
        if reason := _words(value["words"]):
            faults.append(
                Fault(f"{here}.words", say("trade.measuring.value_words", line=line, number=index + 1, reason=reason))
            )


def _readings(procedure: dict[str, Any], names: dict[str, Name], faults: list[Fault]) -> None:
    if not procedure["grid"] and not procedure["readings"]:
        faults.append(Fault("readings", say("trade.measuring.no_readings_asked")))
    for index, reading in enumerate(procedure["readings"]):
        where, line = f"readings.{index}", say("trade.measuring.reading", number=index + 1)
        if type(reading) is not dict or reading.keys() != {"code", "words", "quantity", "optional", "borrow"}:
            faults.append(Fault(where, say("trade.measuring.reading_fields", line=line)))
            continue
        line = _named(where, line, reading, names, faults)
        if type(reading["quantity"]) is not str or reading["quantity"] not in QUANTITIES:
            faults.append(Fault(f"{where}.quantity", say("trade.measuring.quantity_unknown", line=line)))
        elif type(reading["code"]) is str:
            names[reading["code"]] = Name(QUANTITIES[reading["quantity"]]["kind"], "reading")
        if reason := shapes.yes_no(reading["optional"]):
            faults.append(
                Fault(
                    f"{where}.optional",
                    say("trade.measuring.line_field_fault", line=line, field="optional", reason=reason),
                )
            )
        borrow = reading["borrow"]
        if borrow is None:
            continue
        if type(borrow) is not dict or borrow.keys() != {"procedure", "figure", "part"}:
            faults.append(Fault(f"{where}.borrow", say("trade.measuring.borrow_fields", line=line)))
            continue
        for key in ("procedure", "figure"):
            if reason := _code(borrow[key]):
                faults.append(
                    Fault(
                        f"{where}.borrow.{key}", say("trade.measuring.borrow_code", line=line, field=key, reason=reason)
                    )
                )
        if type(borrow["part"]) is not str or borrow["part"] not in PARTS:
            faults.append(Fault(f"{where}.borrow.part", say("trade.measuring.borrow_part", line=line)))


def _sizes(procedure: dict[str, Any], names: dict[str, Name], faults: list[Fault]) -> None:
    for index, size in enumerate(procedure["sizes"]):
        where, line = f"sizes.{index}", say("trade.measuring.size", number=index + 1)
        if type(size) is not dict or size.keys() != {"code", "words", "quantity", "many"}:
            faults.append(Fault(where, say("trade.measuring.size_fields", line=line)))
            continue
        line = _named(where, line, size, names, faults)
        if reason := shapes.yes_no(size["many"]):
            faults.append(
                Fault(f"{where}.many", say("trade.measuring.line_field_fault", line=line, field="many", reason=reason))
            )
        if type(size["quantity"]) is not str or size["quantity"] not in ("", *QUANTITIES):
            faults.append(Fault(f"{where}.quantity", say("trade.measuring.quantity_unknown", line=line)))
        elif type(size["code"]) is str:
            text = size["quantity"] == ""
            kind = None if text else QUANTITIES[size["quantity"]]["kind"]
            names[size["code"]] = Name(kind, "text" if text else "set" if size["many"] is True else "size")


def _named(where: str, line: str, described: dict[str, Any], names: dict[str, Name], faults: list[Fault]) -> str:
    """Judges code and words of a reading or size, and gives its name in messages."""
    code = described["code"]
    if reason := _code(code):
        faults.append(
            Fault(f"{where}.code", say("trade.measuring.line_field_fault", line=line, field="code", reason=reason))
        )
    else:
        line = say("trade.measuring.line_named", line=line, code=code)
        if code == "grid":
            faults.append(Fault(f"{where}.code", say("trade.measuring.grid_reserved", line=line)))
        elif code in names:
            faults.append(Fault(f"{where}.code", say("trade.measuring.name_twice", line=line, code=code)))
    if reason := _words(described["words"]):
        faults.append(
            Fault(f"{where}.words", say("trade.measuring.line_field_fault", line=line, field="words", reason=reason))
        )
    return line


def _whose(procedure: dict[str, Any], faults: list[Fault]) -> None:
    code = procedure["code"]
    # A workshop's procedure under a known code would change, unseen, what everybody else means by that code.
    if not code.startswith("own_") and procedure != BUILT_IN.get(code):
        if code in BUILT_IN:
            faults.append(Fault("code", say("trade.measuring.built_in_fixed", code=code)))
        else:
            faults.append(Fault("code", say("trade.measuring.not_built_in", code=code)))


def grid_codes(procedure: dict[str, Any]) -> list[str]:
    """The readings of the grid, the first axis changing slowest: "top/thrust", "top/axial", …; none without a grid."""
    axes = [[value["code"] for value in axis["values"]] for axis in procedure["grid"]]
    return ["/".join(codes) for codes in itertools.product(*axes)] if axes else []


def reading_codes(procedure: dict[str, Any]) -> list[str]:
    """All readings in the order in which they are asked for: the grid, then those beside it."""
    return grid_codes(procedure) + [reading["code"] for reading in procedure["readings"]]


def point_words(procedure: dict[str, Any], reading: str) -> str:
    """A reading in words, as it stands in an entry's point: "top, thrust". An unknown code is given back as it is."""
    for described in procedure["readings"]:
        if described["code"] == reading:
            return described["words"]
    codes = reading.split("/")
    if reading not in grid_codes(procedure):
        return reading
    axes = zip(procedure["grid"], codes, strict=True)
    return ", ".join(value["words"] for axis, code in axes for value in axis["values"] if value["code"] == code)


def required(procedure: dict[str, Any]) -> list[str]:
    """The readings without which a place is not done."""
    beside = [reading["code"] for reading in procedure["readings"] if not reading["optional"]]
    return [code for code in grid_codes(procedure) if code not in procedure["optional"]] + beside


def quantity_of(procedure: dict[str, Any], reading: str) -> str:
    """The quantity of a reading: its own beside the grid, the procedure's in the grid."""
    own = {reading["code"]: reading["quantity"] for reading in procedure["readings"]}
    return own.get(reading, procedure["quantity"])


def of_the_part(procedure: dict[str, Any], reading: str) -> bool:
    """Whether a reading is taken on the part whose material the engine type states: in a procedure with a grid all of
    them, else the first alone, for a second one is mostly of the part that runs in it, of another metal."""
    return bool(procedure["grid"]) or procedure["readings"][0]["code"] == reading


# A procedure travels in such a file; the faults of what is in one are `check`'s to find.
_FILE = Exchange("witnessmark procedure 1", "procedure", say("trade.measuring.a_procedure"))
write_file, read_file = _FILE.write, _FILE.read
