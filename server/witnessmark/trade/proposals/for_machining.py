"""The machining step for all bores or journals of a sheet, put into words."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from witnessmark.trade.proposals.machining import Machining, Tried, machine
from witnessmark.trade.proposals.parts import Amount, Asked, Proposal, given, proposal

BORES, JOURNALS = ("bore", "housing"), ("journal", "pin")
FORMULA = {
    True: "target = nominal + step; a step cleans up when target - stock is no less than the largest reading",
    False: "target = nominal - step; a step cleans up when target + stock is no more than the smallest reading",
}
CAUTIONS = {
    True: (
        "Measure the piston first: bore and hone to the piston that is there, with its maker's running clearance.",
        "The maker's largest oversize and the wall that is left count before any step.",
        "A step is what its label says: 0.25 mm is not 10 thou.",
    ),
    False: (
        "Measure the shells first: grind to the bearing that is there, with its maker's clearance.",
        "Fillets, hardening and the maker's smallest undersize count before any step.",
        "A step is what its label says: 0.25 mm is not 10 thou.",
    ),
}
NO_STOCK = "No stock to leave is set for this engine type: nothing was allowed for."


@dataclass(frozen=True)
class Worst:
    """The reading of one place that asks for most."""

    place: dict[str, Any]
    reading: str
    amount: Amount


def proposals(asked: Asked) -> list[Proposal]:
    """One proposal for each nominal size that has steps: all places with that size are cut to one step. Only from what
    was found: a part just machined is at its size."""
    drawing = asked.sheet["drawing"]
    if asked.sheet["state"] != "as_found" or drawing not in (*BORES, *JOURNALS):
        return []
    groups: dict[str, list[dict[str, Any]]] = {}
    for place in asked.sheet["places"]:
        nominal, steps = asked.single("nominal", place["place"]), _steps(asked, place["place"])
        if nominal and steps:
            groups.setdefault("|".join(one.text for one in (nominal, *steps)), []).append(place)
    made = [_proposal(asked, places, drawing in BORES) for places in groups.values()]
    return [one for one in made if one]


def _proposal(asked: Asked, places: list[dict[str, Any]], bores: bool) -> Proposal | None:
    worst = [one for place in places if (one := _worst(asked, place, bores))]
    if not worst:
        return None
    there = places[0]["place"]
    nominal, steps, stock = asked.single("nominal", there), _steps(asked, there), asked.single("stock", there)
    if stock and stock.si < 0:
        stock = None
    pistons = asked.size("pistons", there) if bores else []
    if nominal is None:
        return None
    made = machine(
        [one.amount.si for one in worst],
        nominal.si,
        [one.si for one in steps],
        stock.si if stock else nominal.si * 0,
        bores=bores,
        listed=[one.si for one in pistons] if pistons else None,
    )
    forced = worst[made.forced_by]
    missing = [one for one in places if not one["done"]]
    so_far = ", as far as measured" if missing and made.chosen else ""
    return proposal(
        "machining",
        f"{asked.sheet['name']}, if machined: {_outcome(made, steps, nominal, bores)}{so_far}",
        _lines(made, steps, nominal, forced, missing),
        FORMULA[bores],
        inputs=[
            *given("nominal size", [nominal]),
            *given("steps", steps),
            *(given("stock to leave on the diameter", [stock]) if stock else []),
            *given("piston oversizes that can be had", pistons),
            {
                "name": f"{'largest' if bores else 'smallest'} reading",
                "value": forced.amount.text,
                "source": f"{forced.place['name']}{_comma(forced.reading)}",
            },
        ],
        cautions=[*([] if stock else [NO_STOCK]), *CAUTIONS[bores]],
        forced_by={"place": forced.place["place"], "reading": forced.reading, "value": forced.amount.text},
    )


def _steps(asked: Asked, place: str) -> list[Amount]:
    """The steps that are steps: a 0 for the standard size, as some lists have it, is none."""
    return [one for one in asked.size("steps", place) if one.si > 0]


def _worst(asked: Asked, place: dict[str, Any], bores: bool) -> Worst | None:
    """From the figure, which is corrected to 20 °C; from the bare readings where there is none, or not yet: one bad
    reading asks for its step before the others are taken."""
    figure = asked.made_by("largest" if bores else "smallest")
    amount = asked.figure(place, figure)
    if amount:
        from_ = next(one["from"] for one in place["figures"] if one["code"] == figure)
        return Worst(place, asked.words(from_[0]) if len(from_) == 1 else "", amount)
    read = [(code, one) for code in asked.of_the_size() if (one := asked.reading(place, code))]
    if not read:
        return None
    pick = max if bores else min
    code, found = pick(read, key=lambda pair: pair[1].si)
    return Worst(place, asked.words(code), found)


def _outcome(made: Machining, steps: list[Amount], nominal: Amount, bores: bool) -> str:
    if made.chosen is None:
        return "no step left: sleeve or replace" if bores else "no step left: replace or refer"
    step = _step(made.chosen, steps)
    return f"{'oversize' if bores else 'undersize'} {step}, target {nominal.say(made.chosen.target)}"


def _lines(
    made: Machining, steps: list[Amount], nominal: Amount, forced: Worst, missing: list[dict[str, Any]]
) -> list[str]:
    said = [f"Forced by {forced.place['name']}{_comma(forced.reading)}: {forced.amount.text}."]
    for one in made.tried:
        step = _step(one, steps)
        if one.short > 0:
            said.append(f"{step} does not clean up: {nominal.say(one.short)} is missing.")
        elif not one.listed:
            said.append(f"{step} would clean up, but no piston of this step is listed: passed over.")
        else:
            left = abs(one.target - forced.amount.si)
            said.append(f"{step} cleans up: {nominal.say(left)} is left to cut there, on the diameter.")
    if missing:
        names = ", ".join(one["name"] for one in missing)
        said.append(f"Not measured in full: {names}. A worse reading there can ask for more.")
    return said


def _step(tried: Tried, steps: list[Amount]) -> str:
    return next(one.text for one in steps if one.si == tried.step)


def _comma(words: str) -> str:
    return f", {words}" if words else ""
