"""Step (13), what else a pack could be made to say: files that no pack has, files under a false role, and records that
speak of others."""

from __future__ import annotations

from witnessmark.proof import layout
from witnessmark.proof.faults import Report
from witnessmark.proof.record import OF_THE_WORKSHOP, STATEMENTS, Entry
from witnessmark.proof.sentences import say
from witnessmark.proof.sources import FolderSource, ZipSource

# Kinds that answer another record of the job, by its id and the hash of its bytes.
ANSWERS = {"entry_corrected", "entry_withdrawn", "transcript_confirmed", "transcript_made"}


def check_paths(source: FolderSource | ZipSource, report: Report) -> None:
    """(13) Every file stands at a path that packs have: a reader opens nothing that this program never looked at."""
    for path in sorted(source.sizes):
        if not layout.is_known(path):
            report.fault(13, path, say("proof.contents.known_path"), say("proof.contents.other_path"))


def check_roles(entries: list[Entry], records: dict[str, dict], report: Report) -> None:
    """(13) Each file is given out as what the record that names it says it is."""
    for entry in entries:
        for item in entry.value["media"]:
            record = records.get(item["sha256"])
            stated = item.get("role"), item.get("type")
            if record and (record["role"], record["type"]) != stated:
                # One file may be named twice, under two names; then it is given out under either.
                others = (
                    other for bearer in entries for other in bearer.value["media"] if other["sha256"] == item["sha256"]
                )
                if (record["role"], record["type"]) not in [(other.get("role"), other.get("type")) for other in others]:
                    where = say("proof.media.where", file=layout.MEDIA, hash=item["sha256"])
                    wanted = say("proof.contents.role", role=stated[0], type=stated[1])
                    given_out = say("proof.contents.role", role=record["role"], type=record["type"])
                    report.fault(13, where, wanted, given_out)


def check_answers(entries: list[Entry], report: Report) -> None:
    """(13) What a record corrects, withdraws or writes down is here, with the very bytes that it names; no two records
    have one id."""
    by_id: dict[str, Entry] = {}
    for entry in entries:
        earlier = by_id.setdefault(str(entry.value["id"]), entry)
        if earlier is not entry:
            report.fault(13, entry.path, say("proof.contents.own_id"), say("proof.common.again", what=earlier.path))
    for entry in entries:
        kind, body = entry.value["kind"], entry.value["body"]
        if kind not in ANSWERS or kind in OF_THE_WORKSHOP or kind in STATEMENTS:
            continue
        answered = by_id.get(str(body.get("entry")))
        if answered is None:
            report.fault(13, entry.path, say("proof.contents.answered"), say("proof.common.none"))
        elif body.get("entry_hash") != answered.hash:
            report.fault(13, entry.path, say("proof.contents.answered"), say("proof.contents.other_bytes"))
