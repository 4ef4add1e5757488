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
from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from witnessmark.trade.ground import described, shapes
from witnessmark.trade.ground.errors import Fault
from witnessmark.trade.ground.units import UNITS
from witnessmark.trade.tightening.sequence import loosening

# method -> its words, the kinds of unit its target may have
METHODS: dict[str, str] = {"torque": "torque", "angle": "angle", "release": "letting go"}
KINDS: dict[str, tuple[str, ...]] = {"torque": ("torque",), "angle": ("angle",), "release": ("torque", "angle")}
MOST_STAGES = 20
MOST_FASTENERS = 200

_is_code = re.compile(r"[a-z0-9_]{1,12}").fullmatch
_is_label = re.compile(r"[A-Za-z0-9_]{1,12}").fullmatch


def _code(value: Any) -> str | None:
    return None if type(value) is str and _is_code(value) else "is no code of at most 12 small letters, digits and _"


def _order(value: Any) -> str | None:
    if type(value) is not list or not 0 < len(value) <= MOST_FASTENERS:
        return f"is no list of 1 to {MOST_FASTENERS} fasteners"
    return None if all(type(one) is str and _is_label(one) for one in value) else "names what is no fastener"


_FIELDS: tuple[described.Field, ...] = (
    ("code", "The code", _code),
    ("words", "The name", shapes.text(60, 1)),
    ("method", "The method", described.one_of(METHODS, "is none of torque, angle and release")),
    ("target", "The target", described.number_or_nothing),
    ("unit", "The unit", described.unit),
    ("minus", "What is permitted below", described.number_or_nothing),
    ("plus", "What is permitted above", described.number_or_nothing),
    ("order", "The order", _order),
    ("proposed", "Proposed", shapes.yes_no),
    ("after", "What goes before", shapes.text(120)),
)

# (code of a joint, labels of its fasteners)
Joint = tuple[str, list[str]]


def check_stages(stages: list[Any], joints: list[Joint]) -> list[Fault]:
    """All faults of a sheet's stages. Each order names the fasteners of each of `joints` once; without joints all
    orders name the same fasteners as the first."""
    if not 0 < len(stages) <= MOST_STAGES:
        return [Fault("stages", f"A sheet has 1 to {MOST_STAGES} stages.")]
    faults: list[Fault] = []
    codes: set[str] = set()
    for index, stage in enumerate(stages):
        where = f"stages.{index}"
        found = described.faults_of(stage, _FIELDS, "", "A stage")
        if found:
            said = [Fault(f"{where}.{one.where}".rstrip("."), f"Stage {index + 1}: {one.message}") for one in found]
            faults += said
            continue
        if stage["code"] in codes:
            faults.append(Fault(f"{where}.code", f"Two stages have the code {stage['code']}."))
        codes.add(stage["code"])
        faults += _target(where, stage)
        if not joints:
            joints = [("", stage["order"])]
        faults += _against(where, stage, joints)
    return faults


def _target(where: str, stage: dict[str, Any]) -> list[Fault]:
    words, kinds = stage["words"], KINDS[stage["method"]]
    if stage["target"] == "":
        if stage["method"] != "release":
            return [Fault(f"{where}.target", f"{words}: the target is missing.")]
        bad = next((name for name in ("unit", "minus", "plus") if stage[name] != ""), None)
        return [Fault(f"{where}.{bad}", f"{words}: without a target {bad} is empty too.")] if bad else []
    faults = []
    if UNITS[stage["unit"]]["kind"] not in kinds:
        unit = stage["unit"] or "A plain number"
        faults.append(Fault(f"{where}.unit", f"{words}: {unit} is no unit of {' or '.join(kinds)}."))
    if Fraction(stage["target"]) <= 0:
        faults.append(Fault(f"{where}.target", f"{words}: the target {stage['target']} is not above zero."))
    for name, side in (("minus", "below"), ("plus", "above")):
        if stage[name] == "" or Fraction(stage[name]) < 0:
            reason = f"say how much is permitted {side} the target, without a sign; 0 for nothing"
            faults.append(Fault(f"{where}.{name}", f"{words}: {reason}."))
    if not faults and Fraction(stage["minus"]) >= Fraction(stage["target"]):
        faults.append(Fault(f"{where}.minus", f"{words}: {stage['minus']} below {stage['target']} leaves nothing."))
    return faults


def _against(where: str, stage: dict[str, Any], joints: list[Joint]) -> list[Fault]:
    order, words = stage["order"], stage["words"]
    faults = [
        Fault(f"{where}.order", f"{words}: fastener {label} stands twice in the order.")
        for label in dict.fromkeys(order)
        if order.count(label) > 1
    ]
    missed: dict[str, list[str]] = {}
    strange: dict[str, list[str]] = {}
    for code, labels in joints:
        if lost := [label for label in labels if label not in order]:
            missed.setdefault(fasteners(lost), []).append(code)
        if more := [label for label in dict.fromkeys(order) if label not in labels]:
            strange.setdefault(fasteners(more), []).append(code)
    for which, codes in missed.items():
        of = f" of {listed(codes)}" if codes[0] else ""
        faults.append(Fault(f"{where}.order", f"{words}: the order misses {which}{of}."))
    for which, codes in strange.items():
        at = f"{listed(codes)} {'has' if len(codes) == 1 else 'have'} not" if codes[0] else "the first stage does not"
        faults.append(Fault(f"{where}.order", f"{words}: the order names {which}, which {at}."))
    return faults


def listed(names: Sequence[str]) -> str:
    """ "3", "3 and 4", "3, 4 and 5"."""
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def fasteners(labels: Sequence[str]) -> str:
    return f"fastener{'' if len(labels) == 1 else 's'} {listed(labels)}"


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
    made = {"code": "release", "words": "Let go", "method": "release", "order": order, "proposed": last["proposed"]}
    return [made | nothing]
