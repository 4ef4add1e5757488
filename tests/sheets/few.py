"""Smaller cases: the basis of a reading, the gauge behind it, procedures of a part, wear, odd readings; invented."""

from __future__ import annotations

from typing import Any

from tests.sheets.hard_cases import CASES
from tests.sheets.said import ENGINES
from witnessmark.trade.engine.locations import places
from witnessmark.trade.measuring import known
from witnessmark.trade.sheets import job_sheets as sheets

_JUDGED = "a bore judged by service limits"
_VALVES = "valve clearances with limits for either side"
_NAMED = "a gauge that only its identifier names"
_EDITIONS = "a procedure of the workshop in two editions"
_CHANGED = "a limit changed after it was measured"

BASIS: list[dict[str, Any]] = [
    {"case": _JUDGED, "procedure": "cylinder_bore", "place": "bore/1", "gauge": "Bore gauge 4", "on": "2026-05-14"},
    {"case": _JUDGED, "procedure": "crankpin", "place": "crankpin/1", "gauge": "", "on": ""},
    {"case": _JUDGED, "procedure": "", "place": "bore/1", "gauge": "a gauge that nobody knows", "on": ""},
    {"case": _VALVES, "procedure": "valve_shim", "place": "valve/2/inlet/1", "gauge": "Feeler set", "on": ""},
    {"case": _VALVES, "procedure": "valve_shim", "place": "valve/2/exhaust/1", "gauge": "Feeler set", "on": ""},
    {"case": "limits for a time and withdrawn ones", "procedure": "cylinder_bore", "place": "bore/1", "gauge": "",
     "on": "2026-05-13"},
    {"case": "limits for a time and withdrawn ones", "procedure": "cylinder_bore", "place": "bore/1", "gauge": "",
     "on": ""},
    {"case": _EDITIONS, "procedure": "own_liner_seat", "place": "bore/1", "gauge": "Bore gauge 4", "on": ""},
    {"case": _CHANGED, "procedure": "cylinder_bore", "place": "bore/1", "gauge": "Bore gauge 4", "on": ""},
]  # fmt: skip
GAUGES: list[dict[str, Any]] = [
    {"case": _NAMED, "basis": [0], "gauge": "Bore gauge 4", "claimed": "2027-01-01T00:00:00.000Z"},
    {"case": _NAMED, "basis": [1], "gauge": "", "claimed": "2020-01-01T00:00:00.000Z"},
    {"case": _NAMED, "basis": [0], "gauge": "another", "claimed": "2027-01-01T00:00:00.000Z"},
    {"case": _NAMED, "basis": [], "gauge": "Bore gauge 4", "claimed": "2026-05-02T06:59:59.999Z"},
    {"case": _NAMED, "basis": [], "gauge": "Bore gauge 4", "claimed": "2026-05-02T07:00:00.000Z"},
    {"case": _NAMED, "basis": [], "gauge": "Bore gauge 4", "claimed": "2025-01-01T00:00:00.000Z"},
    {"case": _NAMED, "basis": [], "gauge": "", "claimed": "2026-05-02T07:00:00.000Z"},
]
PROCEDURES: list[dict[str, Any]] = [
    {"case": _EDITIONS, "engine_type": "Brantholm flat four", "part": "bore"},
    {"case": _JUDGED, "engine_type": "Halvern 2.9 V6", "part": "rocker"},
    {"case": _JUDGED, "engine_type": "Corrie 2.2 four", "part": "rocker"},
    {"case": _JUDGED, "engine_type": None, "part": "lobe"},
    {"case": _JUDGED, "engine_type": "Aldous single", "part": "sump"},
]

