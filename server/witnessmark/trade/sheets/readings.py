"""Readings of a job as a sheet takes them: repeats together, what cannot be counted with kept aside but in sight."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from witnessmark.trade.ground import units
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.measuring import gauges, uncertainty
from witnessmark.trade.measuring.figures import Input
from witnessmark.trade.measuring.known import Known, gauge_of, rules_of
from witnessmark.trade.measuring.uncertainty import Made
from witnessmark.trade.sheets.words import kind_of, number_part, spread_text, usual_places


@dataclass(frozen=True)
class SingleReading:
    """One standing reading. `amount` is in SI, None when it cannot be counted with: no number, or of another kind."""

    given: Mapping[str, Any]
    text: str
    unit: str
    amount: Fraction | None
    places: int | None
    gauge: dict[str, Any] | None
    overdue: bool


@dataclass(frozen=True)
class Taken:
    """All standing readings of one thing at one place, in the order of their identifiers."""

    code: str
    values: list[SingleReading]
    made: Made | None
    input: Input | None


def take(
    code: str, words: str, kind: str, readings: Sequence[Mapping[str, Any]], known: Known, material: str, as_read: bool
) -> Taken:
    """The repeats of one reading. `kind` is what its procedure wants ("" for any), `material` what the engine type says
    where the reading does not; with `as_read` nothing is brought to 20 °C."""
    values = [_single_reading(given, kind, known) for given in sorted(readings, key=lambda given: given["id"])]
    good = [value for value in values if value.amount is not None]
    if not good:
        return Taken(code, values, None, None)
    made = _made(code, words, good, material, as_read)
    places = [reading.places if reading.places is not None else usual_places(reading.unit) for reading in good]
    same = all(reading.unit == good[0].unit for reading in good)
    input = Input(
        uncertainty.corrected(made, rules_of(known)),
        good[0].unit,
        (good[0].places if len(good) == 1 else max(places) + 1) if same else None,
    )
    return Taken(code, values, made, input)


def _single_reading(given: Mapping[str, Any], kind: str, known: Known) -> SingleReading:
    body = given["body"]
    gauge = gauge_of(known, body.get("basis", []), body.get("gauge_id", ""), given["claimed"])
    overdue = gauge is not None and gauges.overdue(gauge, given["claimed"])
    try:
        read = units.read_quantity(body["quantity"], body["value"], body["unit"])
    except Refusal:
        return SingleReading(given, body["value"].strip(), body["unit"], None, None, gauge, overdue)
    amount = units.to_si(read.amount, read.unit) if kind in ("", kind_of(read.unit)) else None
    return SingleReading(given, number_part(body["value"]), read.unit, amount, read.places, gauge, overdue)


def _made(code: str, words: str, good: list[SingleReading], material: str, as_read: bool) -> Made:
    last = good[-1]
    coarsest = _coarsest(good)
    return Made(
        code=code,
        amounts=tuple(reading.amount for reading in good if reading.amount is not None),
        gauge=gauges.in_si(coarsest) if coarsest else None,
        gauge_name=coarsest["name"] if coarsest else last.given["body"].get("gauge", ""),
        part_c=_temperature(good, "part_temperature"),
        gauge_c=_temperature(good, "gauge_temperature"),
        alpha=uncertainty.expansion(last.given["body"].get("material", "") or material),
        words=words,
        unit=good[0].unit,
        as_read=as_read,
    )


def _coarsest(good: list[SingleReading]) -> dict[str, Any] | None:
    """The gauge that answers for the repeats: of several the one with the largest permissible error, and none when one
    of them was read with a gauge that nobody knows."""
    if any(reading.gauge is None for reading in good):
        return None
    gauges_used = [reading.gauge for reading in good if reading.gauge is not None]
    return max(gauges_used, key=lambda gauge: (gauges.in_si(gauge)["mpe"], gauge["id"]))


def _temperature(good: list[SingleReading], name: str) -> Fraction | None:
    """In °C, the mean over the repeats; None unless it was taken each time."""
    temperatures = []
    for reading in good:
        try:
            read = units.read(reading.given["body"].get(name, ""))
            temperatures.append(units.convert(read.amount, read.unit or "°C", "°C"))
        except Refusal:
            return None
    return sum(temperatures, Fraction(0)) / len(temperatures)


def shown(taken: Taken) -> dict[str, Any]:
    """The readings as a sheet shows them: each as typed; the mean of repeats with one digit more."""
    good = [value for value in taken.values if value.amount is not None]
    mean, unit, scatter = "", taken.values[0].unit, ""
    if len(good) == 1:
        mean, unit = good[0].text, good[0].unit
    elif good:
        unit = good[0].unit
        amounts = [reading.amount for reading in good if reading.amount is not None]
        middle = sum(amounts, Fraction(0)) / len(amounts)
        places = max(reading.places if reading.places is not None else usual_places(reading.unit) for reading in good)
        mean = units.decimal_text(units.from_si(middle, unit), places + 1)
        scatter = spread_text(
            sum(((amount - middle) ** 2 for amount in amounts), Fraction(0)) / (len(amounts) - 1), unit
        )
    return {
        "mean": mean,
        "unit": unit,
        "n": len(good),
        "scatter": scatter,
        "values": [_value(value) for value in taken.values],
        "odd": False,
        "borrowed": None,
    }


def _value(reading: SingleReading) -> dict[str, Any]:
    body = reading.given["body"]
    return {
        "id": reading.given["id"],
        "exhibit": reading.given["exhibit"],
        "value": reading.text,
        "unit": reading.unit,
        "gauge": body.get("gauge", "") or (reading.gauge["name"] if reading.gauge else ""),
        "gauge_id": body.get("gauge_id", ""),
        "overdue": reading.overdue,
        "claimed": reading.given["claimed"],
    }
