"""Lines of speech made by chance, with what the server reads in them, one JSON object a line, for the phone too.

    python -m tests.spoken.chance FIRST COUNT

A third are lines that somebody could say, a third the same with words lost, doubled, moved or said anew, a third words,
figures and signs thrown together. Line FIRST of one seed is the same on every machine.
"""

from __future__ import annotations

import json
import random
import sys
from collections.abc import Iterator
from typing import Any

from tests.spoken.words import every_word
from witnessmark.trade.ground.tables import table
from witnessmark.trade.spoken import parse as spoken
from witnessmark.trade.spoken.words import (
    TABLE,
    condition_phrases,
    disposition_phrases,
    fastener_phrases,
    part_phrases,
    point_phrases,
    quantity_phrases,
    unit_phrases,
    unsure_parts,
)

ENGINES = table("invented_engine_types")["engine_types"]
OWN = [
    {"word": "widget", "sounds_like": ["wing it"], "means": "part:water_pump"},
    {"word": "gunged up", "sounds_like": ["gun jud up"], "means": "condition:contaminated"},
    {"word": "halvern", "sounds_like": ["hal burn"], "means": ""},
]
SCREENS = [
    {"sort": "any", "place": "", "point": "", "quantity": ""},
    {"sort": "measure", "place": "bore/3", "point": "top, thrust", "quantity": "diameter"},
    {"sort": "measure", "place": "main/2", "point": "", "quantity": ""},
    {"sort": "measure", "place": "valve/1/inlet/1", "point": "", "quantity": "clearance"},
    {"sort": "finding", "place": "", "point": "", "quantity": ""},
    {"sort": "finding", "place": "piston/1", "point": "crown", "quantity": ""},
    {"sort": "tighten", "place": "head_bolt/A/3", "point": "", "quantity": "torque"},
    {"sort": "tighten", "place": "main_bolt/2/1", "point": "", "quantity": ""},
]
_NUMBERS = TABLE["numbers"]
_PHRASES = [
    [phrase for phrases in made().values() for phrase in phrases]
    for made in (part_phrases, quantity_phrases, unit_phrases, condition_phrases, disposition_phrases, point_phrases)
]
_PARTS, _QUANTITIES, _UNITS, _CONDITIONS, _DISPOSITIONS, _POINTS = _PHRASES
_PARTS = [*_PARTS, *unsure_parts(), *fastener_phrases()]
_CORRECTIONS = [phrase for phrases in TABLE["corrections"].values() for phrase in phrases]
_WORDS = every_word()
_SIGNS = [
    ",",
    ".",
    ";",
    "-",
    "%",
    '"',
    "#3",
    "No. 4",
    "1/2",
    "3-1/2",
    "88,94",
    "1,200",
    '0.004"',
    "15-20",
    ":",
    "½",
    "7th",
    "a7",
    "°",
    "88.94mm",
    "N·m",
    "+",
    "12 o'clock",
    "é",
    "\U0001f527",
    "'",
    "no",
    "10 20",
    "/",
    "4.5.6",
]


def _under_hundred(dice: random.Random) -> str:
    sort = dice.choice(["digits", "teens", "tens", "both"])
    if sort == "both":
        return f"{dice.choice(list(_NUMBERS['tens']))} {dice.choice(list(_NUMBERS['digits'])[5:])}"
    return dice.choice(list(_NUMBERS[sort]))


def _number(dice: random.Random) -> str:
    form = dice.randrange(9)
    digits = list(_NUMBERS["digits"])
    if form < 3:
        whole = _under_hundred(dice)
        return f"{whole} point {' '.join(dice.choice(digits) for _ in range(dice.randint(1, 3)))}"
    if form == 3:
        return f"point {' '.join(dice.choice(digits) for _ in range(dice.randint(1, 4)))}"
    if form == 4:
        return f"{dice.choice(['a', 'one', 'two'])} hundred{dice.choice([' and', ''])} {_under_hundred(dice)}"
    if form == 5:
        return f"{_under_hundred(dice)} {dice.choice(['and a half', 'and a quarter', 'and three quarters'])}"
    if form == 6:
        return " ".join(dice.choice(digits) for _ in range(dice.randint(1, 4)))
    if form == 7:
        return dice.choice([f"{dice.randint(0, 120)}.{dice.randint(0, 99):02}", str(dice.randint(0, 250)), "half a"])
    return _under_hundred(dice)


_COHERENT = [
    ("bore {n} {points} {number} millimetres", ["top thrust", "bottom axial", "middle thrust diameter", "diameter"]),
    ("{q} cylinder {n} reads {number} {u}", [("compression", "bar"), ("compression", "psi"), ("leakdown", "percent")]),
    ("main {n} {points} {number} mm", ["front zero degrees", "rear ninety degrees", "diameter", "run out"]),
    ("crankshaft {q} {number} {u}", [("end float", "thou"), ("run out", "thou"), ("end play", "inches")]),
    ("bolt {n} {number} {u}", [("", "newton metres"), ("", "foot pounds"), ("", "degrees")]),
    ("piston {n} {points} {c} {d}", ["crown", "", "ring lands"]),
    ("number {n} main bearing {c} {d}", [""]),
    ("cylinder {n} {points} gap {number} {u}", ["top ring", "second ring", "oil ring"]),
]


