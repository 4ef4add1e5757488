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
    for one in fold(row.entry for row in rows):
        if one.entry["kind"] != "measured" or one.withdrawn_by is not None:
            continue
        location = one.location or {"place": "", "point": ""}
        readings.append(
            {
                "id": one.entry["id"],
                "exhibit": str(numbers[one.entry["id"]]),
                "place": location["place"],
                "point": location["point"],
                "body": one.body,
                "claimed": one.entry["claimed"],
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
    return [_sheet(one, some, engine_type) for one, some in zip(made, proposed, strict=True) if one["procedure"]]


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
        "overdue": [_overdue(one) for one in sheet["overdue"]],
        "cautions": sheet["cautions"] + _stops(read),
        "tables": [
            _table(sheet, read[at : at + MOST_COLUMNS], common, engine_type) for at in range(0, len(read), MOST_COLUMNS)
        ],
        "across": [f"{one['words']}: {one['words_said']}" for one in sheet["across"] if one["words_said"]],
        "verdicts": [said for place in read for figure in place["figures"] for said in _changed(place, figure)],
        "judged_later": _judged_later(read),
        "budgets": budgets.budgets(read),
        "proposals": [{name: one[name] for name in PROPOSAL} for one in proposed],
        "definitions": _definitions(read),
    }


def _limits(sheet: dict[str, Any]) -> list[tuple[str, str]]:
    names = {figure["code"]: figure["words"] for place in sheet["places"] for figure in place["figures"]}
    found = [
        (
            LIMITS[limit["sort"]],
            f"{_limit(names.get(limit['figure'], limit['figure']), limit)}. {limit['source']}",
        )
        for limit in sheet["limits_now"]
    ]
    return found or [(say("pack.figures.limits"), say("pack.figures.no_limits"))]


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
    for code, one in sheet["sizes"].items():
        values = [MATERIALS[value]["words"] if code == "material" else value for value in one["values"]]
        said = f"{', '.join(values)} {one['unit']}".rstrip()
        sizes.append((say("pack.figures.size", size=code.replace("_", " ")), f"{said}. {one['source']}"))
    return sizes


def _gauges(sheet: dict[str, Any]) -> str:
    found = []
    for one in sheet["gauges"]:
        error = f"{one['mpe']} {one['unit']}".rstrip()
        known, unknown = "pack.figures.permissible_error", "pack.figures.not_in_register"
        gauge = say(known, gauge=one["name"], error=error) if one["mpe"] else say(unknown, gauge=one["name"])
        found.append(say("pack.figures.due", gauge=gauge, due=one["due"]) if one["due"] else gauge)
    return "; ".join(found) or say("pack.figures.none_named")


def _stops(read: list[dict[str, Any]]) -> list[str]:
    """What must not be built on, said for the place: it holds whether a limit was set or not."""
    guides = [(place["name"], figure["guide"]) for place in read for figure in place["figures"]]
    return [f"{name[:1].upper()}{name[1:]}. {guide}" for name, guide in guides if guide.startswith("STOP")]


def _overdue(one: dict[str, Any]) -> str:
    readings = say("pack.figures.overdue_readings", count=one["count"])
    return say("pack.figures.overdue", gauge=one["gauge"], due=one["due"], readings=readings)


def _table(
    sheet: dict[str, Any], places: list[dict[str, Any]], common: str, engine_type: dict[str, Any] | None
) -> dict[str, Any]:
    rows = []
    for asked in sheet["readings_asked"]:
        cells = [_reading(place["readings"].get(asked["code"]), sheet["unit"], engine_type) for place in places]
        if any(cell["text"] for cell in cells):
            rows.append({"words": asked["words"], "unit": "", "figure": False, "cells": cells})
    for figure in places[0]["figures"] if places else ():
        of = [next(one for one in place["figures"] if one["code"] == figure["code"]) for place in places]
        if any(one["value"] is not None for one in of):
            units = {one["unit"] for one in of if one["value"] is not None}
            shared = units.pop() if len(units) == 1 else ""
            cells = [_figure(one, shared, common) for one in of]
            rows.append({"words": figure["words"], "unit": shared, "figure": True, "cells": cells})
    return {"places": [place["name"] for place in places], "rows": rows}


def _reading(one: dict[str, Any] | None, unit: str, engine_type: dict[str, Any] | None) -> dict[str, Any]:
    if one is None:
        return {"text": "", "small": "", "tags": []}
    text = one["mean"] or ", ".join(value["value"] for value in one["values"])
    said = [f"{text} {one['unit']}".rstrip() if one["unit"] != unit else text]
    small = []
    if one["borrowed"]:
        small.append(say("pack.figures.from_place", place=place_name(engine_type, one["borrowed"]["place"])))
    if one["n"] > 1:
        small.append(say("pack.figures.mean_of", n=str(one["n"])))
    if one["odd"]:
        small.append(say("pack.figures.odd"))
    if any(value["overdue"] for value in one["values"]):
        small.append(say("pack.figures.gauge_overdue"))
    numbers = ", ".join(sorted((value["exhibit"] for value in one["values"]), key=lambda number: (len(number), number)))
    return {
        "text": " ".join(said),
        "small": "; ".join([*([say("pack.figures.numbers", numbers=numbers)] if numbers else []), *small]),
        "tags": [],
    }


def _figure(one: dict[str, Any], unit: str, common: str) -> dict[str, Any]:
    if one["value"] is None:
        return {"text": "", "small": "", "tags": []}
    text = one["value"] if one["unit"] == unit else f"{one['value']} {one['unit']}".rstrip()
    small = [f"± {one['U']}" if one["U"] is not None else say("pack.figures.uncertainty_unknown")]
    small += [f"k {one['k']}"] if one["k"] not in ("", common) else []
    small += [one["corrected"]] if one["corrected"] else []
    small += [say("pack.figures.gauge_overdue")] if one["overdue"] else []
    tags = [
        {
            "form": FORMS[verdict["standing"]],
            "words": _standing(verdict),
            "sort": SORTS[verdict["sort"]] if len(one["now"]) > 1 else "",
        }
        for verdict in one["now"]
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
    shown = [one for one in figure["now"] if one["standing"] != "within" or then]
    found = [_said(name, figure, one, when) for one in shown]
    return found + [_said(name, figure, one, say("pack.figures.by_limits_then")) for one in then or []]


def _judged_later(read: list[dict[str, Any]]) -> list[str]:
    """In one sentence the figures that had no limit when they were read, and are within those set since."""
    names = [
        f"{place['name']}, {figure['words']}"
        for place in read
        for figure in place["figures"]
        if figure["then"] == [] and all(one["standing"] == "within" for one in figure["now"])
    ]
    if not names:
        return []
    return [say("pack.figures.set_since", figures="; ".join(names))]


def _said(name: str, figure: dict[str, Any], one: dict[str, Any], when: str) -> dict[str, Any]:
    value = f"{figure['value']} {figure['unit']}".rstrip()
    measured = f"{value} ± {figure['U']}" if figure["U"] is not None else value
    likely = say("pack.figures.probability", percent=one["probability"]) if one["probability"] else ""
    unknown = f" {' '.join(figure['unknown'])}" if figure["unknown"] else ""
    by = f"{when}{LIMITS[one['sort']]} {_range(one)} ({one['source']}), {words.RULES[one['rule']]}"
    return {
        "form": FORMS[one["standing"]],
        "words": _standing(one),
        "of": name,
        "text": f"{measured}; {by}.{likely}{unknown}",
        "settle": one["settle"],
    }


def _definitions(read: list[dict[str, Any]]) -> list[str]:
    """How each figure shown is made, once, and what common practice has to say to it."""
    found: dict[str, str] = {}
    for place in read:
        for figure in place["figures"]:
            if figure["value"] is not None:
                found.setdefault(figure["words"], figure["definition"])
    return [f"{name}: {definition}" for name, definition in found.items()]
