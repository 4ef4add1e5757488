"""Which exhibits need a file, in words: a hash alone tells nobody what is missing."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import Connection

from witnessmark.projections import apply as projections
from witnessmark.projections import media_refs
from witnessmark.trade.ground.sentences import listed, say


def of_files(conn: Connection, workshop: str, files: Sequence[str]) -> dict[str, str]:
    """SHA-256 -> "job 24-118, exhibit 12", for those of `files` that records of jobs name; none where the views are
    of another version of the program."""
    if not files or not projections.is_current(conn):
        return {}
    words: dict[str, list[str]] = {}
    for sha256, job, exhibit in media_refs.exhibits(conn, workshop, files):
        words.setdefault(sha256, []).append(say("server.backup.exhibit", job=job, exhibit=str(exhibit)))
    return {sha256: listed(texts) for sha256, texts in words.items()}
