"""The measurement sheets of a pack: worked out from the very rows that are signed, and arranged for PDF and page alike.

What is shown here is what `trade.sheets` gives and nothing else: pack and office cannot differ.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from witnessmark.log.rows import Row
from witnessmark.pack import budgets, words
from witnessmark.trade.engine.locations import place_name
from witnessmark.trade.ground.corrections import fold
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.measuring.known import Known
from witnessmark.trade.measuring.limits import MATERIALS, SORTS
from witnessmark.trade.proposals import all as proposals
from witnessmark.trade.sheets import job_sheets as trade

# Columns of a table that fit beside one another on a sheet of A4.
MOST_COLUMNS = 6
LIMITS = {
    "new": say("pack.limits.new"),
    "service": say("pack.limits.service"),
    "machining": say("pack.limits.machining"),
}
PROPOSAL = ("title", "lines", "inputs", "formula", "cautions")
FORMS = {"within": "outlined", "outside": "solid", "not proven": "hatched", "no limit": "plain"}


def sheets(rows: Sequence[Row], engine_type: dict[str, Any] | None, known: Known) -> list[dict[str, Any]]:
    """The sheets of one job from its log rows, oldest first; a reading bears the number of its record."""
    numbers = {row.id: number for number, row in enumerate(rows, 1)}
    readings = []
    for reading in fold(row.entry for row in rows):
        if reading.entry["kind"] != "measured" or reading.withdrawn_by is not None:
            continue
        location = reading.location or {"place": "", "point": ""}
        readings.append(
            {
                "id": reading.entry["id"],
                "exhibit": str(numbers[reading.entry["id"]]),
                "place": location["place"],
                "point": location["point"],
                "body": reading.body,
                "claimed": reading.entry["claimed"],
            }
        )
    return trade.sheets(engine_type, readings, known)


def arranged(made: Sequence[dict[str, Any]], engine_type: dict[str, Any] | None, known: Known) -> list[dict[str, Any]]:
    """The sheets in words, those of procedures only: {title, about, overdue, cautions, tables, across, verdicts,
    judged_later, budgets, proposals, definitions}.

    `tables`: [{places, rows: [{words, unit, figure, cells: [{text, small, tags: [{form, words}]}]}]}]. A single reading
    outside any procedure comes to no figure; it stands in the list of all measurements.
    """
    proposed = proposals.of_each(made, known, engine_type)
    return [
        _sheet(made_sheet, some, engine_type)
        for made_sheet, some in zip(made, proposed, strict=True)
        if made_sheet["procedure"]
    ]


def _sheet(sheet: dict[str, Any], proposed: list[dict[str, Any]], engine_type: dict[str, Any] | None) -> dict[str, Any]:
    read = [place for place in sheet["places"] if place["readings"]]
    left = [place["name"] for place in sheet["places"] if not place["readings"]]
    common = budgets.common_factor(read)
    about = [*_limits(sheet), *_sizes(sheet), ("gauges", _gauges(sheet)), ("rule", sheet["rule_words"])]
    about += budgets.factor_words(read, common)
    if left:
        about.append((say("pack.figures.not_measured"), ", ".join(left)))
    return {
        "title": f"{sheet['name']}, {sheet['state_words']}",
        "about": about,
        "overdue": [_overdue(tool) for tool in sheet["overdue"]],
        "cautions": sheet["cautions"] + _stops(read),
        "tables": [
            _table(sheet, read[at : at + MOST_COLUMNS], common, engine_type) for at in range(0, len(read), MOST_COLUMNS)
        ],
        "across": [f"{figure['words']}: {figure['words_said']}" for figure in sheet["across"] if figure["words_said"]],
        "verdicts": [verdict for place in read for figure in place["figures"] for verdict in _changed(place, figure)],
        "judged_later": _judged_later(read),
        "budgets": budgets.budgets(read),
        "proposals": [{name: proposal[name] for name in PROPOSAL} for proposal in proposed],
        "definitions": _definitions(read),
    }


def _limits(sheet: dict[str, Any]) -> list[tuple[str, str]]:
    names = {figure["code"]: figure["words"] for place in sheet["places"] for figure in place["figures"]}
    limits = [
        (
            LIMITS[limit["sort"]],
            f"{_limit(names.get(limit['figure'], limit['figure']), limit)}. {limit['source']}",
        )
        for limit in sheet["limits_now"]
    ]
    return limits or [(say("pack.figures.limits"), say("pack.figures.no_limits"))]


def _limit(figure: str, limit: dict[str, Any]) -> str:
    text = f"{figure} {_range(limit)}"
    return say("pack.limits.at", limit=text, places=", ".join(limit["where"])) if limit["where"] else text


def _range(limit: dict[str, Any]) -> str:
    unit = f" {limit['unit']}".rstrip()
    if limit["low"] and limit["high"]:
        return say("pack.limits.from_to", low=limit["low"], high=f"{limit['high']}{unit}")
    return (
        say("pack.limits.at_least", value=f"{limit['low']}{unit}")
        if limit["low"]
        else say("pack.limits.at_most", value=f"{limit['high']}{unit}")
    )


def _sizes(sheet: dict[str, Any]) -> list[tuple[str, str]]:
    sizes = []
    for code, size in sheet["sizes"].items():
        values = [MATERIALS[value]["words"] if code == "material" else value for value in size["values"]]
        sized = f"{', '.join(values)} {size['unit']}".rstrip()
        sizes.append((say("pack.figures.size", size=code.replace("_", " ")), f"{sized}. {size['source']}"))
    return sizes


def _gauges(sheet: dict[str, Any]) -> str:
    gauges = []
    for gauge_facts in sheet["gauges"]:
        error = f"{gauge_facts['mpe']} {gauge_facts['unit']}".rstrip()
        known, unknown = "pack.figures.permissible_error", "pack.figures.not_in_register"
        gauge = (
            say(known, gauge=gauge_facts["name"], error=error)
            if gauge_facts["mpe"]
            else say(unknown, gauge=gauge_facts["name"])
        )
        gauges.append(say("pack.figures.due", gauge=gauge, due=gauge_facts["due"]) if gauge_facts["due"] else gauge)
    return "; ".join(gauges) or say("pack.figures.none_named")


def _stops(read: list[dict[str, Any]]) -> list[str]:
    """What must not be built on, said for the place: it holds whether a limit was set or not."""
    guides = [(place["name"], figure["guide"]) for place in read for figure in place["figures"]]
    return [f"{name[:1].upper()}{name[1:]}. {guide}" for name, guide in guides if guide.startswith("STOP")]


def _overdue(tool: dict[str, Any]) -> str:
    readings = say("pack.figures.overdue_readings", count=tool["count"])
    return say("pack.figures.overdue", gauge=tool["gauge"], due=tool["due"], readings=readings)


def _table(
    sheet: dict[str, Any], places: list[dict[str, Any]], common: str, engine_type: dict[str, Any] | None
) -> dict[str, Any]:
    rows = []
    for wanted in sheet["readings_asked"]:
        cells = [_reading(place["readings"].get(wanted["code"]), sheet["unit"], engine_type) for place in places]
        if any(cell["text"] for cell in cells):
            rows.append({"words": wanted["words"], "unit": "", "figure": False, "cells": cells})
    for figure in places[0]["figures"] if places else ():
        of = [
            next(figure_here for figure_here in place["figures"] if figure_here["code"] == figure["code"])
            for place in places
        ]
        if any(cell["value"] is not None for cell in of):
            units = {cell["unit"] for cell in of if cell["value"] is not None}
            shared = units.pop() if len(units) == 1 else ""
            cells = [_figure(cell, shared, common) for cell in of]
            rows.append({"words": figure["words"], "unit": shared, "figure": True, "cells": cells})
    return {"places": [place["name"] for place in places], "rows": rows}


def _reading(reading: dict[str, Any] | None, unit: str, engine_type: dict[str, Any] | None) -> dict[str, Any]:
    if reading is None:
        return {"text": "", "small": "", "tags": []}
    text = reading["mean"] or ", ".join(value["value"] for value in reading["values"])
    shown_parts = [f"{text} {reading['unit']}".rstrip() if reading["unit"] != unit else text]
    small = []
    if reading["borrowed"]:
        small.append(say("pack.figures.from_place", place=place_name(engine_type, reading["borrowed"]["place"])))
    if reading["n"] > 1:
        small.append(say("pack.figures.mean_of", n=str(reading["n"])))
    if reading["odd"]:
        small.append(say("pack.figures.odd"))
    if any(value["overdue"] for value in reading["values"]):
        small.append(say("pack.figures.gauge_overdue"))
    numbers = ", ".join(
        sorted((value["exhibit"] for value in reading["values"]), key=lambda number: (len(number), number))
    )
    return {
        "text": " ".join(shown_parts),
        "small": "; ".join([*([say("pack.figures.numbers", numbers=numbers)] if numbers else []), *small]),
        "tags": [],
    }


def _figure(figure: dict[str, Any], unit: str, common: str) -> dict[str, Any]:
    if figure["value"] is None:
        return {"text": "", "small": "", "tags": []}
    text = figure["value"] if figure["unit"] == unit else f"{figure['value']} {figure['unit']}".rstrip()
    small = [f"± {figure['U']}" if figure["U"] is not None else say("pack.figures.uncertainty_unknown")]
    small += [f"k {figure['k']}"] if figure["k"] not in ("", common) else []
    small += [figure["corrected"]] if figure["corrected"] else []
    small += [say("pack.figures.gauge_overdue")] if figure["overdue"] else []
    tags = [
        {
            "form": FORMS[verdict["standing"]],
            "words": _standing(verdict),
            "sort": SORTS[verdict["sort"]] if len(figure["now"]) > 1 else "",
        }
        for verdict in figure["now"]
    ]
    return {"text": text, "small": ", ".join(small), "tags": tags}


def _standing(verdict: dict[str, Any]) -> str:
    if verdict["standing"] != "outside" or not verdict["excess"]:
        return words.STANDING[verdict["standing"]]
    return say("pack.figures.outside_by", excess=f"{verdict['excess']} {verdict['unit']}".rstrip())


def _changed(place: dict[str, Any], figure: dict[str, Any]) -> list[dict[str, Any]]:
    """The verdicts of a figure that need a sentence: all that are not within, and both where they have changed."""
    name, then = f"{place['name']}, {figure['words']}", figure["then"]
    when = "" if then is None else say("pack.figures.by_limits_now")
    if then == []:
        when = say("pack.figures.by_limits_set_since")
    shown = [verdict for verdict in figure["now"] if verdict["standing"] != "within" or then]
    changes = [_change(name, figure, verdict, when) for verdict in shown]
    return changes + [_change(name, figure, verdict, say("pack.figures.by_limits_then")) for verdict in then or []]


def _judged_later(read: list[dict[str, Any]]) -> list[str]:
    """In one sentence the figures that had no limit when they were read, and are within those set since."""
    names = [
        f"{place['name']}, {figure['words']}"
        for place in read
        for figure in place["figures"]
        if figure["then"] == [] and all(verdict["standing"] == "within" for verdict in figure["now"])
    ]
    if not names:
        return []
    return [say("pack.figures.set_since", figures="; ".join(names))]


def _change(name: str, figure: dict[str, Any], verdict: dict[str, Any], when: str) -> dict[str, Any]:
    value = f"{figure['value']} {figure['unit']}".rstrip()
    measured = f"{value} ± {figure['U']}" if figure["U"] is not None else value
    likely = say("pack.figures.probability", percent=verdict["probability"]) if verdict["probability"] else ""
    unknown = f" {' '.join(figure['unknown'])}" if figure["unknown"] else ""
    by = f"{when}{LIMITS[verdict['sort']]} {_range(verdict)} ({verdict['source']}), {words.RULES[verdict['rule']]}"
    return {
        "form": FORMS[verdict["standing"]],
        "words": _standing(verdict),
        "of": name,
        "text": f"{measured}; {by}.{likely}{unknown}",
        "settle": verdict["settle"],
    }


def _definitions(read: list[dict[str, Any]]) -> list[str]:
    """How each figure shown is made, once, and what common practice has to say to it."""
    definitions: dict[str, str] = {}
    for place in read:
        for figure in place["figures"]:
            if figure["value"] is not None:
                definitions.setdefault(figure["words"], figure["definition"])
    return [f"{name}: {definition}" for name, definition in definitions.items()]
