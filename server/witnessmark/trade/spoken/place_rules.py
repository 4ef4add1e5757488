"""How the places of an engine are said, as rules of a grammar: only those it has, in the orders people say them.

A part that occurs several times can be said without its number too. What was not said is asked for; a decoder that
could not hear the bare part would have to make up a number.
"""

from __future__ import annotations

from typing import Any

from witnessmark.trade.engine.locations import SIDES
from witnessmark.trade.engine.types import FASTENER_PARTS, OPTIONAL_PARTS, PARTS
from witnessmark.trade.spoken.jsgf import NOTHING, Rules, Ways, maybe
from witnessmark.trade.spoken.number_rules import counted
from witnessmark.trade.spoken.pronunciation import distinct, token_of
from witnessmark.trade.spoken.words import OPPOSITES, TABLE, plain, point_phrases, spoken

Own = list[dict[str, Any]]
_POINTS = point_phrases()
_BARE = 2  # of 100: a part that is counted, without its number

# Where the engine is not known, anything common can be said.
_ANY_ENGINE: dict[str, Any] = {
    "cylinders": 12,
    "banks": [{"code": "A", "name": "left"}, {"code": "B", "name": "right"}],
    "crankpins": [[number] for number in range(1, 13)],
    "mains": 9,
    "valves": {"inlet": 2, "exhaust": 2},
    "camshafts": [{"code": f"{bank}/{side}", "bank": bank} for bank in "AB" for side in SIDES],
    "joints": [
        {"code": code, "fasteners": [{"label": str(number)} for number in range(1, 21)]}
        for code in FASTENER_PARTS
    ],
    "pieces": OPTIONAL_PARTS,
}  # fmt: skip


def parts_of(engine_type: dict[str, Any] | None) -> list[str]:
    """The codes of the parts that the engine has, fasteners of its joints too, in the order of the parts list."""
    engine = engine_type or _ANY_ENGINE
    joined = {joint["code"].split("/")[0] for joint in engine["joints"]}
    return [
        code
        for code, part in PARTS.items()
        if (code in joined if code in FASTENER_PARTS else not part.get("optional") or code in engine["pieces"])
    ]


def place(rules: Rules, engine_type: dict[str, Any] | None, part: str, own: Own) -> str:
    """The rule of all places of one part, such as <place_bore>."""
    name = f"place_{part}"
    if rules.has(name):
        return f"<{name}>"
    engine = engine_type or _ANY_ENGINE
    part_name = _called(rules, part, own)
    per = PARTS[part]["per"]
    if per in ("cylinder", "crankpin", "main"):
        return rules.add(name, _numbered(part_name, _count(rules, engine, per)))
    if per == "bank" and len(engine["banks"]) > 1:
        bank = _bank(rules, engine)
        return rules.add(name, [(45, f"{bank} {part_name}"), (45, f"{part_name} {bank}"), (10, part_name)])
    if per in ("valve", "lobe"):
        return rules.add(name, _of_valve(rules, engine, per, part_name))
    if per == "manifold":
        return rules.add(name, [(45, f"{_side(rules)} {part_name}"), (_BARE, part_name)])
    if per == "camshaft" and len(engine["camshafts"]) > 1:
        return rules.add(name, _of_camshaft(rules, engine, part_name))
    if per == "fastener":
        return rules.add(name, _of_fastener(rules, engine, part, part_name))
    return rules.add(name, [(1, part_name)])


def fastener(rules: Rules, engine_type: dict[str, Any] | None, part: str) -> str:
    """ "Bolt seven": which joint it is in, the screen says."""
    fastener_name = rules.add("fastener", [(1, word) for word in TABLE["fasteners"]])
    labels = _labels(rules, engine_type or _ANY_ENGINE, part)
    return rules.add("place_fastener", [(1, f"{fastener_name} {_number_sign()} {labels}")])


def _called(rules: Rules, part: str, own: Own) -> str:
    """What the part is called: its name most often, then what else the parts list says, then the rest."""
    ways: dict[str, int] = {}
    for weight, phrases in ((6, [PARTS[part]["name"]]), (3, PARTS[part]["also"]), (1, TABLE["parts"].get(part, []))):
        for phrase in phrases:
            ways.setdefault(plain(phrase), weight)
    for phrase, parts in TABLE["unsure"].items():
        if part in parts:
            ways[phrase] = 1
    for entry in own:
        if entry["means"] == f"part:{part}":
            ways.setdefault(token_of(entry["word"]), 3)
    return rules.add(f"called_{part}", [(ways[phrase], f"{phrase} {{part {part}}}") for phrase in distinct(ways)])


def _number_sign() -> str:
    return maybe("number", 1, 10)


def _numbered(phrase: str, numbers: str) -> Ways:
    return [(92, f"{phrase} {maybe(f'{_number_sign()} {numbers}', 90, 92)}"), (4, f"number {numbers} {phrase}")]


def _count(rules: Rules, engine: dict[str, Any], per: str) -> str:
    """The rule of the numbers from one to as many as there are."""
    many = {"crankpin": len(engine["crankpins"]), "main": engine["mains"]}.get(per, engine["cylinders"])
    return rules.add(f"count_{per}", [(1, f"{counted(n)} {{index {n}}}") for n in range(1, many + 1)])


