"""Where things stand in a pack. The builder writes these paths, the verifier reads them.

A pack is one zip with one top folder, which is a BagIt bag (RFC 8493):

    bagit.txt  bag-info.txt  manifest-sha256.txt  tagmanifest-sha256.txt  tagmanifest-sha256.sig
    READ-ME-FIRST.txt  verify.pyz  VERIFY.txt (not in packs made before it was written)
    data/report.pdf  data/index.html
    data/record/entries/00000042.json    the entry at position 42, its exact canonical bytes
    data/record/receipts.jsonl           one line an entry: position, hash, signature, time received, path to the root
    data/record/head.json  head.sig  server.pem
    data/record/media.jsonl              one line a file: its hash, and where it is, or the copy, or why it is missing
    data/record/pack.json  people.json  cycles.json (only where a tool of the register tightened something)
    data/record/earlier.json             that the log of each pack issued before is the beginning of this one
    data/record/known_logs.json          that each log which a record's phone knew is the beginning of this one
    data/record/job.json                 how many records the job has, under the log fingerprint
    data/originals/  data/copies/  data/previews/
"""

from __future__ import annotations

import re

FORMAT = 1
# By which rule a copy is clean, and what of a sound its scan hash covers. The first is that of copies whose record
# names none, until December 2026: it knew where recorders write words. The second knows what has to be there, and
# nothing else may be.
RULES = (1, 2)
RULE = RULES[-1]
SEALED, CUSTOMER = "sealed", "customer"
SORTS = (SEALED, CUSTOMER)

BAGIT, BAG_INFO = "bagit.txt", "bag-info.txt"
MANIFEST, TAG_MANIFEST, SEAL = "manifest-sha256.txt", "tagmanifest-sha256.txt", "tagmanifest-sha256.sig"
READ_ME, VERIFIER, VERIFY_SHEET = "READ-ME-FIRST.txt", "verify.pyz", "VERIFY.txt"
REPORT, PAGE = "data/report.pdf", "data/index.html"

ENTRIES = "data/record/entries/"
RECEIPTS = "data/record/receipts.jsonl"
HEAD, HEAD_SIGNATURE, SERVER_KEY = "data/record/head.json", "data/record/head.sig", "data/record/server.pem"
CYCLES, EARLIER = "data/record/cycles.json", "data/record/earlier.json"
JOB = "data/record/job.json"
KNOWN_LOGS = "data/record/known_logs.json"
MEDIA, PACK, PEOPLE = "data/record/media.jsonl", "data/record/pack.json", "data/record/people.json"
ORIGINALS, COPIES, PREVIEWS = "data/originals/", "data/copies/", "data/previews/"

BAGIT_TEXT = b"BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n"
SORT_FIELD = "Witnessmark-Pack-Sort"

# Every path that a pack of this format may have. VERIFY.txt came later than the rest.
FILES = frozenset(
    {
        BAGIT,
        BAG_INFO,
        MANIFEST,
        TAG_MANIFEST,
        SEAL,
        READ_ME,
        VERIFIER,
        VERIFY_SHEET,
        REPORT,
        PAGE,
        RECEIPTS,
        HEAD,
        HEAD_SIGNATURE,
    }
    | {SERVER_KEY, CYCLES, EARLIER, KNOWN_LOGS, JOB, MEDIA, PACK, PEOPLE}
)
_named_file = re.compile(f"(?:{ORIGINALS}|{COPIES}|{PREVIEWS})[0-9A-Za-z._-]+")
_entry_name = re.compile(re.escape(ENTRIES) + r"([0-9]{8,})\.json")


def is_known(path: str) -> bool:
    """Whether a pack may have a file at this path."""
    return path in FILES or position_of(path) is not None or bool(_named_file.fullmatch(path))


def entry_path(position: int) -> str:
    """The path of the entry at `position`."""
    return f"{ENTRIES}{position:08d}.json"


def position_of(path: str) -> int | None:
    """The position an entry's path stands for; None if it is no such path."""
    match = _entry_name.fullmatch(path)
    if not match or entry_path(int(match[1])) != path:
        return None
    return int(match[1])
