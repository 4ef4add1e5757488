"""Step (10), the times: what the server stamped, and what devices claim beside it.

A stamp stands in the leaf of its record, so it cannot be changed without the root; the server alone says that it was
right. A device's own time is a claim and nothing more.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import datetime

from witnessmark.proof import heads, layout
from witnessmark.proof.faults import Report
from witnessmark.proof.record import Entry
from witnessmark.proof.sentences import say

MOST_NAMED = 40
# RFC 3339 as the server writes it (UTC) and as devices do (with their offset), milliseconds at the most.
_stamp = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(?:\.\d{3})?Z")
_claim = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(?:\.\d{3})?(?:Z|[+-]\d\d:\d\d)")


def moment(text: object) -> datetime | None:
    """The moment of a server's stamp (RFC 3339, UTC, `Z`); None if it is none."""
    return _read(text) if isinstance(text, str) and _stamp.fullmatch(text) else None


def claimed(text: object) -> datetime | None:
    """The moment that a device claims (RFC 3339 with its offset); None if it is none."""
    return _read(text) if isinstance(text, str) and _claim.fullmatch(text) else None


def check_times(
    entries: Sequence[Entry], receipts: dict[int, dict], head: heads.Head | None, pack: dict, report: Report
) -> None:
    """(10) Each record was received at a time, none earlier than the one before it, none after the log fingerprint, and
    that not after the pack was made. Remarks on devices whose claimed times run backwards."""
    before: datetime | None = None
    for entry in entries:
        receipt = receipts.get(entry.position)
        if receipt is None:
            continue
        where = say("proof.receipt.where", file=layout.RECEIPTS, position=entry.position)
        received = moment(receipt["received"])
        if received is None:
            report.fault(10, where, say("proof.times.stamp"), str(receipt["received"]))
            continue
        if before and received < before:
            report.fault(10, where, say("proof.times.in_order"), str(receipt["received"]))
        if type(receipt["offset_ms"]) is not int and receipt["offset_ms"] is not None:
            report.fault(10, where, say("proof.times.offset"), str(receipt["offset_ms"]))
        before = received
    _check_ends(before, head, pack, report)
    _remark_on_claims(entries, report)


def _check_ends(last: datetime | None, head: heads.Head | None, pack: dict, report: Report) -> None:
    signed, made = moment(head.time) if head else None, moment(pack.get("made"))
    if head and signed is None:
        report.fault(6, layout.HEAD, say("proof.times.stamp"), head.time)
    if pack and made is None:
        report.fault(13, layout.PACK, say("proof.times.stamp"), str(pack.get("made")))
    if last and signed and last > signed:
        report.fault(10, layout.HEAD, say("proof.times.not_after_head"), head.time if head else "")
    if signed and made and signed > made:
        report.fault(13, layout.PACK, say("proof.times.not_after_making"), str(pack["made"]))


def _remark_on_claims(entries: Sequence[Entry], report: Report) -> None:
    """A clock that was set back: the records of each device in their order, by the times that it claims."""
    last: dict[str, datetime] = {}
    backwards: dict[str, list[int]] = {}
    for entry in entries:
        device, at = str(entry.value["device"]), claimed(entry.value["claimed"])
        if at is None:
            report.fault(7, entry.path, say("proof.times.claim"), str(entry.value["claimed"]))
            continue
        if device in last and at < last[device]:
            backwards.setdefault(device, []).append(entry.position)
        last[device] = at
    for positions in backwards.values():
        numbers = ", ".join(str(position) for position in positions[:MOST_NAMED])
        if len(positions) > MOST_NAMED:
            numbers = say("proof.times.and_more", numbers=numbers, more=len(positions) - MOST_NAMED)
        report.remark(say("proof.times.backwards", positions=numbers))


def _read(text: str) -> datetime | None:
    try:
        return datetime.fromisoformat(text.replace("Z", "+00:00"))
    except ValueError:
        return None
