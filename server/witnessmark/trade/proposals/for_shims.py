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
    measured: dict[str, tuple[dict[str, Any], Amount, Amount]] = {}
    valves = []
    for place in query.sheet["places"]:
        gap, shim = query.reading(place, "gap"), query.reading(place, "shim")
        target = query.single("target", place["place"])
        if gap and shim and target:
            measured[place["place"]] = (place, gap, shim)
            valves.append(Valve(place["place"], gap.si, shim.si, target.si))
    thicknesses = query.size("set")
    if not valves or not thicknesses:
        return []
    made = shims(valves, [thickness.si for thickness in thicknesses])
    new = sum(shim.source == "new" for shim in made)
    swapped = sum(shim.source not in ("new", "stays") for shim in made)
    targets = {
        target_size.text: target_size for valve in valves if (target_size := query.single("target", valve.place))
    }
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
            [_line(choice, measured) for choice in made],
            FORMULA,
            inputs=[
                *given(say("trade.proposals.gap_wanted"), list(targets.values())),
                *given(say("trade.proposals.shims_available"), thicknesses),
                *(line for _place, gap, shim in measured.values() for line in _read(_place, gap, shim)),
            ],
            cautions=list(CAUTIONS),
        )
    ]


def _read(place: dict[str, Any], gap: Amount, shim: Amount) -> list[dict[str, str]]:
    value = say("trade.proposals.gap_and_shim", gap=gap.text, shim=shim.text)
    return [{"name": place["name"], "value": value, "source": gap.source}]


def _line(choice: Shim, measured: dict[str, tuple[dict[str, Any], Amount, Amount]]) -> str:
    place, gap, shim = measured[choice.place]
    filled = {"place": place["name"], "shim": shim.say(choice.chosen), "gap": gap.say(choice.gap)}
    if not choice.reached:
        filled["wanted"] = shim.say(choice.wanted)
    if choice.source == "stays":
        filled["shim"] = shim.text
        key = "trade.proposals.shim_stays" if choice.reached else "trade.proposals.shim_stays_short"
    elif choice.source == "new":
        key = "trade.proposals.shim_new" if choice.reached else "trade.proposals.shim_new_short"
    else:
        filled["other"] = measured[choice.source][0]["name"]
        key = "trade.proposals.shim_from" if choice.reached else "trade.proposals.shim_from_short"
    return say(key, **filled)


def preload(query: SheetQuery) -> list[Proposal]:
    """Shims under the rocker mountings, from the figures of the procedure for tappet preload."""
    if query.sheet["procedure"] != "tappet_preload":
        return []
    read = [(place, shim) for place in query.sheet["places"] if (shim := query.figure(place, "shim"))]
    if not read:
        return []
    lines = []
    for place, shim in read:
        if shim.si == 0:
            lines.append(say("trade.proposals.nothing_to_change", place=place["name"]))
        elif shim.si > 0:
            lines.append(say("trade.proposals.add_shim", place=place["name"], thickness=shim.text))
        else:
            lines.append(say("trade.proposals.take_off", place=place["name"], thickness=shim.say(-shim.si)))
    target, lever = query.single("target"), query.single("lever")
    inputs = [
        *given(say("trade.proposals.preload_wanted"), [target] if target else []),
        *given(say("trade.proposals.lever"), [lever] if lever else []),
    ]
    title = say("trade.proposals.preload_title", sheet=query.sheet["name"])
    return [proposal("preload", title, lines, PRELOAD_FORMULA, inputs=inputs, cautions=list(PRELOAD_CAUTIONS))]
