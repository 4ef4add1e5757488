"""The log worked out again from its bytes: what a backup proves before it counts, and what the doctor looks at."""

from __future__ import annotations

from collections.abc import Container, Mapping
from dataclasses import dataclass, field

from sqlalchemy import Connection

from witnessmark.log import heads, read
from witnessmark.log.heads import Head
from witnessmark.operate.device_chains import DeviceChains
from witnessmark.people.workshops import Workshop
from witnessmark.proof import heads as proof_heads
from witnessmark.proof.canonical import sha256_hex
from witnessmark.proof.entries import job_leaf
from witnessmark.proof.merkle import Range, leaf_hash, root
from witnessmark.trade.ground.sentences import say

MOST_FAULTS = 20


@dataclass
class LogReport:
    """`size` and `root` as worked out; `faults` in sentences, none when the log is as it was signed."""

    size: int = 0
    root: str = ""
    faults: list[str] = field(default_factory=list)
    named: dict[str, int] = field(default_factory=dict)  # every file an entry names: SHA-256 -> length
    # (device, SHA-256) -> position of the first entry in which this device names the file
    first_named: dict[tuple[str, str], int] = field(default_factory=dict)

    def short_of(self, here: Container[str]) -> dict[str, int]:
        """Device -> position of its first entry that names a file which is not `here`; others are left out."""
        first: dict[str, int] = {}
        for (device, sha256), position in self.first_named.items():
            if sha256 not in here:
                first[device] = min(position, first.get(device, position))
        return first


def check_log(conn: Connection, workshop: Workshop, chains: DeviceChains | None = None) -> LogReport:
    """Every entry hashed again, every position counted, every signed head compared with the tree at its size; with
    `chains` also every signature and running number of the devices."""
    report, tree, stamped = LogReport(), Range(), ""
    newest: Head | None = None
    counts: dict[str, tuple[int, str]] = {}  # of each job, in the order of their first record: how many, the newest
    signed = iter(heads.all_since(conn, workshop.id))
    head = next(signed, None)
    for row in read.whole_log(conn, workshop.id):
        report.size += 1
        if row.position != report.size:
            report.faults.append(say("server.log_check.gap", wanted=report.size, here=row.position))
            break
        if sha256_hex(row.bytes) != row.hash:
            report.faults.append(say("server.log_check.changed", number=row.position))
        if row.received < stamped:
            report.faults.append(say("server.log_check.backwards", number=row.position, time=row.received))
        stamped = max(stamped, row.received)
        if chains:
            report.faults += chains.add(row)
        tree.append(leaf_hash(row.stamp))
        if job := row.entry["job"]:
            counts[job] = counts.get(job, (0, ""))[0] + 1, row.hash
        for named in row.entry["media"]:
            report.named[named["sha256"]] = named["length"]
            report.first_named.setdefault((row.device, named["sha256"]), row.position)
        if head and head.size == report.size:
            if not _was_signed(head, tree, workshop):
                report.faults.append(say("server.log_check.other_log", size=head.size, time=head.time))
            newest, head = head, next(signed, None)
        if len(report.faults) >= MOST_FAULTS:
            report.faults.append(say("server.log_check.stopped"))
            break
    else:
        if head:
            report.faults.append(say("server.log_check.shorter", signed=head.size, here=report.size))
        report.faults += chains.unaccounted() if chains else ()
        if newest and not _counts_jobs(newest, counts):
            report.faults.append(say("server.log_check.jobs"))
    report.root = tree.root().hex() if report.size else ""
    return report


def _counts_jobs(head: Head, counts: Mapping[str, tuple[int, str]]) -> bool:
    """Whether the head names as many records of each job as the log has; heads from before they did name none."""
    try:
        jobs = proof_heads.read(head.bytes).jobs
    except ValueError:
        return False
    leaves = [job_leaf(job, count, last) for job, (count, last) in counts.items()]
    return jobs is None or (jobs.number, jobs.root) == (len(leaves), root(leaves) if leaves else b"")


def _was_signed(head: Head, tree: Range, workshop: Workshop) -> bool:
    """Whether the bytes the server signed are for this tree: the columns beside them are not signed."""
    try:
        signed = proof_heads.read(head.bytes)
    except ValueError:
        return False
    computed = (tree.size, tree.root(), workshop.id, signed.root.hex())
    return (signed.size, signed.root, signed.workshop, head.root) == computed
