"""Which place of the engine is spoken of: the parts named, their numbers, bank and side, and what the screen shows.

A place must be there on the engine and be the only one that fits; otherwise it is not read.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from witnessmark.trade.engine.locations import Place
from witnessmark.trade.engine.types import FASTENER_PARTS, PARTS
from witnessmark.trade.spoken.words import TABLE

# Without an engine type nobody knows how many there are; a type has at most so many.
MOST_WITHOUT_TYPE = 32
_ALONE = ("whole", "once")


@dataclass
class Mention:
    """One part named. `parts`: what the word can mean; `context`: "cylinder", which alone is a bore and beside another
    part says only where; `loose`: "bolt", the fasteners of whatever stands beside it or on the screen."""

    parts: list[str]
    context: bool = False
    loose: bool = False
    numbers: list[str] = field(default_factory=list)


@dataclass(frozen=True)
class Where:
    """What was said of the place: mentions in order with their numbers, the code of the bank, the side; "" for none."""

    mentions: list[Mention]
    bank: str = ""
    side: str = ""


def bank_named(engine_type: dict[str, Any] | None, name: str) -> str:
    """The code of the bank called so ("left", "a"), "" when there is none or the engine has no two banks."""
    if engine_type is None:
        return TABLE["banks"]["letters"].get(name, "")
    banks = engine_type["banks"]
    letter = TABLE["banks"]["letters"].get(name, name.upper())
    fitting = [bank["code"] for bank in banks if bank["code"] == letter or bank["name"].lower() == name]
    return fitting[0] if len(fitting) == 1 else ""


def resolve(engine_places: list[Place] | None, engine_type: dict[str, Any] | None, where: Where, on_screen: str) -> str:
    """The code of the one place that fits, "" when none does or several do. `on_screen` is the place or the joint
    that the phone shows: it settles the bank of a bolt, never the number of anything."""
    codes = {code for part, contexts, own in _readings(where, on_screen) for code in
             _codes(engine_places, engine_type, part, contexts, own, where, on_screen)}  # fmt: skip
    return next(iter(codes)) if len(codes) == 1 else ""


def _readings(where: Where, on_screen: str) -> list[tuple[str, list[Mention], Mention]]:
    """(part, mentions that say where it is, its own mention) for each way to take the words."""
    readings = []
    for own in where.mentions:
        others = [mention for mention in where.mentions if mention is not own]
        for part in _parts(own, others, on_screen):
            if all(_says_where(other, part) for other in others):
                readings.append((part, others, own))
    return readings


def _parts(own: Mention, others: list[Mention], on_screen: str) -> list[str]:
    if not own.loose:
        return own.parts
    beside = [TABLE["bolted"][part] for other in others for part in other.parts if part in TABLE["bolted"]]
    shown = on_screen.split("/")[0]
    return beside or ([shown] if shown in FASTENER_PARTS else [])


def _says_where(other: Mention, part: str) -> bool:
    if other.context:
        return PARTS[part]["per"] in ("cylinder", "valve", "lobe") or PARTS[part].get("at") == "cylinder"
    if other.loose:
        return False
    bolted = [other_part for other_part in other.parts if TABLE["bolted"].get(other_part) == part]
    return bool(bolted) or any(part in TABLE["contexts"].get(other_part, []) for other_part in other.parts)


def _codes(
    engine_places: list[Place] | None,
    engine_type: dict[str, Any] | None,
    part: str,
    contexts: list[Mention],
    own: Mention,
    where: Where,
    on_screen: str,
) -> list[str]:
    if engine_places is None or engine_type is None:
        return _without_type(part, contexts, own, where)
    fitting = [
        place
        for place in engine_places
        if place.part == part
        and (not where.bank or place.bank == where.bank)
        and (not where.side or where.side in place.indices)
        and _numbers_fit(place, contexts, own, engine_type)
    ]
    if len(fitting) > 1 and not where.bank:
        # The bank, or the cap, that the screen is about; the fastener's own number is never taken from it.
        joint = _joint(on_screen, part)
        fitting = [place for place in fitting if joint and place.code.startswith(joint + "/")] if joint else fitting
    return [place.code for place in fitting]


def _joint(on_screen: str, part: str) -> str:
    """The joint that the screen's place belongs to, when it is a fastener of this part."""
    if on_screen.split("/")[0] != part or part not in FASTENER_PARTS:
        return ""
    deep = 1 if PARTS[part]["at"] == "" else 2
    return "/".join(on_screen.split("/")[:deep])


def _numbers_fit(place: Place, contexts: list[Mention], own: Mention, engine_type: dict[str, Any]) -> bool:
    given: list[str] = []
    for context in contexts:
        numbers = _context_numbers(context, place)
        if numbers is None:
            return False
        given += numbers
    if PARTS[place.part]["per"] == "fastener":
        return _fastener_fits(place, given, own)
    wanted = [index for index in place.indices if index.isdigit()]
    # "Cylinder 3, piston 3" says the same twice.
    every_number = given if given == own.numbers else given + own.numbers
    # Of a single valve on its side, and of the one cylinder of a single, the number goes without saying.
    if len(wanted) == 2 and _sides_valves(place, engine_type) == 1 and len(every_number) < 2:
        wanted = wanted[:1]
    if not every_number and engine_type["cylinders"] == 1 and place.cylinder is not None:
        wanted = wanted[1:]
    return every_number == wanted


def _fastener_fits(place: Place, given: list[str], own: Mention) -> bool:
    at = PARTS[place.part]["at"]
    label = place.indices[-1].lower()
    before = [] if at in ("", "bank") else [place.indices[0]]
    if given or len(own.numbers) > 1:
        return given + own.numbers == [*before, label]
    return own.numbers == [label]


def _context_numbers(context: Mention, place: Place) -> list[str] | None:
    """The numbers of the place that a mention beside it fixes; None when it speaks of another place."""
    if not context.numbers:
        return []
    part = context.parts[0]
    per = PARTS[part]["per"]
    if per == "valve" and place.cylinder is not None:
        own = [index for index in place.indices if index.isdigit()]
        return context.numbers if context.numbers == own[: len(context.numbers)] else None
    if len(context.numbers) > 1:
        return None
    number = int(context.numbers[0])
    if per == "cylinder":
        return context.numbers if place.cylinder == number else None
    if per == "main":
        return context.numbers if place.main == number else None
    return None


def _sides_valves(place: Place, engine_type: dict[str, Any]) -> int:
    return next((engine_type["valves"][side] for side in ("inlet", "exhaust") if side in place.indices), 0)


def _without_type(part: str, contexts: list[Mention], own: Mention, where: Where) -> list[str]:
    """What can be named with no engine type at hand: parts that need no more than one number or a bank's letter."""
    per = PARTS[part]["per"]
    numbers = [number for context in contexts for number in context.numbers] + own.numbers
    if per in _ALONE:
        return [part] if not numbers else []
    if per == "bank":
        return [f"{part}/{where.bank}"] if where.bank and not numbers else []
    if per == "manifold":
        return [f"{part}/{where.side}"] if where.side and not numbers else []
    if per in ("cylinder", "crankpin", "main") and len(numbers) == 1 and not where.side:
        return [f"{part}/{numbers[0]}"] if 1 <= int(numbers[0]) <= MOST_WITHOUT_TYPE else []
    return []
