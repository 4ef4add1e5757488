"""Departures of a run from its sheet: what is said of each, under which key, and how it is settled.

Nothing is refused because it departs. Each departure is recorded as it happened and answered by a reason, or settled
when its stage is begun again; a stretch bolt tightened too often needs a manager's reason.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Any

from witnessmark.trade.ground.sentences import say

# sort -> its words in a list of departures
SORTS = {
    "out_of_order": say("trade.tightening.sort.out_of_order"),
    "skipped": say("trade.tightening.sort.skipped"),
    "repeated": say("trade.tightening.sort.repeated"),
    "over": say("trade.tightening.sort.over"),
    "under": say("trade.tightening.sort.under"),
    "wrong_tool": say("trade.tightening.sort.wrong_tool"),
    "overdue_tool": say("trade.tightening.sort.overdue_tool"),
    "out_of_range": say("trade.tightening.sort.out_of_range"),
    "stretch_reused": say("trade.tightening.sort.stretch_reused"),
    "order_proposed": say("trade.tightening.sort.order_proposed"),
    "other_unit": say("trade.tightening.sort.other_unit"),
    "other_state": say("trade.tightening.sort.other_state"),
    "overdue_count": say("trade.tightening.sort.overdue_count"),
}
MOST_OF_A_LABEL = 30
# What was done is not undone by doing the stage again.
_STAYS = ("order_proposed", "stretch_reused")


@dataclass
class Departure:
    """`stage` is "" for the whole run and `label` "" for the whole stage; `answered` is {"reason", "by", "entry",
    "how": "reason" or "restart"}."""

    key: str
    sort: str
    stage: str
    label: str
    words: str
    needs: str
    restartable: bool
    answered: dict[str, Any] | None = None

    def as_json(self) -> dict[str, Any]:
        names = ("key", "sort", "stage", "label", "words", "answered", "needs")
        return {name: getattr(self, name) for name in names}

    def demand(self) -> str:
        """The sentence that says what is missing while it is open."""
        if self.needs == "manager":
            return say("trade.tightening.needs_manager", departure=self.words)
        if self.restartable:
            return say("trade.tightening.needs_reason_or_restart", departure=self.words)
        return say("trade.tightening.needs_reason", departure=self.words)


def demands(words: str) -> set[str]:
    """The sentences that may say what is missing while a departure with these words is open."""
    return {
        say("trade.tightening.needs_manager", departure=words),
        say("trade.tightening.needs_reason_or_restart", departure=words),
        say("trade.tightening.needs_reason", departure=words),
    }


class Departures:
    """All departures of a run in the order in which they arose. A key is stage/fastener/sort/number, and the number
    counts those alike, so that what comes later changes no key."""

    def __init__(self, stages: Collection[str]):
        self.all: list[Departure] = []
        self._stages = stages
        self._counts: dict[str, int] = {}
        self._by_key: dict[str, Departure] = {}

    def count(self, stage: str, label: str, sort: str) -> int:
        return self._counts.get(_stem(stage, label, sort), 0)

    def add(self, sort: str, stage: str, label: str, words: str) -> Departure:
        stem = _stem(stage, label, sort)
        self._counts[stem] = self._counts.get(stem, 0) + 1
        key = stem + str(self._counts[stem])
        needs = "manager" if sort == "stretch_reused" else "reason"
        restartable = sort not in _STAYS and stage in self._stages
        departure = Departure(key, sort, stage, label, words, needs, restartable)
        self.all.append(departure)
        self._by_key[key] = departure
        return departure

    def answer(self, entry: Mapping[str, Any], managers: Collection[str]) -> None:
        """Takes a reason. One that comes before its departure, or from nobody who may give it, answers nothing; of two
        reasons the later one is shown."""
        departure = self._by_key.get(entry["body"]["departure"])
        if departure is None or (departure.needs == "manager" and entry["author"] not in managers):
            return
        if departure.answered is None or departure.answered["how"] == "reason":
            departure.answered = _answered(entry, "reason")

    def restart(self, entry: Mapping[str, Any], stages: Collection[str]) -> None:
        """Settles the open departures of the stages that are begun again."""
        for departure in self.all:
            if departure.answered is None and departure.restartable and departure.stage in stages:
                departure.answered = _answered(entry, "restart")

    def open(self) -> list[Departure]:
        return [departure for departure in self.all if departure.answered is None]


def _stem(stage: str, label: str, sort: str) -> str:
    """A key without its number. What the sheet has not may be called anything; a key has 80 characters at most."""
    return f"{stage}/{label[:MOST_OF_A_LABEL]}/{sort}/"


def _answered(entry: Mapping[str, Any], how: str) -> dict[str, Any]:
    return {"reason": entry["body"]["reason"], "by": entry["author"], "entry": entry["id"], "how": how}


def stretch_words(sheet: Mapping[str, Any], begun: Mapping[str, Any]) -> str:
    """The sentence when stretch bolts are tightened more often than the sheet allows, or nobody knows how often; ""
    when all is well. `begun` is the body of tightening_begun."""
    most = sheet["uses_most"]
    if sheet["bolt"] != "stretch" or begun["direction"] != "tighten" or begun["bolts"] == "new" or most == 0:
        return ""
    if begun["bolts"] == "unknown":
        return say("trade.tightening.stretch_unknown", most=times(most))
    before = max(begun["use"], 1)
    if before < most:
        return ""
    return say("trade.tightening.stretch_reused", before=times(before), most=times(most))


def turned_again_words(sheet: Mapping[str, Any], stage: Mapping[str, Any], done: int) -> str:
    """The sentence when an angle stage of stretch bolts, of which `done` fasteners were turned, is begun again: new
    bolts are used bolts from then on. "" for other stages and bolts."""
    if sheet["bolt"] != "stretch" or stage["method"] != "angle" or not done:
        return ""
    words = say("trade.tightening.restarted_after", stage=stage["words"], count=done)
    if not sheet["length_most"]:
        return words
    return f"{words} {say('trade.tightening.longest', length=sheet['length_most'])}"


def times(count: int) -> str:
    if count == 1:
        return say("trade.tightening.once")
    return say("trade.tightening.twice") if count == 2 else say("trade.tightening.times", count=count)
