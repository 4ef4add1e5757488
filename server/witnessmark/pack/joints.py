"""The tightening runs of a pack: worked out from the very rows that are signed, and arranged for PDF and page alike.

What is shown here is what `trade.tightening.job` gives and nothing else: the pack cannot say another thing than the
office.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from typing import Any

from witnessmark.log.rows import Row
from witnessmark.pack import joint_stages, joint_words
from witnessmark.pack.joint_words import Names
from witnessmark.trade.ground.corrections import Standing, fold
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.record import runs as tightening_job
from witnessmark.trade.tightening.departures import SORTS, demands
from witnessmark.trade.tightening.known import Known, tools_of
from witnessmark.trade.tightening.values import tool_of

Run = dict[str, Any]
OVERDUE = ("overdue_tool", "overdue_count")


def runs(
    rows: Sequence[Row],
    engine_type: dict[str, Any] | None,
    known: Known,
    sheets: Sequence[Mapping[str, Any]],
    managers: Collection[str],
    counted: Mapping[str, int],
) -> list[Run]:
    """The runs of one job from its log rows, oldest first. `sheets` are its measurement sheets, which a run may wait
    on; `managers` those who may answer what needs one; `counted` as cycles.by_then gives it."""
    ticks = (row.entry["body"] for row in rows if row.entry["kind"] == "checklist_ticked")
    newest = {f"{body['stage']}/{body['item']}": body["ticked"] for body in ticks}
    ticked = {item for item, done in newest.items() if done}

    def measured(procedures: Collection[str]) -> list[Mapping[str, Any]]:
        return [sheet for sheet in sheets if sheet["procedure"] in procedures]

    runs_by_id = tightening_job.by_run(_numbered(rows))
    return tightening_job.runs(runs_by_id.values(), known, engine_type, measured, ticked, managers, counted)


def _numbered(rows: Sequence[Row]) -> list[tuple[str, Standing]]:
    return [(str(number), standing) for number, standing in enumerate(fold(row.entry for row in rows), 1)]


def arranged(
    made: Sequence[Run],
    rows: Sequence[Row],
    engine_type: dict[str, Any] | None,
    known: Known,
    people: Mapping[str, str],
) -> list[dict[str, Any]]:
    """The runs in words: {title, state, about, overdue, drawings, tables, earlier, departures, aside, sign_off,
    missing, preload}. `people` are names by identifier."""
    standing = {standing_entry.entry["id"]: standing_entry for _, standing_entry in _numbered(rows)}
    arranged_runs, shown = [], {}
    for run in made:
        names = Names(run["exhibits"], people, _corrected(standing, run["exhibits"]))
        way = "pack.joints.released" if run["direction"] == "loosen" else "pack.joints.tightened"
        title = say(way, joint=run["joint_name"])
        arranged_runs.append(
            _run(run, title, names, engine_type, _tools(run, standing, known)) | _preload(run, title, shown)
        )
    return arranged_runs


def _run(run: Run, title: str, names: Names, engine_type: dict[str, Any] | None, tools: list[str]) -> dict[str, Any]:
    departures = run["departures"]
    joints = engine_type["joints"] if engine_type else []
    fasteners = next((joint["fasteners"] for joint in joints if joint["code"] == run["joint"]), [])
    return {
        "title": title,
        "state": joint_words.state(run),
        "about": joint_words.about(run, names, tools),
        "overdue": [
            {"sort": SORTS[departure["sort"]], "words": departure["words"]}
            for departure in departures
            if departure["sort"] in OVERDUE
        ],
        "drawings": joint_stages.drawings(run, fasteners),
        "tables": joint_stages.tables(run, fasteners, names),
        "earlier": joint_stages.earlier(run, names),
        "departures": [_departure(departure, names) for departure in departures],
        "aside": joint_words.aside(run, names),
        "sign_off": joint_words.sign_off(run, names),
        "missing": _missing(run),
    }


def _missing(run: Run) -> list[str]:
    """What is missing apart from answers: open departures stand by themselves."""
    apart = set().union(*(demands(departure["words"]) for departure in run["departures"]))
    return [sentence for sentence in run["missing"] if sentence not in apart]


def _departure(departure: Mapping[str, Any], names: Names) -> dict[str, Any]:
    answered = departure["answered"]
    if answered is None:
        needs = say("pack.joints.needs_manager") if departure["needs"] == "manager" else say("pack.joints.not_answered")
        return {"form": "solid", "sort": SORTS[departure["sort"]], "words": departure["words"], "answer": needs}
    about = {"reason": answered["reason"], "signed": names.signed(answered["by"], answered["entry"])}
    if answered["how"] == "restart":
        answer = say("pack.joints.answered_by_restart", **about)
    else:
        answer = say("pack.joints.answered", **about)
    return {"form": "outlined", "sort": SORTS[departure["sort"]], "words": departure["words"], "answer": answer}


def _preload(run: Run, title: str, shown: dict[str, str]) -> dict[str, Any]:
    """The estimate once for each sheet; joints alike name the one that it stands under."""
    entry = run["sheet_entry"]
    if not run["preload"] or run["direction"] == "loosen":
        return {"preload": None, "preload_as": ""}
    if entry in shown:
        as_under = say("pack.joints.preload_as", estimate=say("pack.joints.preload"), joint=shown[entry])
        return {"preload": None, "preload_as": as_under}
    shown[entry] = title
    return {"preload": joint_words.preload(run["preload"]), "preload_as": ""}


def _corrected(standing: Mapping[str, Standing], exhibits: Mapping[str, str]) -> dict[str, list[str]]:
    """Entry -> numbers of what corrects it."""
    numbers = {id: str(number) for number, id in enumerate(standing, 1)}
    return {
        id: [numbers[correction["id"]] for correction in standing[id].corrected_by]
        for id in exhibits
        if id in standing and standing[id].corrected_by
    }


def _tools(run: Run, standing: Mapping[str, Standing], known: Known) -> list[str]:
    """The tools of a run as they were described when they were used, and those that were only named."""
    described, dues = tools_of(known), {}
    rows = [
        row
        for stage in run["stages"]
        for row in [*stage["done"], *(tightened for some in stage["earlier"] for tightened in some)]
    ]
    for row in [*rows, *run["strays"]]:
        tool = tool_of(described, standing[row["entry"]].body, row["at"])
        words = (
            joint_words.tool(tool)
            if tool
            else say("pack.joints.not_in_register", tool=row["tool"])
            if row["tool"]
            else ""
        )
        dues[words] = None
    return [words for words in dues if words]