def _bank(rules: Rules, engine: dict[str, Any]) -> str:
    ways: Ways = []
    names = TABLE["banks"]["names"]
    letters = {code: letter for letter, code in TABLE["banks"]["letters"].items()}
    for bank in engine["banks"]:
        meant = f"{{bank {bank['code']}}}"
        if bank["name"] in names:
            ways.append((6, f"{names[bank['name']][0]} {maybe('hand', 1, 10)} {maybe('bank', 1, 2)} {meant}"))
        if bank["code"] in letters:
            ways.append((1, f"bank {letters[bank['code']]} {meant}"))
    return rules.add("bank", ways)


def _side(rules: Rules) -> str:
    return rules.add(
        "side",
        [(3 - at, f"{phrase} {{side {side}}}") for side in SIDES for at, phrase in enumerate(TABLE["sides"][side][:2])],
    )


def _of_valve(rules: Rules, engine: dict[str, Any], per: str, phrase: str) -> Ways:
    cylinder, side = _count(rules, engine, "cylinder"), _side(rules)
    most = max(engine["valves"].values())
    which = ""
    if most > 1:
        ways = [(1, f"{counted(n)} {{which {n}}}") for n in range(1, most + 1)]
        which = " " + maybe(rules.add("which", ways), 4, 5)
    behind = f"{_number_sign()} {cylinder} {maybe(f'{side}{which}', 45, 47)}"
    return [
        (49, f"{phrase} {maybe(behind, 47, 49)}"),
        (45, f"{side} {phrase} {_number_sign()} {cylinder}{which}"),
    ]


def _of_camshaft(rules: Rules, engine: dict[str, Any], phrase: str) -> Ways:
    sided = any(side in shaft["code"].split("/") for shaft in engine["camshafts"] for side in SIDES)
    banked = len({shaft["bank"] for shaft in engine["camshafts"]}) > 1 and len(engine["banks"]) > 1
    before = f"{_side(rules)} " if sided else ""
    if not banked:
        return [(45, f"{before}{phrase}"), (_BARE, phrase)]
    bank = _bank(rules, engine)
    return [(45, f"{before}{phrase} {bank}"), (45, f"{bank} {before}{phrase}"), (_BARE, phrase)]


def _labels(rules: Rules, engine: dict[str, Any], part: str) -> str:
    """The numbers of the fasteners of all joints of a part; labels that are no numbers are not spoken."""
    numbers = {
        int(fastener["label"])
        for joint in engine["joints"]
        if joint["code"].split("/")[0] == part
        for fastener in joint["fasteners"]
        if fastener["label"].isascii() and fastener["label"].isdigit() and 0 < int(fastener["label"]) < 100
    }
    return rules.add(f"label_{part}", [(1, f"{counted(n)} {{index {n}}}") for n in sorted(numbers)] or [(1, NOTHING)])


def _of_fastener(rules: Rules, engine: dict[str, Any], part: str, phrase: str) -> Ways:
    label = _labels(rules, engine, part)
    at = PARTS[part]["at"]
    plainly = f"{_number_sign()} {label}"
    if at == "bank" and len(engine["banks"]) > 1:
        bank = _bank(rules, engine)
        return [
            (47, f"{phrase} {maybe(f'{plainly} {maybe(bank, 45, 55)}', 55, 57)}"),
            (45, f"{bank} {phrase} {plainly}"),
        ]
    if at in ("main", "cylinder"):
        plainly = f"{_number_sign()} {_count(rules, engine, at)} {label}"
    return [(1, f"{phrase} {maybe(plainly, 45, 47)}")]


def points(rules: Rules, part: str, procedure: dict[str, Any] | None) -> str:
    """The rule of the points of a part: along the axes of the procedure, or else as the parts list has them.
    "" for a part without any."""
    name = f"point_{part}"
    if rules.has(name):
        return f"<{name}>"
    axes = [[value["words"] for value in axis["values"]] for axis in procedure["grid"]] if procedure else []
    axes, others = (axes, []) if axes else _axes(part)
    if not axes and not others:
        return ""
    along = [rules.add(f"{name}_{'abcd'[at]}", _pieces(axis)) for at, axis in enumerate(axes)]
    ways: Ways = []
    if len(along) == 1:
        ways.append((8, along[0]))
    elif along:
        first, second = along[:2]
        ways += [(8, f"{first} {maybe(second, 4, 5)}"), (2, f"{second} {maybe(first, 4, 5)}")]
    if others:
        ways.append((2, rules.add(f"{name}_other", _pieces(others))))
    return rules.add(name, ways)


def _axes(part: str) -> tuple[list[list[str]], list[str]]:
    """(pieces that exclude each other, axis by axis; pieces that stand alone) of the points in the parts list."""
    pieces: dict[str, None] = {}
    for point in PARTS[part]["points"]:
        pieces |= dict.fromkeys([point] if point in TABLE["points"] else point.split(", "))
    axes = [[piece for piece in group if piece in pieces] for group in OPPOSITES]
    axes = [axis for axis in axes if len(axis) > 1][:2]
    placed = {piece for axis in axes for piece in axis}
    return axes, [piece for piece in pieces if piece not in placed]


def _pieces(pieces: list[str]) -> Ways:
    pieces_known: dict[str, tuple[int, str]] = {}
    for piece in pieces:
        for at, phrase in enumerate(distinct(_POINTS.get(piece) or spoken(piece))):
            pieces_known.setdefault(phrase, (4 if at == 0 else 1, f"{phrase} {{point {piece}}}"))
    return list(pieces_known.values())
