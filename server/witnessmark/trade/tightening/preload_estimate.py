"""The estimate of preload of a tightening sheet in words: each torque stage with its spread, what was assumed for it,
what to mind. Made anew each time, for the desk; nothing is ever judged by it."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from witnessmark.trade.ground.amounts import exact_text
from witnessmark.trade.ground.errors import Fault, Refusal
from witnessmark.trade.ground.exact import round_down, round_up, significant
from witnessmark.trade.ground.units import decimal_text, to_si
from witnessmark.trade.tightening.preload import (
    CONDITIONS,
    TYPED_SPREAD,
    Estimate,
    Friction,
    Spread,
    advance,
    at_yield,
    estimate,
    force_text,
    friction_of,
    too_much,
)
from witnessmark.trade.tightening.threads import MM, Strength, Thread, strength, thread

MAKER_FIRST = "The maker's data comes first: a torque, an angle or a friction named there counts."
NO_LIMIT = "This is an estimate, no limit: a torque tells the preload only through friction, and friction is guessed."
STRETCH = (
    "Stretch bolts are drawn past their yield point on purpose. What they are left with is not told by a torque, and "
    "they are not used again beyond the maker's number of uses or length."
)
ANGLE = (
    "What an angle stage ends at cannot be told from the torque before it, and is not checked with a torque afterwards "
    "(common practice)."
)
WHOLE = "Each stage is counted from nothing, with the stress area of the thread: a shank necked down bears less."
WRENCH = "The deviation of the wrench comes on top."


def of_sheet(sheet: Mapping[str, Any]) -> dict[str, Any]:
    """The estimate of a sound sheet, as plain data in words:

        {"thread": "M10 × 1.5", "unknown": "",           why there is none; all else is then empty
         "sizes": [{"words", "value"}], "loads": [{"words", "value"}],      of the thread, and of its property class
         "stages": [{"code", "words", "target", "advance",                  advance of a nut that spins freely, or ""
                     "short": line | None, "long": line | None}],           torque stages alone have both
         "assumptions": [sentences], "cautions": [sentences]}

    A line is {"usual", "low", "high", "share", "by"}: forces, the share of the proof load or "", the friction.
    """
    found: dict[str, Any] = {"thread": "", "unknown": "", "sizes": [], "loads": [], "stages": [], "assumptions": []}
    try:
        of = thread(sheet["thread"]["size"], sheet["thread"]["pitch"])
        friction = friction_of(sheet["state"], sheet["friction"])
    except Refusal as refusal:
        return found | {"unknown": refusal.message, "cautions": []}
    strong = strength(sheet["thread"]["class"], of.diameter)
    made = _estimates(sheet, of, friction, strong)
    return found | {
        "thread": of.words,
        "sizes": _sizes(of),
        "loads": _loads(of, strong),
        "stages": [_stage(stage, made.get(stage["code"]), of, friction) for stage in _counted(sheet)],
        "assumptions": _assumptions(sheet, of, friction, strong),
        "cautions": _cautions(sheet, made, of, friction, strong),
    }


def beyond_thread(sheet: Mapping[str, Any]) -> list[Fault]:
    """The torque stages of a sound sheet that no friction makes bearable for its thread, none where thread or class
    are not known."""
    try:
        of = thread(sheet["thread"]["size"], sheet["thread"]["pitch"])
        friction = friction_of(sheet["state"], sheet["friction"])
    except Refusal:
        return []
    strong = strength(sheet["thread"]["class"], of.diameter)
    made = _estimates(sheet, of, friction, strong)
    faults = []
    for index, stage in enumerate(sheet["stages"]):
        reason = too_much(made[stage["code"]], of, strong) if stage["code"] in made else ""
        if reason:
            said = f"Stage {index + 1}: {_target(stage)} cannot be meant for {sheet['joint']}; {reason}. Look at both."
            faults.append(Fault(f"stages.{index}.target", said))
    return faults


def _counted(sheet: Mapping[str, Any]) -> list[dict[str, Any]]:
    return [stage for stage in sheet["stages"] if stage["method"] != "release" and Fraction(stage["target"] or 0) > 0]


def _estimates(
    sheet: Mapping[str, Any], of: Thread, friction: Friction, strong: Strength | None
) -> dict[str, Estimate]:
    return {
        stage["code"]: estimate(to_si(Fraction(stage["target"]), stage["unit"]), of, friction, strong)
        for stage in _counted(sheet)
        if stage["method"] == "torque"
    }


def _target(stage: Mapping[str, Any]) -> str:
    return f"{stage['target']} {stage['unit']}"


def _mm(length: Fraction) -> str:
    return f"{decimal_text(length / MM, 3)} mm"


def _sizes(of: Thread) -> list[dict[str, str]]:
    return [
        {"words": "nominal diameter", "value": _mm(of.diameter)},
        {"words": "pitch", "value": _mm(of.pitch)},
        {"words": "pitch diameter d2", "value": _mm(of.pitch_diameter)},
        {"words": "minor diameter d1", "value": _mm(of.minor_diameter)},
        {"words": "root diameter d3", "value": _mm(of.root_diameter)},
        {"words": "stress area", "value": f"{significant(of.stress_area / MM**2, 4)} mm²"},
    ]


def _loads(of: Thread, strong: Strength | None) -> list[dict[str, str]]:
    if strong is None:
        return []
    each = (("proof load", strong.proof), ("load at the yield point", strong.yields), ("breaking load", strong.tensile))
    return [{"words": words, "value": force_text(stress * of.stress_area, of)} for words, stress in each]


def _stage(stage: Mapping[str, Any], made: Estimate | None, of: Thread, friction: Friction) -> dict[str, Any]:
    by_angle = stage["method"] == "angle"
    return {
        "code": stage["code"],
        "words": stage["words"],
        "target": _target(stage),
        "advance": _mm(advance(of.pitch, Fraction(stage["target"]))) if by_angle else "",
        "short": _line(made.short, made.proof, of, f"K {_spread(friction.k)}") if made else None,
        "long": _line(made.long, made.proof, of, _rubbing(friction)) if made else None,
    }


def _line(force: Spread, proof: Fraction | None, of: Thread, by: str) -> dict[str, str]:
    share = ""
    if proof is not None:
        low, high = force.low * 100 / proof, force.high * 100 / proof
        ends = f"{low.numerator // low.denominator} to {-(-high.numerator // high.denominator)}"
        share = f"{decimal_text(force.usual * 100 / proof, 0)} % of the proof load, from {ends} %"
    return {
        "usual": force_text(force.usual, of),
        "low": force_text(force.low, of, round_down),
        "high": force_text(force.high, of, round_up),
        "share": share,
        "by": by,
    }


def _spread(one: Spread) -> str:
    return f"{exact_text(one.usual, 2)}, from {exact_text(one.low, 2)} to {exact_text(one.high, 2)}"


def _rubbing(friction: Friction) -> str:
    if friction.thread == friction.head:
        return f"friction {_spread(friction.thread)}, in the thread and under the head"
    return f"friction {_spread(friction.thread)}, in the thread; {_spread(friction.head)}, under the head"


def _assumptions(sheet: Mapping[str, Any], of: Thread, friction: Friction, strong: Strength | None) -> list[str]:
    condition = f"for a thread that is {CONDITIONS[friction.condition]['words']}"
    typed = f"as typed, give or take {exact_text(TYPED_SPREAD * 100)} %"
    said = []
    if of.coarse:
        said.append(f"The pitch was not given: the coarse one, {exact_text(of.pitch / MM)} mm, is taken.")
    source = typed if friction.k_typed else f"{condition}, Shigley, table 8-15"
    said.append(f"Torque coefficient K {_spread(friction.k)}: {source}.")
    source = typed if friction.typed else f"{condition}, classes of VDI 2230, from memory"
    rubbing = _rubbing(friction)
    said.append(f"{rubbing[0].upper()}{rubbing[1:]}: {source}.")
    face = "a hexagon head on its usual hole" if of.bearing_known else "taken as 1.25 nominal diameters"
    said.append(f"Mean diameter of the face under the head {_mm(of.bearing)}: {face}.")
    if strong is None:
        code = sheet["thread"]["class"].strip()
        reason = f"Class {code} is not known here for {of.words}" if code else "No property class is given"
        said.append(f"{reason}, so there is no share of a proof load.")
    return [*said, WHOLE, WRENCH]


def _cautions(
    sheet: Mapping[str, Any], made: Mapping[str, Estimate], of: Thread, friction: Friction, strong: Strength | None
) -> list[str]:
    said = [MAKER_FIRST, NO_LIMIT]
    if not of.usual:
        said.append(f"{of.words} is no usual pitch of that size. Look at the thread.")
    if sheet["bolt"] == "stretch":
        said.append(STRETCH)
    if any(stage["method"] == "angle" for stage in sheet["stages"]):
        said.append(ANGLE)
    words = {stage["code"]: stage["words"] for stage in sheet["stages"]}
    for code, one in made.items():
        if strong is None or one.proof is None:
            break
        if reason := too_much(one, of, strong):
            said.append(f"{words[code]}: {reason}.")
        elif one.long.high >= at_yield(of, strong.yields, friction.thread.low, Fraction(1)):
            said.append(f"{words[code]}: with the least friction, pull and twist together reach the yield point.")
        elif max(one.short.high, one.long.high) > one.proof:
            said.append(f"{words[code]}: with the least friction, the preload passes the proof load.")
    return said
