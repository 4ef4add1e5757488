"""What was taken back and said anew: "no, scrap that", "I mean", "correction". "No cracks" takes nothing back, and
"bore no. 3" is a number."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from witnessmark.trade.spoken.items import Item
from witnessmark.trade.spoken.numbers import natural


@dataclass
class Segment:
    """A part of a line between corrections. `correction`: "" for the first, "withdraw" (what was said before does not
    count), "unsure" (it does not, or the thing itself is to be scrapped) or "replace" (what is said now counts)."""

    correction: str
    items: list[Item]


def segments(items: Sequence[Item]) -> list[Segment]:
    """The line cut at its corrections; a number said anew at once takes the place of the one before it."""
    result = [Segment("", [])]
    at = 0
    while at < len(items):
        correction = _correction(items, at)
        if correction == "sign":
            result[-1].items.append(Item("sign", (), items[at].tokens))
        elif correction == "disposition":
            result[-1].items.append(Item("phrase", (("disposition", "replace"),), items[at].tokens))
        elif correction:
            last = result[-1]
            if not last.items and last.correction:
                # "No. I mean ...": one correction in two breaths, the stronger of them.
                if "replace" != correction:
                    last.correction = correction
            else:
                result.append(Segment(correction, []))
        else:
            result[-1].items.append(items[at])
        at += 1
    return _spliced(result)


def _correction(items: Sequence[Item], at: int) -> str:
    item = items[at]
    meant = item.means("correction")
    if not meant:
        return ""
    if item.means("negations") and item.phrase == "no":
        before = items[at - 1] if at else None
        after = items[at + 1] if at + 1 < len(items) else None
        if after is not None and not after.breaks and not item.breaks:
            if after.sort == "number" and before is not None and before.means("part"):
                return "sign"
            if _can_be_denied(items, at + 1):
                return ""
        return "replace"
    if item.phrase == "scrap that":
        return _scrapped(items, at)
    return meant[0]


def _scrapped(items: Sequence[Item], at: int) -> str:
    """ "Scrap that" alone: the words. "Do not scrap that", "scrap that piston": the thing. At the end of a line that
    speaks of a thing it may be either."""
    before = items[at - 1] if at else None
    after = items[at + 1] if at + 1 < len(items) else None
    if before and before.means("negations") and before.phrase != "no" and not items[at].breaks:
        return "disposition"
    if after and after.means("part") and not after.breaks:
        return "disposition"
    return "unsure" if before and after is None else "withdraw"


def _can_be_denied(items: Sequence[Item], at: int) -> bool:
    """ "no cracks", "no visible cracks", "no wear": what follows is said not to be there."""
    for item in items[at : at + 3]:
        if item.breaks:
            return False
        if item.means("condition") or item.means("other_figures"):
            return True
        if item.sort != "word" and not item.means("fillers"):
            return False
    return False


def _spliced(parts: list[Segment]) -> list[Segment]:
    """ "bore three, no, four reads ...": the number said anew is that of the bore."""
    done: list[Segment] = []
    for segment in parts:
        if done and segment.correction == "replace" and _counts_part(done[-1].items) and segment.items:
            first = segment.items[0]
            if first.sort == "number" and natural(first.tokens)[1]:
                done[-1].items = done[-1].items[:-1] + segment.items
                continue
        done.append(segment)
    return done


def _counts_part(items: Sequence[Item]) -> bool:
    """True when the items end with a part and its number, and nothing of a value."""
    if len(items) < 2 or items[-1].sort != "number":
        return False
    text, used = natural(items[-1].tokens)
    before = items[-2]
    named = before.means("part") or before.means("fastener") or before.means("side") or before.sort == "sign"
    return bool(named) and used == len(items[-1].tokens) and text.isdigit() and len(text) <= 2
