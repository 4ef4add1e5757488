"""Steps (6) to (10): the log fingerprint, the records, their signatures and chains, and their places in the log."""

from __future__ import annotations

import base64
from typing import NamedTuple

from witnessmark.proof import bag, entries, heads, keys, layout, merkle
from witnessmark.proof.canonical import parse, sha256_hex
from witnessmark.proof.faults import Report
from witnessmark.proof.sentences import say
from witnessmark.proof.sources import Damaged, FolderSource, ZipSource, lines_of, read_whole

ENTRY_FIELDS = {
    "author", "body", "claimed", "clock", "device", "id", "job", "kind", "location", "media", "previous", "sequence",
    "stage", "version", "workshop",
}  # fmt: skip
# Entries have links since 2026-12; what they say is checked in `links`.
LINKED_FIELDS = ENTRY_FIELDS | {"links"}
RECEIPT_FIELDS = {"hash", "offset_ms", "position", "proof", "received", "signature"}
# Records of the workshop itself that a job's records cannot be checked or read without.
OF_THE_WORKSHOP = {
    "workshop_founded", "device_enrolled", "device_revoked", "engine_type_described", "entry_refused", "log_restored",
    "log_difference_noted",
}  # fmt: skip
# What the workshop said that figures and tightened joints are judged by and speech is read with, and the field of the
# body that says it.
STATEMENTS = {
    "gauge_described": "gauge", "limit_set": "limit", "size_set": "size", "procedure_described": "procedure",
    "measuring_rules_set": "rules", "tightening_sheet_described": "sheet", "torque_tool_described": "tool",
    "spoken_word_set": "word",
}  # fmt: skip
LARGEST_ENTRY = 4 << 20


class Entry(NamedTuple):
    """One entry of the pack as it was read."""

    position: int
    path: str
    data: bytes
    hash: str
    value: dict


def check_head(source: FolderSource | ZipSource, report: Report) -> heads.Head | None:
    """(6) The head is one, was made by the server whose key is here, and is signed by it."""
    key = bag.server_key(source, report)
    data, signature = _read(source, layout.HEAD, 6, report), _read(source, layout.HEAD_SIGNATURE, 6, report)
    if data is None or signature is None or key is None:
        return None
    try:
        head = heads.read(data)
    except ValueError as error:
        report.fault(6, layout.HEAD, say("proof.head.canonical"), str(error))
        return None
    try:
        heads.check(data, keys.raw_from_der(signature), key)
    except ValueError as error:
        report.fault(6, layout.HEAD, say("proof.head.signed"), str(error))
    report.facts.update(server=keys.server_id(key), head_size=head.size, head_root=head.root.hex(), head_time=head.time)
    return head


def read_entries(source: FolderSource | ZipSource, head: heads.Head | None, report: Report) -> list[Entry]:
    """(7) Every entry is canonical, complete, of this workshop, and of this job or needed to check it."""
    result = []
    for path in sorted(source.sizes):
        if not path.startswith(layout.ENTRIES):
            continue
        position = layout.position_of(path)
        if position is None:
            report.fault(7, path, say("proof.record.name"), say("proof.record.other_name"))
            continue
        data = _read(source, path, 7, report, LARGEST_ENTRY)
        if data is None:
            continue
        try:
            value = parse(data)
        except ValueError as error:
            report.fault(7, path, say("proof.common.canonical"), str(error))
            continue
        fault = _shape_fault(value)
        if fault:
            report.fault(7, path, say("proof.record.fields"), fault)
            continue
        result.append(Entry(position, path, data, sha256_hex(data), value))
    result.sort(key=lambda entry: entry.position)
    if not result:
        report.fault(7, layout.ENTRIES, say("proof.record.some"), say("proof.common.none"))
    for entry in result:
        if head and entry.value["workshop"] != head.workshop:
            wanted = say("proof.record.of_workshop", workshop=head.workshop)
            report.fault(7, entry.path, wanted, str(entry.value["workshop"]))
    return result


def check_job(all_entries: list[Entry], job: object, report: Report) -> None:
    """(7) continued: no entry of another job has slipped in, and what figures and joints are judged by is here."""
    for entry in all_entries:
        kind = entry.value["kind"]
        stated = say("proof.record.kind_of", kind=kind, job=entry.value["job"])
        if entry.value["job"] != job and kind not in OF_THE_WORKSHOP and kind not in STATEMENTS:
            report.fault(7, entry.path, say("proof.record.of_job", job=job), stated)
        elif kind in STATEMENTS and entry.value["job"] is not None:
            report.fault(7, entry.path, say("proof.record.of_no_job"), stated)
        elif kind in STATEMENTS and not isinstance(entry.value["body"].get(STATEMENTS[kind]), (dict, str)):
            report.fault(7, entry.path, say("proof.record.body_with", field=STATEMENTS[kind]), say("proof.common.none"))
    here = {str(entry.value["id"]) for entry in all_entries if entry.value["kind"] in STATEMENTS}
    named = {str(statement) for entry in all_entries for statement in _basis(entry.value)}
    if missing := len(named - here):
        report.remark(say("proof.record.statements_missing", number=missing))


