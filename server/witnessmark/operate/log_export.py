"""The whole log without what its records say, as a file for whoever holds a pack: `proof/exported.py` has its form."""

from __future__ import annotations

import os
import secrets
from collections.abc import Callable
from functools import lru_cache
from pathlib import Path

from sqlalchemy import Connection

from witnessmark.log import heads, read
from witnessmark.log.rows import Row
from witnessmark.people import workshops
from witnessmark.proof import exported
from witnessmark.proof.canonical import sha256_hex
from witnessmark.proof.merkle import Range, leaf_hash
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say

MOST_MARKS = 4096  # jobs whose marks are held at once; of the others they are looked up again
OnProgress = Callable[[int, int], None]


def export(conn: Connection, target: Path, on_progress: OnProgress = lambda *_: None) -> int:
    """Writes the log as it is in `conn`, one consistent view, to the new file `target`; returns how many records.

    The same log gives the same bytes, and memory does not grow with it. Raises Refusal where the file is there already,
    the log is empty, or the log is not the one that was signed; then no file is left behind.
    """
    workshop = workshops.only(conn)
    head = heads.latest(conn, workshop.id) if workshop else None
    if head is None:
        raise Refusal("no_log", "log", say("server.log_export.empty"))
    if target.exists():
        raise Refusal("there_already", "file", say("server.log_export.there_already", file=target))

    @lru_cache(maxsize=MOST_MARKS)
    def mark(job: str) -> str:
        first = read.feed_after(conn, workshop.id, f"job:{job}", 0, 1)
        if not first:
            raise _not_as_signed()
        return exported.job_mark(job, first[0].signature)

    partial, tree = target.with_name(f"{target.name}.{secrets.token_hex(4)}.part"), Range()
    try:
        with partial.open("xb") as file:
            file.write(exported.header_bytes(head.bytes, head.signature))
            for row in read.whole_log(conn, workshop.id):
                leaf = leaf_hash(row.stamp)
                tree.append(leaf)
                if row.position != tree.size or sha256_hex(row.bytes) != row.hash:
                    raise _not_as_signed()
                file.write(exported.line_bytes(_line(row, leaf, mark(row.job) if row.job else None)))
                on_progress(tree.size, head.size)
            file.flush()
            os.fsync(file.fileno())
        if (tree.size, tree.root().hex()) != (head.size, head.root):
            raise _not_as_signed()
        os.replace(partial, target)
    finally:
        partial.unlink(missing_ok=True)
    return tree.size


def _line(row: Row, leaf: bytes, mark: str | None) -> exported.Line:
    body = row.entry["body"]
    refused = (body["device"], body["sequence"]) if row.entry["kind"] == "entry_refused" else None
    return exported.Line(row.position, row.received, leaf.hex(), row.device, row.sequence, mark, refused)


def _not_as_signed() -> Refusal:
    return Refusal("log_damaged", "log", say("server.log_export.not_as_signed"))
