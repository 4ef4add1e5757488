"""What a tightening sheet waits on before a run may be closed: figures measured within their limits, items ticked."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from typing import Any

from witnessmark.trade.engine.stages import item_words, stage_words
from witnessmark.trade.ground.sentences import listed, say
from witnessmark.trade.measuring import limits
from witnessmark.trade.measuring.procedure_words import subject

# Of a part that was measured in several states the last one counts.
LAST_STATES = ("built", "machined", "as_found")
# standing of a figure -> the sentence that names the places where it stands so
_AT = {
    "not_measured": "trade.tightening.not_measured_at",
    "no limit": "trade.tightening.no_limit_at",
    "outside": "trade.tightening.outside_at",
    "not proven": "trade.tightening.not_proven_at",
}


def open_holds(sheet: Mapping[str, Any], measured: Sequence[Mapping[str, Any]], ticked: Collection[str]) -> list[str]:
    """A sentence for each condition that is not yet met. `measured` are the job's measurement sheets as trade/sheets
    makes them, `ticked` the items of its checklists that are done: "build/which_way"."""
    reasons: list[str] = []
    for hold in sheet["holds"]:
        if hold["sort"] == "measured":
            reasons += _unmeasured(hold, measured)
        elif f"{hold['stage']}/{hold['item']}" not in ticked:
            words = item_words(hold["stage"], hold["item"])
            reasons.append(say("trade.tightening.not_ticked", stage=stage_words(hold["stage"]), item=words))
    return reasons


def _unmeasured(hold: Mapping[str, Any], measured: Sequence[Mapping[str, Any]]) -> list[str]:
    about = subject(hold, "figures", "figure")
    places = _places(hold, measured)
    if not any(figure for _, figure in places.values()):
        return [say("trade.tightening.not_measured", figure=about)]
    stands: dict[str, list[str]] = {}
    for name, figure in places.values():
        stands.setdefault(_standing(figure), []).append(name)
    return [say(_AT[how], figure=about, places=listed(stands[how])) for how in _AT if how in stands]


def _places(
    hold: Mapping[str, Any], measured: Sequence[Mapping[str, Any]]
) -> dict[str, tuple[str, Mapping[str, Any] | None]]:
    """Place -> its name, and the figure in the last state that it has a value in."""
    places: dict[str, tuple[str, Mapping[str, Any] | None]] = {}
    for state in LAST_STATES:
        for sheet in measured:
            if sheet["procedure"] != hold["procedure"] or sheet["state"] != state:
                continue
            for row in sheet["places"]:
                if not limits.covers(hold["where"], row["place"]):
                    continue
                known = places.get(row["place"], (row["name"], None))[1]
                had = (
                    figure
                    for figure in row["figures"]
                    if figure["code"] == hold["figure"] and figure["value"] is not None
                )
                places[row["place"]] = (row["name"], known or next(had, None))
    return places


def _standing(figure: Mapping[str, Any] | None) -> str:
    if figure is None:
        return "not_measured"
    standings = [verdict["standing"] for verdict in figure["now"]]
    if not standings:
        return "no limit"
    return next((how for how in ("outside", "not proven") if how in standings), "within")
