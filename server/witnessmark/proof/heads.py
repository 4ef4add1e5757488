"""The log's head: how many entries it holds and the root of the tree over them, signed by the server.

Example of the bytes that are signed (canonical JSON, one line):
{"epoch":"5f0c...","root":"d37e...","server":"91ab...","size":208,"time":"2026-05-14T10:00:00.000Z","workshop":"0197..."}
"""

from __future__ import annotations

from typing import NamedTuple

from witnessmark.proof import keys
from witnessmark.proof.canonical import canonical, parse
from witnessmark.proof.sentences import say

FIELDS = ("epoch", "root", "server", "size", "time", "workshop")
# Since 2026-12, once there is a job: how many there are, and the root of the tree over the counts of their records.
WITH_JOBS = ("epoch", "jobs", "jobs_root", *FIELDS[1:])


class Jobs(NamedTuple):
    """The tree of jobs: how many, and its root, 32 raw bytes."""

    number: int
    root: bytes


class Head(NamedTuple):
    """What a head says. `root` is 32 raw bytes, `time` the server's own, RFC 3339 in UTC."""

    epoch: str
    root: bytes
    server: str
    size: int
    time: str
    workshop: str
    jobs: Jobs | None = None


def make(epoch: str, root: bytes, server: str, size: int, time: str, workshop: str, jobs: Jobs | None = None) -> bytes:
    """The bytes a server signs."""
    value = {"epoch": epoch, "root": root.hex(), "server": server, "size": size, "time": time, "workshop": workshop}
    return canonical(value | ({"jobs": jobs.number, "jobs_root": jobs.root.hex()} if jobs else {}))


def read(data: bytes) -> Head:
    """The head written in `data`. Raises ValueError unless it is canonical and has exactly the fields of a head."""
    value = parse(data)
    if not isinstance(value, dict) or tuple(sorted(value)) not in (FIELDS, WITH_JOBS):
        raise ValueError(say("proof.head.fields", fields=", ".join(FIELDS)))
    size, root = value["size"], value["root"]
    if type(size) is not int or size < 0:
        raise ValueError(say("proof.head.size", size=repr(size)))
    if not (isinstance(root, str) and len(root) == 64):
        raise ValueError(say("proof.head.root"))
    if not all(isinstance(value[name], str) for name in FIELDS if name != "size"):
        raise ValueError(say("proof.head.text"))
    whole = value["epoch"], bytes.fromhex(root), value["server"], size, value["time"], value["workshop"]
    return Head(*whole, _jobs(value) if "jobs" in value else None)


def _jobs(value: dict) -> Jobs:
    number, root = value["jobs"], value["jobs_root"]
    if type(number) is not int or number < 1 or not (isinstance(root, str) and len(root) == 64):
        raise ValueError(say("proof.head.jobs"))
    return Jobs(number, bytes.fromhex(root))


def check(data: bytes, signature: str | bytes, server_key: bytes) -> Head:
    """The head in `data`, after its signature and the name of its server were checked. Raises ValueError."""
    head = read(data)
    if head.server != keys.server_id(server_key):
        raise ValueError(say("proof.head.other_server", named=head.server, own=keys.server_id(server_key)))
    if not keys.verify(server_key, signature, data):
        raise ValueError(say("proof.head.bad_signature"))
    return head
