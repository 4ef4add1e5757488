"""The job told from signed bytes alone: no page, no PDF, no names that the pack adds. One line a record."""

from __future__ import annotations

from pathlib import Path

from witnessmark.proof import record
from witnessmark.proof.canonical import canonical
from witnessmark.proof.faults import Report
from witnessmark.proof.sentences import say
from witnessmark.proof.sources import open_source


def lines_of_records(path: Path) -> list[str]:
    """Each record of the pack at `path` in the order of the log: its position, when the server received it and what its
    device claims, who made it, kind, place, and its body as it was signed. Raises Unreadable.

    Nothing is checked here that `verify` does not check: a record with a fault is told like any other.
    """
    quiet = Report()
    source = open_source(path, quiet)
    try:
        head = record.check_head(source, quiet)
        entries = record.read_entries(source, head, quiet)
        receipts = record.read_receipts(source, quiet)
    finally:
        source.close()
    lines = []
    for entry in entries:
        value = entry.value
        location = value["location"] if isinstance(value["location"], dict) else {}
        where = " ".join(str(location[name]) for name in ("place", "point") if location.get(name))
        lines.append(
            say(
                "proof.tell.record",
                position=entry.position,
                received=receipts.get(entry.position, {}).get("received", "?"),
                claimed=value["claimed"],
                device=record.device_name(value["device"], entries),
                author=value["author"],
                kind=value["kind"],
                where=where or "-",
            )
        )
        lines.append(say("proof.tell.body", body=canonical(value["body"]).decode()))
        lines += [say("proof.tell.file", hash=item["sha256"], name=item.get("name")) for item in value["media"]]
    return lines
