"""What stands after corrections and withdrawals. Nothing is overwritten: the first wording stays in the entry,
each correction stays beside it, and what is shown as current is computed here.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any


@dataclass
class Standing:
    """An entry as it stands now: `entry` as it was made, `body` and `location` after its corrections."""

    entry: Mapping[str, Any]
    body: dict[str, Any]
    location: Any
    corrected_by: list[Mapping[str, Any]] = field(default_factory=list)
    withdrawn_by: Mapping[str, Any] | None = None


def fold(entries: Iterable[Mapping[str, Any]]) -> list[Standing]:
    """Each entry, in the order given (the order of the log), with what corrects it and whether it is withdrawn.

    A withdrawal can itself be withdrawn: then the entry stands again. A withdrawn correction changes nothing any
    more, and stays in the list of what was said. Only what comes later can correct or withdraw.
    """
    standings = [Standing(entry, dict(entry["body"]), entry["location"]) for entry in entries]
    at = {standing.entry["id"]: index for index, standing in enumerate(standings)}

    def target(index: int) -> Standing | None:
        aim = at.get(standings[index].entry["body"]["entry"], index)
        return standings[aim] if aim < index else None

    # From the last to the first, so that whether a withdrawal still holds is known before it takes effect.
    for index in reversed(range(len(standings))):
        standing = standings[index]
        if standing.entry["kind"] == "entry_withdrawn" and standing.withdrawn_by is None:
            held = target(index)
            if held is not None and held.withdrawn_by is None:
                held.withdrawn_by = standing.entry
    for index, standing in enumerate(standings):
        held = target(index) if standing.entry["kind"] == "entry_corrected" else None
        if held is None:
            continue
        held.corrected_by.append(standing.entry)
        if standing.withdrawn_by is None and held.entry["kind"] not in ("entry_corrected", "entry_withdrawn"):
            held.body.update(standing.entry["body"]["changes"])
            held.location = standing.entry["body"]["location"] or held.location
    return standings
