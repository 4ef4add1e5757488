"""Two packs of one workshop: whether the log of the later one holds all that the log of the earlier one held.

Each pack proves itself alone. Held against each other they show more: a workshop that rewrote its log between the two
would have to give out two log fingerprints, both signed, that cannot both be true.
"""

from __future__ import annotations

from pathlib import Path

from witnessmark.proof import files, heads, layout, merkle, record
from witnessmark.proof.canonical import parse
from witnessmark.proof.faults import Report
from witnessmark.proof.sentences import say
from witnessmark.proof.sources import Damaged, FolderSource, ZipSource, open_source, read_whole

MOST_NAMED = 20
# Where each finding of the comparison stands; the checks of a pack by itself end with 13.
STEP = 14


class Read:
    """What of a pack is compared: its head, its records by position, and the proofs about earlier logs."""

    def __init__(self, source: FolderSource | ZipSource) -> None:
        quiet = Report()  # what is wrong with a pack by itself stands in its own report
        self.head: heads.Head | None = record.check_head(source, quiet)
        self.entries = {entry.position: entry for entry in record.read_entries(source, self.head, quiet)}
        self.receipts = record.read_receipts(source, quiet)
        self.job = files.read_pack(source, quiet).get("job")
        self.earlier = _earlier(source)
        self.media = files.read_media(source, quiet)


def compare(old: Path, new: Path) -> Report:
    """Holds the pack at `new` against the one at `old`, both checked by themselves before. Raises Unreadable."""
    report = Report()
    packs = []
    for path in (old, new):
        source = open_source(path, Report())
        try:
            packs.append(Read(source))
        finally:
            source.close()
    before, after = packs
    if not before.head or not after.head:
        report.fault(STEP, layout.HEAD, say("proof.compare.heads"), say("proof.common.none"))
    elif (before.head.server, before.head.workshop) != (after.head.server, after.head.workshop):
        report.fault(STEP, layout.HEAD, say("proof.compare.one_workshop"), say("proof.compare.two_workshops"))
    elif before.head.size > after.head.size:
        sizes = {"old": before.head.size, "new": after.head.size}
        report.fault(STEP, layout.HEAD, say("proof.compare.later"), say("proof.compare.shorter", **sizes))
    else:
        _compare_logs(before, after, report)
        _compare_records(before, after, report)
        _tie(before, after, new, report)
        _tie(after, before, old, report)
    return report


def _tie(copies: Read, originals: Read, path: Path, report: Report) -> None:
    """Whether each cleaned copy of one pack shows or plays the original that the other pack, at `path`, holds."""
    pairs = [
        (record["copy"], originals.media[sha]["path"])
        for sha, record in sorted(copies.media.items())
        if record["copy"] and originals.media.get(sha, {}).get("path")
    ]
    if not pairs:
        return
    tied, source = 0, open_source(path, Report())
    try:
        for copy, original in pairs:
            try:
                scan = files.scan_hash_of(source, original, files.rule_of(copy))
            except (Damaged, ValueError, TypeError) as error:
                report.fault(STEP, original, say("proof.copy.readable"), str(error))
                continue
            if scan == copy["scan_sha256"]:
                tied += 1
            else:
                report.fault(STEP, copy["path"], say("proof.compare.tied"), say("proof.compare.other_original"))
    finally:
        source.close()
    report.facts["copies_tied"] = report.facts.get("copies_tied", 0) + tied
    report.remark(say("proof.compare.copies", number=tied, of=len(pairs)))


def _compare_logs(before: Read, after: Read, report: Report) -> None:
    """Whether the earlier log is the beginning of the later: by the path of the record that came next after the earlier
    one's end, or by the proof that travels in the later pack."""
    old, new = before.head, after.head
    shown = None
    if old.size == new.size:
        shown = old.root == new.root
    elif path := _proven_path(after, old.size + 1):
        shown = merkle.root_before(old.size, new.size, path) == old.root
    elif old.size in after.earlier:
        shown = merkle.verify_consistency(old.size, new.size, old.root, new.root, after.earlier[old.size])
    report.facts.update(log_only_grew=shown, old_size=old.size, new_size=new.size)
    if shown is None:
        report.remark(say("proof.compare.no_proof", size=old.size))
    elif not shown:
        report.fault(STEP, layout.HEAD, say("proof.compare.holds", size=old.size), say("proof.compare.rewritten"))
        for entry in after.entries.values():
            if entry.value["kind"] == "log_restored":
                size = entry.value["body"].get("size")
                report.remark(say("proof.compare.restored", position=entry.position, size=size))


def _proven_path(pack: Read, position: int) -> list[bytes] | None:
    """The path of the record at `position`, if the pack holds it and it leads to the pack's own root."""
    quiet = Report()
    entry = pack.entries.get(position)
    if entry is None or position not in pack.receipts:
        return None
    record.check_places([entry], pack.receipts, pack.head, quiet)
    return None if quiet.faults else [bytes.fromhex(step) for step in pack.receipts[position]["proof"]]


def _compare_records(before: Read, after: Read, report: Report) -> None:
    for position in sorted(set(before.entries) & set(after.entries)):
        if before.entries[position].hash != after.entries[position].hash:
            path = layout.entry_path(position)
            report.fault(STEP, path, say("proof.compare.same_record"), say("proof.compare.other_record"))
    if before.job != after.job:
        report.remark(say("proof.compare.other_job"))
        return
    gone = [
        position
        for position, entry in sorted(before.entries.items())
        if position not in after.entries and entry.value["job"] == before.job
    ]
    if gone:
        numbers = ", ".join(str(position) for position in gone[:MOST_NAMED])
        if len(gone) > MOST_NAMED:
            numbers = say("proof.times.and_more", numbers=numbers, more=len(gone) - MOST_NAMED)
        report.fault(
            STEP, layout.ENTRIES, say("proof.compare.still_shown"), say("proof.compare.gone", positions=numbers)
        )
    report.facts["records_added"] = len(set(after.entries) - set(before.entries))


def _earlier(source: FolderSource | ZipSource) -> dict[int, list[bytes]]:
    """The proofs in a pack by the size of the earlier log; whatever is no proof is left out and proves nothing."""
    try:
        value = parse(read_whole(source, layout.EARLIER)) if layout.EARLIER in source.sizes else None
        listed = value["earlier"] if isinstance(value, dict) else []
        return {
            proof["size"]: [bytes.fromhex(step) for step in proof["proof"]]
            for proof in listed
            if type(proof["size"]) is int
        }
    except (Damaged, ValueError, TypeError, KeyError):
        return {}
