"""Engine types: what one holds, the check that gathers all its faults, and the file one travels in.

An engine type is plain data (whole numbers, text, lists), so it can stand in an entry:

    {"id": uuid, "name": "Halvern 2.9 V6", "invented": true, "layout": "v", "bank_angle": 60, "cylinders": 6,
     "banks": [{"code": "A", "name": "left", "cylinders": [1, 3, 5], "stagger_mm": 0}, ...],   front to rear
     "crankpins": [[1, 2], [3, 4], [5, 6]], "mains": 4, "firing_order": [1, 2, 3, 4, 5, 6],
     "rotation": "clockwise",                seen from the front
     "front": "away_from_flywheel",          or "flywheel_end"
     "valves": {"inlet": 1, "exhaust": 1},   per cylinder
     "camshafts": [{"code": "block", "bank": "", "drives": ["inlet", "exhaust"]}],
     "joints": [{"code": "head_bolt/A", "name": "Head, bank A", "fasteners": [{"label": "1", "x_mm": 0, "y_mm": 40}]}],
     "pieces": ["plug", "water_pump"],       optional parts that this engine has
     "notes": ""}
"""

from __future__ import annotations

import re
from typing import Any

from witnessmark.trade.ground import shapes
from witnessmark.trade.ground.errors import Fault
from witnessmark.trade.ground.exchange import Exchange
from witnessmark.trade.ground.tables import table

PARTS: dict[str, dict[str, Any]] = {part["code"]: part for part in table("parts")["parts"]}
OPTIONAL_PARTS = [code for code, part in PARTS.items() if part.get("optional")]
FASTENER_PARTS = [code for code, part in PARTS.items() if part["per"] == "fastener"]

_FIELDS = (
    ("id", shapes.uuid),
    ("name", shapes.text(80, 1)),
    ("invented", shapes.yes_no),
    ("layout", shapes.choice({"inline": "", "v": "", "flat": "", "single": ""})),
    ("bank_angle", shapes.whole(0, 180)),
    ("cylinders", shapes.whole(1, 32)),
    ("mains", shapes.whole(1, 33)),
    ("rotation", shapes.choice({"clockwise": "", "anticlockwise": ""})),
    ("front", shapes.choice({"away_from_flywheel": "", "flywheel_end": ""})),
    ("notes", shapes.text(4000)),
)
_LISTS = ("banks", "crankpins", "firing_order", "camshafts", "joints", "pieces")
_KEYS = [name for name, _ in _FIELDS] + list(_LISTS) + ["valves"]

_bank_code = re.compile(r"[A-Z]").fullmatch
_label = re.compile(r"[A-Za-z0-9_]{1,12}").fullmatch
_camshaft_code = re.compile(r"[A-Za-z0-9_]{1,20}(?:/[A-Za-z0-9_]{1,20})?").fullmatch
_joint_code = re.compile(r"[a-z][a-z0-9_]*(?:/[A-Za-z0-9_]{1,12}){0,2}").fullmatch
_millimetres = shapes.whole(-5000, 5000)
_short = shapes.text(80)


def check(engine_type: Any) -> list[Fault]:
    """All faults of an engine type, none when it can be used. Never raises, whatever it is given."""
    if type(engine_type) is not dict:
        return [Fault("engine_type", "An engine type is an object with fields; this is something else.")]
    faults: list[Fault] = []
    for name in sorted(str(key) for key in engine_type if key not in _KEYS):
        faults.append(Fault(name, f"{name} is a field that nobody knows."))
    for name in _KEYS:
        if name not in engine_type:
            faults.append(Fault(name, f"{name} is missing."))
    for name, reason_against in _FIELDS:
        if name in engine_type and (reason := reason_against(engine_type[name])):
            faults.append(Fault(name, f"{name} {reason}."))
    for name in _LISTS:
        if name in engine_type and type(engine_type[name]) is not list:
            faults.append(Fault(name, f"{name} is not a list."))
    if faults:
        return faults
    for part in (_layout, _banks, _crankpins, _firing_order, _valves, _camshafts, _joints, _pieces):
        faults += part(engine_type)
    return faults


def _layout(engine: dict[str, Any]) -> list[Fault]:
    layout, angle, banks = engine["layout"], engine["bank_angle"], len(engine["banks"])
    faults = []
    wanted = 2 if layout in ("v", "flat") else 1
    if banks != wanted:
        faults.append(Fault("banks", f"{_LAYOUT_WORDS[layout]} has {_BANKS[wanted]}, not {banks}."))
    if layout == "v" and not 0 < angle < 180:
        faults.append(Fault("bank_angle", f"The banks of a V stand between 1 and 179 degrees apart, not {angle}."))
    if layout == "flat" and angle != 180:
        faults.append(Fault("bank_angle", f"The banks of a flat engine stand 180 degrees apart, not {angle}."))
    if layout in ("inline", "single") and angle != 0:
        faults.append(Fault("bank_angle", f"One bank has no angle: bank_angle is 0, not {angle}."))
    if layout == "single" and engine["cylinders"] != 1:
        faults.append(Fault("cylinders", f"A single has 1 cylinder, not {engine['cylinders']}."))
    return faults


