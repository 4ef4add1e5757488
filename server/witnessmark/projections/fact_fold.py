"""The facts of one job folded record by record, where corrections and withdrawals come in: each costs the same, however
many came before it. Only a withdrawal of a withdrawal of a withdrawal … walks back along its own chain.

What stands is what trade/ground/corrections.py says; a test holds the two together.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from witnessmark.trade.record.jobs import DECIDING, FACTS


class _Node:
    """A record of the fold: what it answers, what corrects it, and how many withdrawals of it stand."""

    def __init__(self, entry: dict, target: _Node | None) -> None:
        self.entry = entry
        self.kind: str = entry["kind"]
        self.target = target
        self.withdrawals = 0
        self.corrections: list[_Node] = []
        self._body: dict | None = dict(entry["body"])

    @property
    def stands(self) -> bool:
        return not self.withdrawals

    @property
    def body(self) -> dict:
        """As corrected: in the order of the log, by the corrections that stand."""
        if self._body is None:
            self._body = dict(self.entry["body"])
            for correction in self.corrections:
                if correction.stands:
                    self._body.update(correction.entry["body"]["changes"])
        return self._body

    def correct(self, correction: _Node) -> None:
        """Takes in a new correction, which stands."""
        self.corrections.append(correction)
        if self._body is not None:
            self._body.update(correction.entry["body"]["changes"])

    def forget_body(self) -> None:
        """To be called when one of its corrections no longer stands, or does again."""
        self._body = None


class FactFold:
    """What stands of a job's facts. `add` takes, in the order of the log, every record of the job that gives facts,
    and every answer to one, to such an answer and so on."""

    def __init__(self, entries: Iterable[dict]) -> None:
        self._nodes: dict[str, _Node] = {}
        self._deciding: list[_Node] = []
        self._engine_type: str | None = None
        for entry in entries:
            self.add(entry)

    def add(self, entry: dict) -> None:
        target = self._nodes.get(entry["body"]["entry"]) if entry["kind"] not in DECIDING else None
        node = self._nodes[entry["id"]] = _Node(entry, target)
        if node.kind in DECIDING:
            self._deciding.append(node)
            self._changed(node)
        elif target is not None and node.kind == "entry_corrected":
            target.correct(node)
            self._changed(node)
        elif target is not None:
            target.withdrawals += 1
            if target.withdrawals == 1:
                self._turned(target)

    def engine_type(self) -> str:
        """The engine type of the job, "" where none is stated."""
        if self._engine_type is None:
            self._engine_type = self.facts()["engine_type"]
        return self._engine_type

    def facts(self) -> dict[str, Any]:
        """The facts as they stand, with `stage` ("" before the first).

        When every opening is withdrawn, the first is all there is to name the job by, and counts.
        """
        openings = [node for node in self._deciding if node.kind == "job_opened"]
        opening = next((node for node in openings if node.stands), openings[0] if openings else None)
        facts: dict[str, Any] = dict.fromkeys(FACTS, "")
        stage = ""
        for node in self._deciding:
            if node is opening:
                facts.update((name, node.body[name]) for name in FACTS)
            elif node.stands and node.kind == "job_amended":
                facts.update((name, new) for name, new in node.body["changes"].items() if name in FACTS)
            elif node.stands and node.kind == "stage_reached":
                stage = node.body["stage"]
        return {**facts, "stage": stage}

    def _turned(self, node: _Node | None) -> None:
        """A record that stood is withdrawn, or stands again; and with a withdrawal what it withdraws."""
        while node is not None and node.kind == "entry_withdrawn":
            held = node.target
            if held is None:
                return
            # Counted here and not by `stands`: a chain may be a thousand long.
            held.withdrawals += -1 if node.withdrawals else 1
            if held.withdrawals != (0 if node.withdrawals else 1):
                return  # another withdrawal of it stands as before
            node = held
        if node is not None:
            if node.kind == "entry_corrected" and node.target is not None:
                node.target.forget_body()
            self._changed(node)

    def _changed(self, node: _Node) -> None:
        if _may_state_engine_type(node):
            self._engine_type = None


def _may_state_engine_type(node: _Node) -> bool:
    if node.kind == "job_opened":
        return True
    changes = node.entry["body"].get("changes", {})
    # A correction of an amendment replaces all of its changes.
    return "engine_type" in changes or "changes" in changes or bool(node.corrections)
