"""A pack of 300 photographs with previews at hand, against copying, hashing and typesetting alone."""

from __future__ import annotations

import hashlib
import io
import json
import os
import resource
import subprocess
import sys
import time
from pathlib import Path

from PIL import Image

from tests.bench.common import Line, best
from tests.support.phone import Phone
from tests.support.record import a_v6
from tests.support.workshop import Office, found_in
from witnessmark.app import create_app
from witnessmark.config import Settings
from witnessmark.db import make_engine, reading, writing
from witnessmark.media import previews
from witnessmark.media.store import adopt
from witnessmark.pack.build import build
from witnessmark.sync import desk

PICTURES, BYTES = 300, 3_000_000
MEMORY_MB = 700


def photograph(number: int, base: Image.Image, length: int = BYTES) -> bytes:
    """A picture like no other of them, padded after its end to the size of a phone's."""
    picture = base.rotate(number % 4 * 90, expand=True).point(lambda v: (v + number) % 256)
    out = io.BytesIO()
    picture.save(out, "JPEG", quality=85)
    return out.getvalue() + os.urandom(max(0, length - out.tell()))


def fill(office: Office, phone: Phone, pictures: int = PICTURES) -> str:
    """A job with so many photographs, their originals and previews in place."""
    with writing(office.engine) as conn:
        desk.write(conn, office.settings, office.manager.id, "engine_type_described", body={"engine_type": a_v6()})
    job = phone.open_job("bench", engine_type=a_v6()["id"])
    base = Image.effect_noise((2016, 1512), 40).convert("RGB")
    for number in range(pictures):
        data = photograph(number, base)
        with writing(office.engine) as conn:
            sha256, length = adopt(office.settings, conn, data)
        body = {
            "method": "camera", "width": 2016, "height": 1512, "sharpness": None, "exposure": "ok",
            "caption": f"Bore {number % 6 + 1}, thrust side, as found.", "file_time": None,
        }  # fmt: skip
        place = {"place": f"bore/{number % 6 + 1}", "point": "thrust"}
        media = [
            {"length": length, "name": f"{number}.jpg", "role": "original", "sha256": sha256, "type": "image/jpeg"}
        ]
        phone.keep(phone.entry("photo_taken", job, body=body, location=place, media=media, stage="strip"))
    status, answer = phone.push()
    if status != 200 or any(result["result"] != "stored" for result in answer["results"]):
        raise RuntimeError(f"not stored: {answer}")
    bench = previews.Bench()
    for sha256 in previews.waiting(office.engine):
        previews.make(office.settings, office.engine, bench, sha256)
    bench.close()
    return job


def cut(data: Path, job: str, out: Path) -> dict:
    """Runs in a process of its own: seconds in all and for typesetting, and the peak of memory."""
    marks: list[tuple[float, str]] = []
    settings = Settings(data)
    engine = make_engine(settings.database)
    out.mkdir()
    begun = time.perf_counter()
    with reading(engine) as conn:
        built = build(
            conn, settings, job, "sealed", out, lambda _d, _t, words: marks.append((time.perf_counter(), words))
        )
    total = time.perf_counter() - begun
    at = {words: moment for moment, words in marks}
    peaks = [resource.getrusage(who).ru_maxrss / 1024 for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)]
    return {
        "total": total,
        "typesetting": at["writing the page"] - at["setting the report"],
        "own": peaks[0],
        "child": peaks[1],
        "bytes": built.size,
    }


def copy_and_hash(settings: Settings, out: Path) -> None:
    with out.open("wb") as target:
        for path in settings.media.rglob("*"):
            if path.is_file():
                data = path.read_bytes()
                hashlib.sha256(data).digest()
                target.write(data)


def run(folder: Path) -> list[Line]:
    settings, workshop, manager = found_in(folder / "data")
    office = Office(settings, workshop, manager, create_app(settings))
    job = fill(office, office.phone())
    told = []
    for number in range(2):
        arguments = [sys.executable, "-m", "tests.bench.packs", str(settings.data), job, str(folder / f"out{number}")]
        done = subprocess.run(arguments, capture_output=True, text=True, check=True)
        told.append(json.loads(done.stdout))
    mine = min(told, key=lambda one: one["total"])
    floor = best(lambda: copy_and_hash(settings, folder / "copy")) + mine["typesetting"]
    peak = mine["own"] + mine["child"]
    return [
        Line(
            f"pack of {PICTURES} photographs, {mine['bytes'] / 1e6:,.0f} MB, previews at hand",
            f"{mine['total']:.1f} s",
            f"copying and SHA-256 of the same bytes, plus typesetting alone: {floor:.1f} s",
            f"{mine['total'] / floor:.2f}",
            "under 2",
            mine["total"] / floor < 2,
        ),
        Line(
            "its peak of memory, builder and its children added up",
            f"{peak:.0f} MB",
            "",
            "",
            f"under {MEMORY_MB} MB",
            peak < MEMORY_MB,
        ),
    ]


if __name__ == "__main__":
    print(json.dumps(cut(Path(sys.argv[1]), sys.argv[2], Path(sys.argv[3]))))