_LAYOUT_WORDS = {"inline": "An in-line engine", "v": "A V engine", "flat": "A flat engine", "single": "A single"}
_BANKS = {1: "1 bank", 2: "2 banks"}


def _before(earlier: str, now: str) -> str:
    return " twice" if earlier == now else f", as {earlier[0].lower()}{earlier[1:]} does"


def _each_cylinder_once(count: int, groups: list[tuple[str, str, Any]], missed: str) -> list[Fault]:
    """Faults when the groups (field, name, list) do not name each cylinder of 1 to `count` exactly once."""
    faults, seen = [], {}
    for where, name, numbers in groups:
        if type(numbers) is not list or not numbers:
            faults.append(Fault(where, f"{name} names no cylinder."))
            continue
        for number in numbers:
            if type(number) is not int:
                faults.append(Fault(where, f"{name} names {number!r}, which is no cylinder number."))
            elif not 1 <= number <= count:
                faults.append(Fault(where, f"{name} names cylinder {number}; the engine has {count}."))
            elif number in seen:
                faults.append(Fault(where, f"{name} names cylinder {number}{_before(seen[number], name)}."))
            else:
                seen[number] = name
    missing = [str(number) for number in range(1, count + 1) if number not in seen]
    if missing:
        faults.append(Fault(groups[0][0].split(".")[0] if groups else "banks", f"{missed} {', '.join(missing)}."))
    return faults


def _banks(engine: dict[str, Any]) -> list[Fault]:
    faults, groups, codes = [], [], set()
    for index, bank in enumerate(engine["banks"]):
        where = f"banks.{index}"
        if type(bank) is not dict or bank.keys() != {"code", "name", "cylinders", "stagger_mm"}:
            faults.append(Fault(where, "A bank has exactly code, name, cylinders and stagger_mm."))
            continue
        if type(bank["code"]) is not str or not _bank_code(bank["code"]):
            faults.append(Fault(f"{where}.code", "The code of a bank is one capital letter."))
        elif bank["code"] in codes:
            faults.append(Fault(f"{where}.code", f"Two banks are called {bank['code']}."))
        else:
            codes.add(bank["code"])
        if reason := _short(bank["name"]):
            faults.append(Fault(f"{where}.name", f"The name of the bank {reason}."))
        if reason := shapes.whole(-500, 500)(bank["stagger_mm"]):
            faults.append(Fault(f"{where}.stagger_mm", f"The stagger {reason}."))
        groups.append((f"{where}.cylinders", f"Bank {bank['code']}", bank["cylinders"]))
    if not faults or groups:
        faults += _each_cylinder_once(engine["cylinders"], groups, "No bank holds cylinder")
    return faults


def _crankpins(engine: dict[str, Any]) -> list[Fault]:
    groups = [(f"crankpins.{i}", f"Crankpin {i + 1}", pin) for i, pin in enumerate(engine["crankpins"])]
    return _each_cylinder_once(
        engine["cylinders"], groups or [("crankpins", "The crank", [])], "No crankpin carries cylinder"
    )


def _firing_order(engine: dict[str, Any]) -> list[Fault]:
    group = ("firing_order", "The firing order", engine["firing_order"])
    return _each_cylinder_once(engine["cylinders"], [group], "The firing order misses")


def _valves(engine: dict[str, Any]) -> list[Fault]:
    valves = engine["valves"]
    if type(valves) is not dict or valves.keys() != {"inlet", "exhaust"}:
        return [Fault("valves", "The valves of a cylinder are given as inlet and exhaust.")]
    few = shapes.whole(0, 4)
    return [Fault(f"valves.{side}", f"{side} {why}.") for side in ("inlet", "exhaust") if (why := few(valves[side]))]


def _bank_codes(engine: dict[str, Any]) -> list[Any]:
    return [bank.get("code") for bank in engine["banks"] if type(bank) is dict]