def _basis(value: dict) -> list:
    """The entries that a reading, a run or a fastener, or the correction of one, says it is judged by."""
    body = value["body"]
    if value["kind"] == "entry_corrected":
        body = body.get("changes")
    elif value["kind"] not in ("measured", "tightening_begun", "fastener_tightened"):
        return []
    basis = body.get("basis") if isinstance(body, dict) else None
    return basis if isinstance(basis, list) else []


def read_receipts(source: FolderSource | ZipSource, report: Report) -> dict[int, dict]:
    """(8) There is one receipt for each entry, by position."""
    data = _read(source, layout.RECEIPTS, 8, report)
    receipts: dict[int, dict] = {}
    most = sum(1 for path in source.sizes if path.startswith(layout.ENTRIES)) + report.MOST
    for number, line in enumerate(lines_of(data or b""), 1):
        where = say("proof.common.line", file=layout.RECEIPTS, number=number)
        if number > most:
            report.fault(8, where, say("proof.common.lines", most=most), say("proof.common.more"))
            break
        try:
            value = parse(line)
        except ValueError as error:
            report.fault(8, where, say("proof.common.canonical"), str(error))
            continue
        if not isinstance(value, dict) or set(value) != RECEIPT_FIELDS or type(value["position"]) is not int:
            wanted = say("proof.receipt.fields", fields=", ".join(sorted(RECEIPT_FIELDS)))
            report.fault(8, where, wanted, say("proof.common.something_else"))
        elif value["position"] in receipts:
            position = say("proof.receipt.position", position=value["position"])
            report.fault(8, where, say("proof.receipt.once"), say("proof.common.again", what=position))
        else:
            receipts[value["position"]] = value
    return receipts


def check_signatures(
    all_entries: list[Entry], receipts: dict[int, dict], server_key: bytes | None, report: Report
) -> None:
    """(8) Each entry is the one its receipt names, and was signed by the device that it says made it.

    A device's key is taken from the entry that enrolled it, which the workshop's desk signed; the desk's key from the
    entry that founded the workshop, which must be the server's own.
    """
    device_keys: dict[str, bytes] = {}
    blocked: set[object] = set()
    for position in sorted(set(receipts) - {entry.position for entry in all_entries}):
        report.fault(8, layout.entry_path(position), say("proof.receipt.record"), say("proof.common.none"))
    for entry in all_entries:
        value, receipt = entry.value, receipts.get(entry.position)
        if value["device"] in blocked:
            report.remark(say("proof.record.after_block", path=entry.path))
        if value["kind"] == "device_revoked":
            blocked.add(value["body"].get("device"))
        if value["kind"] == "workshop_founded":
            key = _key(value["body"].get("server_key"))
            if key is None or (server_key is not None and key != server_key):
                report.fault(8, entry.path, say("proof.record.founding_key"), say("proof.record.other_key"))
            device_keys.setdefault(value["device"], key or b"")
        if receipt is None:
            report.fault(
                8, layout.RECEIPTS, say("proof.receipt.for_position", position=entry.position), say("proof.common.none")
            )
        elif receipt["hash"] != entry.hash:
            report.fault(8, entry.path, say("proof.receipt.hash", hash=receipt["hash"]), entry.hash)
        else:
            key = device_keys.get(value["device"])
            if key is None:
                report.fault(
                    8, entry.path, say("proof.record.enrolment", device=value["device"]), say("proof.common.none")
                )
            elif not _is_text(receipt["signature"]) or not keys.verify(key, receipt["signature"], entry.data):
                report.fault(8, entry.path, say("proof.record.device_signature"), say("proof.common.bad_signature"))
        if value["kind"] == "device_enrolled":
            device_keys[str(value["body"].get("device"))] = _key(value["body"].get("public_key")) or b""


