"""Jobs made by chance, for both sides to make the same of: odd values, odd names, statements in each other's way.

All of it is invented, and much of it makes no sense on purpose. The same seed gives the same job.

    python -m tests.sheets.chance 0 60

prints sixty of them with all that the server makes of each; pwa/src/trade/chance.test.ts holds the phone to it.
"""

from __future__ import annotations

import copy
import json
import random
import sys
from collections.abc import Callable
from typing import Any

from tests.sheets.said import ENGINES, Workshop, an_id
from witnessmark.trade.engine.locations import places
from witnessmark.trade.ground.units import QUANTITIES, UNITS, decimal_text, from_si, to_si
from witnessmark.trade.measuring import known, limits, procedures
from witnessmark.trade.measuring import rules as measuring_rules
from witnessmark.trade.measuring.gauges import SORTS
from witnessmark.trade.measuring.gauges import check as check_gauge
from witnessmark.trade.measuring.limits import MATERIALS
from witnessmark.trade.proposals.all import proposals
from witnessmark.trade.sheets import job_sheets as sheets
from witnessmark.trade.sheets.wear import wear

# What a quantity mostly comes to, in SI, and how far chance moves it.
_USUAL = {"length": (86_000, 60, 1_000_000), "pressure": (1_150, 200, 1 / 1000), "volume": (46_500, 900, 10**9)}
_SMALL = ("clearance", "end_gap", "side_clearance", "end_float", "run_out", "flatness", "backlash", "recess", "depth")
_ODD_VALUES = (
    "-0", "0.000", "1/3", "3 1/2 thou", "\u22120.02", "+0.02 mm", ".5", "57,02", "999999999999999.999999999999999",
    "0.000000000000001", "86.0 in", "12 psi", "5 °C", "0", "100000", "3 193/500", "86.000000000000001 mm",
)  # fmt: skip
_ODD_NAMES = ("constructor", "__proto__", "toString", "0", "10", "2", "größer", "\U0001f527 spanner", "\ufb01t", "=1+1")
_TIMES = (
    "2026-05-14T10:38:07.120+01:00", "2026-05-13T23:59:59.999-11:00", "2026-05-14T00:00:00.000+14:00",
    "2025-12-31T23:00:00.000Z", "2027-02-03T12:00:00.000+01:00", "2027-02-04T00:00:00.000+01:00",
)  # fmt: skip
_DAYS = ("", "", "", "2026-05-13", "2026-05-14", "2026-06-01", "2025-01-01")
_UNITS = {kind: [code for code, unit in UNITS.items() if unit["kind"] == kind] for kind in _USUAL}


def job(seed: int) -> Workshop:
    """A workshop with its statements and the readings of one job."""
    chance = random.Random(seed)
    engine = chance.choice([*ENGINES.values(), None])
    shop = Workshop(engine)
    if engine and chance.random() < 0.2:
        shop.engine = engine | {"mains": max(2, engine["mains"] - 2)}
    built_in = list(procedures.BUILT_IN.values())
    if chance.random() < 0.4:
        built_in = [_own(shop, chance), *built_in]
    gauges = [_gauge(shop, chance, name) for name in chance.sample(_GAUGES, 3) for _ in range(chance.choice((1, 1, 2)))]
    basis = []
    if chance.random() < 0.6:
        basis.append(_rules(shop, chance))
    used = chance.sample(built_in[:1] * 3 + built_in, chance.choice((1, 2, 3)))
    used += [
        procedure
        for procedure in built_in
        if procedure["code"] in ("cylinder_bore", "crankpin") and chance.random() < 0.3
    ]
    for procedure in used:
        for _ in range(chance.choice((0, 1, 2, 4))):
            if shop.engine:
                basis += _limit(shop, chance, procedure)
        for size in procedure["sizes"] if shop.engine else ():
            if chance.random() < 0.7:
                basis.append(_size(shop, chance, size, procedure["code"]))
    for procedure in used:
        _readings(shop, chance, procedure, gauges, basis)
    for _ in range(chance.choice((0, 0, 1, 3))):
        name = chance.choice(_ODD_NAMES)
        shop.read(
            chance.choice(("", "", "own_nobody_knows", "cylinder_bore")),
            chance.choice(("bore/1", "engine", "bore/99")), chance.choice(("", name)), chance.choice(_ODD_VALUES),
            chance.choice(("", "mm", "bar", "furlong")),
            quantity=chance.choice(("diameter", "count", name)), point=chance.choice(("", "top", name)) or "top",
        )  # fmt: skip
    if basis and chance.random() < 0.5:
        _said_again(shop, chance)
    chance.shuffle(shop.readings)
    return shop


