"""The whole log of a workshop without what its records say, one line a record: what `witnessmark log-export` writes
and `verify --log` reads.

The first line holds the format, the log fingerprint and its signature; each line after it one position, in order, all
canonical JSON:
{"format":1,"head":"{\\"epoch\\":...}","signature":"<r and s, base64>"}
{"device":"0197...","job":"<64 hex>","leaf":"<64 hex>","number":7,"position":12,"received":"...Z","refused":null}

`leaf` is the leaf hash of the tree, so the root can be worked out again; nobody can guess a record from it, since the
device's signature is hashed into it. `job` is null for records of the workshop itself, else the job's mark:
HMAC-SHA-256 over the job's id with the signature of the job's first record as the key. Whoever holds a pack of the
job holds that signature and can work the mark out; a job's id alone gives nothing. `refused` names the device and
number that an entry_refused is about, so that a number without a position can be accounted for.
"""

from __future__ import annotations

import hashlib
import hmac
import re
from collections.abc import Iterator
from typing import BinaryIO, NamedTuple

from witnessmark.proof.canonical import canonical, parse
from witnessmark.proof.sentences import say
from witnessmark.proof.times import moment

FORMAT = 1
LONGEST_LINE = 4096  # bytes; a line of the log takes some 330, the first one some 500
LONGEST_DEVICE = 64  # signs; a device's id has 36
HEADER_FIELDS = {"format", "head", "signature"}
LINE_FIELDS = {"device", "job", "leaf", "number", "position", "received", "refused"}
REFUSED_FIELDS = {"device", "number"}

_hash = re.compile(r"[0-9a-f]{64}")


class Line(NamedTuple):
    """One position of an exported log. `leaf` and `job` in hexadecimal, `job` None for a record of the workshop itself,
    `received` RFC 3339 in UTC, `refused` (device, number) where the record refuses one."""

    position: int
    received: str
    leaf: str
    device: str
    number: int
    job: str | None
    refused: tuple[str, int] | None


def job_mark(job: str, first_signature: str) -> str:
    """The mark of a job, from its id and the signature (base64, as its receipt gives it) of its first record."""
    return hmac.new(first_signature.encode(), b"witnessmark job\0" + job.encode(), hashlib.sha256).hexdigest()


def header_bytes(head: bytes, signature: str) -> bytes:
    """The first line: the bytes of the log fingerprint as they were signed, and the signature in base64."""
    return canonical({"format": FORMAT, "head": head.decode(), "signature": signature}) + b"\n"


def line_bytes(line: Line) -> bytes:
    """The line of one position."""
    refused = {"device": line.refused[0], "number": line.refused[1]} if line.refused else None
    return canonical({**line._asdict(), "refused": refused}) + b"\n"


def raw_lines(file: BinaryIO) -> Iterator[bytes]:
    """Line by line without its end, never more than LONGEST_LINE bytes at once. Raises ValueError for a longer one and
    for one that does not end."""
    while data := file.readline(LONGEST_LINE + 1):
        if len(data) > LONGEST_LINE or not data.endswith(b"\n"):
            raise ValueError(say("proof.exported.line_end", most=LONGEST_LINE))
        yield data[:-1]


def read_header(data: bytes) -> tuple[bytes, str]:
    """The bytes of the log fingerprint and its signature. Raises ValueError for anything else."""
    value = parse(data)
    if not isinstance(value, dict) or set(value) != HEADER_FIELDS:
        raise ValueError(say("proof.exported.fields", fields=", ".join(sorted(HEADER_FIELDS))))
    if type(value["format"]) is not int or value["format"] != FORMAT:
        raise ValueError(say("proof.exported.format", format=FORMAT))
    if not (isinstance(value["head"], str) and isinstance(value["signature"], str)):
        raise ValueError(say("proof.exported.header_text"))
    return value["head"].encode(), value["signature"]


def read_line(data: bytes) -> Line:
    """One position. Raises ValueError, naming the field that is wrong."""
    value = parse(data)
    if not isinstance(value, dict) or set(value) != LINE_FIELDS:
        raise ValueError(say("proof.exported.fields", fields=", ".join(sorted(LINE_FIELDS))))
    for name in ("position", "number"):
        _demand(_is_number(value[name]), name, say("proof.exported.whole_number"))
    _demand(_is_device(value["device"]), "device", say("proof.exported.device", most=LONGEST_DEVICE))
    _demand(_is_hash(value["leaf"]), "leaf", say("proof.exported.hash"))
    _demand(value["job"] is None or _is_hash(value["job"]), "job", say("proof.exported.hash_or_none"))
    _demand(moment(value["received"]) is not None, "received", say("proof.times.stamp"))
    refused = value["refused"]
    if refused is not None:
        wanted = say("proof.exported.refused")
        _demand(isinstance(refused, dict) and set(refused) == REFUSED_FIELDS, "refused", wanted)
        _demand(_is_device(refused["device"]) and _is_number(refused["number"]), "refused", wanted)
        refused = (refused["device"], refused["number"])
    return Line(
        value["position"], value["received"], value["leaf"], value["device"], value["number"], value["job"], refused
    )


def _demand(is_well: bool, name: str, wanted: str) -> None:
    if not is_well:
        raise ValueError(say("proof.exported.field", name=name, wanted=wanted))


def _is_number(value: object) -> bool:
    return type(value) is int and value >= 1


def _is_device(value: object) -> bool:
    return isinstance(value, str) and 0 < len(value) <= LONGEST_DEVICE


def _is_hash(value: object) -> bool:
    return isinstance(value, str) and _hash.fullmatch(value) is not None
