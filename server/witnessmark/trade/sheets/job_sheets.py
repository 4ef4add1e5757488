"""Measurement sheets: what a job's readings amount to, by what the workshop says. Plain JSON, numbers as text.

A pure function of the readings and of what is known: office, phone and pack get the same sheet from the same entries.
The shape stands in pwa/src/trade/sheets/types.ts. Nothing here asks a clock: limits that hold for a time are those of
the day on which the newest reading was made.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from witnessmark.trade.engine.locations import place_name
from witnessmark.trade.measuring import rules as measuring_rules
from witnessmark.trade.measuring.known import Known, rules_of
from witnessmark.trade.measuring.procedures import required
from witnessmark.trade.sheets import across as sheet_across
from witnessmark.trade.sheets import head as sheet_head
from witnessmark.trade.sheets import odd_reading
from witnessmark.trade.sheets.figures import figure
from witnessmark.trade.sheets.job import Job, PlaceResult
from witnessmark.trade.sheets.readings import shown
from witnessmark.trade.sheets.words import SINGLE, STATES, amount_text

Engine = dict[str, Any] | None
Readings = Sequence[Mapping[str, Any]]


def sheets(engine_type: Engine, readings: Readings, known: Known) -> list[dict[str, Any]]:
    """One sheet for each procedure and state that has readings: procedures in the order known, then those that nobody
    knows here, then single readings; states from as found to as built.

    A reading is {"id", "exhibit", "place", "point", "body", "claimed"}, the body with its corrections taken in;
    withdrawn ones are left out by the caller.
    """
    job = Job(engine_type, readings, known)
    codes, states = list(known.procedures), list(STATES)

    def order(key: tuple[str, str]) -> tuple[Any, ...]:
        code, state = key
        at = codes.index(code) if code in codes else len(codes) + (code == "")
        return (at, code, states.index(state) if state in states else len(states), state)

    return [_sheet(job, *key) for key in sorted(job.groups, key=order)]


def sheet(
    engine_type: Engine, readings: Readings, known: Known, procedure: str, state: str, newest: bool = False
) -> dict[str, Any]:
    """The sheet of one procedure in one state alone, which costs less; without readings it is the blank one.

    With `newest` in the newest edition, for whoever takes the next reading; else, as in `sheets`, in the one that the
    readings were made by.
    """
    return _sheet(Job(engine_type, readings, known, newest), procedure, state)


def _sheet(job: Job, code: str, state: str) -> dict[str, Any]:
    procedure, rules = job.procedure(code, state), rules_of(job.known)
    names = _place_names(job, code, state, procedure)
    at = {place: result for place in names if (result := job.at(code, state, place)) is not None}
    rows = [_place(job, procedure, state, place, names[place], at[place]) for place in at]
    read = [value for result in at.values() for taken in result.taken.values() for value in taken.values]
    last = max((reading.given for reading in read), key=lambda given: given["id"], default=None)
    result = {
        "procedure": code,
        "edition": procedure["edition"] if procedure else 0,
        "name": procedure["name"] if procedure else code or SINGLE,
        "part": procedure["part"] if procedure else "",
        "state": state,
        "state_words": STATES.get(state, state),
        "unit": sheet_head.unit(procedure, at, rules),
        "drawing": procedure["drawing"] if procedure else "list",
        "cautions": procedure["cautions"] if procedure else [],
        "walk": procedure["walk"] if procedure else "place",
        "axes": procedure["grid"] if procedure else [],
        "readings_asked": sheet_head.readings_asked(procedure, at),
        "sizes": sheet_head.sizes(job, procedure),
        "limits_now": sheet_head.limits_now(job, code, state, last["claimed"][:10] if last else ""),
        "places": rows,
        "across": sheet_across.across(job, procedure, at, names, rules) if procedure else [],
        "overdue": sheet_head.overdue(at),
        "gauges": sheet_head.gauges(at),
        "rule": rules["rule"],
        "rule_words": measuring_rules.RULES[rules["rule"]],
    }
    odd_reading.mark(result)
    return result


def _place_names(job: Job, code: str, state: str, procedure: Mapping[str, Any] | None) -> dict[str, tuple[str, str]]:
    """Place -> its name and bank: all of the part that the engine has, then others where something was read."""
    result = {
        place.code: (place.name, place.bank) for place in job.places() if procedure and place.part == procedure["part"]
    }
    along = {spot.code: (i, spot) for i, spot in enumerate(job.places())}
    read = job.groups.get((code, state), {})
    for place in sorted(
        set(read) - set(result), key=lambda code: (along[code][0] if code in along else len(along), code)
    ):
        bank = along[place][1].bank if place in along else ""
        result[place] = (place_name(job.engine_type, place), bank)
    return result


def _place(
    job: Job, procedure: Mapping[str, Any] | None, state: str, place: str, named: tuple[str, str], at: PlaceResult
) -> dict[str, Any]:
    readings = {name: shown(taken) for name, taken in at.taken.items()}
    for name, borrowed in at.borrowed.items():
        figure_read = borrowed.figure
        readings[name] = {
            "mean": amount_text(figure_read.amount, figure_read.unit, figure_read.places)
            if figure_read.amount is not None
            else "",
            "unit": figure_read.unit,
            "n": 0,
            "scatter": "",
            "values": [],
            "odd": False,
            "borrowed": {"procedure": borrowed.procedure, "place": borrowed.place, "state": borrowed.state},
        }
    lines = {line["code"]: line for line in procedure["figures"]} if procedure else {}
    missing = [name for name in required(dict(procedure)) if name not in at.inputs] if procedure else []
    return {
        "place": place,
        "name": named[0],
        "bank": named[1],
        "done": bool(readings) and not missing,
        "missing": missing,
        "readings": readings,
        "figures": [figure(job, procedure, state, place, at, line, lines[line.code]) for line in at.figures]
        if procedure
        else [],
    }