_GAUGES = (
    ("Bore gauge 4", "bore_gauge", "mm", "0.001", "0.003"),
    ("Micrometer 2", "external_micrometer", "mm", "0.001", "0.002"),
    ("inch micrometer", "external_micrometer", "in", "0.0001", "0.00015"), ("Caliper", "caliper", "mm", "0.01", "0.03"),
    ("Dial", "dial_indicator", "um", "1", "0"), ("Feelers", "feeler_gauges", "mm", "0.01", "0.005"),
    ("Compression gauge", "compression_gauge", "bar", "0.1", "0.3"), ("psi gauge", "pressure_gauge", "psi", "1", "3"),
    ("Burette", "burette", "cm³", "0.1", "0.2"), ("=cmd", "other", "mm", "0.005", "0.01"),
)  # fmt: skip


def _gauge(shop: Workshop, chance: random.Random, described: tuple[str, ...]) -> str:
    name, sort, unit, resolution, mpe = described
    low, high = chance.choice((("", ""), ("", ""), ("0", "100"), ("50", "")))
    entry = shop.gauge(
        name, sort=sort, unit=unit, resolution=resolution, mpe=chance.choice((mpe, mpe, "0")), low=low, high=high,
        repeatability=chance.choice(("", "", resolution)), due=chance.choice(("", "2027-02-03", "2026-05-13")),
        retired=chance.random() < 0.1, calibrated="", claimed=chance.choice(_TIMES),
    )  # fmt: skip
    assert check_gauge(shop.stated(entry)) == [] and sort in SORTS
    return entry


def _rules(shop: Workshop, chance: random.Random) -> str:
    changes = {
        "rule": chance.choice(list(measuring_rules.RULES)),
        "shown_length": chance.choice(("", "", "mm", "in", "thou", "um", "m")),
        "shown_pressure": chance.choice(("", "psi", "kPa")),
        "shown_volume": chance.choice(("", "in³")),
        "compression_share": chance.choice(("75", "75.0", "90", "66.667")),
        "temperature_half_width": chance.choice(("1", "0", "0.5")),
        "expansion_half_width": chance.choice(("10", "0", "100")),
    }
    entry = shop.rules(**changes)
    assert measuring_rules.check(shop.stated(entry)) == []
    return entry


def _value(chance: random.Random, quantity: str, unit: str, places: int | None = None) -> str:
    """A typed value that the quantity may well have, in a unit of its kind."""
    kind = UNITS[unit]["kind"]
    if kind not in _USUAL:
        return str(chance.choice((1, 2, 850, 2000, 12, 7)))
    middle, spread, per = _USUAL[kind]
    if quantity in _SMALL:
        middle = 150
    size = chance.randint(middle - spread, middle + spread)
    amount = to_si(0, unit) + (type(to_si(1, unit))(size) / type(to_si(1, unit))(per).limit_denominator(10**9))
    return decimal_text(from_si(amount, unit), chance.choice((2, 3, 3, 4)) if places is None else places)


def _unit(chance: random.Random, kind: str, usual: str) -> str:
    return chance.choice(_UNITS[kind]) if kind in _UNITS and chance.random() < 0.25 else usual


def _limit(shop: Workshop, chance: random.Random, procedure: dict[str, Any]) -> list[str]:
    line = chance.choice(procedure["figures"])
    usual = {"length": "mm", "pressure": "bar", "volume": "cm³", "share": "%", "number": ""}[line["kind"]]
    unit = _unit(chance, line["kind"], usual)
    size = sorted((_limit_end(chance, line, unit) for _ in range(2)), key=float)
    low, high = chance.choice(((size[0], ""), ("", size[1]), (size[0], size[1]), (size[0], size[0])))
    days = sorted((chance.choice(_DAYS), chance.choice(_DAYS)))
    entry = shop.limit(
        procedure["code"], line["code"], low, high, unit, sort=chance.choice(list(limits.SORTS)),
        where=chance.choice(([], [], ["bore/1"], ["valve/*/inlet"], ["bore"], ["crankpin/2", "main/1"])),
        valid_from=days[0], valid_until=days[1] if days[1] and days[1] >= days[0] else "",
        withdrawn=chance.random() < 0.1,
    )  # fmt: skip
    assert limits.check(shop.stated(entry)) == []
    return [entry] if chance.random() < 0.8 else []


