"""Places on an engine: all of them from its engine type, their names, what is related, and reading a typed place.

A place code is a part and its indices between strokes: bore/3, valve/5/inlet/1, head_bolt/A/7. Filters go by whole
segments: "valve/5" takes in valve/5/inlet/1 and not valve/51.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from witnessmark.trade.engine.types import PARTS
from witnessmark.trade.ground.sentences import say

SIDES = ("inlet", "exhaust")
_SIDE_WORDS = {"inlet": say("trade.engine.inlet"), "exhaust": say("trade.engine.exhaust")}


@dataclass(frozen=True)
class Place:
    """One place. `cylinder`, `crankpin` and `main` are numbers or None, `bank` and `camshaft` codes or "".
    `iso` is a designation after ISO 1204, unverified (see iso_note of parts.json), or ""."""

    code: str
    part: str
    name: str
    indices: tuple[str, ...]
    bank: str = ""
    cylinder: int | None = None
    crankpin: int | None = None
    main: int | None = None
    camshaft: str = ""
    iso: str = ""

    def as_json(self) -> dict[str, Any]:
        return {**self.__dict__, "indices": list(self.indices), "points": PARTS[self.part]["points"]}


def places(engine_type: dict[str, Any]) -> list[Place]:
    """Every place of the engine, in the order of the parts list and then along the engine."""
    return [place for part in PARTS.values() if _has_part(engine_type, part) for place in _of_part(engine_type, part)]


def codes(engine_type: dict[str, Any]) -> frozenset[str]:
    """The codes of all places: what an entry's location may name."""
    return frozenset(place.code for place in places(engine_type))


def bank_of(engine_type: dict[str, Any], cylinder: int) -> str:
    return next((bank["code"] for bank in engine_type["banks"] if cylinder in bank["cylinders"]), "")


def crankpin_of(engine_type: dict[str, Any], cylinder: int) -> int | None:
    return next((i for i, pin in enumerate(engine_type["crankpins"], 1) if cylinder in pin), None)


def mains_beside(engine_type: dict[str, Any], crankpin: int) -> list[int]:
    """The main journals before and behind a crankpin; pins are shared out evenly between the mains."""
    pins, gaps = len(engine_type["crankpins"]), engine_type["mains"] - 1
    for gap in range(1, gaps + 1):
        if (2 * pins * gap + gaps) // (2 * gaps) >= crankpin:
            return [gap, gap + 1]
    return [engine_type["mains"]]


def _has_part(engine_type: dict[str, Any], part: dict[str, Any]) -> bool:
    return not part.get("optional") or part["code"] in engine_type["pieces"]


def _of_part(engine_type: dict[str, Any], part: dict[str, Any]) -> Iterator[Place]:
    per = part["per"]
    if per in ("whole", "once"):
        yield _make(engine_type, part, ())
    elif per == "bank":
        for bank in engine_type["banks"]:
            yield _make(engine_type, part, (bank["code"],), bank=bank["code"])
    elif per in ("cylinder", "valve", "lobe"):
        for cylinder in range(1, engine_type["cylinders"] + 1):
            at = {"cylinder": cylinder, "bank": bank_of(engine_type, cylinder)}
            for rest in _along_cylinder(engine_type, per):
                shaft = _camshaft_for(engine_type, at["bank"], rest[0]) if rest else ""
                yield _make(engine_type, part, (str(cylinder), *rest), **at, camshaft=shaft)
    elif per == "crankpin":
        for number in range(1, len(engine_type["crankpins"]) + 1):
            yield _make(engine_type, part, (str(number),), crankpin=number)
    elif per == "main":
        for number in range(1, engine_type["mains"] + 1):
            yield _make(engine_type, part, (str(number),), main=number)
    elif per == "camshaft":
        for shaft in engine_type["camshafts"]:
            yield _make(engine_type, part, tuple(shaft["code"].split("/")), bank=shaft["bank"], camshaft=shaft["code"])
    elif per == "manifold":
        for side in SIDES:
            yield _make(engine_type, part, (side,))
    else:
        yield from _fasteners(engine_type, part)


def _along_cylinder(engine_type: dict[str, Any], per: str) -> list[tuple[str, ...]]:
    if per == "cylinder":
        return [()]
    result: list[tuple[str, ...]] = []
    for side in SIDES:
        count = engine_type["valves"][side]
        if per == "lobe" and count == 1:
            result.append((side,))
        else:
            result += [(side, str(number)) for number in range(1, count + 1)]
    return result


