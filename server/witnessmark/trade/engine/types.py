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
from witnessmark.trade.ground.sentences import say
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
        return [Fault("engine_type", say("trade.engine.no_object"))]
    faults: list[Fault] = []
    for name in sorted(str(key) for key in engine_type if key not in _KEYS):
        faults.append(Fault(name, say("trade.ground.unknown_field", field=name)))
    for name in _KEYS:
        if name not in engine_type:
            faults.append(Fault(name, say("trade.ground.missing_field", field=name)))
    for name, reason_against in _FIELDS:
        if name in engine_type and (reason := reason_against(engine_type[name])):
            faults.append(Fault(name, say("trade.ground.field_fault", field=name, reason=reason)))
    for name in _LISTS:
        if name in engine_type and type(engine_type[name]) is not list:
            faults.append(Fault(name, say("trade.engine.not_a_list", field=name)))
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
        faults.append(Fault("banks", say(_BANKS_WANTED[layout], banks=banks)))
    if layout == "v" and not 0 < angle < 180:
        faults.append(Fault("bank_angle", say("trade.engine.v_angle", angle=angle)))
    if layout == "flat" and angle != 180:
        faults.append(Fault("bank_angle", say("trade.engine.flat_angle", angle=angle)))
    if layout in ("inline", "single") and angle != 0:
        faults.append(Fault("bank_angle", say("trade.engine.no_angle", angle=angle)))
    if layout == "single" and engine["cylinders"] != 1:
        faults.append(Fault("cylinders", say("trade.engine.single_cylinders", cylinders=engine["cylinders"])))
    return faults


_BANKS_WANTED = {
    "inline": "trade.engine.banks_inline",
    "v": "trade.engine.banks_v",
    "flat": "trade.engine.banks_flat",
    "single": "trade.engine.banks_single",
}
_MISSED = {
    "banks": "trade.engine.no_bank_holds",
    "crankpins": "trade.engine.no_crankpin_carries",
    "firing_order": "trade.engine.firing_misses",
}


def _each_cylinder_once(count: int, groups: list[tuple[str, str, Any]], missed: str) -> list[Fault]:
    """Faults when the groups (field, name, list) do not name each cylinder of 1 to `count` exactly once. `missed` is
    the key of _MISSED for the cylinders that none of them names."""
    faults, seen = [], {}
    for where, name, numbers in groups:
        if type(numbers) is not list or not numbers:
            faults.append(Fault(where, say("trade.engine.no_cylinder", name=name)))
            continue
        for number in numbers:
            if type(number) is not int:
                faults.append(Fault(where, say("trade.engine.no_cylinder_number", name=name, number=number)))
            elif not 1 <= number <= count:
                faults.append(Fault(where, say("trade.engine.cylinder_beyond", name=name, number=number, count=count)))
            elif number in seen:
                again = say("trade.engine.cylinder_again", name=name, number=number, earlier=seen[number])
                twice = say("trade.engine.cylinder_twice", name=name, number=number)
                faults.append(Fault(where, twice if seen[number] == name else again))
            else:
                seen[number] = name
    missing = [str(number) for number in range(1, count + 1) if number not in seen]
    if missing:
        where = groups[0][0].split(".")[0] if groups else "banks"
        faults.append(Fault(where, say(_MISSED[missed], cylinders=", ".join(missing))))
    return faults


def _banks(engine: dict[str, Any]) -> list[Fault]:
    faults, groups, codes = [], [], set()
    for index, bank in enumerate(engine["banks"]):
        where = f"banks.{index}"
        if type(bank) is not dict or bank.keys() != {"code", "name", "cylinders", "stagger_mm"}:
            faults.append(Fault(where, say("trade.engine.bank_fields")))
            continue
        if type(bank["code"]) is not str or not _bank_code(bank["code"]):
            faults.append(Fault(f"{where}.code", say("trade.engine.bank_code")))
        elif bank["code"] in codes:
            faults.append(Fault(f"{where}.code", say("trade.engine.banks_alike", code=bank["code"])))
        else:
            codes.add(bank["code"])
        if reason := _short(bank["name"]):
            faults.append(Fault(f"{where}.name", say("trade.engine.bank_name", reason=reason)))
        if reason := shapes.whole(-500, 500)(bank["stagger_mm"]):
            faults.append(Fault(f"{where}.stagger_mm", say("trade.engine.stagger", reason=reason)))
        groups.append((f"{where}.cylinders", say("trade.engine.bank", code=bank["code"]), bank["cylinders"]))
    if not faults or groups:
        faults += _each_cylinder_once(engine["cylinders"], groups, "banks")
    return faults


def _crankpins(engine: dict[str, Any]) -> list[Fault]:
    groups = [
        (f"crankpins.{i}", say("trade.engine.crankpin", number=i + 1), pin) for i, pin in enumerate(engine["crankpins"])
    ]
    return _each_cylinder_once(
        engine["cylinders"], groups or [("crankpins", say("trade.engine.the_crank"), [])], "crankpins"
    )


def _firing_order(engine: dict[str, Any]) -> list[Fault]:
    group = ("firing_order", say("trade.engine.the_firing_order"), engine["firing_order"])
    return _each_cylinder_once(engine["cylinders"], [group], "firing_order")


def _valves(engine: dict[str, Any]) -> list[Fault]:
    valves = engine["valves"]
    if type(valves) is not dict or valves.keys() != {"inlet", "exhaust"}:
        return [Fault("valves", say("trade.engine.valves"))]
    few = shapes.whole(0, 4)
    return [
        Fault(f"valves.{side}", say("trade.ground.field_fault", field=side, reason=why))
        for side in ("inlet", "exhaust")
        if (why := few(valves[side]))
    ]


