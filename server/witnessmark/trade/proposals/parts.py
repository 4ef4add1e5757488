"""What all proposals are made from: the readings, figures and sizes of a sheet as exact amounts with their texts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from witnessmark.trade.ground.amounts import exact_text
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.ground.units import from_si, to_si
from witnessmark.trade.measuring.known import Known
from witnessmark.trade.measuring.limits import covers
from witnessmark.trade.measuring.procedures import grid_codes
from witnessmark.trade.sheets.words import written

Proposal = dict[str, Any]


@dataclass(frozen=True)
class Amount:
    """An exact amount in SI, the unit and the decimals it was typed with, and where it is from."""

    si: Fraction
    unit: str
    places: int
    source: str = ""

    @property
    def text(self) -> str:
        """As typed: `0.50 mm`."""
        return self.say(self.si)

    def say(self, si: Fraction, places: int = 0) -> str:
        """Another amount in the unit of this one, with its decimals or as many as it needs."""
        return f"{exact_text(from_si(si, self.unit), max(self.places, places))} {self.unit}".rstrip()


@dataclass(frozen=True)
class SheetQuery:
    """One sheet, with what the workshop has said."""

    sheet: dict[str, Any]
    known: Known
    engine_type: str

    def size(self, code: str, place: str = "") -> list[Amount]:
        """The values of a size; at a place those that hold there, for fewer places before all. [] for none."""
        stated = self.sheet["sizes"].get(code)
        if place:
            stated = self._there(code, place)
        read = [amount(text, stated["unit"], stated["source"]) for text in stated["values"]] if stated else []
        return [value for value in read if value]

    def _there(self, code: str, place: str) -> dict[str, Any] | None:
        here = None
        for statement in self.known.sizes.values():
            size = statement.data
            mine = size["engine_type"] == self.engine_type and size["procedure"] == self.sheet["procedure"]
            if not mine or size["code"] != code or size["withdrawn"] or not covers(size["where"], place):
                continue
            if here is None or size["where"] or not here["where"]:
                here = size
        return here

    def single(self, code: str, place: str = "") -> Amount | None:
        values = self.size(code, place)
        return values[0] if values else None

    def text(self, code: str) -> str:
        """A size that is a word and no number, such as a material."""
        stated = self.sheet["sizes"].get(code)
        return stated["values"][0] if stated else ""

    def reading(self, place: dict[str, Any], code: str) -> Amount | None:
        """A reading, the mean of its repeats, as the sheet shows it."""
        reading = place["readings"].get(code)
        return (
            amount(reading["mean"], reading["unit"], self.from_exhibits(reading))
            if reading and reading["mean"]
            else None
        )

    def figure(self, place: dict[str, Any], code: str) -> Amount | None:
        line = next((figure for figure in place["figures"] if figure["code"] == code), None)
        return amount(line["value"], line["unit"], "") if line and line["value"] is not None else None

    def words(self, code: str) -> str:
        """A reading in words: `top, thrust`."""
        return next((reading["words"] for reading in self.sheet["readings_asked"] if reading["code"] == code), code)

    def made_by(self, operation: str) -> str:
        """The code of the figure that takes `largest` or `smallest` of the whole grid, "" when there is none."""
        lines = self._procedure["figures"] if self._procedure else []
        return next((line["code"] for line in lines if line["do"] == operation and line["of"] == ["grid"]), "")

    def of_the_size(self) -> list[str]:
        """The readings that are the size itself: those of the grid, without one those of the procedure's quantity."""
        procedure = self._procedure
        if procedure is None:
            return []
        own = [reading["code"] for reading in procedure["readings"] if reading["quantity"] == procedure["quantity"]]
        return grid_codes(procedure) or own

    @property
    def _procedure(self) -> dict[str, Any] | None:
        edition = self.known.editions.get((self.sheet["procedure"], self.sheet["edition"]))
        return edition.data if edition else None

    @staticmethod
    def from_exhibits(taken: dict[str, Any]) -> str:
        numbers = [str(value["exhibit"]) for value in taken["values"] if str(value["exhibit"])]
        if numbers:
            return say("trade.proposals.exhibit", numbers=", ".join(numbers))
        return say("trade.proposals.as_read")


def amount(text: str, unit: str, source: str) -> Amount | None:
    """A shown or stated value as an exact amount; None when it cannot be read."""
    try:
        number, places = written(text)
    except Refusal:
        return None
    return Amount(to_si(number, unit), unit, places or 0, source)


def given(name: str, amounts: Sequence[Amount]) -> list[dict[str, str]]:
    """A line of the inputs; none when there is nothing."""
    if not amounts:
        return []
    return [{"name": name, "value": ", ".join(amount.text for amount in amounts), "source": amounts[0].source}]


def proposal(sort: str, title: str, lines: Sequence[str], formula: str, **more: Any) -> Proposal:
    """`more` are its inputs, its cautions and the reading that forces it, {"place", "reading", "value"}."""
    empty = {"inputs": [], "cautions": [], "forced_by": None}
    return {"sort": sort, "title": title, "lines": list(lines), "formula": formula} | empty | more