def _camshaft_for(engine_type: dict[str, Any], bank: str, side: str) -> str:
    shafts = [
        camshaft
        for camshaft in engine_type["camshafts"]
        if side in camshaft["drives"] and camshaft["bank"] in ("", bank)
    ]
    return shafts[0]["code"] if shafts else ""


def _fasteners(engine_type: dict[str, Any], part: dict[str, Any]) -> Iterator[Place]:
    for joint in engine_type["joints"]:
        code, *indices = joint["code"].split("/")
        if code != part["code"]:
            continue
        at: dict[str, Any] = {}
        if part["at"] == "bank":
            at["bank"] = indices[0]
        elif part["at"] == "main":
            at["main"] = int(indices[0])
        elif part["at"] == "cylinder":
            at["cylinder"], at["bank"] = int(indices[0]), bank_of(engine_type, int(indices[0]))
        for fastener in joint["fasteners"]:
            yield _make(engine_type, part, (*indices, fastener["label"]), **at)


def _make(engine_type: dict[str, Any], part: dict[str, Any], indices: tuple[str, ...], **at: Any) -> Place:
    code = "/".join((part["code"], *indices))
    place = Place(code, part["code"], _name(engine_type, part, indices), indices, **at)
    return Place(**{**place.__dict__, "iso": _iso(engine_type, place)})


def _iso(engine_type: dict[str, Any], place: Place) -> str:
    if _is_fastener(place):
        return ""
    if place.cylinder is not None:
        bank = next((bank for bank in engine_type["banks"] if bank["code"] == place.bank), None)
        if bank is None:
            return ""
        from_driving_end = len(bank["cylinders"]) - bank["cylinders"].index(place.cylinder)
        return f"{place.bank if len(engine_type['banks']) > 1 else ''}{from_driving_end}"
    if place.main is not None:
        return str(engine_type["mains"] + 1 - place.main)
    return ""


def place_name(engine_type: dict[str, Any] | None, code: str) -> str:
    """The place as a technician says it ("main journal 4"), also for a code this engine has not; "" for ""."""
    part_code, *indices = code.split("/")
    part = PARTS.get(part_code)
    if part is None:
        return code.replace("_", " ").replace("/", " ")
    return _name(engine_type, part, tuple(indices))


def _name(engine_type: dict[str, Any] | None, part: dict[str, Any], indices: tuple[str, ...]) -> str:
    name, per = part["name"], part["per"]
    if not indices:
        return name
    banks = len(engine_type["banks"]) if engine_type else 2
    if per == "bank":
        return say("trade.engine.in_bank", place=name, bank=indices[0]) if banks > 1 else name
    if per in ("valve", "lobe") and len(indices) == 3:
        alone = per == "valve" and engine_type is not None and engine_type["valves"].get(indices[1]) == 1
        return _indexed(name, *(indices[:2] if alone else indices))
    if per == "camshaft":
        return _camshaft_name(engine_type, name, indices, banks)
    if per == "manifold":
        return say("trade.engine.on_side", side=_SIDE_WORDS.get(indices[0], indices[0]), part=name)
    if per == "fastener" and part["at"] == "bank" and len(indices) > 1:
        fastener = _indexed(name, *indices[1:])
        return say("trade.engine.in_bank", place=fastener, bank=indices[0]) if banks > 1 else fastener
    if per == "fastener":
        return _indexed(name, "/".join(indices))
    return _indexed(name, *indices)


def _indexed(name: str, *indices: str) -> str:
    return say("trade.engine.indexed", part=name, index=" ".join(_SIDE_WORDS.get(indice, indice) for indice in indices))


def _camshaft_name(engine_type: dict[str, Any] | None, name: str, indices: tuple[str, ...], banks: int) -> str:
    if engine_type and len(engine_type["camshafts"]) == 1:
        return name
    side = next((indice for indice in indices if indice in SIDES), "")
    rest = [indice for indice in indices if indice not in SIDES]
    bank = next((word for word in rest if re.fullmatch("[A-Z]", word)), "")
    others = [word for word in rest if word != bank]
    if side:
        name = say("trade.engine.on_side", side=_SIDE_WORDS[side], part=name)
    if others:
        name = say("trade.engine.indexed", part=name, index=" ".join(others))
    return say("trade.engine.in_bank", place=name, bank=bank) if bank and banks > 1 else name