def _limit_end(chance: random.Random, line: dict[str, Any], unit: str) -> str:
    if line["kind"] == "length":
        micron = chance.choice((chance.randint(-20, 80), chance.randint(85_950, 86_060)))
        return decimal_text(from_si(type(to_si(1, "m"))(micron, 1_000_000), unit), chance.choice((2, 3, 4)))
    if line["kind"] in ("share", "number"):
        return decimal_text(type(to_si(1, "m"))(chance.randint(-10, 1200), 100), 2)
    return _value(chance, "", unit)


def _size(shop: Workshop, chance: random.Random, wanted: dict[str, Any], code: str) -> str:
    where = chance.choice(([], [], [], ["bore/2"], ["valve/*/exhaust"]))
    if wanted["quantity"] == "":
        return shop.size(code, wanted["code"], [chance.choice(list(MATERIALS))], "", where=where)
    unit = _unit(chance, QUANTITIES[wanted["quantity"]]["kind"], QUANTITIES[wanted["quantity"]]["units"][0])
    if wanted["code"] in ("steps", "pistons"):
        values, unit = chance.choice((["0.25", "0.50", "0.75"], ["0", "0.5"], ["0.010", "0.020"])), "mm"
        unit = "in" if values[0] == "0.010" else unit
    elif wanted["many"]:
        values = list(dict.fromkeys(_value(chance, wanted["quantity"], unit, 3) for _ in range(5)))
    elif wanted["code"] == "nominal":
        values, unit = [chance.choice(("86.000", "85.900", "86"))], "mm"
    elif wanted["code"] in ("stock", "gasket_thickness"):
        values, unit = [chance.choice(("0.05", "0", "-0.1", "1.2"))], "mm"
    else:
        values = [_value(chance, wanted["quantity"], unit)]
    entry = shop.size(code, wanted["code"], values, unit, where=where, withdrawn=chance.random() < 0.05)
    assert limits.check_size(shop.stated(entry)) == []
    return entry


def _own(shop: Workshop, chance: random.Random) -> dict[str, Any]:
    """A procedure of the workshop's own, in one or two editions."""
    name = chance.choice(("constructor", "value", "toString".lower(), "a0"))

    def line(code: str, do: str, of: list[str], kind: str = "length", **more: Any) -> dict[str, Any]:
        bare = {"words": code, "along": "", "by": "", "definition": "Invented.", "guide": None}
        return {"code": code, "kind": kind, "do": do, "of": of} | bare | more

    angles = chance.choice((["90", "0"], ["10", "9", "b"], ["0", "60", "120"]))
    made = {
        "code": "own_ring", "edition": 1, "name": "Ring of ours", "part": "bore", "quantity": "diameter", "about": "",
        "cautions": [],
        "grid": [{"axis": "angle", "words": "angle", "values": [{"code": a, "words": a} for a in angles]}],
        "readings": [
            {"code": name, "words": name, "quantity": chance.choice(("diameter", "clearance")), "optional": True,
             "borrow": None},
            {"code": "seat", "words": "seat", "quantity": "diameter", "optional": False,
             "borrow": {"procedure": "cylinder_bore", "figure": "smallest", "part": "bore"}},
        ],
        "optional": [angles[0]], "sizes": [], "across": [], "walk": "place", "drawing": "bore",
        "figures": [line("oval", "largest_spread", ["grid"], along="angle"), line("mean", "mean", ["grid", "seat"]),
                    line("less", "difference", [name, "seat"]), line("most", "largest", ["grid"])],
    }  # fmt: skip
    made["across"] = [
        {"code": f"line_{do}", "words": do, "do": do, "of": chance.choice((name, "mean")),
         "share": "3/4" if do in ("under_share", "neighbours_under") else "", "definition": ""}
        for do in ("highest", "lowest", "spread", "spread_share", "mean", "under_share", "neighbours_under", "ranking")
    ]  # fmt: skip
    shop.says("procedure_described", "procedure", made)
    if chance.random() < 0.5:
        later = copy.deepcopy(made) | {"edition": 2, "name": "Ring of ours, again"}
        later["readings"][0]["code"] = "width"
        later["figures"][2]["of"] = ["width", "seat"]
        later["across"] = []
        shop.says("procedure_described", "procedure", later)
        assert procedures.check(later) == [], procedures.check(later)
    assert procedures.check(made) == [], procedures.check(made)
    return made


