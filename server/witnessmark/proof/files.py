"""Steps (11) to (13): the pictures, sounds and documents, the copies made of them, and what the pack says of itself."""

from __future__ import annotations

from collections.abc import Iterator

from witnessmark.proof import heads, layout, pictures, sounds
from witnessmark.proof.canonical import parse
from witnessmark.proof.faults import Report
from witnessmark.proof.record import Entry
from witnessmark.proof.sentences import say
from witnessmark.proof.sources import Damaged, FolderSource, ZipSource, lines_of, read_whole

MEDIA_FIELDS = {"copy", "left_out", "length", "note", "path", "role", "sha256", "type"}
COPY_FIELDS = {"length", "path", "removed", "scan_sha256", "sha256"}
PACK_FIELDS = {"entries", "format", "head_size", "job", "made", "server", "sort", "workshop"}
LARGEST_PICTURE = 1 << 30
MOST_FILES = 100_000  # lines of an account that is read without its records


def check_media(
    source: FolderSource | ZipSource, entries: list[Entry], hashes: dict[str, str], report: Report
) -> dict[str, dict]:
    """(11) Every file an entry names is here with the very bytes, or as a copy tied to them, or missing for a stated
    reason; and no file is here that no entry names. Returns the records by the original's hash."""
    named: dict[str, set] = {}
    bearers: dict[str, Entry] = {}
    for entry in entries:
        for item in entry.value["media"]:
            named.setdefault(item["sha256"], set()).add(repr(item.get("length")))
            bearers.setdefault(item["sha256"], entry)
    records = read_media(source, report, len(named) + report.MOST)
    for entry in entries:
        for item in entry.value["media"]:
            if item["sha256"] not in records:
                wanted = say("proof.media.file_accounted", hash=item["sha256"], file=layout.MEDIA)
                report.fault(11, entry.path, wanted, say("proof.common.none"))
    used = set()
    for sha, record in sorted(records.items()):
        where = say("proof.media.where", file=layout.MEDIA, hash=sha)
        if sha not in named:
            report.fault(11, where, say("proof.media.named"), say("proof.media.not_named"))
        elif named[sha] != {repr(record["length"])}:
            # A record may be wrong about the length of a file that it names by its hash; that spoils no other record.
            stated = ", ".join(sorted(named[sha]))
            if record["left_out"]:
                wanted = say("proof.media.length", length=stated)
                report.fault(11, where, wanted, say("proof.common.length", length=record["length"]))
            else:
                report.remark(say("proof.media.stated", hash=sha, stated=stated, length=record["length"]))
        used |= _check_one(source, where, record, hashes, _words(record, bearers.get(sha)), report)
    for path in sorted(source.sizes):
        if path.startswith((layout.ORIGINALS, layout.COPIES)) and path not in used:
            report.fault(11, path, say("proof.media.accounted", file=layout.MEDIA), say("proof.common.none"))
        if path.startswith(layout.PREVIEWS) and path[len(layout.PREVIEWS) :].split(".")[0] not in records:
            report.fault(11, path, say("proof.media.preview"), say("proof.media.other_preview"))
    return records


def check_copies(
    source: FolderSource | ZipSource, entries: list[Entry], records: dict[str, dict], report: Report
) -> None:
    """(12) Each copy shows the very picture or plays the very sound of its original, and carries nothing beside it.
    Which picture that is the phone signed, by the hash of its pixels; where it did not, the workshop alone says so."""
    signed = {item["sha256"]: item["scan_sha256"] for item in _items(entries) if "scan_sha256" in item}
    stated = 0
    for sha, record in records.items():
        copy = record["copy"]
        if not copy or copy["path"] not in source.sizes:
            continue
        try:
            data = read_whole(source, copy["path"], LARGEST_PICTURE)
            rule = rule_of(copy)
            scan, left = _scan_hash(data, rule), _judge(data).leftovers(data, rule=rule)
        except (Damaged, ValueError) as error:
            report.fault(12, copy["path"], say("proof.copy.readable"), str(error))
            continue
        if scan != copy["scan_sha256"]:
            report.fault(12, copy["path"], say("proof.copy.scan", hash=copy["scan_sha256"]), scan)
        elif sha not in signed:
            stated += 1
        elif scan != signed[sha]:
            report.fault(12, copy["path"], say("proof.copy.signed", hash=signed[sha]), scan)
        for words in left:
            report.fault(12, copy["path"], say("proof.copy.clean"), words)
    if stated:
        report.remark(say("proof.copy.stated", number=stated))


def scan_hash_of(source: FolderSource | ZipSource, path: str, rule: int) -> str:
    """The scan hash of a picture or sound of the pack by `rule`, one of layout.RULES. Raises Damaged or ValueError."""
    return _scan_hash(read_whole(source, path, LARGEST_PICTURE), rule)


def rule_of(copy: dict) -> int:
    """By which of layout.RULES a copy was cleaned, as its record says."""
    return copy.get("rule", layout.RULES[0])


def _scan_hash(data: bytes, rule: int) -> str:
    # That of a picture is signed by the phone: it is the same by every rule.
    return pictures.scan_hash(data) if pictures.sort_of(data) else sounds.scan_hash(data, rule)


def _judge(data: bytes):
    """The module that knows this sort of file."""
    return pictures if pictures.sort_of(data) else sounds


def _items(entries: list[Entry]) -> Iterator[dict]:
    return (item for entry in entries for item in entry.value["media"])