def related(engine_type: dict[str, Any], code: str) -> list[str]:
    """The codes of the places that touch this one: of cylinder 5 its piston, rod, pin, mains, head, deck and valves."""
    everything = places(engine_type)
    here = next((place for place in everything if place.code == code), None)
    if here is None:
        return []
    return [other.code for other in everything if other is not here and _touch(engine_type, here, other)]


def beside(engine_type: dict[str, Any], code: str, part: str, among: list[Place] | None = None) -> str:
    """The one place of `part` that goes with the place `code`: the crankpin of a big-end bearing, the bore of a piston,
    the guide of a valve. "" when there is none, or more than one and so no telling which.
    `among` are the places of the engine, for whoever has them at hand."""
    everything = places(engine_type) if among is None else among
    here = next((place for place in everything if place.code == code), None)
    neighbours = [place for place in everything if place.part == part]
    if here is None:
        return ""
    if here.part == part:
        return code
    if part in PARTS and PARTS[part]["per"] not in ("whole", "once"):
        neighbours = [other for other in neighbours if _goes_with(engine_type, here, other)]
    return neighbours[0].code if len(neighbours) == 1 else ""


def _goes_with(engine_type: dict[str, Any], here: Place, other: Place) -> bool:
    if _is_fastener(here) or _is_fastener(other):
        return False
    if here.cylinder is not None and other.cylinder is not None:
        # Of a valve and a lobe the side and the number agree as far as both have them.
        at_hand = zip(here.indices, other.indices, strict=False)
        return all(value == its for value, its in at_hand)
    if here.cylinder is None and other.cylinder is not None:
        here, other = other, here
    if here.cylinder is not None:
        if other.crankpin is not None:
            pin = crankpin_of(engine_type, here.cylinder) if PARTS[here.part].get("bottom_end") else None
            return other.crankpin == pin
        if other.camshaft:
            return other.camshaft == here.camshaft
        return other.bank != "" and other.bank == here.bank
    if here.crankpin is not None or other.crankpin is not None:
        return here.crankpin == other.crankpin
    if here.main is not None or other.main is not None:
        return here.main == other.main
    return PARTS[here.part]["per"] in ("whole", "once") or (here.bank != "" and here.bank == other.bank)


def _is_fastener(place: Place) -> bool:
    return PARTS[place.part]["per"] == "fastener"


def _touch(engine_type: dict[str, Any], here: Place, other: Place) -> bool:
    if _is_fastener(here) and _is_fastener(other):
        return here.code.rsplit("/", 1)[0] == other.code.rsplit("/", 1)[0]
    if _is_fastener(other):
        here, other = other, here
    if _is_fastener(here):
        # A bolt belongs to what it clamps, not to every valve of its bank.
        if here.main is not None:
            return here.main == other.main
        if here.cylinder is not None:
            return here.cylinder == other.cylinder
        return here.bank != "" and here.bank == other.bank and other.cylinder is None
    if here.cylinder is None and other.cylinder is not None:
        here, other = other, here
    if here.cylinder is not None:
        return _touches_cylinder(engine_type, here, other)
    return _touch_beside(engine_type, here, other)


def _touches_cylinder(engine_type: dict[str, Any], here: Place, other: Place) -> bool:
    if other.cylinder is not None:
        return here.cylinder == other.cylinder
    pin = crankpin_of(engine_type, here.cylinder) if PARTS[here.part].get("bottom_end") else None
    if other.crankpin is not None:
        return other.crankpin == pin
    if other.main is not None:
        return pin is not None and other.main in mains_beside(engine_type, pin)
    if other.camshaft:
        served = {_camshaft_for(engine_type, here.bank, side) for side in SIDES}
        return other.camshaft == here.camshaft if here.camshaft else other.camshaft in served
    return other.bank != "" and other.bank == here.bank


def _touch_beside(engine_type: dict[str, Any], here: Place, other: Place) -> bool:
    if here.crankpin is not None and other.crankpin is not None:
        return here.crankpin == other.crankpin
    if here.main is not None and other.main is not None:
        return here.main == other.main
    if here.main is not None and other.crankpin is not None:
        here, other = other, here
    if here.crankpin is not None and other.main is not None:
        return other.main in mains_beside(engine_type, here.crankpin)
    return here.bank != "" and here.bank == other.bank
