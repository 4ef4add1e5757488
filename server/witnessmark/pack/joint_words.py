"""What is said of a run beside its tables: what it went by, how it stands, who signed it, what the preload may be."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from witnessmark.trade.ground.sentences import say
from witnessmark.trade.record import statements
from witnessmark.trade.record.kinds import KINDS
from witnessmark.trade.tightening.departures import times
from witnessmark.trade.tightening.preload_estimate import STRESS_AREA
from witnessmark.trade.tightening.words import bolts_words

STATES = KINDS["fastener_tightened"].fields["state"]["of"]


@dataclass(frozen=True)
class Names:
    """Numbers of the entries of a run, names of people, and by which records an entry was corrected."""

    exhibits: Mapping[str, str]
    people: Mapping[str, str]
    corrected: Mapping[str, list[str]]

    def person(self, id: str) -> str:
        return self.people.get(id) or say("pack.joints.name_unknown")

    def signed(self, by: str, entry: str) -> str:
        """ "Ida, no. 47" """
        return say("pack.joints.signed", person=self.person(by), number=self.exhibits[entry])


def moment(claimed: str) -> str:
    """ "2026-05-14 10:38:07": the time that the device claimed."""
    return f"{claimed[:10]} {claimed[11:19]}"


def state(run: Mapping[str, Any]) -> dict[str, str]:
    """How a run ended, with the form of its tag."""
    if run["closed"] and not run["missing"]:
        return {"form": "outlined", "words": say("pack.joints.closed")}
    if run["closed"]:
        return {"form": "solid", "words": say("pack.joints.closed_incomplete")}
    return {"form": "hatched", "words": say("pack.joints.not_closed")}


def about(run: Mapping[str, Any], names: Names, tools: list[str]) -> list[tuple[str, str]]:
    """What a run went by: sheet, bolts, tools, who and when."""
    sheet, begun, result = run["sheet"], run["begun"], []
    if sheet is None:
        result.append((say("pack.joints.sheet"), say("pack.joints.no_sheet")))
    else:
        named = {"name": sheet["name"], "source": sheet["source"]}
        sheet_words = say("pack.joints.sheet_used", **named)
        if not run["sheet_newest"]:
            sheet_words = say("pack.joints.sheet_edited_since", **named)
        result.append((say("pack.joints.sheet"), sheet_words))
        result.append((say("pack.joints.thread"), _bolts(sheet)))
    if run["bolts"]:
        result.append((say("pack.joints.bolts_used"), bolts_words(run["bolts"], run["use"])))
    result.append((say("pack.joints.tools"), "; ".join(tools) or say("pack.joints.no_tool")))
    if begun:
        signed = names.signed(begun["by"], begun["entry"])
        result.append((say("pack.joints.begun"), say("pack.joints.begun_at", time=moment(begun["at"]), signed=signed)))
    hands = [names.person(id) for id in run["people"]]
    if len(hands) > 1:
        result.append((say("pack.joints.people"), ", ".join(hands)))
    if run["remark"]:
        result.append((say("pack.joints.remark"), run["remark"]))
    return result


def _bolts(sheet: Mapping[str, Any]) -> str:
    thread, most = sheet["thread"], sheet["uses_most"]
    size = " × ".join(measure for measure in (thread["size"], thread["pitch"]) if measure)
    parts = [
        size,
        thread["class"] and say("pack.joints.strength_class", strength=thread["class"]),
        STATES.get(sheet["state"], ""),
    ]
    parts.append(say("pack.joints.stretch_bolts") if sheet["bolt"] == "stretch" else say("pack.joints.plain_bolts"))
    parts.append(say("pack.joints.most_times", times=times(most)) if most else "")
    parts.append(sheet["length_most"] and say("pack.joints.longest", length=sheet["length_most"]))
    return ", ".join(part for part in parts if part)


def tool(tool_facts: Mapping[str, Any]) -> str:
    """A torque tool as it was described."""
    text = statements.details("torque_tool", {**tool_facts, "notes": ""})
    return f"{tool_facts['name']}: {text[:1].lower()}{text[1:].rstrip('.')}" if text else tool_facts["name"]


def sign_off(run: Mapping[str, Any], names: Names) -> list[str]:
    """Who witnessed and who closed a run."""
    lines = []
    if witnessed := run["witnessed"]:
        about = _signed(witnessed, names)
        plain, remarked = say("pack.joints.witnessed", **about), say("pack.joints.witnessed_with_remark", **about)
        lines.append(remarked if witnessed["remark"] else plain)
    if closed := run["closed"]:
        about = _signed(closed, names)
        plain, remarked = say("pack.joints.closed_by", **about), say("pack.joints.closed_with_remark", **about)
        lines.append(remarked if closed["remark"] else plain)
    return lines


def _signed(row: Mapping[str, Any], names: Names) -> dict[str, str]:
    signed = names.signed(row["by"], row["entry"])
    return {"time": moment(row["at"]), "signed": signed, "remark": row["remark"]}


def aside(run: Mapping[str, Any], names: Names) -> list[str]:
    """What was taken back, and what the sheet knows nothing of."""
    asides = []
    for answered in run["withdrawn"]:
        what = (
            say("pack.joints.fastener", fastener=answered["label"])
            if answered["label"]
            else KINDS[answered["kind"]].words
        )
        asides.append(say("pack.joints.withdrawn", what=what, number=names.exhibits[answered["entry"]]))
    for stray in run["strays"]:
        value = f"{stray['value']} {stray['unit']}".strip() or say("pack.stages.no_value")
        by = names.signed(stray["by"], stray["entry"])
        asides.append(
            say("pack.joints.not_on_sheet", fastener=stray["label"], value=value, time=moment(stray["at"]), person=by)
        )
    return asides


def preload(estimate: Mapping[str, Any]) -> dict[str, Any]:
    """The estimate of preload: {unknown, thread, rows: [{stage, target, lines: [{value, small}]}], assumptions,
    cautions}."""
    sizes = [size for size in estimate["sizes"] if size["words"] == STRESS_AREA]
    thread = [f"{amount['words']} {amount['value']}" for amount in (*sizes, *estimate["loads"])]
    return {
        "unknown": estimate["unknown"],
        "thread": f"{estimate['thread']}: {', '.join(thread)}" if thread else estimate["thread"],
        "rows": [_estimate(stage) for stage in estimate["stages"]],
        "assumptions": estimate["assumptions"],
        "cautions": estimate["cautions"],
    }


def _estimate(stage: Mapping[str, Any]) -> dict[str, Any]:
    lines = []
    for name, line in ((say("pack.preload.short"), stage["short"]), (say("pack.preload.long"), stage["long"])):
        if line:
            value = say("pack.preload.value", usual=line["usual"], low=line["low"], high=line["high"])
            lines.append(
                {"value": value, "small": "; ".join(part for part in (name, line["by"], line["share"]) if part)}
            )
    if stage["advance"]:
        small = say("pack.preload.angle_unknown")
        lines.append({"value": say("pack.preload.free_nut", advance=stage["advance"]), "small": small})
    return {"stage": stage["words"], "target": stage["target"].replace(" °", "°"), "lines": lines}
