"""Where what a recogniser heard and what somebody recorded from the same sound are not the same."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from witnessmark.trade.engine.vocabulary import words
from witnessmark.trade.ground import units
from witnessmark.trade.ground.errors import Refusal

Proposal = Mapping[str, Any]


def differing(proposal: Proposal, record: Mapping[str, Any]) -> list[str] | None:
    """The parts that differ, of "place", "point", "quantity", "value", "unit", "condition" and "disposition"; [] when
    what was heard is what was recorded. None when nothing was heard that such a record could be made of.

    Only what was heard is compared: a unit that nobody spoke and somebody chose is no difference.
    `proposal` is of trade/spoken, `record` {"kind", "body", "location"} as it stands.
    """
    # What was taken back, or sounds like talk, is nothing that a record could be held against.
    if proposal["withdrawn"] or "again" in proposal["asks"]:
        return None
    fields = _of_finding(proposal, record) if record["kind"] == "finding_made" else _of_figure(proposal, record)
    return None if fields is None else _of_place(proposal, record) + fields


def _of_place(proposal: Proposal, record: Mapping[str, Any]) -> list[str]:
    location, body = record["location"] or {"place": "", "point": ""}, record["body"]
    here = {location["place"], f"{location['place']}/{body.get('fastener', '')}"}
    # A place that was spoken of and is none of this engine's was not understood: it contradicts nothing.
    elsewhere = proposal["place_spoken"] and proposal["place"] not in ("", *here)
    place = ["place"] if elsewhere else []
    heard, kept = set(words(proposal["point"])), set(words(location["point"]))
    return place + (["point"] if heard and kept and heard != kept else [])


def _of_figure(proposal: Proposal, record: Mapping[str, Any]) -> list[str] | None:
    if not proposal["value"]:
        return None
    body = record["body"]
    spoken = proposal["quantity"] if record["kind"] == "measured" and proposal["quantity_spoken"] else ""
    return (["quantity"] if spoken not in ("", body.get("quantity")) else []) + _of_value(proposal, body)


def _of_value(proposal: Proposal, body: Mapping[str, Any]) -> list[str]:
    try:
        heard, kept = units.read(proposal["value"], proposal["unit"]), units.read(body["value"], body["unit"])
    except Refusal:
        return ["value"]  # an older record may hold a value that is no number
    # Two ends were heard, and a record holds one.
    if proposal["value_to"]:
        return ["value"]
    if not heard.unit or heard.unit == kept.unit:
        return [] if heard.amount == kept.amount else ["value"]
    try:
        if kept.unit and units.convert(heard.amount, heard.unit, kept.unit) == kept.amount:
            return []
    except Refusal:
        pass  # a length and a torque have nothing in common: then figures and units are compared as they stand
    return ([] if heard.amount == kept.amount else ["value"]) + ["unit"]


def _of_finding(proposal: Proposal, record: Mapping[str, Any]) -> list[str] | None:
    if not proposal["conditions"] and not proposal["disposition"]:
        return None
    body = record["body"]
    kept = {" ".join(words(condition)) for condition in body["condition"]}
    written = f" {' '.join(words(body['observation']))} "
    heard = [" ".join(words(condition)) for condition in proposal["conditions"]]
    condition = any(phrase not in kept and f" {phrase} " not in written for phrase in heard)
    done = body.get("disposition", "")
    disposition = proposal["disposition"] not in ("", done)
    return (["condition"] if condition else []) + (["disposition"] if disposition else [])
