"""One entry and its receipt: the bytes that are hashed, and how entries of one device hang together."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from witnessmark.proof import merkle
from witnessmark.proof.canonical import canonical, sha256_hex
from witnessmark.proof.sentences import say

NO_ENTRY_BEFORE = "0" * 64
MOST_RANGES = 40  # in one sentence


def entry_hash(data: bytes) -> str:
    """The name of an entry: SHA-256 over its canonical bytes, in hexadecimal."""
    return sha256_hex(data)


def stamp(entry: str, signature: str, position: int, received: str, offset_ms: int | None) -> bytes:
    """What the server adds beside an entry: the data of its leaf in the tree. `entry` is the entry's hash,
    `received` RFC 3339 in UTC, `offset_ms` server clock minus device clock as last measured."""
    return canonical(
        {"entry": entry, "offset_ms": offset_ms, "position": position, "received": received, "signature": signature}
    )


def leaf(entry: str, signature: str, position: int, received: str, offset_ms: int | None) -> bytes:
    """The leaf hash of an entry at `position`."""
    return merkle.leaf_hash(stamp(entry, signature, position, received, offset_ms))


def broken_link(before: tuple[int, str] | None, sequence: int, previous: str) -> str | None:
    """What is wrong between two neighbouring entries of one device, or None. `before` is (sequence, hash) of the
    last entry seen of that device, None if none was seen. A gap in the numbers is no fault here: the entries
    between may be of other jobs; see `missing_numbers`."""
    if before is None:
        if sequence == 1 and previous != NO_ENTRY_BEFORE:
            return say("proof.chain.first_names_another")
        return None
    last, last_hash = before
    if sequence <= last:
        return say("proof.chain.comes_after", number=sequence, last=last)
    if sequence == last + 1 and previous != last_hash:
        return say("proof.chain.names_another", number=sequence, last=last)
    return None


def job_leaf(job: str, count: int, last: str) -> bytes:
    """The leaf hash of a job in the tree of jobs: how many entries of it are in the log, and the newest one's hash."""
    return merkle.leaf_hash(canonical({"count": count, "job": job, "last": last}))


def links(before: tuple[dict, str] | None, log: dict | None = None) -> dict:
    """The links of a device's next entry. `before` is its last entry of the same job with its hash, None if it is the
    first there; for an entry of no job see `links_of_no_job`. `log` is the head its device knows: size and root."""
    last = before[0].get("links") if before else None
    if last is None:  # entries from before there were links are not counted
        return {"job": {"number": 1, "previous": NO_ENTRY_BEFORE}, "log": log}
    return {"job": {"number": last["job"]["number"] + 1, "previous": before[1]}, "log": log}


def links_of_no_job(log: dict | None = None) -> dict:
    """The links of an entry that belongs to the workshop and to no job."""
    return {"job": None, "log": log}


def missing_numbers(shown: Iterable[int]) -> list[tuple[int, int]]:
    """The running numbers of a device from 1 to the highest of `shown` that are not among them, as (first, last)."""
    ranges, last = [], 0
    for number in sorted(set(shown)):
        if number > last + 1:
            ranges.append((last + 1, number - 1))
        last = number
    return ranges


def ranges_words(ranges: Sequence[tuple[int, int]]) -> str:
    """ "17, 20 to 25": at most MOST_RANGES of them, then how many more there are."""
    words = [
        str(first) if first == last else say("proof.chain.range", first=first, last=last)
        for first, last in ranges[:MOST_RANGES]
    ]
    if len(ranges) > MOST_RANGES:
        words.append(say("proof.chain.more_ranges", number=len(ranges) - MOST_RANGES))
    return ", ".join(words)
