"""The estimate of preload of a tightening sheet in words: each torque stage with its spread, what was assumed for it,
what to mind. Made anew each time, for the desk; nothing is ever judged by it."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from witnessmark.trade.ground.amounts import exact_text
from witnessmark.trade.ground.errors import Fault, Refusal
from witnessmark.trade.ground.exact import round_down, round_up, significant
from witnessmark.trade.ground.sentences import say
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

MAKER_FIRST = say("trade.tightening.estimate.maker_first")
NO_LIMIT = say("trade.tightening.estimate.no_limit")
STRETCH = say("trade.tightening.estimate.stretch")
ANGLE = say("trade.tightening.estimate.angle")
WHOLE = say("trade.tightening.estimate.whole")
WRENCH = say("trade.tightening.estimate.wrench")
STRESS_AREA = say("trade.tightening.estimate.stress_area")


def of_sheet(sheet: Mapping[str, Any]) -> dict[str, Any]:
    """The estimate of a sound sheet, as plain data in words:

        {"thread": "M10 × 1.5", "unknown": "",           why there is none; all else is then empty
         "sizes": [{"words", "value"}], "loads": [{"words", "value"}],      of the thread, and of its property class
         "stages": [{"code", "words", "target", "advance",                  advance of a nut that spins freely, or ""
                     "short": line | None, "long": line | None}],           torque stages alone have both
         "assumptions": [sentences], "cautions": [sentences]}

    A line is {"usual", "low", "high", "share", "by"}: forces, the share of the proof load or "", the friction.
    """
    estimate_of_sheet: dict[str, Any] = {
        "thread": "",
        "unknown": "",
        "sizes": [],
        "loads": [],
        "stages": [],
        "assumptions": [],
    }
    try:
        of = thread(sheet["thread"]["size"], sheet["thread"]["pitch"])
        friction = friction_of(sheet["state"], sheet["friction"])
    except Refusal as refusal:
        return estimate_of_sheet | {"unknown": refusal.message, "cautions": []}
    strong = strength(sheet["thread"]["class"], of.diameter)
    made = _estimates(sheet, of, friction, strong)
    return estimate_of_sheet | {
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
        load = too_much(made[stage["code"]], of, strong) if stage["code"] in made else {}
        if load:
            about = {"number": index + 1, "target": _target(stage), "joint": sheet["joint"]}
            faults.append(Fault(f"stages.{index}.target", say("trade.tightening.too_much_on_sheet", **about, **load)))
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
        {"words": say("trade.tightening.estimate.nominal_diameter"), "value": _mm(of.diameter)},
        {"words": say("trade.tightening.estimate.pitch"), "value": _mm(of.pitch)},
        {"words": say("trade.tightening.estimate.pitch_diameter"), "value": _mm(of.pitch_diameter)},
        {"words": say("trade.tightening.estimate.minor_diameter"), "value": _mm(of.minor_diameter)},
        {"words": say("trade.tightening.estimate.root_diameter"), "value": _mm(of.root_diameter)},
        {"words": STRESS_AREA, "value": f"{significant(of.stress_area / MM**2, 4)} mm²"},
    ]


def _loads(of: Thread, strong: Strength | None) -> list[dict[str, str]]:
    if strong is None:
        return []
    each = (
        (say("trade.tightening.estimate.proof_load"), strong.proof),
        (say("trade.tightening.estimate.yield_load"), strong.yields),
        (say("trade.tightening.estimate.breaking_load"), strong.tensile),
    )
    return [{"words": words, "value": force_text(stress * of.stress_area, of)} for words, stress in each]


def _stage(stage: Mapping[str, Any], made: Estimate | None, of: Thread, friction: Friction) -> dict[str, Any]:
    by_angle = stage["method"] == "angle"
    return {
        "code": stage["code"],
        "words": stage["words"],
        "target": _target(stage),
        "advance": _mm(advance(of.pitch, Fraction(stage["target"]))) if by_angle else "",
        "short": _line(made.short, made.proof, of, _by_k(friction)) if made else None,
        "long": _line(made.long, made.proof, of, _rubbing(friction)) if made else None,
    }


def _line(force: Spread, proof: Fraction | None, of: Thread, by: str) -> dict[str, str]:
    share = ""
    if proof is not None:
        low, high = force.low * 100 / proof, force.high * 100 / proof
        share = say(
            "trade.tightening.estimate.share",
            usual=decimal_text(force.usual * 100 / proof, 0),
            low=str(low.numerator // low.denominator),
            high=str(-(-high.numerator // high.denominator)),
        )
    return {
        "usual": force_text(force.usual, of),
        "low": force_text(force.low, of, round_down),
        "high": force_text(force.high, of, round_up),
        "share": share,
        "by": by,
    }


def _spread(spread: Spread) -> str:
    low, high = exact_text(spread.low, 2), exact_text(spread.high, 2)
    return say("trade.tightening.estimate.spread", usual=exact_text(spread.usual, 2), low=low, high=high)


def _by_k(friction: Friction) -> str:
    return say("trade.tightening.estimate.by_k", spread=_spread(friction.k))


def _rubbing(friction: Friction) -> str:
    thread, head = _spread(friction.thread), _spread(friction.head)
    if friction.thread == friction.head:
        return say("trade.tightening.estimate.friction_alike", spread=thread)
    return say("trade.tightening.estimate.friction_apart", thread=thread, head=head)


def _k_assumed(friction: Friction) -> str:
    spread = _spread(friction.k)
    if friction.k_typed:
        return say("trade.tightening.estimate.k_typed", spread=spread, percent=exact_text(TYPED_SPREAD * 100))
    return say("trade.tightening.estimate.k_table", spread=spread, condition=CONDITIONS[friction.condition]["words"])


def _friction_assumed(friction: Friction) -> str:
    """Thread and head differ only where both were typed."""
    thread, head, percent = _spread(friction.thread), _spread(friction.head), exact_text(TYPED_SPREAD * 100)
    if friction.thread != friction.head:
        return say("trade.tightening.estimate.friction_apart_typed", thread=thread, head=head, percent=percent)
    if friction.typed:
        return say("trade.tightening.estimate.friction_alike_typed", spread=thread, percent=percent)
    condition = CONDITIONS[friction.condition]["words"]
    return say("trade.tightening.estimate.friction_alike_table", spread=thread, condition=condition)


def _assumptions(sheet: Mapping[str, Any], of: Thread, friction: Friction, strong: Strength | None) -> list[str]:
    sentences = []
    if of.coarse:
        sentences.append(say("trade.tightening.estimate.coarse", pitch=exact_text(of.pitch / MM)))
    sentences += [_k_assumed(friction), _friction_assumed(friction)]
    if of.bearing_known:
        sentences.append(say("trade.tightening.estimate.bearing_known", diameter=_mm(of.bearing)))
    else:
        sentences.append(say("trade.tightening.estimate.bearing_taken", diameter=_mm(of.bearing)))
    code = sheet["thread"]["class"].strip()
    if strong is None and code:
        sentences.append(say("trade.tightening.estimate.class_unknown", strength=code, thread=of.words))
    elif strong is None:
        sentences.append(say("trade.tightening.estimate.class_missing"))
    return [*sentences, WHOLE, WRENCH]


def _cautions(
    sheet: Mapping[str, Any], made: Mapping[str, Estimate], of: Thread, friction: Friction, strong: Strength | None
) -> list[str]:
    sentences = [MAKER_FIRST, NO_LIMIT]
    if not of.usual:
        sentences.append(say("trade.tightening.estimate.unusual_pitch", thread=of.words))
    if sheet["bolt"] == "stretch":
        sentences.append(STRETCH)
    if any(stage["method"] == "angle" for stage in sheet["stages"]):
        sentences.append(ANGLE)
    words = {stage["code"]: stage["words"] for stage in sheet["stages"]}
    for code, bolt_class in made.items():
        if strong is None or bolt_class.proof is None:
            break
        if load := too_much(bolt_class, of, strong):
            sentences.append(say("trade.tightening.too_much_in_stage", stage=words[code], **load))
        elif bolt_class.long.high >= at_yield(of, strong.yields, friction.thread.low, Fraction(1)):
            sentences.append(say("trade.tightening.estimate.reaches_yield", stage=words[code]))
        elif max(bolt_class.short.high, bolt_class.long.high) > bolt_class.proof:
            sentences.append(say("trade.tightening.estimate.passes_proof", stage=words[code]))
    return sentences
