"""Shims in words: for valve clearances, and under rocker mountings for the preload of hydraulic tappets."""

from __future__ import annotations

from typing import Any

from witnessmark.trade.proposals.parts import Amount, Asked, Proposal, given, proposal
from witnessmark.trade.proposals.shims import FORMULA, Shim, Valve, shims

CAUTIONS = (
    "Measure each shim: its number may be worn off or wrong.",
    "Turn the engine by the crankshaft until the lobe points away, then measure again with the new shims in.",
)
PRELOAD_FORMULA = "shim = (preload - target) x lever factor of the rocker mounting"
PRELOAD_CAUTIONS = ("Let the tappets leak down before turning the engine, or a valve can meet a piston.",)


def proposals(asked: Asked) -> list[Proposal]:
    """One proposal for all valves: which shim stays, which moves over from another valve, where a new one is due."""
    found: dict[str, tuple[dict[str, Any], Amount, Amount]] = {}
    valves = []
    for place in asked.sheet["places"]:
        gap, shim = asked.reading(place, "gap"), asked.reading(place, "shim")
        target = asked.single("target", place["place"])
        if gap and shim and target:
            found[place["place"]] = (place, gap, shim)
            valves.append(Valve(place["place"], gap.si, shim.si, target.si))
    thicknesses = asked.size("set")
    if not valves or not thicknesses:
        return []
    made = shims(valves, [one.si for one in thicknesses])
    new = sum(one.source == "new" for one in made)
    swapped = sum(one.source not in ("new", "stays") for one in made)
    targets = {one.text: one for valve in valves if (one := asked.single("target", valve.place))}
    return [
        proposal(
            "shim",
            f"{asked.sheet['name']}: new shims {new}, moved {swapped}, staying {len(made) - new - swapped}",
            [_line(one, found) for one in made],
            FORMULA,
            inputs=[
                *given("gap wanted", list(targets.values())),
                *given("shims that can be had", thicknesses),
                *(line for _place, gap, shim in found.values() for line in _read(_place, gap, shim)),
            ],
            cautions=list(CAUTIONS),
        )
    ]


def _read(place: dict[str, Any], gap: Amount, shim: Amount) -> list[dict[str, str]]:
    return [{"name": place["name"], "value": f"gap {gap.text}, shim {shim.text}", "source": gap.source}]


def _line(one: Shim, found: dict[str, tuple[dict[str, Any], Amount, Amount]]) -> str:
    place, gap, shim = found[one.place]
    if one.source == "stays":
        what = f"{shim.text} stays"
    elif one.source == "new":
        what = f"{shim.say(one.chosen)}, new"
    else:
        what = f"{shim.say(one.chosen)}, from {found[one.source][0]['name']}"
    short = "" if one.reached else f" The set does not reach {shim.say(one.wanted)}."
    return f"{place['name']}: {what}; gap then {gap.say(one.gap)}.{short}"


def preload(asked: Asked) -> list[Proposal]:
    """Shims under the rocker mountings, from the figures of the procedure for tappet preload."""
    if asked.sheet["procedure"] != "tappet_preload":
        return []
    read = [(place, one) for place in asked.sheet["places"] if (one := asked.figure(place, "shim"))]
    if not read:
        return []
    lines = []
    for place, one in read:
        if one.si == 0:
            lines.append(f"{place['name']}: nothing to change.")
        else:
            way = "a shim of" if one.si > 0 else "to come off"
            lines.append(f"{place['name']}: {way} {one.say(abs(one.si))}.")
    target, lever = asked.single("target"), asked.single("lever")
    inputs = [
        *given("preload wanted", [target] if target else []),
        *given("lever factor of the rocker mounting", [lever] if lever else []),
    ]
    title = f"{asked.sheet['name']}: shims under the rocker mountings"
    return [proposal("preload", title, lines, PRELOAD_FORMULA, inputs=inputs, cautions=list(PRELOAD_CAUTIONS))]
