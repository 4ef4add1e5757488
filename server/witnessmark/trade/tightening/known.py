"""What the workshop has said of tightening sheets and torque tools: what counts now and what was said before.

A run and each of its fasteners name in their basis the descriptions that the device knew, so a run is told by the sheet
that it was carried out by, whatever the sheet says today.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from witnessmark.trade.measuring.known import MOST_IN_BASIS, Statement

# kind of the entry -> the field of its body that holds what is described
FIELD = {"tightening_sheet_described": "sheet", "torque_tool_described": "tool"}


@dataclass
class Known:
    """`sheets` and `tools` by identifier, the newest of each; `by_entry` has every description ever made, `history`
    those of each sheet and `tool_history` those of all tools, oldest first."""

    sheets: dict[str, Statement] = field(default_factory=dict)
    tools: dict[str, Statement] = field(default_factory=dict)
    by_entry: dict[str, Statement] = field(default_factory=dict)
    history: dict[str, list[Statement]] = field(default_factory=dict)
    tool_history: list[Statement] = field(default_factory=list)


def known(entries: Iterable[Mapping[str, Any]]) -> Known:
    """All that was said, from entries {"id", "kind", "body", "claimed"} in the order of the log; the newest for an
    identifier counts. Entries of other kinds are passed over."""
    result = Known()
    for entry in entries:
        if entry["kind"] not in FIELD:
            continue
        statement = Statement(entry["id"], entry["kind"], entry["body"][FIELD[entry["kind"]]], entry["claimed"])
        result.by_entry[statement.entry] = statement
        if statement.kind == "torque_tool_described":
            result.tools[statement.data["id"]] = statement
            result.tool_history.append(statement)
        else:
            result.sheets[statement.data["id"]] = statement
            result.history.setdefault(statement.data["id"], []).append(statement)
    return result


def sheet_for(known: Known, engine_type: str, joint: str, direction: str) -> Statement | None:
    """The sheet by which a joint of an engine type is tightened or let go now, None when there is none. One that names
    the joint itself goes before one for all joints alike, one made for letting go before one that is reversed, and of
    several the one described last. A sheet made for letting go tightens nothing."""
    result, best = None, (-1, -1)
    for statement in known.sheets.values():
        sheet = statement.data
        lets_go = all(stage["method"] == "release" for stage in sheet["stages"])
        counts = sheet["engine_type"] == engine_type and not sheet["withdrawn"] and is_for(sheet["joint"], joint)
        if not counts or (direction == "tighten" and lets_go):
            continue
        rank = (int(lets_go), int(sheet["joint"] == joint))
        if rank >= best:
            result, best = statement, rank
    return result


def is_for(pattern: str, joint: str) -> bool:
    """Whether a sheet's joint, maybe with * for a whole segment, names this joint."""
    wanted, parts = pattern.split("/"), joint.split("/")
    return len(parts) == len(wanted) and all(want in ("*", part) for want, part in zip(wanted, parts, strict=True))


def sheet_of(known: Known, begun: Mapping[str, Any], claimed: str) -> Statement | None:
    """The sheet of a run as it was described then: as the basis of its beginning names it, else the newest description
    claimed to be older, else the first. None for a sheet that nobody described. `begun` is tightening_begun's body."""
    named = (known.by_entry[id] for id in begun["basis"] if id in known.by_entry)
    statement = next(
        (edition for edition in named if FIELD[edition.kind] == "sheet" and edition.data["id"] == begun["sheet"]), None
    )
    if statement is None and begun["sheet"] in known.history:
        history = known.history[begun["sheet"]]
        when = datetime.fromisoformat(claimed)
        statement = next(
            (edition for edition in reversed(history) if datetime.fromisoformat(edition.claimed) <= when), history[0]
        )
    return statement


def tools_of(known: Known) -> list[dict[str, Any]]:
    """All descriptions of tools as trade/tightening.fold takes them."""
    return [
        {"entry": statement.entry, "tool": statement.data, "claimed": statement.claimed}
        for statement in known.tool_history
    ]


def basis_for_run(known: Known, sheet: str, tool: str = "") -> list[str]:
    """The entries that a run or one of its fasteners begun now is judged by: the sheet's and the tool's newest
    descriptions. Both are identifiers; "" or an unknown one gives none."""
    statement = (known.sheets.get(sheet), known.tools.get(tool))
    return [edition.entry for edition in statement if edition][:MOST_IN_BASIS]
