"""Makes broken packs from a good one, one fault in each, named by it.

    python -m tests.broken_packs.make GOOD.zip FOLDER

writes one zip for each fault. Faults marked `listed` are made by somebody who knows how a pack is made and writes all
lists anew, but has not the server's key; the others by chance or by somebody who does not care.
"""

from __future__ import annotations

import hashlib
import json
import struct
import sys
import zipfile
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from witnessmark.proof import layout
from witnessmark.proof.canonical import canonical

Files = dict[str, bytes]


@dataclass(frozen=True)
class Fault:
    """How a good pack is broken, and what the verifier has to say: each of `steps`, and `path` in some fault."""

    name: str
    breaks: Callable[[Files], None]
    steps: set[int]
    path: str
    listed: bool = False


def flipped(path: str) -> Callable[[Files], None]:
    """Turns one bit in the middle of the first file whose path begins so."""

    def breaks(files: Files) -> None:
        name = first(files, path)
        data = bytearray(files[name])
        data[len(data) // 2] ^= 1
        files[name] = bytes(data)

    return breaks


def dropped(path: str) -> Callable[[Files], None]:
    return lambda files: files.pop(first(files, path)) and None


def added(path: str, data: bytes = b"something else") -> Callable[[Files], None]:
    return lambda files: files.update({path: data})


def first(files: Files, start: str) -> str:
    return min(name for name in files if name.startswith(start))


def entry_of(files: Files, kind: str, which: int = 0) -> str:
    entries = [
        name for name in sorted(files) if name.startswith(layout.ENTRIES) and f'"kind":"{kind}"'.encode() in files[name]
    ]
    return entries[which]


def changed(path_of: Callable[[Files], str], change: Callable[[dict], None]) -> Callable[[Files], None]:
    """Rewrites one file of canonical JSON."""

    def breaks(files: Files) -> None:
        name = path_of(files)
        value = json.loads(files[name])
        change(value)
        files[name] = canonical(value)

    return breaks


def lines_changed(path: str, change: Callable[[list[dict]], None]) -> Callable[[Files], None]:
    """Rewrites one file of lines of canonical JSON."""

    def breaks(files: Files) -> None:
        values = [json.loads(line) for line in files[path].splitlines()]
        change(values)
        files[path] = b"".join(canonical(value) + b"\n" for value in values)

    return breaks


def replaced(path: str, old: bytes, new: bytes) -> Callable[[Files], None]:
    def breaks(files: Files) -> None:
        assert old in files[path], f"{path} holds no {old!r}"
        files[path] = files[path].replace(old, new, 1)

    return breaks


def swap_pictures(files: Files) -> None:
    """Two photographs change places, captions and places stay: the oldest trick."""
    first, two = (entry_of(files, "photo_taken", n) for n in (0, 1))
    first_value, second_value = json.loads(files[first]), json.loads(files[two])
    first_value["media"], second_value["media"] = second_value["media"], first_value["media"]
    files[first], files[two] = canonical(first_value), canonical(second_value)
    rehash(files)


def swap_entries(files: Files) -> None:
    first, two = (entry_of(files, "photo_taken", n) for n in (0, 1))
    files[first], files[two] = files[two], files[first]


def rewrite_history(files: Files) -> None:
    """One reading is changed, and the receipt told its new hash."""
    changed(lambda f: entry_of(f, "measured"), lambda value: value["body"].update(value="89.01"))(files)
    rehash(files)


def drop_entry(files: Files) -> None:
    """A record vanishes with its receipt, and the account is corrected."""
    name = entry_of(files, "finding_made")
    del files[name]
    position = layout.position_of(name)
    lines_changed(layout.RECEIPTS, lambda all: all.remove(next(r for r in all if r["position"] == position)))(files)
    changed(lambda _: layout.PACK, lambda value: value.update(entries=value["entries"] - 1))(files)


def cut_chain(files: Files) -> None:
    """A record is made to name another one before it."""
    changed(lambda f: entry_of(f, "finding_made"), lambda value: value.update(previous="ab" * 32))(files)
    rehash(files)


def same_number_twice(files: Files) -> None:
    def again(value: dict) -> None:
        value["sequence"] -= 1

    changed(lambda f: entry_of(f, "finding_made"), again)(files)
    rehash(files)


def older_head(files: Files) -> None:
    """The head says fewer entries than there are receipts for."""
    changed(lambda _: layout.HEAD, lambda value: value.update(size=value["size"] - 5))(files)
    changed(lambda _: layout.PACK, lambda value: value.update(head_size=value["head_size"] - 5))(files)


def add_to_picture(files: Files) -> None:
    """A customer's copy gets a comment back, and is listed so."""
    name = next(n for n in sorted(files) if n.startswith(layout.COPIES) and n.endswith(".jpg"))
    files[name] = files[name][:2] + b"\xff\xfe" + struct.pack(">H", 9) + b"54.97 N" + files[name][2:]
    describe_copy(files, name)


def paint_picture(files: Files) -> None:
    """A customer's copy shows something else than the original, and is listed so."""
    name = next(n for n in sorted(files) if n.startswith(layout.COPIES) and n.endswith(".jpg"))
    data = bytearray(files[name])
    data[-12] ^= 1
    files[name] = bytes(data)
    describe_copy(files, name)


def describe_copy(files: Files, name: str) -> None:
    def change(records: list[dict]) -> None:
        record = next(r for r in records if r["copy"] and r["copy"]["path"] == name)
        record["copy"].update(sha256=hashlib.sha256(files[name]).hexdigest(), length=len(files[name]))

    lines_changed(layout.MEDIA, change)(files)


def rehash(files: Files) -> None:
    """Tells the receipts the hashes the entries have now."""

    def change(receipts: list[dict]) -> None:
        for receipt in receipts:
            receipt["hash"] = hashlib.sha256(files[layout.entry_path(receipt["position"])]).hexdigest()

    lines_changed(layout.RECEIPTS, change)(files)


def drop_picture(files: Files) -> None:
    del files[first(files, layout.ORIGINALS)]


def forget_picture(files: Files) -> None:
    lines_changed(layout.MEDIA, lambda records: records.pop(0) and None)(files)


def leave_out(files: Files) -> None:
    """A picture vanishes and nobody says why."""
    gone = first(files, layout.ORIGINALS)
    del files[gone]
    lines_changed(
        layout.MEDIA, lambda records: next(r for r in records if r["path"] == gone).update(path=None, left_out=None)
    )(files)


def other_receipt_time(receipts: list[dict]) -> None:
    receipts[-1]["received"] = "2020-01-01T00:00:00.000Z"


def relist(files: Files) -> None:
    """Writes Payload-Oxum and both manifests anew, as anyone can."""
    payload = {path: data for path, data in files.items() if path.startswith("data/")}
    info = files[layout.BAG_INFO].decode().splitlines()
    info = [line for line in info if not line.startswith("Payload-Oxum")]
    info.append(f"Payload-Oxum: {sum(map(len, payload.values()))}.{len(payload)}")
    files[layout.BAG_INFO] = ("\n".join(info) + "\n").encode()
    files[layout.MANIFEST] = manifest(payload)
    tags = set(files) - set(payload) - {layout.TAG_MANIFEST, layout.SEAL}
    files[layout.TAG_MANIFEST] = manifest({path: files[path] for path in tags})


def manifest(files: Files) -> bytes:
    return "".join(f"{hashlib.sha256(data).hexdigest()}  {path}\n" for path, data in sorted(files.items())).encode()


def read(path: Path) -> tuple[str, Files]:
    """The top folder and the files of a pack."""
    with zipfile.ZipFile(path) as archive:
        names = archive.namelist()
        return names[0].split("/")[0], {name.split("/", 1)[1]: archive.read(name) for name in names}


def write(path: Path, top: str, files: Files) -> Path:
    with zipfile.ZipFile(path, "w") as archive:
        for name, data in files.items():
            archive.writestr(f"{top}/{name}", data)
    return path


def break_one(good: Path, fault: Fault, folder: Path) -> Path:
    """Writes the pack with this one fault into `folder`; returns its path."""
    top, files = read(good)
    fault.breaks(files)
    if fault.listed:
        relist(files)
    return write(folder / f"{fault.name.replace(' ', '_')}.zip", top, files)


def main(good: Path, folder: Path) -> None:
    """Writes every broken pack that can be made from `good`."""
    # Here and not above: the list of faults is made of the functions of this file.
    from tests.broken_packs.faults import CUSTOMER_FAULTS, SEALED_FAULTS

    sealed = b"sealed" in read(good)[1][layout.BAG_INFO]
    folder.mkdir(parents=True, exist_ok=True)
    for fault in SEALED_FAULTS if sealed else CUSTOMER_FAULTS:
        print(break_one(good, fault, folder))


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]))
