"""What a measured interference asks for: how warm the outer part must be before it is as wide as the inner one."""

from __future__ import annotations

from fractions import Fraction
from math import ceil
from typing import Any

from witnessmark.trade.measuring.uncertainty import expansion
from witnessmark.trade.proposals.parts import Amount, Asked, Proposal, given, proposal
from witnessmark.trade.proposals.press_fit import HEAT_FORMULA, heat_cautions, heat_for_slip

NO_MATERIAL = "The material of the outer part is not stated for this engine type, so no temperature is given."
AT_20, AS_READ = "as at 20 °C", "as read"
SLIP = "At that temperature there is no slip yet: add the slip you want and the way to the press on the sheet Fits."


def proposals(asked: Asked) -> list[Proposal]:
    """One proposal for all places where the inner part is larger than its hole."""
    lines, inputs, hottest = [], [], Fraction(20)
    alpha = expansion(asked.text("material"))
    for place in asked.sheet["places"]:
        hole, shaft = asked.reading(place, "hole"), asked.reading(place, "shaft")
        if not hole or not shaft or hole.si <= 0:
            continue
        figure = _at_reference(asked, place)
        over = figure.si if figure else shaft.si - hole.si
        if over <= 0:
            continue
        said = figure.say(over) if figure else hole.say(over)
        line = f"{place['name']}: {said} of interference, {AT_20 if figure else AS_READ}."
        if alpha:
            warm = heat_for_slip(hole.si, over, Fraction(0), alpha)
            hottest = max(hottest, warm)
            outer, inner = asked.words("hole"), asked.words("shaft")
            line += f" From {ceil(warm)} °C on the {outer} is as wide as the {inner} at 20 °C."
        lines.append(line)
        inputs += given(f"{asked.words('hole')}, {place['name']}", [hole])
        inputs += given(f"{asked.words('shaft')}, {place['name']}", [shaft])
        if figure:
            inputs += given(f"interference {AT_20}, {place['name']}", [figure])
    if not lines:
        return []
    lines.append(SLIP if alpha else NO_MATERIAL)
    title = f"{asked.sheet['name']}: interference"
    return [proposal("fit", title, lines, HEAT_FORMULA, inputs=inputs, cautions=heat_cautions(hottest))]


def _at_reference(asked: Asked, place: dict[str, Any]) -> Amount | None:
    """The interference that the sheet shows as at 20 °C; None where its figure stands as read."""
    for code, sign in (("interference", 1), ("clearance", -1)):
        if any(one["code"] == code and one["corrected"] for one in place["figures"]):
            found = asked.figure(place, code)
            if found:
                return Amount(found.si * sign, found.unit, found.places, "the sheet's figure")
    return None