_LATER = {"top/thrust": "86.094", "bottom/axial": "86.008"}
WEAR: list[dict[str, Any]] = [
    {"now": _LATER, "distance_now": "182400 km", "distance_then": "121000 km"},
    {"now": _LATER, "distance_now": "182 400 km", "distance_then": "75,186 mi"},
    {"now": _LATER, "distance_now": "95.5 mi", "distance_then": "0 mi"},
    {"now": _LATER, "distance_now": "5180 h", "distance_then": "4180 h"},
    {"now": _LATER, "distance_now": "5180 h", "distance_then": "4180 km"},
    {"now": _LATER, "distance_now": "100000 km", "distance_then": "121000 km"},
    {"now": _LATER, "distance_now": "", "distance_then": "121000 km"},
    {"now": _LATER, "distance_now": "a lot", "distance_then": "less"},
    {"now": {"top/thrust": "3.3895 in"}, "distance_now": "182400 km", "distance_then": "121000 km"},
]
ODD: list[dict[str, Any]] = [
    {"case": "a half done grid", "place": "bore/1", "reading": "middle/thrust", "amount": "86.05", "unit": "mm"},
    {"case": "a half done grid", "place": "bore/1", "reading": "middle/thrust", "amount": "86.14", "unit": "mm"},
    {"case": "a half done grid", "place": "bore/1", "reading": "middle/thrust", "amount": "96.05", "unit": "mm"},
    {"case": "a half done grid", "place": "bore/1", "reading": "middle/thrust", "amount": "86.05", "unit": "in"},
    {"case": "a half done grid", "place": "bore/1", "reading": "middle/thrust", "amount": "3.3895 in", "unit": ""},
    {"case": "a half done grid", "place": "bore/1", "reading": "middle/thrust", "amount": "3 1/2", "unit": "in"},
    {"case": "a half done grid", "place": "bore/1", "reading": "middle/thrust", "amount": "what", "unit": "mm"},
    {"case": "a half done grid", "place": "bore/1", "reading": "top/thrust", "amount": "86.16", "unit": "mm"},
    {"case": "a half done grid", "place": "bore/1", "reading": "ridge", "amount": "80", "unit": "mm"},
    {"case": "a half done grid", "place": "bore/9", "reading": "top/thrust", "amount": "96.06", "unit": "mm"},
    {"case": _JUDGED, "state": "machined", "place": "bore/1", "reading": "top/thrust", "amount": "86.51", "unit": "mm"},
    {"case": _JUDGED, "state": "machined", "place": "bore/1", "reading": "top/thrust", "amount": "68.51", "unit": "mm"},
    {"case": "compression of a v6 with two neighbours low", "procedure": "compression_cold", "place": "bore/1",
     "reading": "wet", "amount": "12.5", "unit": "bar"},
    {"case": "compression of a v6 with two neighbours low", "procedure": "compression_cold", "place": "bore/1",
     "reading": "wet", "amount": "125", "unit": "psi"},
    {"case": "a face along its lines", "procedure": "head_flatness", "place": "head/A", "reading": "diagonal_2",
     "amount": "0.4", "unit": "mm"},
    {"case": "gaps of rings in their bores", "procedure": "ring_gap", "place": "ring/4", "reading": "oil",
     "amount": "0.6", "unit": "mm"},
]  # fmt: skip


def _known(case: str) -> known.Known:
    return known.known(CASES[case]().entries)


def _gauge(case: str, name: str) -> str:
    """The identifier of a gauge by its name; the name itself when nobody described it."""
    return next((id for id, statement in _known(case).gauges.items() if statement.data["name"] == name), name)


def asked_for_basis(case: dict[str, Any]) -> tuple[Any, ...]:
    shop = CASES[case["case"]]()
    engine = shop.engine["id"] if shop.engine else ""
    gauge = _gauge(case["case"], case["gauge"])
    return known.known(shop.entries), engine, case["procedure"], case["place"], gauge, case["on"]


def due_of(case: dict[str, Any]) -> str | None:
    """The due date by which the gauge found can be told from its other descriptions."""
    entries = CASES[case["case"]]().entries
    basis = [entries[index]["id"] for index in case["basis"]]
    gauge = known.gauge_of(known.known(entries), basis, _gauge(case["case"], case["gauge"]), case["claimed"])
    return gauge["due"] if gauge else None


def codes_of(case: dict[str, Any]) -> list[str]:
    engine = ENGINES[case["engine_type"]] if case["engine_type"] else None
    if engine is not None and not any(place.part == case["part"] for place in places(engine)):
        return []
    stated = _known(case["case"]).procedures
    return [code for code, statement in stated.items() if statement.data["part"] == case["part"]]


def visits(case: dict[str, Any]) -> tuple[Any, ...]:
    """The sheets of the judged bore, later and earlier, with their distances."""
    then, now = CASES[_JUDGED](), CASES[_JUDGED]()
    for given in now.readings:
        given["body"]["value"] = case["now"].get(given["body"]["reading"], given["body"]["value"])
        if given["body"]["value"].endswith("in"):
            given["body"]["unit"] = "in"
    both = [sheets.sheets(shop.engine, shop.readings, known.known(shop.entries))[0] for shop in (now, then)]
    return both[0], case["distance_now"], both[1], case["distance_then"]


def sheet_for(case: dict[str, Any]) -> dict[str, Any]:
    shop = CASES[case["case"]]()
    procedure = case.get("procedure", "cylinder_bore")
    state = case.get("state", "as_found")
    return sheets.sheet(shop.engine, shop.readings, known.known(shop.entries), procedure, state)


def reading_asked(case: dict[str, Any]) -> tuple[str, str, str, str]:
    return case["place"], case["reading"], case["amount"], case["unit"]
