"""A job's facts as they stand now, and the number proposed for a new job."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from witnessmark.trade.ground.corrections import fold
from witnessmark.trade.record.kinds import KINDS

# The kinds that say what a job is and how far it has got.
DECIDING = frozenset({"job_opened", "job_amended", "stage_reached"})
FACTS: tuple[str, ...] = tuple(KINDS["job_opened"].fields)


def job_facts(entries: Iterable[Mapping[str, Any]]) -> dict[str, Any] | None:
    """The facts of one job from its entries in the order of the log, None when it was never opened.

    Opened first, then each amendment and each stage in turn; corrections count where they correct, what is
    withdrawn does not count. `stage` is the last stage reached, None before the first.
    """
    facts: dict[str, Any] | None = None
    stage = None
    for standing in fold(entries):
        if standing.withdrawn_by is not None:
            continue
        kind = standing.entry["kind"]
        if kind == "job_opened" and facts is None:
            facts = {name: standing.body[name] for name in FACTS}
        elif kind == "job_amended" and facts is not None:
            facts.update({name: value for name, value in standing.body["changes"].items() if name in FACTS})
        elif kind == "stage_reached":
            stage = standing.body["stage"]
    return None if facts is None else {**facts, "stage": stage}