def check_chains(all_entries: list[Entry], report: Report) -> None:
    """(9) The entries of each device follow one another: each names the hash of the one before it."""
    refused: dict[str, list[tuple[int, str]]] = {}
    by_device: dict[str, list[Entry]] = {}
    for entry in all_entries:
        by_device.setdefault(str(entry.value["device"]), []).append(entry)
        body = entry.value["body"]
        hash_known = entry.value["kind"] == "entry_refused" and type(body.get("sequence")) is int
        # The hash of an entry that the phone lost is unknown: its number is a gap like any other.
        if hash_known and body.get("entry_hash") != entries.NO_ENTRY_BEFORE:
            refused.setdefault(str(body.get("device")), []).append((body["sequence"], str(body["entry_hash"])))
    missing: dict[str, list[tuple[int, int]]] = {}
    for device, own in sorted(by_device.items()):
        before = None
        # The log keeps a device's own order, so its numbers must rise with the positions: no sorting here.
        for entry in own:
            sequence = entry.value["sequence"]
            for number, name in sorted(refused.get(device, ())):
                if number == sequence - 1 and (before is None or before[0] < number):
                    before = (number, name)
            fault = entries.broken_link(before, sequence, entry.value["previous"])
            if fault:
                report.fault(9, entry.path, say("proof.chain.next", device=device), fault)
            before = (sequence, entry.hash)
        shown = [entry.value["sequence"] for entry in own]
        ranges = entries.missing_numbers([*shown, *(number for number, _ in refused.get(device, ()))])
        if ranges:
            missing[device] = ranges
            numbers = entries.ranges_words(ranges)
            report.remark(say("proof.chain.not_shown", device=device_name(device, all_entries), numbers=numbers))
    report.facts["not_shown"] = missing


def device_name(device: str, all_entries: list[Entry]) -> str:
    """The device as the workshop enrolled it, by letter and name; else its id."""
    for entry in all_entries:
        body = entry.value["body"]
        if entry.value["kind"] == "device_enrolled" and body.get("device") == device:
            return say("proof.chain.phone", letter=body.get("letter"), name=body.get("name"))
        if entry.value["kind"] == "workshop_founded" and entry.value["device"] == device:
            return say("proof.chain.desk")
    return device


def check_places(all_entries: list[Entry], receipts: dict[int, dict], head: heads.Head | None, report: Report) -> None:
    """(10) Each receipt leads to the root of the signed head: the entry stands in the log at its position, received
    when the receipt says."""
    if head is None:
        return
    for entry in all_entries:
        receipt = receipts.get(entry.position)
        if receipt is None or receipt["hash"] != entry.hash:
            continue
        where = say("proof.receipt.where", file=layout.RECEIPTS, position=entry.position)
        if entry.position > head.size:
            report.fault(10, where, say("proof.receipt.within", size=head.size), say("proof.receipt.later"))
            continue
        try:
            path = [bytes.fromhex(step) for step in receipt["proof"]]
            leaf = entries.leaf(
                entry.hash, receipt["signature"], entry.position, receipt["received"], receipt["offset_ms"]
            )
        except (ValueError, TypeError):
            report.fault(10, where, say("proof.receipt.path"), say("proof.common.something_else"))
            continue
        if not merkle.verify_inclusion(leaf, entry.position - 1, head.size, path, head.root):
            report.fault(10, where, say("proof.receipt.root", size=head.size), say("proof.receipt.other_root"))


def _read(
    source: FolderSource | ZipSource, path: str, step: int, report: Report, most: int = 256 << 20
) -> bytes | None:
    if path not in source.sizes:
        report.fault(step, path, say("proof.common.this_file"), say("proof.common.none"))
        return None
    try:
        return read_whole(source, path, most)
    except Damaged as error:
        report.fault(step, path, say("proof.common.readable"), str(error))
        return None


def _shape_fault(value: object) -> str | None:
    if not isinstance(value, dict):
        return say("proof.record.no_object")
    if (odd := set(value) ^ ENTRY_FIELDS) and set(value) != LINKED_FIELDS:
        return say("proof.record.fields_differ", fields=", ".join(sorted(odd)))
    if type(value["sequence"]) is not int or value["sequence"] < 1 or not _is_text(value["previous"]):
        return say("proof.record.no_number")
    if not isinstance(value["body"], dict) or not isinstance(value["media"], list):
        return say("proof.record.body_or_media")
    if not all(isinstance(item, dict) and _is_text(item.get("sha256")) for item in value["media"]):
        return say("proof.record.media_no_hash")
    if not (_is_text(value["kind"]) and _is_text(value["device"])):
        return say("proof.record.no_kind")
    return None


def _is_text(value: object) -> bool:
    return isinstance(value, str)


def _key(text: object) -> bytes | None:
    try:
        return base64.b64decode(text, validate=True) if isinstance(text, str) else None
    except ValueError:
        return None
