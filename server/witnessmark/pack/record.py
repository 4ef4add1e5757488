"""Reads from the log what a pack of one job needs, and writes the part of the bag that proves it."""

from __future__ import annotations

import base64
from dataclasses import dataclass

from sqlalchemy import Connection

from witnessmark.log import heads, job_counts, proofs, read
from witnessmark.log.heads import Head
from witnessmark.log.rows import Row
from witnessmark.pack import cycles, statements
from witnessmark.pack.bag import Bag
from witnessmark.pack.errors import NoSuchJob
from witnessmark.proof import heads as proof_heads
from witnessmark.proof import keys, layout
from witnessmark.proof.canonical import canonical
from witnessmark.proof.entries import missing_numbers
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.measuring.known import Known, known
from witnessmark.trade.tightening import known as tightening_known

MOST_EARLIER = 200  # packs issued before, whose log is shown to be the beginning of this one
OF_THE_LOG = {"workshop_founded", "log_restored", "log_difference_noted"}
OF_DEVICES = {"device_enrolled", "device_revoked", "entry_refused"}


@dataclass
class Record:
    """The rows of a job and of the workshop that belong into its pack, both oldest first, under one head; `counted` as
    cycles.by_then gives it; `earlier` proves that the log of each pack issued before is the beginning of this one, and
    `known_logs` that each log which a record's phone knew is. `job_count` is what the head says of the job."""

    job: list[Row]
    workshop: list[Row]
    head: Head
    proofs: dict[int, list[str]]
    counted: dict[str, int]
    earlier: list[dict]
    known_logs: dict
    job_count: dict | None

    @property
    def rows(self) -> list[Row]:
        return sorted([*self.workshop, *self.job], key=lambda row: row.position)

    @property
    def devices(self) -> dict[str, str]:
        """Names by id, as the workshop enrolled them."""
        enrolled = {
            row.entry["body"]["device"]: row.entry["body"]
            for row in self.workshop
            if row.entry["kind"] == "device_enrolled"
        }
        named = {
            device: say("pack.phone", letter=body["letter"], name=body["name"]) for device, body in enrolled.items()
        }
        return named | {
            row.device: say("pack.desk") for row in self.workshop if row.entry["kind"] == "workshop_founded"
        }

    @property
    def missing(self) -> dict[str, list[tuple[int, int]]]:
        """By device, in the words of `devices`: the running numbers up to the last one here that this pack does not
        show. They may be of other jobs or of the workshop; what was refused is accounted for."""
        shown: dict[str, list[int]] = {}
        for row in self.rows:
            shown.setdefault(row.device, []).append(row.entry["sequence"])
        for row in self.workshop:
            if row.entry["kind"] == "entry_refused" and row.entry["body"]["device"] in shown:
                shown[row.entry["body"]["device"]].append(row.entry["body"]["sequence"])
        names = self.devices
        ranges = {names.get(device, device): missing_numbers(numbers) for device, numbers in shown.items()}
        return {name: gaps for name, gaps in sorted(ranges.items()) if gaps}

    @property
    def engine_types(self) -> dict[str, dict]:
        """The engine types of the job by id, as last described."""
        described = [
            row.entry["body"]["engine_type"] for row in self.workshop if row.entry["kind"] == "engine_type_described"
        ]
        return {engine_type["id"]: engine_type for engine_type in described}

    @property
    def known(self) -> Known:
        """What the workshop stated about gauges, limits, sizes, procedures and rules, as far as this job needs it."""
        return known(row.entry for row in self.workshop)

    @property
    def known_tightening(self) -> tightening_known.Known:
        """What the workshop stated about the tightening sheets and torque tools that this job's runs rest on."""
        return tightening_known.known(row.entry for row in self.workshop)


