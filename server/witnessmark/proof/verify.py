"""Checks a pack, every byte of it, with nothing but Python.

The steps, in order; the same numbers stand at the functions that do them and before every fault:

 (1) the pack opens, and no name in it leads outside it
 (2) the bag says what it is and how much it holds
 (3) the manifest lists every file under data/ and nothing else, and every byte is as listed
 (4) the tag manifest does the same for all other files
 (5) the server's key seals the tag manifest, and through it every byte of the pack
 (6) the log fingerprint is signed by that key
 (7) the records are canonical, complete, of this workshop and this job
 (8) each record is the one its receipt names, and is signed by the device that made it
 (9) the records of each device follow one another, each naming the hash of the one before
(10) each receipt leads to the root of the signed log
(11) every file a record names is here, or its copy, or the reason why it is not
(12) each copy shows or plays exactly what its original does, and carries nothing else
(13) what the pack says of itself agrees with what is in it

All faults are gathered; no step is skipped because an earlier one found something, as far as its bytes can be read.
"""

from __future__ import annotations

from pathlib import Path

from witnessmark.proof import bag, files, record
from witnessmark.proof.faults import Report
from witnessmark.proof.sources import open_source


def verify(path: Path) -> Report:
    """Checks the pack at `path`, a zip or the folder it was unpacked into. Raises Unreadable if it cannot be opened;
    everything else that is wrong stands in the report."""
    report = Report()
    source = open_source(path, report)  # (1)
    try:
        bag.check_declaration(source, report)  # (2)
        hashes = bag.check_manifests(source, report)  # (3) (4)
        bag.check_seal(source, report)  # (5)
        head = record.check_head(source, report)  # (6)
        found = record.read_entries(source, head, report)  # (7)
        pack = files.read_pack(source, report)
        if pack:
            record.check_job(found, pack["job"], report)
        receipts = record.read_receipts(source, report)  # (8)
        record.check_signatures(found, receipts, bag.server_key(source, report), report)
        record.check_chains(found, report)  # (9)
        record.check_places(found, receipts, head, report)  # (10)
        records = files.check_media(source, found, hashes, report)  # (11)
        files.check_copies(source, records, report)  # (12)
        files.check_pack(pack, found, records, head, report)  # (13)
    finally:
        source.close()
    return report
