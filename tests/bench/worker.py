"""What the worker holds in memory after many packs, previews and recordings: it has to give back what it took."""

from __future__ import annotations

import os
from pathlib import Path

from PIL import Image

from tests.bench import packs
from tests.bench.common import Line
from tests.support.clips import CLIPS, clip
from tests.support.phone import Phone
from tests.support.record import send
from tests.support.spoken import speak
from tests.support.worker_memory import Worker, working
from tests.support.workshop import Office, found_in
from witnessmark.app import create_app
from witnessmark.db import writing
from witnessmark.media.store import adopt
from witnessmark.proof import layout

PICTURES, PACKS, PREVIEWS, SOUNDS = 100, 20, 200, 50
GROWTH_MB = 30


def recordings(office: Office, phone: Phone, job: str, count: int) -> list[str]:
    """Records of so many spoken clips, their files in place; gives the ids. The worker finds them from then on."""
    files = [clip(name) for name in sorted(CLIPS)]
    for data in files:
        with writing(office.engine) as conn:
            adopt(office.settings, conn, data)
    ids = [speak(phone, job, sound=files[number % len(files)])["id"] for number in range(count)]
    send(phone)
    return ids


def pictures(count: int) -> list[bytes]:
    base = Image.effect_noise((1200, 900), 40).convert("RGB")
    # The same again would be the same file.
    return [packs.photograph(number, base, 0) + os.urandom(8) for number in range(count)]


def give(worker: Worker, office: Office, phone: Phone, job: str) -> list[float]:
    """Megabytes when warm, after the packs, after the previews and after the recordings."""
    worker.pack(job)
    worker.pack(job, layout.CUSTOMER)
    worker.pictures(pictures(5))
    worker.sounds(recordings(office, phone, job, 2))
    weights = [worker.megabytes()]
    for number in range(PACKS):
        worker.pack(job, (layout.SEALED, layout.CUSTOMER)[number % 2])
    weights.append(worker.megabytes())
    worker.pictures(pictures(PREVIEWS))
    weights.append(worker.megabytes())
    worker.sounds(recordings(office, phone, job, SOUNDS))
    return [*weights, worker.megabytes()]


def run(folder: Path) -> list[Line]:
    settings, workshop, manager = found_in(folder / "data")
    office = Office(settings, workshop, manager, create_app(settings))
    phone = office.phone()
    job = packs.fill(office, phone, PICTURES)
    with working(settings, office.engine, workshop.id, manager.id) as worker:
        warm, *after = give(worker, office, phone, job)
    done = [f"{PACKS} packs of {PICTURES} pictures", f"{PREVIEWS} previews", f"{SOUNDS} recordings"]
    return [
        Line(
            f"the worker's memory after {', '.join(done[: at + 1])}",
            f"{held:.0f} MB",
            f"after the first of each: {warm:.0f} MB",
            f"{held / warm:.2f}",
            f"at most {GROWTH_MB} MB more",
            held - warm < GROWTH_MB,
        )
        for at, held in enumerate(after)
    ]
