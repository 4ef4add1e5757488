"""What the entries of a tightening are about, in words: the joint, the bolts, the departure that was answered."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from witnessmark.trade.engine.locations import place_name
from witnessmark.trade.tightening.departures import SORTS, times


def joint_name(engine_type: Mapping[str, Any] | None, joint: str) -> str:
    """The joint as its engine type calls it ("Cylinder head, bank A"), else after its fasteners ("head bolt A");
    "" for ""."""
    named = (one["name"] for one in engine_type["joints"] if one["code"] == joint) if engine_type else iter(())
    return next(named, "") or place_name(None, joint)


def joint_words(pattern: str) -> str:
    """Which fasteners a sheet is for: `head_bolt/*` are head bolts, `head_bolt/A` are head bolts A."""
    part, *indices = pattern.split("/")
    return " ".join([f"{part.replace('_', ' ')}s", *(one for one in indices if one != "*")])


def bolts_words(bolts: str, use: int) -> str:
    """What was said of the bolts when a run began."""
    if bolts == "new":
        return "Bolts new"
    if bolts == "unknown":
        return "Nobody knows how often the bolts were tightened before"
    return f"Bolts tightened {times(use)} before" if use else "Bolts used before"


def departure_words(key: str) -> str:
    """ "stage snug, fastener 3, out of order": what a key of trade/tightening/departures names."""
    parts = key.split("/")
    if len(parts) < 4 or parts[-2] not in SORTS:
        return key
    stage, label = parts[0], "/".join(parts[1:-2])
    said = [stage and f"stage {stage}", label and f"fastener {label}", SORTS[parts[-2]]]
    return ", ".join(one for one in said if one)