def _readings(
    shop: Workshop, chance: random.Random, procedure: dict[str, Any], gauges: list[str], basis: list[str]
) -> None:
    there = [place.code for place in places(shop.engine) if place.part == procedure["part"]] if shop.engine else []
    there = there or [f"{procedure['part']}/1", f"{procedure['part']}/2"]
    for state in chance.choice(
        (["as_found"], ["as_found"], ["built"], ["as_found", "machined"], ["machined", "built"])
    ):
        for place in chance.sample(there, min(len(there), chance.choice((1, 2, 3)))):
            gauge, whole = chance.choice(gauges), chance.random() < 0.7
            warm = chance.choice(({}, {}, {"part_temperature": "28.5 °C", "gauge_temperature": "22"},
                                  {"part_temperature": "80 °F", "gauge_temperature": "19,5", "material": "grey_iron"},
                                  {"part_temperature": "warm", "gauge_temperature": "22"}))  # fmt: skip
            for code in procedures.reading_codes(procedure):
                if whole or chance.random() < 0.6:
                    for _ in range(chance.choice((1, 1, 1, 1, 2, 3, 12))):
                        _read(shop, chance, procedure, place, code, state, gauge, gauges, basis, warm)


def _read(
    shop: Workshop, chance: random.Random, procedure: dict[str, Any], place: str, code: str, state: str, gauge: str,
    gauges: list[str], basis: list[str], warm: dict[str, str],
) -> None:  # fmt: skip
    quantity = procedures.quantity_of(procedure, code)
    kind, usual = QUANTITIES[quantity]["kind"], QUANTITIES[quantity]["units"][0]
    unit = chance.choice(_UNITS[kind]) if kind in _UNITS and chance.random() < 0.08 else usual
    value = chance.choice(_ODD_VALUES) if chance.random() < 0.04 else _value(chance, quantity, unit)
    if chance.random() < 0.05:
        gauge = chance.choice((*gauges, ""))
    more = dict(warm)
    if chance.random() < 0.04:
        more |= chance.choice(({"gauge_id": an_id(9)}, {"gauge_id": ""}, {"unit": "V"}))
    ground = [statement for statement in basis if chance.random() < 0.9]
    if chance.random() < 0.1:
        ground = [an_id(900_000 + i) for i in range(30)]
    shop.read(
        procedure["code"], place, code, value, more.pop("unit", unit), quantity=quantity, gauge=gauge, state=state,
        basis=tuple(ground[:39]), claimed=chance.choice(_TIMES[:1] * 5 + _TIMES), edition=procedure["edition"],
        point=procedures.point_words(procedure, code), **more,
    )  # fmt: skip


def _said_again(shop: Workshop, chance: random.Random) -> None:
    """Some statements are described anew after the readings."""
    changed: dict[str, Callable[[dict[str, Any]], dict[str, Any]]] = {
        "limit": lambda what: chance.choice(({"withdrawn": True}, {"high": what["high"] and what["high"] + "9"})),
        "gauge": lambda what: {"name": what["name"] + " (renamed)", "mpe": what["resolution"]},
        "rules": lambda what: {"rule": "simple"},
    }  # fmt: skip
    for entry in chance.sample(shop.entries, min(3, len(shop.entries))):
        for field, what in entry["body"].items():
            if field in changed:
                changed_body = what | changed[field](what)
                if field == "limit" and "." not in what["high"]:
                    changed_body = what | {"withdrawn": True}
                shop.says(entry["kind"], field, changed_body, "2026-07-01T08:00:00.000+02:00")


def case(seed: int) -> dict[str, Any]:
    """A job with all that the server makes of it."""
    shop = job(seed)
    statements = known.known(shop.entries)
    made = sheets.sheets(shop.engine, shop.readings, statements)
    half = sheets.sheets(shop.engine, shop.readings[::2], statements)
    return {
        "name": f"chance {seed}", "engine": shop.engine, "known": shop.entries, "readings": shop.readings,
        "sheets": made, "proposals": proposals(made, statements, shop.engine),
        "wear": [wear(sheet, "182400 km", other, "75,186 mi") for sheet in made for other in half],
    }  # fmt: skip


if __name__ == "__main__":
    first, count = int(sys.argv[1]), int(sys.argv[2])
    for seed in range(first, first + count):
        print(json.dumps(case(seed)))
