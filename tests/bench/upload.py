"""Uploading 100 originals of 3 MB, four at a time, hashed and synced to the disk, against the reference tus server."""

from __future__ import annotations

import json
import os
import statistics
import time
from pathlib import Path

from tests.bench.common import Line, free_port, node, peer_server
from tests.support.workshop import Office, RunningOffice, found_in, serving
from witnessmark.app import create_app

FILES, LENGTH, ROUNDS = 100, 3_000_000, 7


def make_files(folder: Path) -> Path:
    folder.mkdir()
    for number in range(FILES):
        (folder / f"{number:03d}.jpg").write_bytes(b"\xff\xd8\xff\xe0" + os.urandom(LENGTH - 4))
    return folder


def ours(folder: Path, files: Path, number: int) -> float:
    settings, workshop, manager = found_in(folder / f"ours{number}")
    here = Office(settings, workshop, manager, create_app(settings))
    with serving(settings) as url:
        phone = RunningOffice(settings, workshop, manager, here.app, url=url).phone("bench")
        headers = json.dumps({"Authorization": f"Bearer {phone.token}"})
        return node("tus_upload.mjs", f"{url}/api/media/uploads", str(files), headers)["seconds"]


def peer(folder: Path, files: Path, number: int) -> float:
    port, place = free_port(), folder / f"tus{number}"
    place.mkdir()
    with peer_server("tus_server.mjs", str(place), str(port)):
        return node("tus_upload.mjs", f"http://127.0.0.1:{port}/files", str(files))["seconds"]


def floor(folder: Path, files: Path) -> float:
    """Writing the same bytes to the same disk, each file synced: nothing that keeps its word is faster."""
    pieces = [path.read_bytes() for path in sorted(files.iterdir())]
    (folder / "floor").mkdir(exist_ok=True)
    begun = time.perf_counter()
    for number, piece in enumerate(pieces):
        fd = os.open(folder / "floor" / str(number), os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
        os.write(fd, piece)
        os.fsync(fd)
        os.close(fd)
    return time.perf_counter() - begun


def run(folder: Path) -> list[Line]:
    files = make_files(folder / "files")
    pairs = [(ours(folder, files, n), peer(folder, files, n)) for n in range(ROUNDS)]
    mine, theirs = (statistics.median(column) for column in zip(*pairs, strict=True))
    # Each pair was measured back to back; the middle ratio is not swayed by one that was disturbed.
    ratio = statistics.median(peer_took / ours_took for ours_took, peer_took in pairs)
    lowest = min(floor(folder, files) for _ in range(ROUNDS))
    megabytes = FILES * LENGTH / 1e6
    return [
        Line(
            "upload of 100 originals of 3 MB, 4 at a time, hashed and fsynced",
            f"{megabytes / mine:,.0f} MB/s",
            f"@tus/server, same client, not hashed, not synced: {megabytes / theirs:,.0f} MB/s "
            f"(floor, writing and fsync alone: {megabytes / lowest:,.0f} MB/s)",
            f"{ratio:.2f}",
            "at least 1.2",
            ratio >= 1.2,
        )
    ]
