"""Puts the pictures, sounds and documents of a job into the bag, and writes down for each where it is or why not."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from dataclasses import dataclass, field

from witnessmark.config import Settings
from witnessmark.media.sniff import HEAD_BYTES, sniff
from witnessmark.media.store import open_original, path_of
from witnessmark.pack import redact
from witnessmark.pack.bag import Bag
from witnessmark.pack.errors import Spoilt
from witnessmark.proof import layout
from witnessmark.trade.ground.sentences import say

ENDINGS = {
    "image/jpeg": "jpg", "image/png": "png", "image/webp": "webp", "image/heic": "heic", "image/heif": "heif",
    "image/avif": "avif", "image/tiff": "tif", "audio/mp4": "m4a", "video/mp4": "mp4", "audio/webm": "webm",
    "audio/ogg": "ogg", "audio/wav": "wav", "application/pdf": "pdf",
}  # fmt: skip
NOT_HERE = say("pack.media.not_arrived")


@dataclass
class MediaFile:
    """A file that records of the job name. `exhibits` are the numbers of those records, `ratio` is width to height,
    `fault` says why there is no preview of a picture that is here."""

    sha256: str
    length: int
    type: str
    role: str
    name: str
    exhibits: list[int] = field(default_factory=list)
    record: dict = field(default_factory=dict)
    preview: str | None = None
    fault: str = ""
    ratio: float = 1.0

    @property
    def given(self) -> str | None:
        """Where the reader finds it in the pack: the original or the copy; None if it was left out."""
        copy = self.record.get("copy")
        return copy["path"] if copy else self.record.get("path")


def gather(named: Iterable[tuple[int, list[dict]]]) -> list[MediaFile]:
    """The files of the job, each once, in the order they are first named. `named`: (exhibit number, media list)."""
    by_sha: dict[str, MediaFile] = {}
    for number, items in named:
        for item in items:
            sha = item["sha256"]
            file = by_sha.setdefault(sha, MediaFile(sha, item["length"], item["type"], item["role"], item["name"]))
            file.exhibits.append(number)
    return list(by_sha.values())


def put(bag: Bag, settings: Settings, file: MediaFile, sort: str, here: bool) -> None:
    """Puts one file into the bag as this sort of pack gives it, and fills in `file.record`.

    Raises Spoilt if the original's bytes no longer give its name: a pack over spoilt evidence would only hide it.
    """
    file.record = _record(file, left_out=NOT_HERE)
    if not here:
        return
    # A record may state another length than the file has; the file's own is the one that can be checked.
    length = file.length = path_of(settings, file.sha256).stat().st_size
    if sort == layout.SEALED:
        return _give_original(bag, settings, file, length)
    if length > redact.LARGEST:
        file.record = _record(file, left_out=say("pack.media.too_large", size=redact.LARGEST >> 20))
        return None
    with open_original(settings, file.sha256) as source:
        data = source.read()
    if hashlib.sha256(data).hexdigest() != file.sha256:
        raise _spoilt(file)
    try:
        copy = redact.clean(data)
    except redact.CannotClean as reason:
        file.record = _record(file, left_out=say("pack.media.cannot_clean", reason=reason))
        return None
    path = f"{layout.COPIES}{file.sha256}.{_ending(data[:HEAD_BYTES])}"
    digest = bag.add(path, copy.data)
    copy_record = {
        "length": len(copy.data),
        "path": path,
        "removed": copy.removed,
        "rule": layout.RULE,
        "scan_sha256": copy.scan_sha256,
        "sha256": digest,
    }
    file.record = _record(file, copy=copy_record)
    return None


def _give_original(bag: Bag, settings: Settings, file: MediaFile, length: int) -> None:
    with open_original(settings, file.sha256) as source:
        ending = _ending(source.read(HEAD_BYTES))
        source.seek(0)
        path = f"{layout.ORIGINALS}{file.sha256}.{ending}"
        if bag.stream(path, source, length) != file.sha256:
            raise _spoilt(file)
    file.record = _record(file, path=path)


def _record(file: MediaFile, path=None, copy=None, left_out=None) -> dict:
    return {
        "copy": copy,
        "left_out": left_out,
        "length": file.length,
        "note": None,  # packs from before December 2026 gave customers documents untouched, and said so here
        "path": path,
        "role": file.role,
        "sha256": file.sha256,
        "type": file.type,
    }


def _ending(head: bytes) -> str:
    return ENDINGS.get(sniff(head), "bin")


def _spoilt(file: MediaFile) -> Spoilt:
    return Spoilt(
        "spoilt",
        file.sha256,
        say("pack.media.damaged", name=file.name, hash=file.sha256[:12]),
    )
