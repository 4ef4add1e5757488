"""The readings of one job, sorted by procedure, state, place and reading, and the figures they come to at each place.

A procedure may borrow a figure of another: the clearance of a bearing takes the journal's diameter. It is borrowed from
the place that goes with this one, from the same state or else the latest earlier one, and it brings the weights of its
own readings, so that nothing is lost of its uncertainty.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import Any

from witnessmark.trade.engine.locations import Place, beside, places
from witnessmark.trade.ground import units
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.measuring import figures, limits
from witnessmark.trade.measuring.figures import Figure, Input
from witnessmark.trade.measuring.known import Known, Statement
from witnessmark.trade.measuring.procedures import of_the_part, point_words, quantity_of, reading_codes
from witnessmark.trade.measuring.uncertainty import Made, at_reference, is_long
from witnessmark.trade.sheets.readings import SingleReading, Taken, take
from witnessmark.trade.sheets.words import EARLIER, SORTS

Readings = Sequence[Mapping[str, Any]]


@dataclass(frozen=True)
class Borrowed:
    """A figure of another procedure in the place of a reading."""

    procedure: str
    state: str
    place: str
    figure: Figure
    by: PlaceResult


@dataclass
class PlaceResult:
    """What was read at one place, and its figures. `taken` has the readings of the procedure in the order asked, then
    those that it does not know. `at_20` has True when lengths that count are brought to 20 °C, False when some are as
    they were read."""

    taken: dict[str, Taken] = field(default_factory=dict)
    borrowed: dict[str, Borrowed] = field(default_factory=dict)
    sizes: dict[str, dict[str, Any]] = field(default_factory=dict)
    inputs: dict[str, Input] = field(default_factory=dict)
    figures: list[Figure] = field(default_factory=list)
    at_20: set[bool] = field(default_factory=set)


class Job:
    """The readings of a job of one engine. What was worked out once is kept: one procedure at a time costs little.

    With `newest` every procedure is taken in its newest edition, as for readings that are yet to be made.
    """

    def __init__(self, engine_type: dict[str, Any] | None, readings: Readings, known: Known, newest: bool = False):
        self.engine_type = engine_type
        self.engine_id = engine_type["id"] if engine_type else ""
        self.known = known
        self.newest = newest
        self.groups: dict[tuple[str, str], dict[str, dict[str, list[Mapping[str, Any]]]]] = {}
        self._editions: dict[tuple[str, str], set[int]] = {}
        for given in readings:
            body = given["body"]
            key = (body.get("procedure", ""), body.get("state", "as_found"))
            here = self.groups.setdefault(key, {}).setdefault(given["place"], {})
            here.setdefault(_code(given), []).append(given)
            self._editions.setdefault(key, set()).add(body.get("edition", 0))
        self._at: dict[tuple[str, str, str, bool], PlaceResult | None] = {}
        self._sizes: dict[str, list[dict[str, Any]]] = {}
        self._limits: dict[tuple[str, str, str], list[Statement]] = {}
        self._places: list[Place] | None = None

    def places(self) -> list[Place]:
        if self._places is None:
            self._places = places(self.engine_type) if self.engine_type else []
        return self._places

    def procedure(self, code: str, state: str) -> dict[str, Any] | None:
        """The procedure in the edition that the readings in a state were made by, of several the last: a later one must
        not change what they came to. The newest where nothing was read, or by editions that nobody knows here."""
        read = () if self.newest else self._editions.get((code, state), ())
        made = (self.known.editions.get((code, edition)) for edition in sorted(read, reverse=True))
        described = next((statement for statement in made if statement), None) or self.known.procedures.get(code)
        return described.data if described else None

    def at(self, code: str, state: str, place: str, as_read: bool = False) -> PlaceResult | None:
        """Readings and figures of a procedure at a place; None when two procedures borrow from each other in a ring.

        All lengths that go into its figures are brought to 20 °C, or none: one that is and one that is not make a
        difference that holds at no temperature. With `as_read` none.
        """
        key = (code, state, place, as_read)
        if key not in self._at:
            self._at[key] = None
            result = self._work_out(code, state, place, as_read)
            self._at[key] = result if len(result.at_20) < 2 else self.at(code, state, place, True)
        return self._at[key]

    def sizes_of(self, code: str) -> list[dict[str, Any]]:
        """The sizes that the engine type has for a procedure, withdrawn ones left out."""
        if code not in self._sizes:
            stated = [size.data for size in self.known.sizes.values() if not size.data["withdrawn"]]
            self._sizes[code] = [
                size for size in stated if size["engine_type"] == self.engine_id and size["procedure"] == code
            ]
        return self._sizes[code]

    def sizes(self, code: str, place: str) -> dict[str, dict[str, Any]]:
        """The sizes of a procedure at a place, by code: of several the one for fewer places, then the later."""
        here = [size for size in self.sizes_of(code) if limits.covers(size["where"], place)]
        return {size["code"]: size for size in sorted(here, key=lambda size: len(size["where"]) > 0)}

    def limits_of(self, code: str, state: str, on: str) -> list[Statement]:
        """The limits of a procedure that judge a state, on a day ("" for any), at whatever place."""
        key = (code, state, on)
        if key not in self._limits:
            limits = (limit for limit in self.known.limits.values() if limit.data["procedure"] == code)
            self._limits[key] = self.judging(limits, code, state, on)
        return self._limits[key]

    def judging(self, statements: Iterable[Statement], code: str, state: str, on: str) -> list[Statement]:
        """Of some limits those that judge a procedure in a state on a day; in the order of their sorts."""
        sorts = SORTS.get(state, SORTS["built"])
        standing = [
            statement
            for statement in statements
            if statement.data["sort"] in sorts
            and limits.counts_for({**statement.data, "where": []}, self.engine_id, code, "", on)
        ]
        # A journal ground to the next size is no worn standard one: what machining must reach replaces the rest.
        cut = [limit.data for limit in standing if limit.data["sort"] == "machining"]
        standing = [limit for limit in standing if limit.data["sort"] == "machining" or not _replaced(limit.data, cut)]
        return sorted(standing, key=lambda limit: sorts.index(limit.data["sort"]))

    def _work_out(self, code: str, state: str, place: str, as_read: bool) -> PlaceResult:
        procedure = self.procedure(code, state)
        read = self.groups.get((code, state), {}).get(place, {})
        sizes = self.sizes(code, place) if procedure else {}
        material = sizes["material"]["values"][0] if "material" in sizes else ""
        here = PlaceResult(self._take_all(procedure, read, material, as_read), sizes=sizes)
        if procedure is None:
            return here
        for reading in procedure["readings"]:
            if reading["borrow"] and reading["code"] not in here.taken:
                borrowed = self._borrow(reading["borrow"], state, place, as_read)
                if borrowed:
                    here.borrowed[reading["code"]] = borrowed
        codes = reading_codes(procedure)
        taken = {name: here.taken[name] for name in codes if name in here.taken}
        counted = [reading.made for reading in taken.values() if reading.made]
        here.at_20 = {at_reference(made) for made in counted if is_long(made)}
        here.at_20 = here.at_20.union(*(figure.by.at_20 for figure in here.borrowed.values()))
        single, many = _stated(procedure, sizes)
        here.inputs = {name: reading.input for name, reading in taken.items() if reading.input} | single
        for name, borrowed in here.borrowed.items():
            figure = borrowed.figure
            here.inputs[name] = Input(figure.amount or Fraction(0), figure.unit, figure.places)
        here.figures = figures.evaluate(procedure, here.inputs, many)
        return here

    def _take_all(
        self,
        procedure: Mapping[str, Any] | None,
        read: Mapping[str, list[Mapping[str, Any]]],
        material: str,
        as_read: bool,
    ) -> dict[str, Taken]:
        """The readings of the procedure in its order, then those that it does not know, by name."""
        codes = reading_codes(procedure) if procedure else []
        taken = {}
        for name in [*codes, *sorted(set(read) - set(codes))]:
            if name not in read:
                continue
            known = procedure if name in codes else None
            kind = units.QUANTITIES[quantity_of(known, name)]["kind"] if known else ""
            words = point_words(known, name) if known else name
            stated = material if known and of_the_part(known, name) else ""
            taken[name] = take(name, words, kind, read[name], self.known, stated, as_read)
        return taken

    def _borrow(self, borrow: Mapping[str, Any], state: str, place: str, as_read: bool) -> Borrowed | None:
        if self.engine_type is None:
            return None
        there = beside(self.engine_type, place, borrow["part"], self.places())
        for earlier in EARLIER.get(state, (state,)):
            if there == "" or there not in self.groups.get((borrow["procedure"], earlier), {}):
                continue
            at = self.at(borrow["procedure"], earlier, there, as_read)
            figure = next((f for f in at.figures if f.code == borrow["figure"]), None) if at else None
            if at and figure and figure.amount is not None:
                return Borrowed(borrow["procedure"], earlier, there, figure, at)
        return None


def _replaced(limit: Mapping[str, Any], cut: Iterable[Mapping[str, Any]]) -> bool:
    return any(other["figure"] == limit["figure"] and other["where"] in ([], limit["where"]) for other in cut)


def _code(given: Mapping[str, Any]) -> str:
    """What was read: the reading of the procedure; outside any, the quantity and the point."""
    body = given["body"]
    if body.get("reading", ""):
        return body["reading"]
    return ", ".join(part for part in (body["quantity"], given["point"]) if part)


def _stated(
    procedure: Mapping[str, Any], sizes: Mapping[str, Mapping[str, Any]]
) -> tuple[dict[str, Input], dict[str, list[Input]]]:
    """The sizes of a place as inputs: single ones, and sets. One that cannot be read counts as not there."""
    single: dict[str, Input] = {}
    many: dict[str, list[Input]] = {}
    for wanted in procedure["sizes"]:
        size = sizes.get(wanted["code"])
        if size is None or wanted["quantity"] == "":
            continue
        try:
            read = [units.read_quantity(wanted["quantity"], value, size["unit"]) for value in size["values"]]
        except Refusal:
            continue
        inputs = [Input(units.to_si(amount.amount, amount.unit), amount.unit, amount.places) for amount in read]
        if wanted["many"]:
            many[wanted["code"]] = inputs
        else:
            single[wanted["code"]] = inputs[0]
    return single, many


def contributions(at: PlaceResult, figure: Figure) -> tuple[dict[str, Fraction], dict[str, Made]]:
    """The weight of every reading in a figure and the readings themselves. Those of a borrowed figure come under names
    of their own ("journal:front/0"), so that they never meet another of the same name."""
    weights: dict[str, Fraction] = {}
    made: dict[str, Made] = {}
    for name, weight in figure.weights.items():
        borrowed = at.borrowed.get(name)
        if borrowed is None:
            taken = at.taken.get(name)
            if taken and taken.made:
                weights[name], made[name] = weight, taken.made
            continue
        inner, readings = contributions(borrowed.by, borrowed.figure)
        for code, part in inner.items():
            weights[f"{name}:{code}"] = weight * part
            made[f"{name}:{code}"] = replace(readings[code], code=f"{name}:{code}")
    return weights, made


def read_for(at: PlaceResult, figure: Figure) -> list[SingleReading]:
    """The single readings that a figure comes from, borrowed ones included, without what cannot be counted with."""
    result: list[SingleReading] = []
    for name in figure.picked:
        if name in at.borrowed:
            result += read_for(at.borrowed[name].by, at.borrowed[name].figure)
        elif name in at.taken:
            result += [value for value in at.taken[name].values if value.amount is not None]
    return result


def all_read(at: Mapping[str, PlaceResult]) -> list[SingleReading]:
    """Every single reading on a sheet, borrowed ones included, each once."""
    readings: dict[str, SingleReading] = {}
    for here in at.values():
        for taken in here.taken.values():
            readings |= {value.given["id"]: value for value in taken.values}
        for borrowed in here.borrowed.values():
            readings |= {reading.given["id"]: reading for reading in read_for(borrowed.by, borrowed.figure)}
    return [readings[id] for id in sorted(readings)]
