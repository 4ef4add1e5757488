"""The machining step for all bores or journals of a sheet, put into words."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from witnessmark.trade.ground.sentences import say
from witnessmark.trade.proposals.machining import Machining, Tried, machine
from witnessmark.trade.proposals.parts import Amount, Proposal, SheetQuery, given, proposal

BORES, JOURNALS = ("bore", "housing"), ("journal", "pin")
FORMULA = {
    True: say("trade.proposals.bore_formula"),
    False: say("trade.proposals.journal_formula"),
}
CAUTIONS = {
    True: (
        say("trade.proposals.piston_first"),
        say("trade.proposals.largest_oversize"),
        say("trade.proposals.step_label"),
    ),
    False: (
        say("trade.proposals.shells_first"),
        say("trade.proposals.smallest_undersize"),
        say("trade.proposals.step_label"),
    ),
}
NO_STOCK = say("trade.proposals.no_stock")


@dataclass(frozen=True)
class Worst:
    """The reading of one place that asks for most."""

    place: dict[str, Any]
    reading: str
    amount: Amount


def proposals(query: SheetQuery) -> list[Proposal]:
    """One proposal for each nominal size that has steps: all places with that size are cut to one step. Only from what
    was found: a part just machined is at its size."""
    drawing = query.sheet["drawing"]
    if query.sheet["state"] != "as_found" or drawing not in (*BORES, *JOURNALS):
        return []
    groups: dict[str, list[dict[str, Any]]] = {}
    for place in query.sheet["places"]:
        nominal, steps = query.single("nominal", place["place"]), _steps(query, place["place"])
        if nominal and steps:
            groups.setdefault("|".join(size.text for size in (nominal, *steps)), []).append(place)
    made = [_proposal(query, places, drawing in BORES) for places in groups.values()]
    return [proposal for proposal in made if proposal]


def _proposal(query: SheetQuery, places: list[dict[str, Any]], bores: bool) -> Proposal | None:
    worst = [worst_bore for place in places if (worst_bore := _worst(query, place, bores))]
    if not worst:
        return None
    there = places[0]["place"]
    nominal, steps, stock = query.single("nominal", there), _steps(query, there), query.single("stock", there)
    if stock and stock.si < 0:
        stock = None
    pistons = query.size("pistons", there) if bores else []
    if nominal is None:
        return None
    made = machine(
        [bore.amount.si for bore in worst],
        nominal.si,
        [step.si for step in steps],
        stock.si if stock else nominal.si * 0,
        bores=bores,
        listed=[piston.si for piston in pistons] if pistons else None,
    )
    forced = worst[made.forced_by]
    missing = [place for place in places if not place["done"]]
    filled = {"sheet": query.sheet["name"], "outcome": _outcome(made, steps, nominal, bores)}
    so_far = missing and made.chosen
    return proposal(
        "machining",
        say("trade.proposals.machining_title_so_far", **filled)
        if so_far
        else say("trade.proposals.machining_title", **filled),
        _lines(made, steps, nominal, forced, missing),
        FORMULA[bores],
        inputs=[
            *given(say("trade.proposals.nominal_size"), [nominal]),
            *given(say("trade.proposals.steps"), steps),
            *(given(say("trade.proposals.stock"), [stock]) if stock else []),
            *given(say("trade.proposals.piston_oversizes"), pistons),
            {
                "name": say("trade.proposals.largest_reading") if bores else say("trade.proposals.smallest_reading"),
                "value": forced.amount.text,
                "source": _at(forced),
            },
        ],
        cautions=[*([] if stock else [NO_STOCK]), *CAUTIONS[bores]],
        forced_by={"place": forced.place["place"], "reading": forced.reading, "value": forced.amount.text},
    )


def _steps(query: SheetQuery, place: str) -> list[Amount]:
    """The steps that are steps: a 0 for the standard size, as some lists have it, is none."""
    return [step for step in query.size("steps", place) if step.si > 0]


def _worst(query: SheetQuery, place: dict[str, Any], bores: bool) -> Worst | None:
    """From the figure, which is corrected to 20 °C; from the bare readings where there is none, or not yet: one bad
    reading asks for its step before the others are taken."""
    figure = query.made_by("largest" if bores else "smallest")
    amount = query.figure(place, figure)
    if amount:
        from_ = next(figure_line["from"] for figure_line in place["figures"] if figure_line["code"] == figure)
        return Worst(place, query.words(from_[0]) if len(from_) == 1 else "", amount)
    read = [(code, value) for code in query.of_the_size() if (value := query.reading(place, code))]
    if not read:
        return None
    pick = max if bores else min
    code, extreme = pick(read, key=lambda pair: pair[1].si)
    return Worst(place, query.words(code), extreme)


def _outcome(made: Machining, steps: list[Amount], nominal: Amount, bores: bool) -> str:
    if made.chosen is None:
        return say("trade.proposals.no_oversize_left") if bores else say("trade.proposals.no_undersize_left")
    step, target = _step(made.chosen, steps), nominal.say(made.chosen.target)
    if bores:
        return say("trade.proposals.oversize", step=step, target=target)
    return say("trade.proposals.undersize", step=step, target=target)


def _lines(
    made: Machining, steps: list[Amount], nominal: Amount, forced: Worst, missing: list[dict[str, Any]]
) -> list[str]:
    lines: list[str] = [say("trade.proposals.forced_by", reading=_at(forced), value=forced.amount.text)]
    for attempt in made.tried:
        step = _step(attempt, steps)
        if attempt.short > 0:
            lines.append(say("trade.proposals.not_clean", step=step, missing=nominal.say(attempt.short)))
        elif not attempt.listed:
            lines.append(say("trade.proposals.not_listed", step=step))
        else:
            left = abs(attempt.target - forced.amount.si)
            lines.append(say("trade.proposals.cleans_up", step=step, left=nominal.say(left)))
    if missing:
        names = ", ".join(place["name"] for place in missing)
        lines.append(say("trade.proposals.not_all_measured", places=names))
    return lines


def _step(tried: Tried, steps: list[Amount]) -> str:
    return next(step.text for step in steps if step.si == tried.step)


def _at(worst: Worst) -> str:
    if not worst.reading:
        return worst.place["name"]
    return say("trade.proposals.reading_at", place=worst.place["name"], reading=worst.reading)
