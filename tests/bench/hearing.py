"""Speech on the phone in Chromium: the size of its parts, the time until it hears and for each clip, the memory.

`slowed` is the browser's page process let run a quarter of the time: the browser's own slowing leaves workers alone.
"""

from __future__ import annotations

import os
import signal
import statistics
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from playwright.sync_api import sync_playwright

from tests.bench.common import Line
from tests.support.bay import PIN, TECHNICIAN, Bay
from tests.support.chromium import Browsers
from tests.support.hearing import hear, screen
from tests.support.npm import build_faces
from tests.support.waiting import expect
from tests.support.workshop import Office, RunningOffice, found_in, serving
from witnessmark.app import create_app
from witnessmark.db import writing
from witnessmark.people import persons

SLOWED = 4
TURN = 0.04  # seconds; of each, the page runs a quarter
CLIPS = ["bore_3_thrust.webm", "main_4.webm", "leakdown_6.ogg", "clearance_2.ogg"]
MEGA = 1e6
FETCHED_MS = 120_000


def pages(bay: Bay) -> list[int]:
    """The page processes of this browser."""
    mark, found = f"--user-data-dir={bay.profile}", []
    for entry in Path("/proc").iterdir():
        if entry.name.isdigit():
            try:
                command = (entry / "cmdline").read_bytes().decode(errors="replace")
            except OSError:
                continue
            if mark in command and "--type=renderer" in command:
                found.append(int(entry.name))
    return found


def processor_seconds(processes: list[int]) -> float:
    fields = [Path(f"/proc/{process}/stat").read_text().rsplit(")", 1)[1].split() for process in processes]
    return sum(int(field[11]) + int(field[12]) for field in fields) / os.sysconf("SC_CLK_TCK")


def resident(processes: list[int]) -> float:
    return sum(int(Path(f"/proc/{process}/statm").read_text().split()[1]) for process in processes) * os.sysconf(
        "SC_PAGE_SIZE"
    )


@contextmanager
def slowed(processes: list[int]) -> Iterator[None]:
    over = threading.Event()

    def brake() -> None:
        while not over.is_set():
            for sign, share in ((signal.SIGSTOP, 1 - 1 / SLOWED), (signal.SIGCONT, 1 / SLOWED)):
                for process in processes:
                    os.kill(process, sign)
                time.sleep(TURN * share)

    braking = threading.Thread(target=brake)
    braking.start()
    try:
        yield
    finally:
        over.set()
        braking.join()


@contextmanager
def most_memory(processes: list[int]) -> Iterator[list[float]]:
    """The most that the processes held meanwhile, above what they held before, in bytes."""
    over, before, told = threading.Event(), resident(processes), [0.0]

    def watch() -> None:
        while not over.wait(0.02):
            told[0] = max(told[0], resident(processes) - before)

    watching = threading.Thread(target=watch)
    watching.start()
    try:
        yield told
    finally:
        over.set()
        watching.join()


def run(folder: Path) -> list[Line]:
    built = build_faces()
    parts = [path for path in (built / "bay" / "speech").rglob("*.br") if "LICENSE" not in path.name]
    wire = sum(path.stat().st_size for path in parts if path.name not in ("README.txt.br", "parts.json.br")) / MEGA
    settings, workshop, manager = found_in(folder / "data")
    office = Office(settings, workshop, manager, create_app(settings))
    with writing(office.engine) as conn:
        persons.add(conn, workshop.id, TECHNICIAN, "technician", pin=PIN)
    with serving(settings) as url, sync_playwright() as playwright:
        running = RunningOffice(settings, workshop, manager, office.app, url=url)
        bay = Bay(Browsers(playwright), running, folder / "phone", url, ())
        page = bay.start()
        bay.join()
        page.goto(f"{url}/bay/#/settings")
        page.get_by_role("button", name="Fetch the speech parts").click()
        expect(page.get_by_text("They are on this phone")).to_be_visible(timeout=FETCHED_MS)
        about, processes = screen("measure"), pages(bay)
        with most_memory(processes) as memory:
            spent = processor_seconds(processes)
            plain = hear(page, CLIPS, about)
            spent = processor_seconds(processes) - spent
        with slowed(processes):
            slow = hear(page, CLIPS, about)
        bay.stop()
    seconds = sum(one["seconds"] for one in plain["heard"])

    def both(of) -> str:
        return f"{of(plain):.1f} s, slowed {SLOWED} times {of(slow):.1f} s"

    return [
        Line("the phone's speech parts over the wire, once", f"{wire:.1f} MB Brotli", "", "", "none set", None),
        Line(
            "speech on the phone: parts opened and grammar ready, Chromium",
            both(lambda told: told["warm_ms"] / 1000), "", "", "none set", None,
        ),
        Line(
            f"a spoken clip of {seconds / len(CLIPS):.1f} s to its proposal, median of {len(CLIPS)}",
            both(lambda told: statistics.median(one["ms"] for one in told["heard"]) / 1000), "", "", "none set", None,
        ),
        Line(
            "the same, opening and all clips: processor time for each second of sound",
            f"{spent / seconds:.2f} s", "", "", "none set", None,
        ),
        Line("memory that its page holds more meanwhile", f"{memory[0] / MEGA:.0f} MB", "", "", "none set", None),
    ]  # fmt: skip
