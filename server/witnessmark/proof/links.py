"""Steps (9) and (10), what a phone itself signed about the records around its own: their number within the job, and the
log as it last knew it.

The phones' keys are not the workshop's. A record left out of the middle of a job, or a log that was rewritten after a
phone had seen it and recorded once more, is therefore found from the pack alone. Only records that carry links say
this; those from before there were links do not.
"""

from __future__ import annotations

from witnessmark.proof import entries, heads, layout, merkle
from witnessmark.proof.canonical import parse
from witnessmark.proof.faults import Report
from witnessmark.proof.record import Entry, device_name
from witnessmark.proof.sentences import say
from witnessmark.proof.sources import Damaged, FolderSource, ZipSource, read_whole

LINKS, JOB_LINK, LOG_LINK = {"job", "log"}, {"number", "previous"}, {"root", "size"}


def check_numbers(all_entries: list[Entry], job: object, report: Report) -> None:
    """(9) Within the job the numbered records of each device follow one another, from 1, without a gap. What the log
    says was refused or lost fills one."""
    last: dict[str, tuple[int, str, int]] = {}
    of_job = [entry for entry in all_entries if job is not None and entry.value["job"] == job]
    numbered = 0
    for entry in of_job:
        if "links" not in entry.value:
            continue
        if not _well_formed(entry.value):
            report.fault(9, entry.path, say("proof.links.fields"), say("proof.common.something_else"))
            continue
        numbered += 1
        device, link = str(entry.value["device"]), entry.value["links"]["job"]
        number, name, sequence = last.get(device, (0, entries.NO_ENTRY_BEFORE, 0))
        fits = link["number"] == number + 1 and link["previous"] == name
        if not fits:
            _say_gap(entry, number, _given_up(all_entries, device, sequence, entry.value["sequence"]), report)
        last[device] = (link["number"], entry.hash, entry.value["sequence"])
    report.facts.update(numbered=numbered, of_job=len(of_job))


def _say_gap(entry: Entry, number: int, given_up: list[str], report: Report) -> None:
    """The record after a gap: `number` is the last one shown before it, `given_up` what was refused or lost between."""
    link = entry.value["links"]["job"]
    absent = link["number"] - number - 1
    known = link["previous"] in given_up or entries.NO_ENTRY_BEFORE in given_up
    numbers = {"first": number + 1, "last": link["number"] - 1}
    if absent < 1:
        report.fault(9, entry.path, say("proof.links.next", number=number + 1), say("proof.links.does_not_follow"))
    elif absent <= len(given_up) and known:
        report.remark(say("proof.links.given_up", path=entry.path, **numbers))
    else:
        report.fault(9, entry.path, say("proof.links.next", number=number + 1), say("proof.links.gap", **numbers))


def _given_up(all_entries: list[Entry], device: str, after: int, before: int) -> list[str]:
    """The hashes of a device's records between two running numbers that the log says were refused, or were lost."""
    hashes = []
    for entry in all_entries:
        body = entry.value["body"]
        refused = entry.value["kind"] == "entry_refused" and body.get("device") == device
        if refused and type(body.get("sequence")) is int and after < body["sequence"] < before:
            hashes.append(str(body.get("entry_hash")))
    return hashes


