"""What is said of a run: what is missing before it may be closed, and its pace."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from datetime import datetime, timedelta
from typing import Any

from witnessmark.trade.ground.sentences import listed, say
from witnessmark.trade.tightening.values import STILL_TO_BE


def fasteners_missing(stage: dict[str, Any], labels: Sequence[str]) -> str:
    """The sentence on the fasteners that a stage still asks for, "" for none."""
    if not labels:
        return ""
    return say(STILL_TO_BE[stage["method"]], stage=stage["words"], fasteners=listed(labels), count=len(labels))


def witness_missing(two_people: bool, witness: str | None, hands: Collection[str]) -> str:
    """The sentence on the second person, "" when none is asked for or one was there. `witness` is who witnessed it
    after the last fastener, `hands` are those who tightened."""
    if not two_people or (witness is not None and witness not in hands):
        return ""
    if witness is None:
        return say("trade.tightening.witness_missing")
    return say("trade.tightening.witness_tightened")


def pace(code: str, done: Sequence[dict[str, Any]]) -> dict[str, Any] | None:
    """How long a stage took from its first to its last fastener, by the times as claimed: a fact, not a judgement."""
    if not done:
        return None
    count = len(done)
    span = datetime.fromisoformat(done[-1]["at"]) - datetime.fromisoformat(done[0]["at"])
    seconds = span // timedelta(seconds=1)
    if count == 1:
        words = say("trade.tightening.pace.only", count=count)
    elif seconds < 0:
        words = say("trade.tightening.pace.backwards", count=count)
    else:
        words = say("trade.tightening.pace.took", count=count, time=duration(seconds))
    return {"stage": code, "fasteners": count, "seconds": seconds, "words": words}


def duration(seconds: int) -> str:
    """ "6 seconds", "4 minutes 10 seconds", "2 hours 5 minutes"; what is left over is dropped."""
    if seconds < 60:
        return say("trade.tightening.duration.seconds", count=seconds)
    minutes = say("trade.tightening.duration.minutes", count=seconds // 60 % 60)
    if seconds < 3600:
        large, small = minutes, seconds % 60 and say("trade.tightening.duration.seconds", count=seconds % 60)
    else:
        large, small = say("trade.tightening.duration.hours", count=seconds // 3600), seconds // 60 % 60 and minutes
    return say("trade.tightening.duration.both", large=large, small=small) if small else large
