"""What the workshop has said of gauges, limits, sizes, procedures and rules: what counts now and what was said before.

Readings are judged by such statements. A reading names in its basis the ones that its device knew, so both can be
shown: what it was judged by when it was made, and what counts now.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from witnessmark.trade.measuring import limits, procedures
from witnessmark.trade.measuring import rules as measuring_rules

# kind of the entry -> the field of its body that holds what is described
FIELD = {
    "gauge_described": "gauge",
    "limit_set": "limit",
    "size_set": "size",
    "procedure_described": "procedure",
    "measuring_rules_set": "rules",
}
MOST_IN_BASIS = 40


@dataclass(frozen=True)
class Statement:
    """One statement: `entry` is its identifier ("" for a procedure that comes with the program), `data` the gauge,
    limit, size, procedure or rules, `claimed` when it was made."""

    entry: str
    kind: str
    data: dict[str, Any]
    claimed: str


@dataclass
class Known:
    """What counts now: gauges, limits and sizes by identifier, procedures by code (those that come with the program
    included), the rules (None: nobody set any, the defaults count). `by_entry` has every statement ever made,
    `history` each gauge's descriptions, oldest first, `editions` every procedure by its code and edition."""

    gauges: dict[str, Statement] = field(default_factory=dict)
    limits: dict[str, Statement] = field(default_factory=dict)
    sizes: dict[str, Statement] = field(default_factory=dict)
    procedures: dict[str, Statement] = field(default_factory=dict)
    rules: Statement | None = None
    by_entry: dict[str, Statement] = field(default_factory=dict)
    history: dict[str, list[Statement]] = field(default_factory=dict)
    editions: dict[tuple[str, int], Statement] = field(default_factory=dict)


def known(entries: Iterable[Mapping[str, Any]]) -> Known:
    """All that counts, from entries {"id", "kind", "body", "claimed"} in the order of the log; the newest for an
    identifier (a procedure: its code; the rules: of all) counts. Entries of other kinds are passed over."""
    built_in = {
        code: Statement("", "procedure_described", procedure, "") for code, procedure in procedures.BUILT_IN.items()
    }
    editions = {(code, statement.data["edition"]): statement for code, statement in built_in.items()}
    result = Known(procedures=built_in, editions=editions)
    by_id = {"gauge_described": result.gauges, "limit_set": result.limits, "size_set": result.sizes}
    for entry in entries:
        if entry["kind"] not in FIELD:
            continue
        statement = Statement(entry["id"], entry["kind"], entry["body"][FIELD[entry["kind"]]], entry["claimed"])
        result.by_entry[statement.entry] = statement
        if statement.kind in by_id:
            by_id[statement.kind][statement.data["id"]] = statement
        elif statement.kind == "procedure_described":
            result.procedures[statement.data["code"]] = statement
            result.editions[statement.data["code"], statement.data["edition"]] = statement
        else:
            result.rules = statement
        if statement.kind == "gauge_described":
            result.history.setdefault(statement.data["id"], []).append(statement)
    return result


def rules_of(known: Known) -> dict[str, Any]:
    """The workshop's measuring rules, or the defaults."""
    return known.rules.data if known.rules else measuring_rules.DEFAULT


def gauge_of(known: Known, basis: Iterable[str], gauge: str, claimed: str) -> dict[str, Any] | None:
    """The gauge that gave a reading, as it was described then: as the reading's basis names it, else the newest
    description claimed to be older than the reading, else the first. `gauge` is the identifier that the reading names,
    and it alone says which gauge: a correction may have taken it away, while the basis stays as it was. None for ""
    and for a gauge that nobody described."""
    named = (known.by_entry[id] for id in basis if id in known.by_entry)
    statement = next(
        (edition for edition in named if edition.kind == "gauge_described" and edition.data["id"] == gauge), None
    )
    if statement is None and gauge in known.history:
        history = known.history[gauge]
        when = datetime.fromisoformat(claimed)
        statement = next(
            (edition for edition in reversed(history) if datetime.fromisoformat(edition.claimed) <= when), history[0]
        )
    return statement.data if statement else None


def basis_for(known: Known, engine_type: str, procedure: str, place: str, gauge: str, on: str = "") -> list[str]:
    """The entries that a reading taken now is judged by: gauge, rules, procedure, limits and sizes; at most 40, which
    is what an entry can name. `engine_type` and `gauge` are identifiers or "", `on` a day or "" for any."""
    statement = [known.gauges.get(gauge), known.rules, known.procedures.get(procedure)]
    statement += [
        source
        for source in (*known.limits.values(), *known.sizes.values())
        if limits.counts_for(source.data, engine_type, procedure, place, on)
    ]
    return [source.entry for source in statement if source and source.entry][:MOST_IN_BASIS]
