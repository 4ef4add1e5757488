"""What is said of a run: what is missing before it may be closed, and its pace."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from datetime import datetime, timedelta
from typing import Any

from witnessmark.trade.tightening.stages import fasteners
from witnessmark.trade.tightening.values import DONE


def fasteners_missing(stage: dict[str, Any], labels: Sequence[str]) -> str:
    """The sentence on the fasteners that a stage still asks for, "" for none."""
    if not labels:
        return ""
    verb = "is" if len(labels) == 1 else "are"
    return f"{stage['words']}: {fasteners(labels)} {verb} still to be {DONE[stage['method']]}."


def witness_missing(two_people: bool, witness: str | None, hands: Collection[str]) -> str:
    """The sentence on the second person, "" when none is asked for or one was there. `witness` is who witnessed it
    after the last fastener, `hands` are those who tightened."""
    if not two_people or (witness is not None and witness not in hands):
        return ""
    if witness is None:
        return "A second person has to witness it, after the last fastener."
    return "It was witnessed by one who tightened; a second person has to witness it."


def pace(code: str, done: Sequence[dict[str, Any]]) -> dict[str, Any] | None:
    """How long a stage took from its first to its last fastener, by the times as claimed: a fact, not a judgement."""
    if not done:
        return None
    count = len(done)
    fasteners = "1 fastener" if count == 1 else f"{count} fasteners"
    span = datetime.fromisoformat(done[-1]["at"]) - datetime.fromisoformat(done[0]["at"])
    seconds = span // timedelta(seconds=1)
    if count == 1:
        words = f"{fasteners}."
    elif seconds < 0:
        words = f"{fasteners}; the clock went back between the first and the last."
    else:
        words = f"{fasteners} in {duration(seconds)}."
    return {"stage": code, "fasteners": count, "seconds": seconds, "words": words}


def duration(seconds: int) -> str:
    """ "6 seconds", "4 minutes 10 seconds", "2 hours 5 minutes"; what is left over is dropped."""
    if seconds < 60:
        return _counted(seconds, "second")
    if seconds < 3600:
        large, small, names = seconds // 60, seconds % 60, ("minute", "second")
    else:
        large, small, names = seconds // 3600, seconds % 3600 // 60, ("hour", "minute")
    return " ".join([_counted(large, names[0])] + ([_counted(small, names[1])] if small else []))


def _counted(count: int, thing: str) -> str:
    return f"{count} {thing}" if count == 1 else f"{count} {thing}s"
