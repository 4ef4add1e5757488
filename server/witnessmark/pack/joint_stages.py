"""The stages of a run as they were done: drawings with order numbers, tables of stage by fastener, what went before."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from witnessmark.pack.joint_plan import numbers, plan
from witnessmark.pack.joint_words import Names
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.ground.units import UNITS, with_unit
from witnessmark.trade.tightening.departures import SORTS, times

# Stages that fit beside one another on a sheet of A4.
MOST_COLUMNS = 4
METHODS = {
    "torque": say("pack.stages.by_torque"),
    "angle": say("pack.stages.by_angle"),
    "release": say("pack.stages.release"),
}
GIVEN = {"tap": say("pack.stages.tap"), "typed": say("pack.stages.typed")}

Run = Mapping[str, Any]
Stage = Mapping[str, Any]
Row = Mapping[str, Any]


def drawings(run: Run, fasteners: Sequence[Mapping[str, Any]]) -> list[dict[str, Any]]:
    """One drawing for each stage in which something was done; stages done alike share one: {title, plan}."""
    distinct: list[dict[str, Any]] = []
    for stage in run["stages"]:
        drawn = plan(fasteners, stage, _still(stage, run)) if stage["done"] else None
        if drawn is None:
            continue
        alike = next((drawing for drawing in distinct if drawing["plan"]["marks"] == drawn["marks"]), None)
        if alike:
            alike["title"] += say("pack.stages.same_order", stage=stage["words"])
        else:
            distinct.append({"title": stage["words"], "plan": drawn})
    return distinct


def tables(run: Run, fasteners: Sequence[Mapping[str, Any]], names: Names) -> list[dict[str, Any]]:
    """Stage by fastener: [{stages: [{words, target, facts: [sentences]}], rows: [{label, cells: [[done]]}]}], `done`
    being {value, small, tags: [{form, words}]}. A cell without any is a fastener that was not done."""
    labels = list(dict.fromkeys(label for stage in run["stages"] for label in stage["order"]))
    drawn = [fastener["label"] for fastener in fasteners if fastener["label"] in labels]
    labels = drawn + [label for label in labels if label not in drawn]
    laid_out = []
    for at in range(0, len(run["stages"]), MOST_COLUMNS):
        some = run["stages"][at : at + MOST_COLUMNS]
        rows = [
            {"label": label, "cells": [_cell(stage, label, _still(stage, run), names) for stage in some]}
            for label in labels
        ]
        laid_out.append({"stages": [_head(stage, run, names) for stage in some], "rows": rows})
    return laid_out


def target(stage: Stage) -> str:
    """ "60 N·m ± 3", "60 N·m - 2 + 4", "90°", "any value"."""
    if stage["target"] == "":
        return say("pack.stages.any_value")
    sign = stage["unit"] if UNITS.get(stage["unit"], {}).get("close") else ""
    value = _value(stage["target"], stage["unit"])
    minus, plus = stage["minus"], stage["plus"]
    if minus == plus:
        return f"{value} ± {plus}{sign}" if plus.strip("0.") else value
    return f"{value} − {minus}{sign} + {plus}{sign}"


def _value(value: str, unit: str) -> str:
    if not value:
        return say("pack.stages.no_value")
    return with_unit(value, unit)


def _head(stage: Stage, run: Run, names: Names) -> dict[str, Any]:
    done = stage["done"]
    pace = next(
        (stage_pace["words"] for stage_pace in run["pace"] if stage_pace["stage"] == stage["code"]),
        say("pack.stages.nothing_done"),
    )
    facts = [stage["after"] and f"After: {stage['after']}.", pace]
    if done:
        day, tool, by = (_same(done, name) for name in ("at", "tool", "by"))
        who = names.person(by) if by is not None else ""
        sentence_parts = [day, (tool or say("pack.stages.no_tool")) if tool is not None else "", who]
        facts.append(f"{', '.join(part for part in sentence_parts if part)}.")
    if stage["restarted"]:
        facts.append(say("pack.stages.restarted", times=times(stage["restarted"])))
    if stage["proposed"]:
        facts.append(say("pack.stages.proposed"))
    return {
        "words": stage["words"],
        "target": f"{METHODS[stage['method']]}: {target(stage)}" if stage["target"] else target(stage),
        "facts": [fact for fact in facts if fact],
    }


def _same(done: Sequence[Row], name: str) -> str | None:
    """The one day, tool or person of all rows; None when they differ."""
    values = {row[name][:10] if name == "at" else row[name] for row in done}
    return values.pop() if len(values) == 1 else None


def _still(stage: Stage, run: Run) -> list[Mapping[str, Any]]:
    """The departures of a stage that are about what stands done now: not those answered before it was begun again."""
    own = [departure for departure in run["departures"] if departure["stage"] == stage["code"]]
    if not stage["restarted"] and not stage["earlier"]:
        return own
    number = {entry: int(exhibit) for entry, exhibit in run["exhibits"].items()}
    first = min((number[row["entry"]] for row in stage["done"]), default=None)

    def before(deviation: Mapping[str, Any]) -> bool:
        answered = deviation["answered"] and deviation["sort"] != "skipped"
        return bool(answered) and (first is None or number[deviation["answered"]["entry"]] < first)

    return [deviation for deviation in own if not before(deviation)]


def _cell(stage: Stage, label: str, departures: Sequence[Mapping[str, Any]], names: Names) -> list[dict[str, Any]]:
    done = [row for row in stage["done"] if row["label"] == label]
    if not done:
        words = say("pack.plan.skipped") if label in stage["skipped"] else say("pack.plan.not_done")
        return [{"value": "", "small": "", "tags": [{"form": "hatched", "words": words}]}]
    number = numbers(stage).get(label)
    cells = [_done(row, stage, number, names) for row in done]
    for departure in departures:
        if (departure["stage"], departure["label"]) == (stage["code"], label) and departure["sort"] != "skipped":
            form = "outlined" if departure["answered"] else "solid"
            cells[-1]["tags"].append({"form": form, "words": SORTS[departure["sort"]]})
    return cells


def _nth(number: int) -> str:
    """ "1st", "12th", "23rd"."""
    ending = {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")
    return f"{number}{'th' if number % 100 in (11, 12, 13) else ending}"


def _done(row: Row, stage: Stage, number: int | None, names: Names) -> dict[str, Any]:
    """One tap: its value, how it was given, its place in the order, its time and its record."""
    order = "again" if row["again"] or number is None else _nth(number)
    if not row["again"] and row["asked"] and row["asked"] != number:
        order += say("pack.stages.asked_as", number=_nth(row["asked"]))
    small = [order, GIVEN[row["given"]], row["at"][11:19]]
    if _same(stage["done"], "at") is None:
        small[-1] = f"{row['at'][:10]} {small[-1]}"
    if _same(stage["done"], "tool") is None:
        small.append(row["tool"] or say("pack.stages.no_tool"))
    if row["set_value"]:
        small.append(say("pack.stages.set_to", value=row["set_value"]))
    if _same(stage["done"], "by") is None:
        small.append(names.person(row["by"]))
    small.append(say("pack.figures.numbers", numbers=names.exhibits[row["entry"]]))
    if row["entry"] in names.corrected:
        small.append(say("pack.stages.corrected_by", numbers=", ".join(names.corrected[row["entry"]])))
    if row["remark"]:
        small.append(f"“{row['remark']}”")
    return {"value": _value(row["value"], row["unit"]), "small": ", ".join(small), "tags": []}


def earlier(run: Run, names: Names) -> list[str]:
    """What had been done of a stage before it was begun again, in one sentence for each time."""
    sentences = []
    for stage in run["stages"]:
        for count, rows in enumerate(stage["earlier"], 1):
            done = "; ".join(_once(row, names) for row in rows)
            if len(stage["earlier"]) > 1:
                sentences.append(
                    say("pack.stages.before_restart_number", stage=stage["words"], number=count, done=done)
                )
            else:
                sentences.append(say("pack.stages.before_restart", stage=stage["words"], done=done))
    return sentences


def _once(row: Row, names: Names) -> str:
    value = _value(row["value"], row["unit"])
    time, number = row["at"][11:19], names.exhibits[row["entry"]]
    return say("pack.stages.done_once", fastener=row["label"], value=value, time=time, number=number)