def _camshafts(engine: dict[str, Any]) -> list[Fault]:
    faults, codes, driven = [], set(), {}
    for index, shaft in enumerate(engine["camshafts"]):
        where = f"camshafts.{index}"
        if type(shaft) is not dict or shaft.keys() != {"code", "bank", "drives"}:
            faults.append(Fault(where, "A camshaft has exactly code, bank and drives."))
            continue
        code, bank, drives = shaft["code"], shaft["bank"], shaft["drives"]
        if type(code) is not str or not _camshaft_code(code):
            faults.append(Fault(f"{where}.code", "The code of a camshaft is short, such as block or A/inlet."))
            continue
        if code in codes:
            faults.append(Fault(f"{where}.code", f"Two camshafts are called {code}."))
        codes.add(code)
        if bank != "" and bank not in _bank_codes(engine):
            faults.append(Fault(f"{where}.bank", f"Camshaft {code} lies in bank {bank}, which the engine has not."))
        if type(drives) is not list or not drives or any(side not in ("inlet", "exhaust") for side in drives):
            faults.append(Fault(f"{where}.drives", f"Camshaft {code} drives inlet, exhaust or both."))
            continue
        for side in drives:
            for one in _bank_codes(engine) if bank == "" else [bank]:
                other = driven.setdefault((str(one), side), code)
                if other != code:
                    faults.append(Fault(where, f"Camshafts {other} and {code} both drive the {side} of bank {one}."))
    return faults


def _joints(engine: dict[str, Any]) -> list[Fault]:
    faults, codes = [], set()
    for index, joint in enumerate(engine["joints"]):
        where = f"joints.{index}"
        if type(joint) is not dict or joint.keys() != {"code", "name", "fasteners"}:
            faults.append(Fault(where, "A joint has exactly code, name and fasteners."))
            continue
        code = joint["code"]
        if type(code) is not str or not _joint_code(code) or code.split("/")[0] not in FASTENER_PARTS:
            known = ", ".join(FASTENER_PARTS)
            faults.append(Fault(f"{where}.code", f"The code of a joint starts with one of {known}."))
            continue
        if code in codes:
            faults.append(Fault(f"{where}.code", f"Two joints are called {code}."))
        codes.add(code)
        faults += _joint_place(engine, where, code)
        if reason := _short(joint["name"]):
            faults.append(Fault(f"{where}.name", f"The name of the joint {reason}."))
        faults += _fasteners(where, joint)
    return faults


def _joint_place(engine: dict[str, Any], where: str, code: str) -> list[Fault]:
    part, *indices = code.split("/")
    at = PARTS[part]["at"]
    if not at:
        return []
    known = {
        "bank": [str(one) for one in _bank_codes(engine)],
        "main": [str(number) for number in range(1, engine["mains"] + 1)],
        "cylinder": [str(number) for number in range(1, engine["cylinders"] + 1)],
    }[at]
    if len(indices) == 0 or indices[0] not in known:
        return [
            Fault(f"{where}.code", f"{code} names no {at} of this engine; write {part}/{known[0] if known else 1}.")
        ]
    return []


def _fasteners(where: str, joint: dict[str, Any]) -> list[Fault]:
    faults, labels, spots = [], set(), {}
    fasteners = joint["fasteners"]
    if type(fasteners) is not list or len(fasteners) > 200:
        return [Fault(f"{where}.fasteners", "The fasteners of a joint are a list of at most 200.")]
    for index, one in enumerate(fasteners):
        here = f"{where}.fasteners.{index}"
        if type(one) is not dict or one.keys() != {"label", "x_mm", "y_mm"}:
            faults.append(Fault(here, "A fastener has exactly label, x_mm and y_mm."))
            continue
        label = one["label"]
        if type(label) is not str or not _label(label):
            faults.append(Fault(f"{here}.label", "The label of a fastener is short: letters and digits."))
            continue
        if label in labels:
            faults.append(Fault(f"{here}.label", f"Two fasteners of {joint['code']} are called {label}."))
        labels.add(label)
        bad = [axis for axis in ("x_mm", "y_mm") if _millimetres(one[axis])]
        if bad:
            faults.append(
                Fault(f"{here}.{bad[0]}", f"Fastener {label}: {bad[0]} is not a whole number of millimetres.")
            )
            continue
        other = spots.setdefault((one["x_mm"], one["y_mm"]), label)
        if other != label:
            faults.append(Fault(here, f"Fasteners {other} and {label} of {joint['code']} stand at one spot."))
    return faults


def _pieces(engine: dict[str, Any]) -> list[Fault]:
    faults = []
    pieces = engine["pieces"]
    for index, piece in enumerate(pieces):
        if piece not in OPTIONAL_PARTS:
            faults.append(Fault(f"pieces.{index}", f"{piece!r} is no piece that can be listed."))
        elif piece in pieces[:index]:
            faults.append(Fault(f"pieces.{index}", f"{piece} is listed twice."))
    return faults


# An engine type travels in such a file; the faults of what is in one are `check`'s to find.
_FILE = Exchange("witnessmark engine type 1", "engine_type", "an engine type")
write_file, read_file = _FILE.write, _FILE.read
