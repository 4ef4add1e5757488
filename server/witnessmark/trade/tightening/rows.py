"""One stage of a run as far as it is done, and the rows in which entries of a run are shown."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

# {"id", "kind", "body", "author", "claimed"}
Entry = Mapping[str, Any]


@dataclass
class Stage:
    """A stage as far as it is done since its last restart; `skipped` are fasteners that were left out."""

    sheet: dict[str, Any]
    done: list[dict[str, Any]] = field(default_factory=list)
    skipped: list[str] = field(default_factory=list)
    earlier: list[list[dict[str, Any]]] = field(default_factory=list)
    restarted: int = 0
    reported: set[tuple[str, str]] = field(default_factory=set)
    labels: set[str] = field(default_factory=set)

    def add(self, row: dict[str, Any]) -> None:
        self.done.append(row)
        self.labels.add(row["label"])

    def missing(self) -> list[str]:
        return [label for label in self.sheet["order"] if label not in self.labels]

    def open(self) -> list[str]:
        """The fasteners that are still asked for, the next one first."""
        return [label for label in self.missing() if label not in self.skipped]

    def as_json(self) -> dict[str, Any]:
        names = ("code", "words", "method", "target", "unit", "minus", "plus", "order", "proposed", "after")
        missing = self.missing()
        return {name: self.sheet[name] for name in names} | {
            "done": list(self.done),
            "missing": missing,
            "skipped": [label for label in missing if label in self.skipped],
            "restarted": self.restarted,
            "earlier": list(self.earlier),
        }


def signed(entry: Entry) -> dict[str, Any]:
    """Who began, witnessed or closed a run, and when."""
    body = entry["body"]
    return {"entry": entry["id"], "by": entry["author"], "at": entry["claimed"], "remark": body.get("remark", "")}


def done_row(entry: Entry, stage: Stage | None) -> dict[str, Any]:
    """A tap as it is shown; one that the tool told of counts as the target."""
    body = entry["body"]
    shown = stage.sheet if stage and body["given"] == "tap" else None
    names = ("given", "method", "tool", "tool_id", "set_value", "remark")
    order = stage.sheet["order"] if stage else []
    return {name: body[name] for name in names} | {
        "label": body["fastener"],
        "value": shown["target"] if shown else body["value"],
        "unit": shown["unit"] if shown else body["unit"],
        "at": entry["claimed"],
        "by": entry["author"],
        "entry": entry["id"],
        "position": len(stage.done) + 1 if stage else 0,
        "asked": order.index(body["fastener"]) + 1 if body["fastener"] in order else 0,
        "again": False,
    }


def withdrawn_row(entry: Entry) -> dict[str, Any]:
    """An entry of the run that was taken back."""
    body = entry["body"]
    label = {"label": body.get("fastener", ""), "stage": body.get("stage", "")}
    return label | {"entry": entry["id"], "kind": entry["kind"], "by": entry["author"], "at": entry["claimed"]}
