"""`python -m tests.kills [--captures 200] [--seed 1]`: what is called saved is there after a kill, whenever it comes.

A real Chromium on a real profile records pictures and notes without signal. At moments drawn from the seed every
process of it is ended by SIGKILL, often in the middle of a capture, and it is started again. After each start all that
the screen had called saved is looked for in the phone's store, byte for byte; at the end the signal comes back, and all
of it must arrive in the office. A power cut cannot be had this way: what the system holds in memory for the disk
survives here.

Exit status 0: nothing of what was called saved was lost.
"""

from __future__ import annotations

import argparse
import hashlib
import random
import sys
import tempfile
import threading
import time
from pathlib import Path

from playwright.sync_api import Error, sync_playwright

from tests.support.bay import PIN, TECHNICIAN, Bay, a_picture, desk
from tests.support.built import build_faces
from tests.support.chromium import Browsers, find
from tests.support.record import a_v6
from tests.support.workshop import RunningOffice, found_in, serving
from witnessmark.app import create_app
from witnessmark.db import writing
from witnessmark.people import persons

MOST_BETWEEN = 9  # captures between two kills
LATEST = 1.2  # seconds after the last of them has begun
HASHES = """async () => {
    const open = indexedDB.open('witnessmark')
    const done = (request) => new Promise((yes, no) => {
        request.onsuccess = () => yes(request.result)
        request.onerror = () => no(request.error)
    })
    const db = await done(open)
    const entries = await done(db.transaction('entries').objectStore('entries').getAll())
    const pieces = await done(db.transaction('media').objectStore('media').getAll())
    db.close()
    const files = {}
    for (const { sha256, n, bytes } of pieces) (files[sha256] ??= [])[n] = bytes
    const hex = (buffer) => [...new Uint8Array(buffer)].map((byte) => byte.toString(16).padStart(2, '0')).join('')
    const whole = []
    for (const [name, parts] of Object.entries(files))
        if (hex(await crypto.subtle.digest('SHA-256', await new Blob(parts).arrayBuffer())) === name) whole.push(name)
    const mine = entries.filter((row) => row.mine)
    return {
        whole,
        texts: mine.filter((row) => row.kind === 'note_made').map((row) => row.entry.body.text),
        named: mine.flatMap((row) => row.entry.media.map((file) => file.sha256)),
        sequences: mine.map((row) => row.sequence).sort((a, b) => a - b),
    }
}"""


class Recorder:
    """Records on one phone and remembers what the screen called saved."""

    def __init__(self, bay: Bay, job: str, folder: Path, chance: random.Random) -> None:
        self.bay, self.job, self.folder, self.chance = bay, job, folder, chance
        self.texts: list[str] = []
        self.pictures: list[str] = []
        self.begun = self.kills = self.half = 0

    @property
    def saved(self) -> int:
        return len(self.texts) + len(self.pictures)

    def capture(self) -> None:
        self.begun += 1
        if self.chance.random() < 0.5:
            text = f"Note {self.begun}: crankpin blued, oil hole dry."
            self.bay.note(self.job, text)
            self.texts.append(text)
        else:
            size = self.chance.randrange(200_000, 6_000_000)
            picture = a_picture(self.folder, f"picture {self.begun}", size=(400, 300), padding=size)
            self.bay.to_bench(self.job)
            self.bay.photograph(picture)
            self.pictures.append(hashlib.sha256(picture.read_bytes()).hexdigest())
            picture.unlink()

    def capture_until_killed(self) -> None:
        """Some captures, and a kill that comes on its own from beside them."""
        for _ in range(self.chance.randrange(MOST_BETWEEN)):
            self.capture()
        wait = self.chance.random() * LATEST
        killing = threading.Event()
        killer = threading.Timer(wait, lambda: (killing.set(), self.bay.kill_processes()))
        killer.start()
        try:
            self.capture()
        except (Error, AssertionError):
            if not killing.is_set():
                raise
            self.half += 1  # it was not called saved: it may be there or not
        killer.join()
        self.kills += 1
        self.bay.forget_browser()
        self.bay.start(signal_there=False)

    def lost(self) -> list[str]:
        """What was called saved and is not in the store, and whatever else is wrong with it."""
        held = self.bay.page.evaluate(HASHES)
        wrong = [f"lost note: {text}" for text in self.texts if text not in held["texts"]]
        wrong += [f"lost picture: {name}" for name in self.pictures if name not in held["whole"]]
        wrong += [
            f"a record names a picture that is not whole: {name}" for name in set(held["named"]) - set(held["whole"])
        ]
        if held["sequences"] != list(range(1, len(held["sequences"]) + 1)):
            wrong.append(f"the running numbers have gaps: {held['sequences']}")
        return wrong


def in_the_office(bay: Bay, job: str) -> tuple[list[str], list[str]]:
    """Texts of the notes and hashes of the pictures whose bytes are here."""
    items = bay.received(job)
    texts = [item["text"] for item in items if item["kind"] == "note_made"]
    pictures = [file["sha256"] for item in items for file in item["media"] if file["here"]]
    return texts, pictures


def run(captures: int, seed: int, folder: Path) -> list[str]:
    chance = random.Random(seed)
    settings, workshop, manager = found_in(folder / "data")
    with sync_playwright() as playwright, serving(settings, 1) as url:
        office = RunningOffice(settings, workshop, manager, create_app(settings), url=url)
        with writing(office.engine) as conn:
            persons.add(conn, workshop.id, TECHNICIAN, "technician", pin=PIN)
        answer = desk(office).post("/api/engine-types", json={"engine_type": a_v6()})
        assert answer.status_code == 201, answer.get_json()
        bay = Bay(Browsers(playwright), office, folder / "phone", url, ())
        bay.start()
        bay.join()
        job = bay.open_job("26-001")
        bay.until_all_sent()
        bay.signal(there=False)
        recorder, wrong, began = Recorder(bay, job, folder, chance), [], time.monotonic()
        while recorder.saved < captures and not wrong:
            recorder.capture_until_killed()
            wrong = recorder.lost()
            print(
                f"{recorder.saved} called saved, {recorder.kills} kills, {recorder.half} cut off half-way", flush=True
            )
        bay.signal(there=True)
        bay.page.goto(f"{bay.url}/bay/#/phone")
        bay.until_all_sent(300)
        texts, pictures = in_the_office(bay, job)
        wrong += [f"not in the office: {text}" for text in recorder.texts if texts.count(text) != 1]
        wrong += [f"not in the office: picture {name}" for name in recorder.pictures if name not in pictures]
        bay.stop()
        counts = f"{recorder.saved} captures called saved, {recorder.kills} kills, {recorder.half} in mid-capture"
        print(f"seed {seed}: {counts}, {len(wrong)} lost; {time.monotonic() - began:.0f} s")
        return wrong


def main() -> None:
    parser = argparse.ArgumentParser(prog="python -m tests.kills", description=__doc__)
    parser.add_argument("--captures", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    build_faces()
    find()
    with tempfile.TemporaryDirectory() as folder:
        wrong = run(options.captures, options.seed, Path(folder))
    print("\n".join(wrong))
    sys.exit(1 if wrong else 0)


if __name__ == "__main__":
    main()
