"""Steps (2) to (5): the bag itself. Every file is read once, here; later steps use the hashes found."""

from __future__ import annotations

import re

from witnessmark.proof import keys, layout
from witnessmark.proof.faults import Report
from witnessmark.proof.sentences import say
from witnessmark.proof.sources import Damaged, FolderSource, ZipSource, hash_of, read_whole, unsafe

_line = re.compile(r"([0-9a-f]{64}) [ *](.+)")


def check_declaration(source: FolderSource | ZipSource, report: Report) -> None:
    """(2) The bag says that it is one, what sort of pack it is, and how much it holds."""
    text = _text(source, layout.BAGIT, 2, report)
    if text is not None and text.encode() != layout.BAGIT_TEXT:
        report.fault(2, layout.BAGIT, say("proof.bag.declaration"), repr(text[:80]))
    text = _text(source, layout.BAG_INFO, 2, report)
    if text is None:
        return
    info = dict(line.split(": ", 1) for line in text.splitlines() if ": " in line and not line.startswith(" "))
    sort = info.get(layout.SORT_FIELD)
    if sort not in layout.SORTS:
        wanted = say("proof.bag.sort", field=layout.SORT_FIELD, sorts=", ".join(layout.SORTS))
        report.fault(2, layout.BAG_INFO, wanted, sort or say("proof.common.none"))
    report.facts["sort"] = sort or "nothing"
    payload = [size for path, size in source.sizes.items() if path.startswith("data/")]
    counted = f"{sum(payload)}.{len(payload)}"
    stated = info.get("Payload-Oxum")
    if stated != counted:
        wanted = say("proof.bag.oxum", oxum=stated) if stated else say("proof.bag.oxum_line")
        report.fault(2, layout.BAG_INFO, wanted, say("proof.bag.in_data", oxum=counted))


def check_manifests(source: FolderSource | ZipSource, report: Report) -> dict[str, str]:
    """(3) and (4) The manifests list every file and nothing else, and every byte is as listed.

    Returns the SHA-256 found for each file that could be read.
    """
    result: dict[str, str] = {}
    for path in sorted(source.sizes):
        try:
            digest, length = hash_of(source, path)
        except Damaged as error:
            report.fault(_step(path), path, say("proof.common.readable"), str(error))
            continue
        if length != source.sizes[path]:
            wanted = say("proof.common.length", length=source.sizes[path])
            report.fault(_step(path), path, wanted, say("proof.common.length", length=length))
        result[path] = digest
    payload = {path for path in source.sizes if path.startswith("data/")}
    tags = set(source.sizes) - payload - {layout.TAG_MANIFEST, layout.SEAL}
    _compare(source, layout.MANIFEST, payload, result, report)
    _compare(source, layout.TAG_MANIFEST, tags, result, report)
    return result


def check_seal(source: FolderSource | ZipSource, report: Report) -> None:
    """(5) The list of all tag files, and through it every byte of the pack, is sealed by the server's key."""
    key, signature = server_key(source, report), _bytes(source, layout.SEAL, 5, report)
    listed = _bytes(source, layout.TAG_MANIFEST, 5, report)
    if key is None or signature is None or listed is None:
        return
    try:
        raw = keys.raw_from_der(signature)
    except ValueError as error:
        report.fault(5, layout.SEAL, say("proof.bag.signature"), str(error))
        return
    if not keys.verify(key, raw, listed):
        wanted = say("proof.bag.sealed", file=layout.TAG_MANIFEST)
        report.fault(5, layout.SEAL, wanted, say("proof.common.bad_signature"))


def server_key(source: FolderSource | ZipSource, report: Report) -> bytes | None:
    """The server's public key in the pack, or None with a fault."""
    pem = _bytes(source, layout.SERVER_KEY, 5, report)
    if pem is None:
        return None
    try:
        spki = keys.spki_from_pem(pem)
        keys.read_spki(spki)
    except ValueError as error:
        report.fault(5, layout.SERVER_KEY, say("proof.bag.server_key"), str(error))
        return None
    return spki


def _step(path: str) -> int:
    return 3 if path.startswith("data/") else 4


def _compare(
    source: FolderSource | ZipSource, manifest: str, expected: set[str], computed: dict[str, str], report: Report
) -> None:
    step = 3 if manifest == layout.MANIFEST else 4
    listed: dict[str, str] = {}
    text = _text(source, manifest, step, report)
    if text is None:
        return
    for number, line in enumerate(text.splitlines(), 1):
        where = say("proof.common.line", file=manifest, number=number)
        match = _line.fullmatch(line)
        if not match:
            report.fault(step, where, say("proof.bag.line"), repr(line[:100]))
            continue
        digest, path = match[1], match[2].replace("%0A", "\n").replace("%0D", "\r").replace("%25", "%")
        if unsafe(path):
            bad = say("proof.bag.bad_path", path=path, reason=unsafe(path))
            report.fault(step, where, say("proof.common.path_inside"), bad)
        elif path in listed:
            report.fault(step, where, say("proof.bag.path_once"), say("proof.common.again", what=path))
        else:
            listed[path] = digest
    for path in sorted(expected - set(listed)):
        report.fault(step, path, say("proof.bag.in_the_list", list=manifest), say("proof.bag.not_listed"))
    for path in sorted(set(listed) - expected):
        here = path in source.sizes
        wrong = say("proof.bag.of_the_other_list") if here else say("proof.bag.no_such_file")
        report.fault(step, path, say("proof.bag.of_the_list", list=manifest), wrong)
    whose = {digest: path for path, digest in listed.items()}
    for path in sorted(expected & set(listed) & set(computed)):
        if listed[path] != computed[path]:
            # Two files in each other's place are named as what they are; the hash of a stranger says nothing.
            other = whose.get(computed[path])
            wrong = say("proof.bag.swapped", path=other) if other else computed[path]
            report.fault(step, path, say("proof.common.sha256", hash=listed[path]), wrong)


def _bytes(source: FolderSource | ZipSource, path: str, step: int, report: Report) -> bytes | None:
    if path not in source.sizes:
        report.fault(step, path, say("proof.common.this_file"), say("proof.common.none"))
        return None
    try:
        return read_whole(source, path)
    except Damaged as error:
        report.fault(step, path, say("proof.common.readable"), str(error))
        return None


def _text(source: FolderSource | ZipSource, path: str, step: int, report: Report) -> str | None:
    data = _bytes(source, path, step, report)
    try:
        return None if data is None else data.decode()
    except UnicodeDecodeError:
        report.fault(step, path, say("proof.bag.utf8"), say("proof.bag.other_bytes"))
        return None
