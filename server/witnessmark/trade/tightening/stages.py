"""The stages of a tightening sheet: their check, and which of them a run in one direction goes through.

    {"code": "snug", "words": "Snug", "method": "torque",   or "angle", "release"
     "target": "20", "unit": "N·m", "minus": "2", "plus": "2",   permitted below and above, in the same unit
     "order": ["1", "2", "3", "4"],                         each fastener of the joint once
     "proposed": false,                                     true until a person has confirmed a proposed order
     "after": ""}                                           what must have happened first: "warm-up to 80 °C, cooling"

A release stage without a target lets go by whatever it takes; its unit, minus and plus are then empty too.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any

from witnessmark.trade.ground import described, shapes
from witnessmark.trade.ground.errors import Fault
from witnessmark.trade.ground.sentences import listed, say
from witnessmark.trade.ground.units import UNITS
from witnessmark.trade.tightening.sequence import loosening

# method -> its words, the kinds of unit its target may have
METHODS: dict[str, str] = {
    "torque": say("trade.tightening.method.torque"),
    "angle": say("trade.tightening.method.angle"),
    "release": say("trade.tightening.method.release"),
}
KINDS: dict[str, tuple[str, ...]] = {"torque": ("torque",), "angle": ("angle",), "release": ("torque", "angle")}
MOST_STAGES = 20
MOST_FASTENERS = 200

_is_code = re.compile(r"[a-z0-9_]{1,12}").fullmatch
_is_label = re.compile(r"[A-Za-z0-9_]{1,12}").fullmatch


def _code(value: Any) -> str | None:
    return None if type(value) is str and _is_code(value) else say("trade.tightening.wrong.code")


def _order(value: Any) -> str | None:
    if type(value) is not list or not 0 < len(value) <= MOST_FASTENERS:
        return say("trade.tightening.wrong.order", count=MOST_FASTENERS)
    return (
        None if all(type(label) is str and _is_label(label) for label in value) else say("trade.tightening.wrong.label")
    )


_FIELDS: tuple[described.Field, ...] = (
    ("code", say("trade.tightening.field.code"), _code),
    ("words", say("trade.tightening.field.name"), shapes.text(60, 1)),
    ("method", say("trade.tightening.field.method"), described.one_of(METHODS, say("trade.tightening.wrong.method"))),
    ("target", say("trade.tightening.field.target"), described.number_or_nothing),
    ("unit", say("trade.tightening.field.unit"), described.unit),
    ("minus", say("trade.tightening.field.minus"), described.number_or_nothing),
    ("plus", say("trade.tightening.field.plus"), described.number_or_nothing),
    ("order", say("trade.tightening.field.order"), _order),
    ("proposed", say("trade.tightening.field.proposed"), shapes.yes_no),
    ("after", say("trade.tightening.field.after"), shapes.text(120)),
)

# What is wrong with a target, by field and by method.
_EMPTY = {
    "unit": "trade.tightening.stage.empty_unit",
    "minus": "trade.tightening.stage.empty_minus",
    "plus": "trade.tightening.stage.empty_plus",
}
_UNIT = {
    "torque": "trade.tightening.stage.unit_torque",
    "angle": "trade.tightening.stage.unit_angle",
    "release": "trade.tightening.stage.unit_release",
}
_NO_UNIT = {
    "torque": "trade.tightening.stage.no_unit_torque",
    "angle": "trade.tightening.stage.no_unit_angle",
    "release": "trade.tightening.stage.no_unit_release",
}
_PERMITTED = {"minus": "trade.tightening.stage.minus", "plus": "trade.tightening.stage.plus"}

# (code of a joint, labels of its fasteners)
Joint = tuple[str, list[str]]


def check_stages(stages: list[Any], joints: list[Joint]) -> list[Fault]:
    """All faults of a sheet's stages. Each order names the fasteners of each of `joints` once; without joints all
    orders name the same fasteners as the first."""
    if not 0 < len(stages) <= MOST_STAGES:
        return [Fault("stages", say("trade.tightening.stage.count", count=MOST_STAGES))]
    faults: list[Fault] = []
    codes: set[str] = set()
    for index, stage in enumerate(stages):
        where = f"stages.{index}"
        faults_of_stage = described.faults_of(stage, _FIELDS, "", say("trade.tightening.thing.stage"))
        if faults_of_stage:
            for fault in faults_of_stage:
                words = say("trade.tightening.stage.fault", number=index + 1, fault=fault.message)
                faults.append(Fault(f"{where}.{fault.where}".rstrip("."), words))
            continue
        if stage["code"] in codes:
            faults.append(Fault(f"{where}.code", say("trade.tightening.stage.same_code", code=stage["code"])))
        codes.add(stage["code"])
        faults += _target(where, stage)
        if not joints:
            joints = [("", stage["order"])]
        faults += _against(where, stage, joints)
    return faults


def _target(where: str, stage: dict[str, Any]) -> list[Fault]:
    words, method = stage["words"], stage["method"]
    if stage["target"] == "":
        if method != "release":
            return [Fault(f"{where}.target", say("trade.tightening.stage.target_missing", stage=words))]
        bad = next((name for name in _EMPTY if stage[name] != ""), None)
        return [Fault(f"{where}.{bad}", say(_EMPTY[bad], stage=words))] if bad else []
    faults = []
    if UNITS[stage["unit"]]["kind"] not in KINDS[method]:
        unit = (
            say(_UNIT[method], stage=words, unit=stage["unit"]) if stage["unit"] else say(_NO_UNIT[method], stage=words)
        )
        faults.append(Fault(f"{where}.unit", unit))
    if Fraction(stage["target"]) <= 0:
        target = say("trade.tightening.stage.target_not_above_zero", stage=words, target=stage["target"])
        faults.append(Fault(f"{where}.target", target))
    for name, key in _PERMITTED.items():
        if stage[name] == "" or Fraction(stage[name]) < 0:
            faults.append(Fault(f"{where}.{name}", say(key, stage=words)))
    if not faults and Fraction(stage["minus"]) >= Fraction(stage["target"]):
        about = {"stage": words, "minus": stage["minus"], "target": stage["target"]}
        faults.append(Fault(f"{where}.minus", say("trade.tightening.stage.minus_too_large", **about)))
    return faults


def _against(where: str, stage: dict[str, Any], joints: list[Joint]) -> list[Fault]:
    order, words = stage["order"], stage["words"]
    faults = [
        Fault(f"{where}.order", say("trade.tightening.stage.twice", stage=words, fastener=label))
        for label in dict.fromkeys(order)
        if order.count(label) > 1
    ]
    missed: dict[tuple[str, ...], list[str]] = {}
    strange: dict[tuple[str, ...], list[str]] = {}
    for code, labels in joints:
        if lost := [label for label in labels if label not in order]:
            missed.setdefault(tuple(lost), []).append(code)
        if more := [label for label in dict.fromkeys(order) if label not in labels]:
            strange.setdefault(tuple(more), []).append(code)
    for which, codes in missed.items():
        about = {"stage": words, "fasteners": listed(which), "count": len(which)}
        reason = (
            say("trade.tightening.stage.misses_of", **about, joints=listed(codes))
            if codes[0]
            else say("trade.tightening.stage.misses", **about)
        )
        faults.append(Fault(f"{where}.order", reason))
    for which, codes in strange.items():
        about = {"stage": words, "fasteners": listed(which), "count": len(which)}
        if codes[0] == "":
            reason = say("trade.tightening.stage.strange", **about)
        elif len(codes) == 1:
            reason = say("trade.tightening.stage.strange_one", **about, joints=codes[0])
        else:
            reason = say("trade.tightening.stage.strange_several", **about, joints=listed(codes))
        faults.append(Fault(f"{where}.order", reason))
    return faults


def stages_of(sheet: dict[str, Any], direction: str) -> list[dict[str, Any]]:
    """The stages that a run goes through. Tightening goes through all, in their order. Loosening goes through the
    stages of a sheet that has release stages only; any other sheet is loosened in one stage, in the exact reverse of
    the order of its last stage."""
    given = sheet["stages"]
    if direction == "tighten" or all(stage["method"] == "release" for stage in given):
        return given
    last = given[-1]
    nothing = {"target": "", "unit": "", "minus": "", "plus": "", "after": ""}
    order = loosening(last["order"])
    words = str(say("trade.tightening.release_stage"))
    made = {"code": "release", "words": words, "method": "release", "order": order, "proposed": last["proposed"]}
    return [made | nothing]
