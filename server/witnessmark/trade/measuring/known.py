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
class Said:
    """One statement: `entry` is its identifier ("" for a procedure that comes with the program), `what` the gauge,
    limit, size, procedure or rules, `claimed` when it was made."""

    entry: str
    kind: str
    what: dict[str, Any]
    claimed: str


@dataclass
class Known:
    """What counts now: gauges, limits and sizes by identifier, procedures by code (those that come with the program
    included), the rules (None: nobody set any, the defaults count). `by_entry` has every statement ever made,
    `history` each gauge's descriptions, oldest first, `editions` every procedure by its code and edition."""

    gauges: dict[str, Said] = field(default_factory=dict)
    limits: dict[str, Said] = field(default_factory=dict)
    sizes: dict[str, Said] = field(default_factory=dict)
    procedures: dict[str, Said] = field(default_factory=dict)
    rules: Said | None = None
    by_entry: dict[str, Said] = field(default_factory=dict)
    history: dict[str, list[Said]] = field(default_factory=dict)
    editions: dict[tuple[str, int], Said] = field(default_factory=dict)


def known(entries: Iterable[Mapping[str, Any]]) -> Known:
    """All that counts, from entries {"id", "kind", "body", "claimed"} in the order of the log; the newest for an
    identifier (a procedure: its code; the rules: of all) counts. Entries of other kinds are passed over."""
    built_in = {code: Said("", "procedure_described", one, "") for code, one in procedures.BUILT_IN.items()}
    editions = {(code, said.what["edition"]): said for code, said in built_in.items()}
    found = Known(procedures=built_in, editions=editions)
    by_id = {"gauge_described": found.gauges, "limit_set": found.limits, "size_set": found.sizes}
    for entry in entries:
        if entry["kind"] not in FIELD:
            continue
        said = Said(entry["id"], entry["kind"], entry["body"][FIELD[entry["kind"]]], entry["claimed"])
        found.by_entry[said.entry] = said
        if said.kind in by_id:
            by_id[said.kind][said.what["id"]] = said
        elif said.kind == "procedure_described":
            found.procedures[said.what["code"]] = said
            found.editions[said.what["code"], said.what["edition"]] = said
        else:
            found.rules = said
        if said.kind == "gauge_described":
            found.history.setdefault(said.what["id"], []).append(said)
    return found


def rules_of(known: Known) -> dict[str, Any]:
    """The workshop's measuring rules, or the defaults."""
    return known.rules.what if known.rules else measuring_rules.DEFAULT


def gauge_of(known: Known, basis: Iterable[str], gauge: str, claimed: str) -> dict[str, Any] | None:
    """The gauge that gave a reading, as it was described then: as the reading's basis names it, else the newest
    description claimed to be older than the reading, else the first. `gauge` is the identifier that the reading names,
    and it alone says which gauge: a correction may have taken it away, while the basis stays as it was. None for ""
    and for a gauge that nobody described."""
    named = (known.by_entry[id] for id in basis if id in known.by_entry)
    said = next((one for one in named if one.kind == "gauge_described" and one.what["id"] == gauge), None)
    if said is None and gauge in known.history:
        history = known.history[gauge]
        when = datetime.fromisoformat(claimed)
        said = next((one for one in reversed(history) if datetime.fromisoformat(one.claimed) <= when), history[0])
    return said.what if said else None


def basis_for(known: Known, engine_type: str, procedure: str, place: str, gauge: str, on: str = "") -> list[str]:
    """The entries that a reading taken now is judged by: gauge, rules, procedure, limits and sizes; at most 40, which
    is what an entry can name. `engine_type` and `gauge` are identifiers or "", `on` a day or "" for any."""
    said = [known.gauges.get(gauge), known.rules, known.procedures.get(procedure)]
    said += [
        one
        for one in (*known.limits.values(), *known.sizes.values())
        if limits.counts_for(one.what, engine_type, procedure, place, on)
    ]
    return [one.entry for one in said if one and one.entry][:MOST_IN_BASIS]
