"""Shims in words: for valve clearances, and under rocker mountings for the preload of hydraulic tappets."""

from __future__ import annotations

from typing import Any

from witnessmark.trade.ground.sentences import say
from witnessmark.trade.proposals.parts import Amount, Proposal, SheetQuery, given, proposal
from witnessmark.trade.proposals.shims import FORMULA, Shim, Valve, shims

CAUTIONS = (
    say("trade.proposals.measure_shims"),
    say("trade.proposals.turn_engine"),
)
PRELOAD_FORMULA = say("trade.proposals.preload_formula")
PRELOAD_CAUTIONS = (say("trade.proposals.leak_down"),)


def proposals(query: SheetQuery) -> list[Proposal]:
    """One proposal for all valves: which shim stays, which moves over from another valve, where a new one is due."""
    found: dict[str, tuple[dict[str, Any], Amount, Amount]] = {}
    valves = []
    for place in query.sheet["places"]:
        gap, shim = query.reading(place, "gap"), query.reading(place, "shim")
        target = query.single("target", place["place"])
        if gap and shim and target:
            found[place["place"]] = (place, gap, shim)
            valves.append(Valve(place["place"], gap.si, shim.si, target.si))
    thicknesses = query.size("set")
    if not valves or not thicknesses:
        return []
    made = shims(valves, [thickness.si for thickness in thicknesses])
    new = sum(one.source == "new" for one in made)
    swapped = sum(one.source not in ("new", "stays") for one in made)
    targets = {one.text: one for valve in valves if (one := query.single("target", valve.place))}
    return [
        proposal(
            "shim",
            say(
                "trade.proposals.shims_title",
                sheet=query.sheet["name"],
                new=new,
                moved=swapped,
                staying=len(made) - new - swapped,
            ),
            [_line(one, found) for one in made],
            FORMULA,
            inputs=[
                *given(say("trade.proposals.gap_wanted"), list(targets.values())),
                *given(say("trade.proposals.shims_available"), thicknesses),
                *(line for _place, gap, shim in found.values() for line in _read(_place, gap, shim)),
            ],
            cautions=list(CAUTIONS),
        )
    ]


def _read(place: dict[str, Any], gap: Amount, shim: Amount) -> list[dict[str, str]]:
    value = say("trade.proposals.gap_and_shim", gap=gap.text, shim=shim.text)
    return [{"name": place["name"], "value": value, "source": gap.source}]


def _line(one: Shim, found: dict[str, tuple[dict[str, Any], Amount, Amount]]) -> str:
    place, gap, shim = found[one.place]
    filled = {"place": place["name"], "shim": shim.say(one.chosen), "gap": gap.say(one.gap)}
    if not one.reached:
        filled["wanted"] = shim.say(one.wanted)
    if one.source == "stays":
        filled["shim"] = shim.text
        key = "trade.proposals.shim_stays" if one.reached else "trade.proposals.shim_stays_short"
    elif one.source == "new":
        key = "trade.proposals.shim_new" if one.reached else "trade.proposals.shim_new_short"
    else:
        filled["other"] = found[one.source][0]["name"]
        key = "trade.proposals.shim_from" if one.reached else "trade.proposals.shim_from_short"
    return say(key, **filled)


def preload(query: SheetQuery) -> list[Proposal]:
    """Shims under the rocker mountings, from the figures of the procedure for tappet preload."""
    if query.sheet["procedure"] != "tappet_preload":
        return []
    read = [(place, one) for place in query.sheet["places"] if (one := query.figure(place, "shim"))]
    if not read:
        return []
    lines = []
    for place, one in read:
        if one.si == 0:
            lines.append(say("trade.proposals.nothing_to_change", place=place["name"]))
        elif one.si > 0:
            lines.append(say("trade.proposals.add_shim", place=place["name"], thickness=one.text))
        else:
            lines.append(say("trade.proposals.take_off", place=place["name"], thickness=one.say(-one.si)))
    target, lever = query.single("target"), query.single("lever")
    inputs = [
        *given(say("trade.proposals.preload_wanted"), [target] if target else []),
        *given(say("trade.proposals.lever"), [lever] if lever else []),
    ]
    title = say("trade.proposals.preload_title", sheet=query.sheet["name"])
    return [proposal("preload", title, lines, PRELOAD_FORMULA, inputs=inputs, cautions=list(PRELOAD_CAUTIONS))]