def _bank_codes(engine: dict[str, Any]) -> list[Any]:
    return [bank.get("code") for bank in engine["banks"] if type(bank) is dict]


def _camshafts(engine: dict[str, Any]) -> list[Fault]:
    faults, codes, driven = [], set(), {}
    for index, shaft in enumerate(engine["camshafts"]):
        where = f"camshafts.{index}"
        if type(shaft) is not dict or shaft.keys() != {"code", "bank", "drives"}:
            faults.append(Fault(where, say("trade.engine.camshaft_fields")))
            continue
        code, bank, drives = shaft["code"], shaft["bank"], shaft["drives"]
        if type(code) is not str or not _camshaft_code(code):
            faults.append(Fault(f"{where}.code", say("trade.engine.camshaft_code")))
            continue
        if code in codes:
            faults.append(Fault(f"{where}.code", say("trade.engine.camshafts_alike", code=code)))
        codes.add(code)
        if bank != "" and bank not in _bank_codes(engine):
            faults.append(Fault(f"{where}.bank", say("trade.engine.camshaft_bank", code=code, bank=bank)))
        if type(drives) is not list or not drives or any(side not in ("inlet", "exhaust") for side in drives):
            faults.append(Fault(f"{where}.drives", say("trade.engine.camshaft_drives", code=code)))
            continue
        for side in drives:
            for bank_code in _bank_codes(engine) if bank == "" else [bank]:
                other = driven.setdefault((str(bank_code), side), code)
                if other != code:
                    faults.append(
                        Fault(
                            where,
                            say("trade.engine.camshafts_both", first=other, second=code, side=side, bank=bank_code),
                        )
                    )
    return faults


def _joints(engine: dict[str, Any]) -> list[Fault]:
    faults, codes = [], set()
    for index, joint in enumerate(engine["joints"]):
        where = f"joints.{index}"
        if type(joint) is not dict or joint.keys() != {"code", "name", "fasteners"}:
            faults.append(Fault(where, say("trade.engine.joint_fields")))
            continue
        code = joint["code"]
        if type(code) is not str or not _joint_code(code) or code.split("/")[0] not in FASTENER_PARTS:
            known = ", ".join(FASTENER_PARTS)
            faults.append(Fault(f"{where}.code", say("trade.engine.joint_code", known=known)))
            continue
        if code in codes:
            faults.append(Fault(f"{where}.code", say("trade.engine.joints_alike", code=code)))
        codes.add(code)
        faults += _joint_place(engine, where, code)
        if reason := _short(joint["name"]):
            faults.append(Fault(f"{where}.name", say("trade.engine.joint_name", reason=reason)))
        faults += _fasteners(where, joint)
    return faults


def _joint_place(engine: dict[str, Any], where: str, code: str) -> list[Fault]:
    part, *indices = code.split("/")
    at = PARTS[part]["at"]
    if not at:
        return []
    known = {
        "bank": [str(code) for code in _bank_codes(engine)],
        "main": [str(number) for number in range(1, engine["mains"] + 1)],
        "cylinder": [str(number) for number in range(1, engine["cylinders"] + 1)],
    }[at]
    if len(indices) == 0 or indices[0] not in known:
        return [
            Fault(
                f"{where}.code",
                say("trade.engine.joint_place", code=code, place=at, part=part, first=known[0] if known else 1),
            )
        ]
    return []


def _fasteners(where: str, joint: dict[str, Any]) -> list[Fault]:
    faults, labels, spots = [], set(), {}
    fasteners = joint["fasteners"]
    if type(fasteners) is not list or len(fasteners) > 200:
        return [Fault(f"{where}.fasteners", say("trade.engine.fasteners"))]
    for index, fastener in enumerate(fasteners):
        here = f"{where}.fasteners.{index}"
        if type(fastener) is not dict or fastener.keys() != {"label", "x_mm", "y_mm"}:
            faults.append(Fault(here, say("trade.engine.fastener_fields")))
            continue
        label = fastener["label"]
        if type(label) is not str or not _label(label):
            faults.append(Fault(f"{here}.label", say("trade.engine.fastener_label")))
            continue
        if label in labels:
            faults.append(Fault(f"{here}.label", say("trade.engine.fasteners_alike", joint=joint["code"], label=label)))
        labels.add(label)
        bad = [axis for axis in ("x_mm", "y_mm") if _millimetres(fastener[axis])]
        if bad:
            faults.append(Fault(f"{here}.{bad[0]}", say("trade.engine.fastener_spot", label=label, axis=bad[0])))
            continue
        other = spots.setdefault((fastener["x_mm"], fastener["y_mm"]), label)
        if other != label:
            faults.append(
                Fault(here, say("trade.engine.fasteners_together", first=other, second=label, joint=joint["code"]))
            )
    return faults


def _pieces(engine: dict[str, Any]) -> list[Fault]:
    faults = []
    pieces = engine["pieces"]
    for index, piece in enumerate(pieces):
        if piece not in OPTIONAL_PARTS:
            faults.append(Fault(f"pieces.{index}", say("trade.engine.no_piece", piece=piece)))
        elif piece in pieces[:index]:
            faults.append(Fault(f"pieces.{index}", say("trade.engine.piece_twice", piece=piece)))
    return faults


# An engine type travels in such a file; the faults of what is in one are `check`'s to find.
_FILE = Exchange("witnessmark engine type 1", "engine_type", say("trade.engine.an_engine_type"))
write_file, read_file = _FILE.write, _FILE.read
