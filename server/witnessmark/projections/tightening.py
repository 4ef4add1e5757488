"""The tightening runs of a job: each by the sheet it was begun by, with what is missing before it may be closed."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

from sqlalchemy import Connection

from witnessmark.projections import engine_types, job_list, measuring, readings, runs, ticks
from witnessmark.trade import preload_said
from witnessmark.trade import sheets as measurement
from witnessmark.trade.tightening import fold
from witnessmark.trade.tightening_holds import open_holds
from witnessmark.trade.tightening_known import Known, sheet_of, tools_of
from witnessmark.trade.tightening_words import joint_name

# What was done by a sheet that nobody described: all of it is told, as done without being asked for.
NO_SHEET: dict[str, Any] = {"stages": [], "bolt": "reusable", "uses_most": 0, "two_people": False, "holds": []}


def of_job(conn: Connection, workshop: str, id: str, managers: Collection[str]) -> list[dict[str, Any]] | None:
    """The runs of one job in the order in which they came up, None when no record names the job. `managers` are those
    who may answer what needs a manager. A run is the state that trade/tightening.fold tells, and with it:

        {"sheet": as it was when the run was begun, None when nobody described it, "sheet_entry",
         "sheet_newest": whether that is how it reads today, "joint", "joint_name", "bolts", "use", "remark",
         "preload": the estimate of trade/preload_said for its sheet, "exhibits": entry -> its number in the job}
    """
    job = job_list.one(conn, workshop, id)
    if job is None:
        return None
    told = runs.of_job(conn, workshop, id)
    known = measuring.known_tightening(conn, workshop)
    engine_type = engine_types.usable(conn, workshop, [job["engine_type"]]).get(job["engine_type"])
    found = [_run(entries, known, engine_type) for entries in told.values()]
    waiting = {procedure for one in found for procedure in _asked(one)}
    measured = _measured(conn, workshop, id, engine_type, waiting) if waiting else []
    ticked = {f"{stage}/{item}" for (stage, item), tick in ticks.of_job(conn, workshop, id).items() if tick["ticked"]}
    tools = tools_of(known)
    by_sheet = {one["sheet_entry"]: one["sheet"] for one in found if one["sheet"]}
    preloads = {entry: preload_said.of_sheet(sheet) for entry, sheet in by_sheet.items()}
    states = []
    for one, entries in zip(found, told.values(), strict=True):
        sheet = one["sheet"] or NO_SHEET
        facts = {"managers": managers, "holds": open_holds(sheet, measured, ticked)}
        states.append(fold(sheet, entries, tools, facts) | one | {"preload": preloads.get(one["sheet_entry"])})
    return states


def _run(entries: list[dict], known: Known, engine_type: dict | None) -> dict[str, Any]:
    begun = [one for one in entries if one["kind"] == "tightening_begun"]
    # A beginning that was taken back still says what the run was about.
    first = next((one for one in begun if not one["withdrawn"]), begun[0] if begun else None)
    said = sheet_of(known, first["body"], first["claimed"]) if first else None
    body = first["body"] if first else {"joint": _joint(entries), "bolts": "", "use": 0, "remark": ""}
    return {
        "sheet": said.what if said else None,
        "sheet_entry": said.entry if said else "",
        "sheet_newest": bool(said) and known.sheets[said.what["id"]].entry == said.entry,
        "joint": body["joint"],
        "joint_name": joint_name(engine_type, body["joint"]),
        "bolts": body["bolts"],
        "use": body["use"],
        "remark": body["remark"],
        "exhibits": {one["id"]: one["exhibit"] for one in entries},
    }


def _joint(entries: list[dict]) -> str:
    """Of a run whose beginning never came: the joint of the first place that an entry names."""
    return next((one["place"].rpartition("/")[0] for one in entries if one["place"]), "")


def _asked(run: dict[str, Any]) -> set[str]:
    """The procedures whose figures a run waits on."""
    holds = run["sheet"]["holds"] if run["sheet"] else []
    return {hold["procedure"] for hold in holds if hold["sort"] == "measured"}


def _measured(
    conn: Connection, workshop: str, job: str, engine_type: dict | None, procedures: Collection[str]
) -> list[dict[str, Any]]:
    """The job's measurement sheets of some procedures."""
    read, known = readings.of_job(conn, workshop, job), measuring.known(conn, workshop)
    states = {(one["body"].get("procedure", ""), one["body"].get("state", "as_found")) for one in read}
    wanted = sorted((code, state) for code, state in states if code in procedures)
    return [measurement.sheet(engine_type, read, known, code, state) for code, state in wanted]
