"""What is said of a run beside its tables: what it went by, how it stands, who signed it, what the preload may be."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from witnessmark.trade.record import statements
from witnessmark.trade.record.kinds import KINDS
from witnessmark.trade.tightening.departures import times
from witnessmark.trade.tightening.words import bolts_words

STATES = KINDS["fastener_tightened"].fields["state"]["of"]


@dataclass(frozen=True)
class Names:
    """Numbers of the entries of a run, names of people, and by which records an entry was corrected."""

    exhibits: Mapping[str, str]
    people: Mapping[str, str]
    corrected: Mapping[str, list[str]]

    def person(self, id: str) -> str:
        return self.people.get(id) or "somebody whose name is not known"

    def signed(self, by: str, entry: str) -> str:
        """ "Ida, no. 47" """
        return f"{self.person(by)}, no. {self.exhibits[entry]}"


def moment(claimed: str) -> str:
    """ "2026-05-14 10:38:07": the time that the device claimed."""
    return f"{claimed[:10]} {claimed[11:19]}"


def state(run: Mapping[str, Any]) -> dict[str, str]:
    """How a run ended, with the form of its tag."""
    if run["closed"] and not run["missing"]:
        return {"form": "outlined", "words": "closed"}
    if run["closed"]:
        return {"form": "solid", "words": "closed with something missing"}
    return {"form": "hatched", "words": "not closed"}


def about(run: Mapping[str, Any], names: Names, tools: list[str]) -> list[tuple[str, str]]:
    """What a run went by: sheet, bolts, tools, who and when."""
    sheet, begun, found = run["sheet"], run["begun"], []
    if sheet is None:
        found.append(("sheet", "nobody described the sheet that it names"))
    else:
        newer = "" if run["sheet_newest"] else ". It was described anew since; this is the one it was begun by"
        found.append(("sheet", f"{sheet['name']}. {sheet['source']}{newer}"))
        found.append(("thread and bolts", _bolts(sheet)))
    if run["bolts"]:
        found.append(("bolts used", bolts_words(run["bolts"], run["use"])))
    found.append(("tools", "; ".join(tools) or "none was named"))
    if begun:
        found.append(("begun", f"{moment(begun['at'])}, {names.signed(begun['by'], begun['entry'])}"))
    hands = [names.person(id) for id in run["people"]]
    if len(hands) > 1:
        found.append(("people", ", ".join(hands)))
    if run["remark"]:
        found.append(("remark", run["remark"]))
    return found


def _bolts(sheet: Mapping[str, Any]) -> str:
    thread, most = sheet["thread"], sheet["uses_most"]
    size = " × ".join(one for one in (thread["size"], thread["pitch"]) if one)
    said = [size, thread["class"] and f"class {thread['class']}", STATES.get(sheet["state"], "")]
    said.append("stretch bolts" if sheet["bolt"] == "stretch" else "bolts that are used again")
    said.append(f"tightened {times(most)} in all at most" if most else "")
    said.append(sheet["length_most"] and f"no longer than {sheet['length_most']} mm")
    return ", ".join(one for one in said if one)


def tool(one: Mapping[str, Any]) -> str:
    """A torque tool as it was described."""
    told = statements.told("torque_tool", {**one, "notes": ""})
    return f"{one['name']}: {told[:1].lower()}{told[1:].rstrip('.')}" if told else one["name"]


def sign_off(run: Mapping[str, Any], names: Names) -> list[str]:
    """Who witnessed and who closed a run."""
    said = []
    for words, one in (("Witnessed", run["witnessed"]), ("Closed", run["closed"])):
        if one:
            remark = f": “{one['remark']}”" if one["remark"] else "."
            said.append(f"{words} {moment(one['at'])} by {names.signed(one['by'], one['entry'])}{remark}")
    return said


def aside(run: Mapping[str, Any], names: Names) -> list[str]:
    """What was taken back, and what the sheet knows nothing of."""
    said = []
    for one in run["withdrawn"]:
        what = f"Fastener {one['label']}" if one["label"] else KINDS[one["kind"]].words
        said.append(f"{what}, taken back: no. {names.exhibits[one['entry']]}.")
    for one in run["strays"]:
        value = f"{one['value']} {one['unit']}".strip() or "no value"
        by = names.signed(one["by"], one["entry"])
        said.append(
            f"Fastener {one['label']}, which the sheet does not ask for there: {value}, {moment(one['at'])}, {by}."
        )
    return said


def preload(said: Mapping[str, Any]) -> dict[str, Any]:
    """The estimate of preload: {unknown, thread, rows: [{stage, target, lines: [{value, small}]}], assumptions,
    cautions}."""
    sizes = [one for one in said["sizes"] if one["words"] == "stress area"]
    thread = [f"{one['words']} {one['value']}" for one in (*sizes, *said["loads"])]
    return {
        "unknown": said["unknown"],
        "thread": f"{said['thread']}: {', '.join(thread)}" if thread else said["thread"],
        "rows": [_estimate(stage) for stage in said["stages"]],
        "assumptions": said["assumptions"],
        "cautions": said["cautions"],
    }


def _estimate(stage: Mapping[str, Any]) -> dict[str, Any]:
    lines = []
    for name, line in (("short form", stage["short"]), ("long form", stage["long"])):
        if line:
            value = f"{line['usual']}, from {line['low']} to {line['high']}"
            lines.append({"value": value, "small": "; ".join(one for one in (name, line["by"], line["share"]) if one)})
    if stage["advance"]:
        small = "what it adds in preload is not told"
        lines.append({"value": f"a nut that spins freely goes on by {stage['advance']}", "small": small})
    return {"stage": stage["words"], "target": stage["target"].replace(" °", "°"), "lines": lines}
