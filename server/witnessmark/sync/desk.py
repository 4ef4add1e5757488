"""The office as a device: it writes, chains and signs its own entries, under the same rules as any phone."""

from __future__ import annotations

import secrets
import time
from collections.abc import Sequence

from sqlalchemy import Connection

from witnessmark.config import Settings
from witnessmark.db import moment_here, now
from witnessmark.log import heads, read
from witnessmark.log.append import append
from witnessmark.log.rows import CheckedEntry, Row
from witnessmark.people import workshops
from witnessmark.people.workshops import Workshop
from witnessmark.projections.apply import apply
from witnessmark.proof.canonical import canonical, sha256_hex
from witnessmark.proof.entries import links, links_of_no_job
from witnessmark.sync import office, rules
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.identifiers import uuid7
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.record.kinds import KINDS, check_entry

# One boot for the life of the process: within it, monotonic_ms orders what the desk wrote.
_BOOT = secrets.token_hex(4)


class DeskSigner:
    """Makes the desk's next entries, chained and signed, without writing them to the log yet.

    `desk_author` is who is named as the author when no person acted: the server itself, under the desk's own id.
    """

    def __init__(self, conn: Connection, settings: Settings, workshop: Workshop) -> None:
        self._key = office.key(settings)
        self._workshop = workshop
        self.desk_author = workshop.desk
        self._end = read.chain_end(conn, workshop.id, workshop.desk)
        self._conn = conn
        self._last_of_job: dict[str, tuple[dict, str] | None] = {}

    def entry(
        self,
        author: str,
        kind: str,
        *,
        job: str | None = None,
        location: dict | None = None,
        body: dict | None = None,
        media: Sequence[dict] = (),
        stage: str | None = None,
        id: str = "",
    ) -> CheckedEntry:
        """The desk's next entry. Raises Refusal if its kind does not allow it."""
        entry = {
            "author": author,
            "body": body or {},
            "claimed": moment_here(),
            "clock": {
                "boot": _BOOT,
                "monotonic_ms": int(time.monotonic() * 1000),
                "offset_age_s": 0,
                "offset_ms": 0,
                "zone": time.tzname[0],
            },
            "device": self._workshop.desk,
            "id": id or uuid7(),
            "job": job,
            "kind": kind,
            # The desk names no log: its key is the server's own, and its word for it would prove nothing.
            "links": links(self._before(job)) if job else links_of_no_job(),
            "location": location,
            "media": list(media),
            "previous": self._end.hash,
            "sequence": self._end.sequence + 1,
            "stage": stage,
            "version": KINDS[kind].latest,
            "workshop": self._workshop.id,
        }
        check_entry(entry)
        data = canonical(entry)
        signed = CheckedEntry(data, sha256_hex(data), self._key.sign(data), entry, 0)
        self._end = read.ChainEnd(entry["sequence"], signed.hash)
        if job:
            self._last_of_job[job] = (entry, signed.hash)
        return signed

    def _before(self, job: str) -> tuple[dict, str] | None:
        """The desk's last entry of the job, written or about to be, and its hash."""
        if job not in self._last_of_job:
            row = read.last_of_job(self._conn, self._workshop.id, self._workshop.desk, job)
            self._last_of_job[job] = (row.entry, row.hash) if row else None
        return self._last_of_job[job]


def write(
    conn: Connection,
    settings: Settings,
    author: str,
    kind: str,
    *,
    job: str | None = None,
    location: dict | None = None,
    body: dict | None = None,
    media: Sequence[dict] = (),
    stage: str | None = None,
    id: str = "",
) -> Row:
    """Writes one entry of the desk into the log and the projections. Requires a connection from `db.writing`.

    `id` is given by a page that may have to repeat its request because the answer got lost. `author` is the
    signed-in person's id. Raises Refusal if the entry's kind does not allow it, or it does not fit the job, the engine
    or the entry it refers to.
    """
    workshop = workshops.only(conn)
    signed = DeskSigner(conn, settings, workshop).entry(
        author, kind, job=job, location=location, body=body, media=media, stage=stage, id=id
    )
    rules.Rules(conn, workshop.id).check(signed.entry)
    rows, _head = append(conn, workshop.id, [signed], now(), office.keeper(settings))
    apply(conn, rows)
    return rows[0]


def note_restored(conn: Connection, settings: Settings, issued: int) -> Row:
    """Writes into the log that it went on from an earlier state, and signs a head in the new epoch at once.

    Phones and packs are then told by the log itself, and a phone does not take an honest restore for a forgery.
    The epoch before is that of the newest head; `issued` is the highest size known to have been promised in it.
    Requires a log with a record, a connection from `db.writing`, and the mark of the new epoch.
    """
    workshop = workshops.only(conn)
    head = heads.latest(conn, workshop.id)
    body = {"epoch": head.epoch, "size": head.size, "root": head.root, "issued": max(issued, head.size)}
    signer = DeskSigner(conn, settings, workshop)
    signed = signer.entry(signer.desk_author, "log_restored", body=body)
    rows, _head = append(conn, workshop.id, [signed], now(), office.keeper(settings))
    apply(conn, rows)
    return rows[0]


def written_before(
    conn: Connection, workshop: str, id: str, *, author: str, kind: str, job: str | None, body: dict
) -> Row | None:
    """The entry that was written under this id when the same page sent the same request before, or None.

    Raises Refusal if another record has the id.
    """
    row = read.by_ids(conn, workshop, [id]).get(id)
    if row is None:
        return None
    entry = row.entry
    same = (entry["author"], entry["kind"], entry["body"]) == (author, kind, body) and job in (None, entry["job"])
    if not same:
        raise Refusal("other_record", "id", say("server.records.other_record"))
    return row