def read_pack(source: FolderSource | ZipSource, report: Report) -> dict:
    """What pack.json says of the pack; empty, with a fault, if that cannot be read."""
    try:
        value = parse(read_whole(source, layout.PACK)) if layout.PACK in source.sizes else None
    except (Damaged, ValueError) as error:
        report.fault(13, layout.PACK, say("proof.common.canonical"), str(error))
        return {}
    if not isinstance(value, dict) or set(value) != PACK_FIELDS:
        wanted = say("proof.pack.fields", fields=", ".join(sorted(PACK_FIELDS)))
        report.fault(13, layout.PACK, wanted, say("proof.common.something_else"))
        return {}
    return value


def check_pack(
    pack: dict, entries: list[Entry], records: dict[str, dict], head: heads.Head | None, report: Report
) -> None:
    """(13) What the pack says of itself agrees with what is in it."""
    if not pack:
        return
    real = {"entries": len(entries), "format": layout.FORMAT, "sort": report.facts.get("sort")}
    if head:
        real.update(head_size=head.size, server=head.server, workshop=head.workshop)
    for name, value in real.items():
        if pack[name] != value:
            report.fault(13, layout.PACK, say("proof.pack.value", name=name, value=value), str(pack[name]))
    if pack["sort"] == layout.SEALED and any(record["copy"] for record in records.values()):
        report.fault(13, layout.PACK, say("proof.pack.originals_only"), say("proof.pack.copies"))
    report.facts.update(job=pack["job"], made=pack["made"], entries=len(entries), files=len(records))
    report.facts["left_out"] = sum(1 for record in records.values() if record["left_out"])


def read_media(source: FolderSource | ZipSource, report: Report, most: int = MOST_FILES) -> dict[str, dict]:
    """The pack's account of its files by the original's hash. It can be true with one line for each that the records
    name; what is beyond `most` is not read."""
    try:
        data = read_whole(source, layout.MEDIA) if layout.MEDIA in source.sizes else None
    except Damaged as error:
        report.fault(11, layout.MEDIA, say("proof.common.readable"), str(error))
        return {}
    if data is None:
        report.fault(11, layout.MEDIA, say("proof.common.this_file"), say("proof.common.none"))
    records: dict[str, dict] = {}
    for number, line in enumerate(lines_of(data or b""), 1):
        if number > most:
            where = say("proof.common.line", file=layout.MEDIA, number=number)
            report.fault(11, where, say("proof.common.lines", most=most), say("proof.common.more"))
            break
        try:
            value = parse(line)
            if not isinstance(value, dict) or set(value) != MEDIA_FIELDS or not isinstance(value["sha256"], str):
                raise ValueError(say("proof.media.other_fields", fields=", ".join(sorted(MEDIA_FIELDS))))
            if value["copy"] is not None:
                _check_copy(value["copy"])
            if not isinstance(value["path"], (str, type(None))):
                raise ValueError(say("proof.media.path"))
            if value["sha256"] in records:
                raise ValueError(say("proof.common.again", what=value["sha256"]))
        except ValueError as error:
            where = say("proof.common.line", file=layout.MEDIA, number=number)
            report.fault(11, where, say("proof.media.once"), str(error))
            continue
        records[value["sha256"]] = value
    return records


def _check_copy(copy: object) -> None:
    """Raises ValueError for a record of a copy with other fields, or cleaned by a rule that is not known here."""
    if not isinstance(copy, dict) or set(copy) - {"rule"} != COPY_FIELDS:
        raise ValueError(say("proof.media.copy_other_fields", fields=", ".join(sorted(COPY_FIELDS))))
    if type(rule_of(copy)) is not int or rule_of(copy) not in layout.RULES:
        raise ValueError(say("proof.media.copy_other_rule", rule=rule_of(copy), known=layout.RULE))
    if not isinstance(copy["path"], str):
        raise ValueError(say("proof.media.path"))


def _words(record: dict, entry: Entry | None) -> str:
    """What a file is to a reader: "the picture of the record at position 60 (rod/3)"."""
    sort = str(record["type"]).split("/")[0]
    key = {"image": "proof.media.picture", "audio": "proof.media.sound"}.get(sort, "proof.media.document")
    what = say(key, position=entry.position if entry else "?")
    location = entry.value["location"] if entry else None
    place = location.get("place") if isinstance(location, dict) else None
    return say("proof.media.with_place", what=what, place=place) if place else what


def _check_one(
    source: FolderSource | ZipSource, where: str, record: dict, hashes: dict[str, str], what: str, report: Report
) -> set[str]:
    """Checks one record's file or copy, `what` in words; returns the paths it accounts for."""
    used, copy = set(), record["copy"]
    for path, digest, length in (
        (record["path"], record["sha256"], record["length"]),
        (copy["path"], copy["sha256"], copy["length"]) if copy else (None, None, None),
    ):
        if path is None:
            continue
        used.add(path)
        if path not in source.sizes:
            report.fault(11, where, say("proof.media.file", path=path), say("proof.common.none"))
        elif path in hashes and hashes[path] != digest:
            report.fault(11, path, say("proof.media.as_recorded", what=what, hash=digest), hashes[path])
        elif source.sizes[path] != length:
            wanted = say("proof.common.length", length=length)
            report.fault(11, path, wanted, say("proof.common.length", length=source.sizes[path]))
    if not used and not record["left_out"]:
        report.fault(11, where, say("proof.media.one_of_three"), say("proof.media.none_of_three"))
    if used and record["left_out"]:
        report.fault(11, where, say("proof.media.left_out"), ", ".join(sorted(used)))
    return used
