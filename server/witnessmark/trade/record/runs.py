"""The runs of a job, from its entries and from what the workshop has said: each by the sheet it was begun by, with what
is missing before it may be closed. The office and the pack tell them from here."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from typing import Any

from witnessmark.trade.ground.corrections import Standing
from witnessmark.trade.record.kinds import kinds_with
from witnessmark.trade.tightening import preload_estimate
from witnessmark.trade.tightening.holds import open_holds
from witnessmark.trade.tightening.known import Known, sheet_of, tools_of
from witnessmark.trade.tightening.run import fold
from witnessmark.trade.tightening.words import joint_name

KINDS = kinds_with("run")
# What was done by a sheet that nobody described: all of it is told, as done without being asked for.
NO_SHEET: dict[str, Any] = {"stages": [], "bolt": "reusable", "uses_most": 0, "two_people": False, "holds": []}

Entries = list[dict[str, Any]]
# Procedures -> the job's measurement sheets of them, as trade/sheets makes them.
Measured = Callable[[Collection[str]], Sequence[Mapping[str, Any]]]


def by_run(standing: Iterable[tuple[str, Standing]]) -> dict[str, Entries]:
    """Run -> its entries as trade/tightening.fold takes them, from (number in the job, entry as it stands) in the order
    of the log: {id, kind, body, author, claimed, withdrawn, exhibit, place}. Runs come as they first came up."""
    result: dict[str, Entries] = {}
    for exhibit, standing_entry in standing:
        entry = standing_entry.entry
        if entry["kind"] not in KINDS or entry["body"].get("run", "") == "":
            continue
        result.setdefault(entry["body"]["run"], []).append(
            {
                "id": entry["id"],
                "kind": entry["kind"],
                "body": standing_entry.body,
                "author": entry["author"],
                "claimed": entry["claimed"],
                "withdrawn": standing_entry.withdrawn_by is not None,
                "exhibit": exhibit,
                "place": standing_entry.location["place"] if standing_entry.location else "",
            }
        )
    return result


def runs(
    groups: Iterable[Entries],
    known: Known,
    engine_type: dict[str, Any] | None,
    measured: Measured,
    ticked: Collection[str],
    managers: Collection[str],
    counted: Mapping[str, int] | None = None,
) -> list[dict[str, Any]]:
    """The runs of one job. `told` are the entries of each as `by_run` gives them, `measured` is asked once, for the
    procedures that the runs wait on; `ticked` are items of checklists as trade/tightening/holds takes them, `managers`
    those who may answer what needs a manager, `counted` how many fasteners a tool had done by each (left out, nothing
    is said of it). A run is the state that trade/tightening.fold tells, and with it:

        {"sheet": as it was when the run was begun, None when nobody described it, "sheet_entry",
         "sheet_newest": whether that is how it reads today, "joint", "joint_name", "bolts", "use", "remark",
         "preload": the estimate of trade/tightening/preload_estimate for its sheet,
         "exhibits": entry -> its number in the job}
    """
    described = [(_about(entries, known, engine_type), entries) for entries in groups]
    waiting = {procedure for about, _ in described for procedure in _measured_first(about)}
    sheets = measured(waiting) if waiting else []
    tools = tools_of(known)
    by_sheet = {about["sheet_entry"]: about["sheet"] for about, _ in described if about["sheet"]}
    preloads = {entry: preload_estimate.of_sheet(sheet) for entry, sheet in by_sheet.items()}
    states = []
    for about, entries in described:
        sheet = about["sheet"] or NO_SHEET
        facts = {"managers": managers, "holds": open_holds(sheet, sheets, ticked), "counted": counted or {}}
        states.append(fold(sheet, entries, tools, facts) | about | {"preload": preloads.get(about["sheet_entry"])})
    return states


def _about(entries: Entries, known: Known, engine_type: dict[str, Any] | None) -> dict[str, Any]:
    begun = [entry for entry in entries if entry["kind"] == "tightening_begun"]
    # A beginning that was taken back still says what the run was about.
    first = next((start for start in begun if not start["withdrawn"]), begun[0] if begun else None)
    sheet = sheet_of(known, first["body"], first["claimed"]) if first else None
    body = first["body"] if first else {"joint": _joint(entries), "bolts": "", "use": 0, "remark": ""}
    return {
        "sheet": sheet.data if sheet else None,
        "sheet_entry": sheet.entry if sheet else "",
        "sheet_newest": bool(sheet) and known.sheets[sheet.data["id"]].entry == sheet.entry,
        "joint": body["joint"],
        "joint_name": joint_name(engine_type, body["joint"]),
        "bolts": body["bolts"],
        "use": body["use"],
        "remark": body["remark"],
        "exhibits": {entry["id"]: entry["exhibit"] for entry in entries},
    }


def _joint(entries: Entries) -> str:
    """Of a run whose beginning never came: the joint of the first place that an entry names."""
    return next((entry["place"].rpartition("/")[0] for entry in entries if entry["place"]), "")


def _measured_first(run: Mapping[str, Any]) -> set[str]:
    """The procedures whose figures a run waits on."""
    holds = run["sheet"]["holds"] if run["sheet"] else []
    return {hold["procedure"] for hold in holds if hold["sort"] == "measured"}
