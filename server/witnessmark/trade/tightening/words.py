"""What the entries of a tightening are about, in words: the joint, the bolts, the departure that was answered."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from witnessmark.trade.engine.locations import place_name
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.tightening.departures import SORTS, times

FASTENERS = {
    "head_bolt": say("trade.tightening.joints.head_bolt"),
    "main_bolt": say("trade.tightening.joints.main_bolt"),
    "rod_bolt": say("trade.tightening.joints.rod_bolt"),
    "case_bolt": say("trade.tightening.joints.case_bolt"),
    "flywheel_bolt": say("trade.tightening.joints.flywheel_bolt"),
    "manifold_nut": say("trade.tightening.joints.manifold_nut"),
    "sump_bolt": say("trade.tightening.joints.sump_bolt"),
}


def joint_name(engine_type: Mapping[str, Any] | None, joint: str) -> str:
    """The joint as its engine type calls it ("Cylinder head, bank A"), else after its fasteners ("head bolt A");
    "" for ""."""
    named = (
        (named_joint["name"] for named_joint in engine_type["joints"] if named_joint["code"] == joint)
        if engine_type
        else iter(())
    )
    return next(named, "") or place_name(None, joint)


def joint_words(pattern: str) -> str:
    """Which fasteners a sheet is for: `head_bolt/*` are head bolts, `head_bolt/A` are head bolts A."""
    part, *indices = pattern.split("/")
    fasteners, at = FASTENERS.get(part, part), " ".join(indice for indice in indices if indice != "*")
    return say("trade.tightening.joints_at", fasteners=fasteners, at=at) if at else fasteners


def bolts_words(bolts: str, use: int) -> str:
    """What was said of the bolts when a run began."""
    if bolts == "new":
        return say("trade.tightening.bolts_new")
    if bolts == "unknown":
        return say("trade.tightening.bolts_unknown")
    if use:
        return say("trade.tightening.bolts_times", times=times(use))
    return say("trade.tightening.bolts_used")


def departure_words(key: str) -> str:
    """ "stage snug, fastener 3, out of order": what a key of trade/tightening/departures names."""
    parts = key.split("/")
    if len(parts) < 4 or parts[-2] not in SORTS:
        return key
    stage, label, sort = parts[0], "/".join(parts[1:-2]), SORTS[parts[-2]]
    if stage and label:
        return say("trade.tightening.departure.fastener_of_stage", stage=stage, fastener=label, sort=sort)
    if stage:
        return say("trade.tightening.departure.stage", stage=stage, sort=sort)
    return say("trade.tightening.departure.fastener", fastener=label, sort=sort) if label else sort