def check_known_logs(
    source: FolderSource | ZipSource, all_entries: list[Entry], head: heads.Head | None, report: Report
) -> None:
    """(10) Each log that a record's phone knew when it made it is the beginning of this one."""
    if head is None:
        return
    proofs = _proofs(source, report)
    put_back = [
        (entry.position, entry.value["body"].get("size"))
        for entry in all_entries
        if entry.value["kind"] == "log_restored"
    ]
    shown: dict[tuple[int, str], bool] = {}
    by_device: dict[str, int] = {}
    for entry in all_entries:
        link = entry.value["links"]["log"] if "links" in entry.value and _well_formed(entry.value) else None
        if link is None:
            continue
        key = link["size"], link["root"]
        if key not in shown:
            shown[key] = _begins_with(link["size"], link["root"], head, proofs)
        if shown[key] and link["size"] < entry.position:
            device = str(entry.value["device"])
            by_device[device] = max(by_device.get(device, 0), link["size"])
            continue
        wanted, size = say("proof.links.known_log", size=link["size"]), link["size"]
        gone = [position for position, kept in put_back if type(kept) is int and kept < size]
        if gone and not shown[key]:
            report.remark(say("proof.links.put_back", path=entry.path, size=size, position=gone[-1]))
        elif link["size"] > head.size or shown[key]:
            report.fault(10, entry.path, wanted, say("proof.links.not_before"))
        elif link["size"] in proofs or link["size"] == head.size:
            report.fault(10, entry.path, wanted, say("proof.links.rewritten"))
        else:
            report.fault(10, entry.path, wanted, say("proof.links.no_proof"))
    for device, size in sorted(by_device.items()):
        report.facts.setdefault("known_logs", {})[device_name(device, all_entries)] = size


def check_job_count(
    source: FolderSource | ZipSource, all_entries: list[Entry], job: object, head: heads.Head | None, report: Report
) -> None:
    """(10) All the records that the log has of the job are here: the log fingerprint says how many, and which is last.
    A log fingerprint from before it did says nothing."""
    if head is None or head.jobs is None or not isinstance(job, str):
        return
    try:
        value = parse(read_whole(source, layout.JOB)) if layout.JOB in source.sizes else None
        count, last, place = value["count"], value["last"], value["place"]
        path = [bytes.fromhex(step) for step in value["path"]]
        leaf = entries.job_leaf(job, count, last)
        well = type(place) is int and merkle.verify_inclusion(leaf, place, head.jobs.number, path, head.jobs.root)
    except (Damaged, ValueError, TypeError, KeyError):
        well = False
    if not well:
        report.fault(10, layout.JOB, say("proof.links.job_proof"), say("proof.common.something_else"))
        return
    own = [entry for entry in all_entries if entry.value["job"] == job]
    if len(own) != count:
        shown = say("proof.links.job_shown", shown=len(own))
        report.fault(10, layout.ENTRIES, say("proof.links.job_count", count=count), shown)
    elif own and own[-1].hash != last:
        report.fault(10, layout.ENTRIES, say("proof.links.job_last"), say("proof.links.job_other"))
    report.facts["job_records"] = count


def _begins_with(size: int, root: str, head: heads.Head, proofs: dict[int, list[bytes]]) -> bool:
    if size == head.size:
        return root == head.root.hex()
    if size > head.size or size not in proofs:
        return False
    return merkle.verify_consistency(size, head.size, bytes.fromhex(root), head.root, proofs[size])


def _proofs(source: FolderSource | ZipSource, report: Report) -> dict[int, list[bytes]]:
    """The proofs of the pack by size; a file that is none is a fault, and proves nothing."""
    if layout.KNOWN_LOGS not in source.sizes:
        return {}
    try:
        value = parse(read_whole(source, layout.KNOWN_LOGS))
        hashes = [bytes.fromhex(step) for step in value["hashes"]]
        return {
            log["size"]: [hashes[place] for place in log["path"]] for log in value["logs"] if type(log["size"]) is int
        }
    except (Damaged, ValueError, TypeError, KeyError, IndexError):
        report.fault(10, layout.KNOWN_LOGS, say("proof.links.proofs"), say("proof.common.something_else"))
        return {}


def _well_formed(value: dict) -> bool:
    links = value["links"]
    if not isinstance(links, dict) or set(links) != LINKS or (links["job"] is None) != (value["job"] is None):
        return False
    for link, fields, number, name in (
        (links["job"], JOB_LINK, "number", "previous"), (links["log"], LOG_LINK, "size", "root"),
    ):  # fmt: skip
        if link is None:
            continue
        if not isinstance(link, dict) or set(link) != fields or type(link[number]) is not int or link[number] < 1:
            return False
        if not isinstance(link[name], str) or len(link[name]) != 64 or set(link[name]) - set("0123456789abcdef"):
            return False
    return True
