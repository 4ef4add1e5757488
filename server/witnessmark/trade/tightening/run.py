"""A run of a tightening sheet: its state is a pure fold over its entries, in the order of the log.

The order of the entries is what counts; their claimed times are shown and give the pace. An entry is {"id", "kind",
"body", "author", "claimed", "withdrawn"}, its body as it stands after corrections; a withdrawn one counts for nothing
and is only reported. A restart asks every fastener of its stage again, and of the stages after it, which were built
on it. A fastener is left out when its stage is left or the sheet closed without it, or when somebody says so by
answering the key that this will have.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from witnessmark.trade.ground.sentences import say
from witnessmark.trade.tightening.departures import Departures, stretch_words, turned_again_words
from witnessmark.trade.tightening.rows import Entry, Stage, done_row, signed, withdrawn_row
from witnessmark.trade.tightening.stages import stages_of
from witnessmark.trade.tightening.values import (
    AGAIN,
    OUT_OF_TURN,
    method_objection,
    state_objection,
    tool_objections,
    tool_of,
    value_objection,
)
from witnessmark.trade.tightening.values_given import fasteners_missing, pace, witness_missing


def fold(
    sheet: dict[str, Any],
    entries: Iterable[Entry],
    tools: Sequence[Mapping[str, Any]] = (),
    facts: Mapping[str, Any] | None = None,
) -> dict[str, Any]:
    """The state of a run. `tools` are descriptions {"entry", "tool", "claimed"} in the order of the log; `facts` are
    {"managers": identifiers of those who may answer for a manager, "holds": sentences on conditions not yet met,
    "counted": fastener's entry -> how many its tool had done by then}. Who does not count leaves the last out.

        {"run", "begun", "direction", "stage": index of the current one or None, "next": its next fastener or None,
         "complete": every fastener of every stage done, "stages": [the sheet's fields and {"done", "missing",
         "skipped", "restarted", "earlier"}], "departures", "pace", "may_close", "missing": sentences,
         "closed", "witnessed": {"entry", "by", "at", "remark"} or None, "people", "strays", "withdrawn"}

    `done` holds {"label", "value", "unit", "given", "method", "tool", "tool_id", "set_value", "at", "by", "entry",
    "position": order number as done, "asked": as asked, "again": done before}. `strays` are those at a stage or
    fastener that the sheet has not. All the rest is text, whole numbers and yes or no, ready for JSON.
    """
    given = list(entries)
    standing = [entry for entry in given if not entry.get("withdrawn")]
    begun = next((entry for entry in standing if entry["kind"] == "tightening_begun"), None)
    first = begun or next((entry for entry in given if entry["body"].get("run")), None)
    run = Run(sheet, first["body"]["run"] if first else "", begun, tools, facts or {})
    for entry in standing:
        run.take(entry)
    mine = [entry for entry in given if entry.get("withdrawn") and entry["body"].get("run") == run.id]
    return run.state() | {"withdrawn": [withdrawn_row(entry) for entry in mine]}


class Run:
    """A run while its entries are taken in, one after the other; `told` may be asked at any time."""

    def __init__(
        self, sheet: dict[str, Any], id: str, begun: Entry | None, tools: Sequence[Any], facts: Mapping[str, Any]
    ):
        self.sheet, self.id, self.begun = sheet, id, begun
        self.direction = begun["body"]["direction"] if begun else "tighten"
        self.stages = [Stage(stage) for stage in stages_of(sheet, self.direction)]
        self.departures = Departures([other.sheet["code"] for other in self.stages])
        # Letting go waits on nothing and needs nobody beside.
        tightens = self.direction == "tighten"
        self.two_people = sheet["two_people"] and tightens
        self.tools, self.managers = tools, facts.get("managers", ())
        self.holds = facts.get("holds", ()) if tightens else ()
        self.counted = facts.get("counted", {})
        self.closed: dict[str, Any] | None = None
        self.witnessed: dict[str, Any] | None = None
        self.people: list[str] = []
        self.hands: list[str] = []
        self.strays: list[dict[str, Any]] = []

    def take(self, entry: Entry) -> None:
        """One standing entry; those of other runs and other kinds are passed over."""
        step = _STEPS.get(entry["kind"])
        if step is None or entry["body"].get("run") != self.id or self.id == "":
            return
        if entry["author"] not in self.people:
            self.people.append(entry["author"])
        step(self, entry)

    def _begin(self, entry: Entry) -> None:
        words = stretch_words(self.sheet, entry["body"]) if entry is self.begun else ""
        if words:
            self.departures.add("stretch_reused", "", "", words)

    def _tap(self, entry: Entry) -> None:
        body = entry["body"]
        label, code = body["fastener"], body["stage"]
        if entry["author"] not in self.hands:
            self.hands.append(entry["author"])
        self.witnessed = None  # it covers what was done before it, no more
        at = next((place for place, other in enumerate(self.stages) if code == other.sheet["code"]), None)
        if at is None:
            self.strays.append(done_row(entry, None))
            words = (
                say("trade.tightening.stage_not_on_sheet", fastener=label, stage=code)
                if code
                else say("trade.tightening.stage_without_code", fastener=label)
            )
            self.departures.add("out_of_order", code, label, words)
            return
        stage = self.stages[at]
        for earlier in self.stages[:at]:
            for left in earlier.open():
                about = {"stage": earlier.sheet["words"], "fastener": left, "next": stage.sheet["words"]}
                self._leave_out(earlier, left, say("trade.tightening.skipped_at_next", **about))
        if stage.sheet["proposed"] and not self.departures.count(code, "", "order_proposed"):
            words = say("trade.tightening.order_proposed", stage=stage.sheet["words"])
            self.departures.add("order_proposed", code, "", words)
        self._place(stage, entry)
        for objection in (method_objection(stage.sheet, label, body), value_objection(stage.sheet, label, body)):
            if objection:
                self.departures.add(objection[0], code, label, objection[1])
        state = state_objection(self.sheet, stage.sheet, body["state"])
        if state and (state[0], body["state"]) not in stage.reported:
            stage.reported.add((state[0], body["state"]))
            self.departures.add(state[0], code, "", state[1])
        self._tool(stage, entry)

    def _place(self, stage: Stage, entry: Entry) -> None:
        label, code = entry["body"]["fastener"], stage.sheet["code"]
        about = {"stage": stage.sheet["words"], "fastener": label}
        if label not in stage.sheet["order"]:
            self.strays.append(done_row(entry, stage))
            self.departures.add("out_of_order", code, label, say("trade.tightening.not_in_order", **about))
            return
        still, method = stage.open(), stage.sheet["method"]
        again = label not in stage.missing()
        if again:
            self.departures.add("repeated", code, label, say(AGAIN[method], **about))
        elif label in still and label != still[0]:
            self.departures.add("out_of_order", code, label, say(OUT_OF_TURN[method], **about, next=still[0]))
        stage.add(done_row(entry, stage) | {"again": again})

    def _tool(self, stage: Stage, entry: Entry) -> None:
        """Said once for a tool in a stage, not once for every fastener."""
        body = entry["body"]
        tool = tool_of(self.tools, body, entry["claimed"])
        counted = self.counted.get(entry["id"])
        objections = tool_objections(stage.sheet, tool, body["set_value"], entry["claimed"], counted) if tool else ()
        for sort, words in objections:
            if (sort, body["tool_id"]) not in stage.reported:
                stage.reported.add((sort, body["tool_id"]))
                self.departures.add(sort, stage.sheet["code"], "", words)

    def _leave_out(self, stage: Stage, label: str, words: str) -> None:
        self.departures.add("skipped", stage.sheet["code"], label, words)
        stage.skipped.append(label)

    def _answer(self, entry: Entry) -> None:
        key = entry["body"]["departure"]
        for stage in self.stages:
            code = stage.sheet["code"]
            for label in stage.open():
                if key == f"{code}/{label}/skipped/{self.departures.count(code, label, 'skipped') + 1}":
                    words = say("trade.tightening.skipped_now", stage=stage.sheet["words"], fastener=label)
                    self._leave_out(stage, label, words)
        self.departures.answer(entry, self.managers)

    def _restart(self, entry: Entry) -> None:
        codes = [stage.sheet["code"] for stage in self.stages]
        if entry["body"]["stage"] not in codes:
            return
        again = self.stages[codes.index(entry["body"]["stage"]) :]
        for stage in again:
            if words := turned_again_words(self.sheet, stage.sheet, len(stage.labels)):
                self.departures.add("stretch_reused", stage.sheet["code"], "", words)
            if stage.done:
                stage.earlier.append(stage.done)
            stage.done, stage.skipped, stage.reported, stage.labels = [], [], set(), set()
        again[0].restarted += 1
        self.witnessed = None
        self.departures.restart(entry, [other.sheet["code"] for other in again])

    def _witness(self, entry: Entry) -> None:
        self.witnessed = signed(entry)

    def _close(self, entry: Entry) -> None:
        if self.closed is None:
            self.closed = signed(entry)
            for stage in self.stages:
                for label in stage.open():
                    words = say("trade.tightening.skipped_at_close", stage=stage.sheet["words"], fastener=label)
                    self._leave_out(stage, label, words)

    def _missing(self) -> list[str]:
        witness = self.witnessed and self.witnessed["by"]
        reasons = [
            "" if self.begun else say("trade.tightening.no_beginning"),
            *(fasteners_missing(stage.sheet, stage.open()) for stage in self.stages),
            *(departure.demand() for departure in self.departures.open()),
            *self.holds,
            witness_missing(self.two_people, witness, self.hands),
        ]
        return [reason for reason in reasons if reason]

    def state(self) -> dict[str, Any]:
        """The state as it is now, apart from what was withdrawn; see `fold`."""
        now = next((place for place, other in enumerate(self.stages) if other.open()), None)
        missing = self._missing()
        return {
            "run": self.id,
            "begun": signed(self.begun) if self.begun else None,
            "direction": self.direction,
            "stage": now,
            "next": None if now is None else self.stages[now].open()[0],
            "complete": not any(stage.missing() for stage in self.stages),
            "stages": [stage.as_json() for stage in self.stages],
            "departures": [departure.as_json() for departure in self.departures.all],
            "pace": [
                pace_of_stage for stage in self.stages if (pace_of_stage := pace(stage.sheet["code"], stage.done))
            ],
            "may_close": self.closed is None and not missing,
            "missing": missing,
            "closed": self.closed,
            "witnessed": self.witnessed,
            "people": list(self.people),
            "strays": list(self.strays),
        }


_STEPS = {
    "tightening_begun": Run._begin,
    "fastener_tightened": Run._tap,
    "departure_answered": Run._answer,
    "tightening_stage_restarted": Run._restart,
    "tightening_witnessed": Run._witness,
    "tightening_closed": Run._close,
}