def _coherent(dice: random.Random) -> str:
    """What makes sense: a part, what is measured or seen there, a unit of that."""
    form, ways = dice.choice(_COHERENT)
    way = dice.choice(ways)
    quantity, unit = way if isinstance(way, tuple) else ("", "thou")
    return form.format(
        n=dice.choice(["one", "two", "three", "3", "four", "six"]), points=way if isinstance(way, str) else "",
        q=quantity, u=unit, number=_number(dice), c=dice.choice(_CONDITIONS), d=dice.choice(_DISPOSITIONS),
    )  # fmt: skip


def _sayable(dice: random.Random) -> str:
    if dice.random() < 0.6:
        return " ".join(_coherent(dice).split())
    words = [dice.choice(_PARTS)]
    if dice.random() < 0.8:
        words.append(
            dice.choice([_under_hundred(dice), str(dice.randint(1, 9)), dice.choice(list(_NUMBERS["digits"]))])
        )
    if dice.random() < 0.3:
        words.insert(
            dice.randrange(len(words) + 1), dice.choice(["inlet", "exhaust", "bank a", "bank b", "left", "left bank"])
        )
    if dice.random() < 0.4:
        words.append(dice.choice(_POINTS))
    if dice.random() < 0.4:
        words.insert(dice.choice([0, len(words)]), dice.choice(_QUANTITIES))
    if dice.random() < 0.3:
        words.append(dice.choice(TABLE["separators"]))
    if dice.random() < 0.7:
        words += [_number(dice), dice.choice(_UNITS) if dice.random() < 0.8 else dice.choice(["mm", "Nm", "%", ""])]
    if dice.random() < 0.3:
        words.append(dice.choice(_CONDITIONS))
    if dice.random() < 0.2:
        words.append(dice.choice(_DISPOSITIONS))
    return " ".join(words)


def _disturbed(dice: random.Random) -> str:
    words = _sayable(dice).split()
    for _ in range(dice.randint(1, 3)):
        at = dice.randrange(len(words) + 1)
        what = dice.randrange(5)
        if what == 0 and len(words) > 1:
            words.pop(min(at, len(words) - 1))
        elif what == 1:
            words.insert(at, dice.choice(words))
        elif what == 2:
            words.insert(at, dice.choice(_CORRECTIONS))
            words += _sayable(dice).split()[: dice.randint(0, 6)]
        elif what == 3:
            words.insert(
                at, dice.choice([*TABLE["hedges"], *TABLE["negations"], *TABLE["targets"], "to", "and", "between"])
            )
        else:
            words.insert(at, dice.choice(_SIGNS))
    text = " ".join(words)
    return text.replace(" ", ", ", 1) if dice.random() < 0.2 else text


def _thrown(dice: random.Random) -> str:
    bag = [
        _WORDS,
        _SIGNS,
        list(_NUMBERS["digits"]),
        _PARTS,
        _UNITS,
        [entry["word"] for entry in OWN],
        ["qwerty", "the", "a"],
    ]
    words = [dice.choice(dice.choice(bag)) for _ in range(dice.randint(0, 12))]
    text = dice.choice([" ", " ", ""]).join(words) if dice.random() < 0.1 else " ".join(words)
    return text.upper() if dice.random() < 0.05 else text


def case(number: int) -> dict[str, Any]:
    """Case `number`: the line, where it was said, and what the server reads in it."""
    dice = random.Random(f"spoken {number}")
    text = dice.choice([_sayable, _disturbed, _thrown])(dice)
    screen = {**dice.choice(SCREENS), "procedure": "", "reading": "", "units": []}
    engine = dice.choice([None, *range(len(ENGINES))])
    own = OWN if dice.random() < 0.3 else []
    return answered(number, text, screen, engine, own)


def answered(
    number: int, text: str, screen: dict[str, Any], engine: int | None, own: list[dict[str, Any]]
) -> dict[str, Any]:
    engine_type = None if engine is None else ENGINES[engine]
    proposal = spoken.read(text, screen, engine_type, own)
    return {
        "number": number, "text": text, "screen": screen, "engine": engine, "own": own, "proposal": proposal,
        "complete": spoken.complete(proposal, screen), "said": spoken.in_words(proposal, engine_type),
    }  # fmt: skip


def cases(first: int, count: int) -> Iterator[dict[str, Any]]:
    return (case(number) for number in range(first, first + count))


if __name__ == "__main__":
    for case_made in cases(int(sys.argv[1]), int(sys.argv[2])):
        print(json.dumps(case_made, ensure_ascii=False))
