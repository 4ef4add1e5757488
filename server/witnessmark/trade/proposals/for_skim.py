"""What a planned skim does to the compression ratio, and the gasket that makes it good, in words."""

from __future__ import annotations

from witnessmark.trade.ground.amounts import MOST_PLACES
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.ground.units import decimal_text, from_si
from witnessmark.trade.proposals.parts import Proposal, SheetQuery, given, proposal
from witnessmark.trade.proposals.ratio import ASSUMED, FORMULA, gasket_for

CAUTIONS = (
    ASSUMED,
    say("trade.proposals.least_height"),
    say("trade.proposals.skim_valves"),
)
SIZES = (
    ("stroke", say("trade.proposals.stroke")),
    ("gasket_bore", say("trade.proposals.gasket_bore")),
    ("gasket_thickness", say("trade.proposals.gasket_thickness")),
)


def proposals(query: SheetQuery) -> list[Proposal]:
    """One proposal for all chambers with a planned skim. Ratios are the figures of the sheet."""
    lines, inputs = [], []
    for place in query.sheet["places"]:
        skim, bore = query.reading(place, "skim"), query.reading(place, "bore")
        before, after = query.figure(place, "ratio"), query.figure(place, "ratio_after")
        if not skim or not before or not after:
            continue
        now, then = decimal_text(before.si, 2), decimal_text(after.si, 2)
        filled = {"place": place["name"], "now": now, "then": then, "skim": skim.text}
        line = say("trade.proposals.ratio_line", **filled)
        gasket = query.single("gasket_bore", place["place"])
        if bore and gasket and gasket.si > 0:
            thicker = from_si(gasket_for(skim.si, bore.si, gasket.si), skim.unit)
            shown = decimal_text(thicker, min(skim.places + 1, MOST_PLACES))
            line = say("trade.proposals.ratio_line_gasket", thicker=f"{shown} {skim.unit}", **filled)
        lines.append(line)
        inputs += given(say("trade.proposals.skim", place=place["name"]), [skim])
    if not lines:
        return []
    for code, name in SIZES:
        inputs += given(name, query.size(code))
    title = say("trade.proposals.ratio_title", sheet=query.sheet["name"])
    return [proposal("ratio", title, lines, FORMULA, inputs=inputs, cautions=list(CAUTIONS))]
