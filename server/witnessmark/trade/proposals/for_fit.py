"""What a measured interference asks for: how warm the outer part must be before it is as wide as the inner one."""

from __future__ import annotations

from fractions import Fraction
from math import ceil
from typing import Any

from witnessmark.trade.ground.sentences import say
from witnessmark.trade.measuring.uncertainty import expansion
from witnessmark.trade.proposals.parts import Amount, Proposal, SheetQuery, given, proposal
from witnessmark.trade.proposals.press_fit import HEAT_FORMULA, heat_cautions, heat_for_slip


def proposals(query: SheetQuery) -> list[Proposal]:
    """One proposal for all places where the inner part is larger than its hole."""
    lines, inputs, hottest = [], [], Fraction(20)
    alpha = expansion(query.text("material"))
    for place in query.sheet["places"]:
        hole, shaft = query.reading(place, "hole"), query.reading(place, "shaft")
        if not hole or not shaft or hole.si <= 0:
            continue
        figure = _at_reference(query, place)
        over = figure.si if figure else shaft.si - hole.si
        if over <= 0:
            continue
        interference = figure.say(over) if figure else hole.say(over)
        filled: dict[str, Any] = {"place": place["name"], "interference": interference}
        if not alpha:
            line = (
                say("trade.proposals.interference_at_20", **filled)
                if figure
                else say("trade.proposals.interference_as_read", **filled)
            )
        else:
            warm = heat_for_slip(hole.si, over, Fraction(0), alpha)
            hottest = max(hottest, warm)
            filled |= {"temperature": ceil(warm), "outer": query.words("hole"), "inner": query.words("shaft")}
            line = (
                say("trade.proposals.interference_heat_at_20", **filled)
                if figure
                else say("trade.proposals.interference_heat_as_read", **filled)
            )
        lines.append(line)
        inputs += given(say("trade.proposals.at_place", what=query.words("hole"), place=place["name"]), [hole])
        inputs += given(say("trade.proposals.at_place", what=query.words("shaft"), place=place["name"]), [shaft])
        if figure:
            inputs += given(say("trade.proposals.input_interference", place=place["name"]), [figure])
    if not lines:
        return []
    lines.append(say("trade.proposals.slip") if alpha else say("trade.proposals.no_material"))
    title = say("trade.proposals.fit_title", sheet=query.sheet["name"])
    return [proposal("fit", title, lines, HEAT_FORMULA, inputs=inputs, cautions=heat_cautions(hottest))]


def _at_reference(query: SheetQuery, place: dict[str, Any]) -> Amount | None:
    """The interference that the sheet shows as at 20 °C; None where its figure stands as read."""
    for code, sign in (("interference", 1), ("clearance", -1)):
        if any(figure["code"] == code and figure["corrected"] for figure in place["figures"]):
            figure = query.figure(place, code)
            if figure:
                return Amount(figure.si * sign, figure.unit, figure.places, say("trade.proposals.sheets_figure"))
    return None