def gather(conn: Connection, workshop: str, job: str) -> Record:
    """What the pack of `job` holds of the log now. Raises NoSuchJob if the log has no entry of it."""
    rows = list(read.job_entries(conn, workshop, job))
    if not rows:
        raise NoSuchJob("no_such_job", "job", say("pack.no_such_job"))
    head = heads.latest(conn, workshop)
    of_workshop = _of_workshop(conn, workshop, rows)
    positions = [row.position for row in (*of_workshop, *rows)]
    tree = proofs.Tree(conn, workshop)
    proven = tree.inclusions(positions, head.size)
    issued = {row.entry["body"]["head_size"] for row in rows if row.entry["kind"] == "pack_issued"}
    # The newest ones: each takes some dozen hashes, and a pack must not grow without end by being issued.
    sizes = sorted(size for size in issued if size <= head.size)[-MOST_EARLIER:]
    earlier = [{"proof": tree.consistency(size, head.size), "size": size} for size in sizes]
    known = _known_logs(tree, [*of_workshop, *rows], head.size)
    count = job_counts.proof(conn, workshop, job) if proof_heads.read(head.bytes).jobs else None
    return Record(rows, of_workshop, head, proven, cycles.by_then(conn, workshop, rows), earlier, known, count)


def _known_logs(tree: proofs.Tree, rows: list[Row], size: int) -> dict:
    """A proof for each size of the log that the records name, each hash once: they share most of them."""
    links = (row.entry.get("links") for row in rows)
    sizes = sorted({link["log"]["size"] for link in links if link and link["log"] and link["log"]["size"] < size})
    places: dict[str, int] = {}
    logs = [
        {"path": [places.setdefault(step, len(places)) for step in tree.consistency(known, size)], "size": known}
        for known in sizes
    ]
    return {"hashes": list(places), "logs": logs}


def write(bag: Bag, record: Record, spki: bytes, people: dict[str, str], managers: set[str], pack: dict) -> None:
    """Puts entries, receipts, head, key and names into the bag. `managers` are those who may answer what needs one."""
    rows = record.rows
    for row in rows:
        bag.add(layout.entry_path(row.position), row.bytes)
    bag.add(layout.RECEIPTS, _lines([_receipt(row, record.proofs[row.position]) for row in rows]))
    bag.add(layout.HEAD, record.head.bytes)
    bag.add(layout.HEAD_SIGNATURE, keys.der_from_raw(base64.b64decode(record.head.signature)))
    bag.add(layout.SERVER_KEY, keys.pem_from_spki(spki))
    authors = {row.entry["author"] for row in rows}
    names = {
        "devices": record.devices,
        "managers": sorted(managers & authors),
        "note": say("pack.record.names"),
        "people": {person: name for person, name in people.items() if person in authors},
    }
    bag.add(layout.PEOPLE, canonical(names))
    if record.counted:
        note = say("pack.record.cycles")
        bag.add(layout.CYCLES, canonical({"counted": record.counted, "note": note}))
    bag.add(layout.EARLIER, canonical({"earlier": record.earlier, "note": say("pack.record.earlier")}))
    bag.add(layout.KNOWN_LOGS, canonical(record.known_logs | {"note": say("pack.record.known_logs")}))
    if record.job_count:
        bag.add(layout.JOB, canonical(record.job_count | {"note": say("pack.record.job_count")}))
    bag.add(layout.PACK, canonical(pack))


def write_media(bag: Bag, records: list[dict]) -> None:
    """Puts the account of all files into the bag."""
    bag.add(layout.MEDIA, _lines(records))


def _of_workshop(conn: Connection, workshop: str, rows: list[Row]) -> list[Row]:
    """The workshop's own entries that `rows` cannot be checked or read without."""
    devices = {row.device for row in rows}
    types = {row.entry["body"].get("engine_type") for row in rows if row.entry["kind"] == "job_opened"}
    types |= {row.entry["body"]["changes"].get("engine_type") for row in rows if row.entry["kind"] == "job_amended"}
    rests_on = statements.those_behind(rows, types)
    result, after = [], 0
    while page := read.feed_after(conn, workshop, read.SHARED, after):
        after = page[-1].position
        for row in page:
            entry = row.entry
            if entry["job"] is not None:
                continue
            body, kind = entry["body"], entry["kind"]
            of_device = kind in OF_DEVICES and body["device"] in devices
            of_type = kind == "engine_type_described" and body["engine_type"].get("id") in types
            if kind in OF_THE_LOG or of_device or of_type or rests_on(entry):
                result.append(row)
    return result


def _receipt(row: Row, proof: list[str]) -> dict:
    return {
        "hash": row.hash,
        "offset_ms": row.offset_ms,
        "position": row.position,
        "proof": proof,
        "received": row.received,
        "signature": row.signature,
    }


def _lines(values: list[dict]) -> bytes:
    return b"".join(canonical(value) + b"\n" for value in values)
