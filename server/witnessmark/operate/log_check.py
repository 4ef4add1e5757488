"""The log worked out again from its bytes: what a backup proves before it counts, and what the doctor looks at."""

from __future__ import annotations

from dataclasses import dataclass, field

from sqlalchemy import Connection

from witnessmark.log import heads, read
from witnessmark.people.workshops import Workshop
from witnessmark.proof.canonical import sha256_hex
from witnessmark.proof.merkle import Range, leaf_hash

MOST_FAULTS = 20


@dataclass
class LogReport:
    """`size` and `root` as worked out; `faults` in sentences, none when the log is as it was signed."""

    size: int = 0
    root: str = ""
    faults: list[str] = field(default_factory=list)
    named: dict[str, int] = field(default_factory=dict)  # every file an entry names: SHA-256 -> length


def check_log(conn: Connection, workshop: Workshop) -> LogReport:
    """Every entry hashed again, every position counted, every signed head compared with the tree at its size."""
    report, tree = LogReport(), Range()
    signed = iter(heads.all_since(conn, workshop.id))
    head = next(signed, None)
    for row in read.whole_log(conn, workshop.id):
        report.size += 1
        if row.position != report.size:
            report.faults.append(f"Where entry {report.size} should be there is entry {row.position}.")
            break
        if sha256_hex(row.bytes) != row.hash:
            report.faults.append(f"Entry {row.position} is not what it was: its bytes do not have its hash.")
        tree.append(leaf_hash(row.stamp))
        for named in row.entry["media"]:
            report.named[named["sha256"]] = named["length"]
        if head and head.size == report.size:
            if tree.root().hex() != head.root:
                report.faults.append(f"The log up to entry {head.size} is not the one that was signed at {head.time}.")
            head = next(signed, None)
        if len(report.faults) >= MOST_FAULTS:
            report.faults.append("There may be more; the check stopped here.")
            break
    else:
        if head:
            report.faults.append(f"A head was signed over {head.size} entries, but only {report.size} are here.")
    report.root = tree.root().hex() if report.size else ""
    return report
