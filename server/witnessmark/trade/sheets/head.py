"""The head of a sheet: its unit, what is asked, the sizes and limits of the engine type, the gauges that were used."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from typing import Any

from witnessmark.trade.ground import units
from witnessmark.trade.measuring.procedures import point_words, quantity_of, reading_codes, required
from witnessmark.trade.sheets.job import Job, PlaceResult, all_read
from witnessmark.trade.sheets.readings import Taken
from witnessmark.trade.sheets.words import kind_of, shown_unit

_GAUGE = ("name", "id", "resolution", "mpe", "unit", "due")


def unit(procedure: Mapping[str, Any] | None, at: Mapping[str, PlaceResult], rules: Mapping[str, Any]) -> str:
    """The unit of the sheet: the workshop's, else the one most often typed for the procedure's quantity."""
    if procedure is None:
        return ""
    quantity = units.QUANTITIES[procedure["quantity"]]
    typed = Counter(
        value.unit
        for result in at.values()
        for taken in result.taken.values()
        for value in taken.values
        if value.amount is not None and kind_of(value.unit) == quantity["kind"]
    )
    most = min(typed, key=lambda unit: (-typed[unit], unit)) if typed else quantity["units"][0]
    return shown_unit(quantity["kind"], most, rules)


def readings_asked(procedure: Mapping[str, Any] | None, at: Mapping[str, PlaceResult]) -> list[dict[str, Any]]:
    known = dict(procedure) if procedure else None
    codes = reading_codes(known) if known else []
    needed = required(known) if known else []
    borrowing = {reading["code"] for reading in known["readings"] if reading["borrow"]} if known else set()
    result = [
        {
            "code": code,
            "words": point_words(known, code),
            "optional": code not in needed,
            "quantity": quantity_of(known, code),
            "borrowed": code in borrowing,
        }
        for code in codes
    ]
    others: dict[str, Taken] = {}
    for at_place in at.values():
        others |= {code: taken for code, taken in at_place.taken.items() if code not in codes}
    for code in sorted(others):
        given = others[code].values[0].given
        body, point = given["body"], given["point"]
        quantity = units.QUANTITIES.get(body["quantity"])
        single = ", ".join(part for part in (quantity["words"] if quantity else body["quantity"], point) if part)
        words = (point or code) if body.get("reading", "") else single
        result.append({"code": code, "words": words, "optional": True, "quantity": body["quantity"], "borrowed": False})
    return result


def sizes(job: Job, procedure: Mapping[str, Any] | None) -> dict[str, dict[str, Any]]:
    """The sizes that the engine type has for a procedure, by code: one for everywhere before one for some places."""
    named_sizes: dict[str, dict[str, Any]] = {}
    for size in job.sizes_of(procedure["code"]) if procedure else []:
        if size["code"] not in named_sizes or named_sizes[size["code"]]["where"] and not size["where"]:
            named_sizes[size["code"]] = size
    return {
        code: {"values": size["values"], "unit": size["unit"], "source": size["source"]}
        for code, size in named_sizes.items()
    }


def limits_now(job: Job, code: str, state: str, on: str) -> list[dict[str, Any]]:
    """The limits that count for a procedure in a state, `on` a day or "" for any."""
    return [
        {name: limit.data[name] for name in ("figure", "sort", "low", "high", "unit", "source", "where")}
        for limit in job.limits_of(code, state, on)
    ]


def gauges(at: Mapping[str, PlaceResult]) -> list[dict[str, str]]:
    """The gauges that the readings were taken with, as they were described then, in the order of their names."""
    used: dict[tuple[str, str, str], dict[str, str]] = {}
    for reading in all_read(at):
        typed = reading.given["body"].get("gauge", "")
        gauge = reading.gauge or ({**dict.fromkeys(_GAUGE, ""), "name": typed} if typed else None)
        if gauge:
            used[(gauge["name"], gauge["id"], gauge["due"])] = {name: gauge[name] for name in _GAUGE}
    return [used[key] for key in sorted(used)]


def overdue(at: Mapping[str, PlaceResult]) -> list[dict[str, Any]]:
    """Gauges past their date when they were used, with the number of their readings on this sheet."""
    late = Counter(
        (reading.gauge["name"], reading.gauge["due"]) for reading in all_read(at) if reading.overdue and reading.gauge
    )
    return [{"gauge": name, "due": due, "count": late[(name, due)]} for name, due in sorted(late)]
