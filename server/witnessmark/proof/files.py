"""Steps (11) to (13): the pictures, sounds and documents, the copies made of them, and what the pack says of itself."""

from __future__ import annotations

from witnessmark.proof import heads, layout, pictures, sounds
from witnessmark.proof.canonical import parse
from witnessmark.proof.faults import Report
from witnessmark.proof.record import Entry
from witnessmark.proof.sources import Damaged, FolderSource, ZipSource, read_whole

MEDIA_FIELDS = {"copy", "left_out", "length", "note", "path", "role", "sha256", "type"}
COPY_FIELDS = {"length", "path", "removed", "scan_sha256", "sha256"}
PACK_FIELDS = {"entries", "format", "head_size", "job", "made", "server", "sort", "workshop"}
LARGEST_PICTURE = 1 << 30


def check_media(
    source: FolderSource | ZipSource, found: list[Entry], hashes: dict[str, str], report: Report
) -> dict[str, dict]:
    """(11) Every file an entry names is here with the very bytes, or as a copy tied to them, or missing for a stated
    reason; and no file is here that no entry names. Returns the records by the original's hash."""
    records = _records(source, report)
    named: dict[str, int] = {}
    for entry in found:
        for item in entry.value["media"]:
            named[item["sha256"]] = item.get("length", -1)
            if item["sha256"] not in records:
                report.fault(11, entry.path, f"file {item['sha256']} to be accounted for in {layout.MEDIA}", "nothing")
    used = set()
    for sha, record in sorted(records.items()):
        where = f"{layout.MEDIA}: {sha}"
        if sha not in named:
            report.fault(11, where, "a file some entry names", "one that no entry names")
        elif record["length"] != named[sha]:
            report.fault(11, where, f"{named[sha]} bytes, as the entry says", f"{record['length']} bytes")
        used |= _check_one(source, where, record, hashes, report)
    for path in sorted(source.sizes):
        if path.startswith((layout.ORIGINALS, layout.COPIES)) and path not in used:
            report.fault(11, path, f"to be accounted for in {layout.MEDIA}", "a file nobody speaks of")
        if path.startswith(layout.PREVIEWS) and path[len(layout.PREVIEWS) :].split(".")[0] not in records:
            report.fault(11, path, "a preview of a file in this pack", "one of no such file")
    return records


def check_copies(source: FolderSource | ZipSource, records: dict[str, dict], report: Report) -> None:
    """(12) Each copy shows the very picture or plays the very sound of its original, and carries nothing beside it."""
    for record in records.values():
        copy = record["copy"]
        if not copy or copy["path"] not in source.sizes:
            continue
        try:
            data = read_whole(source, copy["path"], LARGEST_PICTURE)
            judge = pictures if pictures.sort_of(data) else sounds
            scan, left = judge.scan_hash(data), judge.leftovers(data)
        except (Damaged, ValueError) as error:
            report.fault(12, copy["path"], "a picture or sound that can be taken apart", str(error))
            continue
        if scan != copy["scan_sha256"]:
            report.fault(12, copy["path"], f"scan hash {copy['scan_sha256']}, the original's", scan)
        for words in left:
            report.fault(12, copy["path"], "nothing beside picture or sound", words)


def read_pack(source: FolderSource | ZipSource, report: Report) -> dict:
    """What the pack says of itself; empty, with a fault, if that cannot be read."""
    try:
        value = parse(read_whole(source, layout.PACK)) if layout.PACK in source.sizes else None
    except (Damaged, ValueError) as error:
        report.fault(13, layout.PACK, "canonical JSON", str(error))
        return {}
    if not isinstance(value, dict) or set(value) != PACK_FIELDS:
        report.fault(13, layout.PACK, f"the fields {', '.join(sorted(PACK_FIELDS))}", "something else")
        return {}
    return value


def check_pack(
    pack: dict, found: list[Entry], records: dict[str, dict], head: heads.Head | None, report: Report
) -> None:
    """(13) What the pack says of itself agrees with what is in it."""
    if not pack:
        return
    real = {"entries": len(found), "format": layout.FORMAT, "sort": report.facts.get("sort")}
    if head:
        real.update(head_size=head.size, server=head.server, workshop=head.workshop)
    for name, value in real.items():
        if pack[name] != value:
            report.fault(13, layout.PACK, f"{name} {value}", str(pack[name]))
    if pack["sort"] == layout.SEALED and any(record["copy"] for record in records.values()):
        report.fault(13, layout.PACK, "originals only in a sealed pack", "copies")
    report.facts.update(job=pack["job"], made=pack["made"], entries=len(found), files=len(records))
    report.facts["left_out"] = sum(1 for record in records.values() if record["left_out"])


def _records(source: FolderSource | ZipSource, report: Report) -> dict[str, dict]:
    try:
        lines = read_whole(source, layout.MEDIA).splitlines() if layout.MEDIA in source.sizes else None
    except Damaged as error:
        report.fault(11, layout.MEDIA, "a file that can be read", str(error))
        return {}
    if lines is None:
        report.fault(11, layout.MEDIA, "a file of this name", "none")
    records: dict[str, dict] = {}
    for number, line in enumerate(lines or (), 1):
        try:
            value = parse(line)
            if not isinstance(value, dict) or set(value) != MEDIA_FIELDS or not isinstance(value["sha256"], str):
                raise ValueError(f"other fields than {', '.join(sorted(MEDIA_FIELDS))}")
            if value["copy"] is not None and (not isinstance(value["copy"], dict) or set(value["copy"]) != COPY_FIELDS):
                raise ValueError(f"a copy with other fields than {', '.join(sorted(COPY_FIELDS))}")
            if value["sha256"] in records:
                raise ValueError(f"{value['sha256']} again")
        except ValueError as error:
            report.fault(11, f"{layout.MEDIA} line {number}", "one record for each file", str(error))
            continue
        records[value["sha256"]] = value
    return records


def _check_one(
    source: FolderSource | ZipSource, where: str, record: dict, hashes: dict[str, str], report: Report
) -> set[str]:
    """Checks one record's file or copy; returns the paths it accounts for."""
    used, copy = set(), record["copy"]
    for path, digest, length in (
        (record["path"], record["sha256"], record["length"]),
        (copy["path"], copy["sha256"], copy["length"]) if copy else (None, None, None),
    ):
        if path is None:
            continue
        used.add(path)
        if path not in source.sizes:
            report.fault(11, where, f"the file {path}", "none")
        elif path in hashes and hashes[path] != digest:
            report.fault(11, path, f"SHA-256 {digest}", hashes[path])
        elif source.sizes[path] != length:
            report.fault(11, path, f"{length} bytes", f"{source.sizes[path]} bytes")
    if not used and not record["left_out"]:
        report.fault(11, where, "a file, a copy, or the reason why it is missing", "none of them")
    if used and record["left_out"]:
        report.fault(11, where, "no file where one was left out", ", ".join(sorted(used)))
    return used
