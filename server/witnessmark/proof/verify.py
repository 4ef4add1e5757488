"""Checks a pack, every byte of it, with nothing but Python.

The steps, in order; the same numbers stand at the functions that do them and before every fault:

 (1) the pack opens, and no name in it leads outside it
 (2) the bag says what it is and how much it holds
 (3) the manifest lists every file under data/ and nothing else, and every byte is as listed
 (4) the tag manifest does the same for all other files
 (5) the server's key seals the tag manifest, and through it every byte of the pack
 (6) the log fingerprint is signed by that key
 (7) the records are canonical, have all their fields, and are of this workshop and this job
 (8) each record is the one its receipt names, and is signed by the device that made it
 (9) the records of each device follow one another, each naming the hash of the one before, in the job too
(10) each receipt leads to the root of the signed log, no time runs backwards, and each log a phone knew begins it
(11) every file a record names is here, or its copy, or the reason why it is not
(12) each copy shows or plays exactly what its original does, and carries nothing else
(13) what the pack says of itself agrees with what is in it

Two packs against each other are (14), in compare.py; a pack against the exported log of its workshop is (15), in
against_log.py.

All faults are gathered; no step is skipped because an earlier one found something, as far as its bytes can be read.
A step that this program itself fails in is named as unfinished, and the others go on: nothing in a pack may stop the
check of the rest, and what was not checked is not called well.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

from witnessmark.proof import bag, contents, files, links, record, times
from witnessmark.proof.faults import Report, Unreadable
from witnessmark.proof.sources import open_source

T = TypeVar("T")


def verify(path: Path) -> Report:
    """Checks the pack at `path`, a zip or the folder it was unpacked into. Raises Unreadable if it cannot be opened;
    everything else that is wrong stands in the report."""
    report = Report()
    source = open_source(path, report)  # (1)

    def step(number: int, check: Callable[..., T], *about: object, otherwise: T) -> T:
        try:
            return check(*about, report)
        except Unreadable:
            raise
        except Exception as error:
            report.unfinished[number] = f"{type(error).__name__}: {error}"
            return otherwise

    try:
        step(2, bag.check_declaration, source, otherwise=None)
        hashes = step(3, bag.check_manifests, source, otherwise={})  # (3) (4)
        step(5, bag.check_seal, source, otherwise=None)
        head = step(6, record.check_head, source, otherwise=None)
        entries = step(7, record.read_entries, source, head, otherwise=[])
        pack = step(13, files.read_pack, source, otherwise={})
        if pack:
            step(7, record.check_job, entries, pack["job"], otherwise=None)
        receipts = step(8, record.read_receipts, source, otherwise={})
        key = step(5, bag.server_key, source, otherwise=None)
        step(8, record.check_signatures, entries, receipts, key, otherwise=None)
        step(9, record.check_chains, entries, otherwise=None)
        step(9, links.check_numbers, entries, pack.get("job"), otherwise=None)
        step(10, record.check_places, entries, receipts, head, otherwise=None)
        step(10, times.check_times, entries, receipts, head, pack, otherwise=None)
        step(10, links.check_known_logs, source, entries, head, otherwise=None)
        step(10, links.check_job_count, source, entries, pack.get("job"), head, otherwise=None)
        records = step(11, files.check_media, source, entries, hashes, otherwise={})
        step(12, files.check_copies, source, entries, records, otherwise=None)
        step(13, files.check_pack, pack, entries, records, head, otherwise=None)
        step(13, contents.check_paths, source, otherwise=None)
        step(13, contents.check_roles, entries, records, otherwise=None)
        step(13, contents.check_answers, entries, otherwise=None)
    finally:
        source.close()
    return report
