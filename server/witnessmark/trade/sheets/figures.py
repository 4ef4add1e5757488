"""One figure of a sheet: its value, its uncertainty as a small budget, and the verdicts by what counts now and by what
counted when it was read."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Any

from witnessmark.trade.ground import units
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.measuring import limits, uncertainty
from witnessmark.trade.measuring import rules as measuring_rules
from witnessmark.trade.measuring.figures import Figure
from witnessmark.trade.measuring.known import Statement, rules_of
from witnessmark.trade.measuring.procedures import point_words
from witnessmark.trade.sheets.job import Job, PlaceResult, contributions, read_for
from witnessmark.trade.sheets.readings import SingleReading
from witnessmark.trade.sheets.verdicts import Grounds, verdict
from witnessmark.trade.sheets.words import (
    amount_text,
    expanded_text,
    ink,
    kind_of,
    share_text,
    shown_places,
    shown_unit,
    spread_text,
)

Rules = Mapping[str, Any]

# No rule of thumb but what the thing is: said whatever limits are set, since without one there is no verdict either.
STOPS = {
    ("gudgeon_pin_centring", "least_recess"): say("trade.sheets.stop_pin"),
}


def figure(
    job: Job,
    procedure: Mapping[str, Any],
    state: str,
    place: str,
    at: PlaceResult,
    figure: Figure,
    line: Mapping[str, Any],
) -> dict[str, Any]:
    """A figure as the sheet shows it. `line` is its line in the procedure."""
    rules = rules_of(job.known)
    unit = shown_unit(figure.kind, figure.unit, rules)
    places = shown_places(figure.places, figure.unit, unit)
    result: dict[str, Any] = {
        "code": figure.code,
        "words": figure.words,
        "definition": line["definition"],
        "value": None,
        "unit": unit,
        "missing": [_missing(procedure, name) for name in figure.missing],
        "from": figure.picked,
        "u": None,
        "U": None,
        "k": "",
        "dof": "",
        "budget": [],
        "unknown": [],
        "guide": _stop(procedure, figure) or _guide(at, line["guide"], unit, places),
        "corrected": "",
        "overdue": [],
        "now": [],
        "then": None,
        "draw": None,
    }
    if figure.amount is None:
        return result
    weights, made = contributions(at, figure)
    budget = uncertainty.combine(weights, made, rules)
    result["value"] = amount_text(figure.amount, unit, places)
    result["unknown"] = budget.unknown
    if budget.variance is not None:
        result["u"] = spread_text(budget.variance, unit)
        result["U"] = expanded_text(budget.variance, budget.k, unit)
        result["k"] = units.decimal_text(budget.k, 2)
        result["dof"] = uncertainty.freedom_text(budget.dof)
        result["budget"] = [
            {
                "source": uncertainty.SOURCES[part.source],
                "words": part.words,
                "u": spread_text(part.variance, unit),
                "share": share_text(part.share),
            }
            for part in budget.lines
        ]
    result["draw"] = {"value": ink(result["value"]), "U": ink(result["U"]) if result["U"] is not None else None}
    if any(uncertainty.corrected(each, rules) != uncertainty.mean(each) for each in made.values()):
        result["corrected"] = say("trade.sheets.at_20")
    read = read_for(at, figure)
    result["overdue"] = overdue_words(read)
    last = max((each.given for each in read), key=lambda given: given["id"], default=None)
    now, then = _judged_by(job, procedure, state, place, figure, last)
    register = [gauge.data for gauge in job.known.gauges.values()]
    grounds = Grounds(weights, made, budget, rules, register, last["claimed"][:10] if last else "")
    result["now"] = [verdict(limit.data, figure, unit, places, grounds) for limit in now]
    if then is not None:
        its_rules, its_limits = then
        its = budget if its_rules == rules else uncertainty.combine(weights, made, its_rules)
        grounds = replace(grounds, budget=its, rules=its_rules)
        judged = [verdict(limit.data, figure, unit, places, grounds) for limit in its_limits]
        result["then"] = judged if judged != result["now"] else None
    return result


def _missing(procedure: Mapping[str, Any], name: str) -> str:
    size = next((size["words"] for size in procedure["sizes"] if size["code"] == name), None)
    return size or point_words(dict(procedure), name)


def overdue_words(read: Sequence[SingleReading]) -> list[str]:
    """The gauges that were past their date when they gave a reading, each once: for good."""
    late = {
        say("trade.sheets.gauge_due", gauge=reading.gauge["name"], due=reading.gauge["due"]): None
        for reading in read
        if reading.overdue and reading.gauge
    }
    return sorted(late)


def _stop(procedure: Mapping[str, Any], figure: Figure) -> str:
    return STOPS.get((procedure["code"], figure.code), "") if figure.amount is not None and figure.amount <= 0 else ""


def _guide(at: PlaceResult, guide: Mapping[str, Any] | None, unit: str, places: int) -> str:
    """Common practice in words with its number, where the thing that it goes by is there. Never a limit."""
    if guide is None:
        return ""
    by = next((figure for figure in at.figures if figure.code == guide["of"]), None) or at.inputs.get(guide["of"])
    if by is None or by.amount is None or kind_of(by.unit) != kind_of(unit):
        return say("trade.sheets.guide", guide=guide["words"])
    text = amount_text(by.amount * Fraction(guide["by"]), unit, places)
    return say("trade.sheets.guide_about", guide=guide["words"], amount=f"{text} {unit}")


def _judged_by(
    job: Job, procedure: Mapping[str, Any], state: str, place: str, figure: Figure, last: Mapping[str, Any] | None
) -> tuple[list[Statement], tuple[Rules, list[Statement]] | None]:
    """The limits that count now, and rules and limits that counted when the newest reading was made; None for those
    when they are the same entries."""
    on = last["claimed"][:10] if last else ""
    code = procedure["code"]

    def here(some: Sequence[Statement]) -> list[Statement]:
        here_and_now = [limit for limit in some if _judges(limit.data, figure, place)]
        # What machining must reach at this place alone replaces what holds for all.
        return [limit for limit in here_and_now if limit.data["sort"] == "machining"] or here_and_now

    now = here(job.limits_of(code, state, on))
    if last is None or "basis" not in last["body"]:
        return now, None
    basis = [job.known.by_entry[id] for id in last["body"]["basis"] if id in job.known.by_entry]
    rules = next((statement for statement in basis if statement.kind == "measuring_rules_set"), None)
    then = here(job.judging((limit for limit in basis if limit.kind == "limit_set"), code, state, on))
    ruled = job.known.rules
    if {limit.entry for limit in then} == {limit.entry for limit in now} and rules == ruled:
        return now, None
    return now, (rules.data if rules else measuring_rules.DEFAULT, then)


def _judges(limit: Mapping[str, Any], figure: Figure, place: str) -> bool:
    return (
        limit["figure"] == figure.code
        and kind_of(limit["unit"]) == figure.kind
        and limits.covers(limit["where"], place)
    )
