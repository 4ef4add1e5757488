"""The phone, in Chromium slowed four times: a photograph until it is saved, a cold start without network, the size."""

from __future__ import annotations

import os
import statistics
from pathlib import Path

from playwright.sync_api import sync_playwright

from tests.bench.common import Line, percentile
from tests.support.bay import PIN, TECHNICIAN, Bay, a_picture
from tests.support.chromium import Browsers
from tests.support.npm import build_faces
from tests.support.record import a_v6
from tests.support.workshop import Office, RunningOffice, found_in, serving
from witnessmark.app import create_app
from witnessmark.db import writing
from witnessmark.people import persons
from witnessmark.sync import desk

SLOWED, PICTURES, STARTS, BYTES = 4, 30, 7, 4_000_000
SAVED_MS, START_MS, APP_KB = 400, 1500, 120

# From the moment the browser hands the file over until the screen counts it as kept.
WATCH_SAVING = """() => {
  window.taken = []
  let begun = 0, counted = 0
  document.addEventListener('change', (e) => { if (e.target.type === 'file') begun = performance.now() }, true)
  new MutationObserver(() => {
    const tray = document.querySelector('.tray')
    const count = Number(tray?.querySelector('.figure')?.textContent ?? 0)
    if (count > counted && !tray.textContent.includes('being kept')) {
      counted = count
      window.taken.push(performance.now() - begun)
    }
  }).observe(document.body, { subtree: true, childList: true, characterData: true })
}"""

WATCH_START = """
const look = setInterval(() => {
  const there = [...document.querySelectorAll('h1, h2')].some((h) => h.textContent.trim() === 'Jobs')
  if (there && document.body.textContent.includes('bench job')) {
    window.usableAfter ??= performance.now()
    clearInterval(look)
  }
}, 4)
"""


def saving(bay: Bay, folder: Path) -> list[float]:
    pictures = [a_picture(folder, f"picture {n}", (2016, 1512)) for n in range(PICTURES)]
    for picture in pictures:
        with picture.open("ab") as end:
            end.write(os.urandom(max(0, BYTES - picture.stat().st_size)))
    bay.signal(there=False)
    bay.open_job("bench job")
    slow(bay)
    bay.page.evaluate(WATCH_SAVING)
    bay.photograph(*pictures)
    taken = bay.page.evaluate("window.taken")
    if len(taken) != PICTURES:
        raise RuntimeError(f"{len(taken)} of {PICTURES} savings were seen")
    return taken


def cold_starts(bay: Bay) -> list[float]:
    bay.page.goto(f"{bay.url}/bay/#/jobs")
    bay.page.wait_for_timeout(500)
    result = []
    for _ in range(STARTS):
        bay.stop()
        bay.start(signal_there=False)
        page = bay.context.new_page()
        page.add_init_script(WATCH_START)
        page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": SLOWED})
        page.goto(f"{bay.url}/bay/#/jobs")
        while (after := page.evaluate("window.usableAfter ?? null")) is None:
            page.wait_for_timeout(50)
        result.append(after)
    return result


def slow(bay: Bay) -> None:
    bay.context.new_cdp_session(bay.page).send("Emulation.setCPUThrottlingRate", {"rate": SLOWED})


def app_size(built: Path) -> float:
    """Kilobytes over the wire of all that the bay loads, fonts and pictures left out."""
    counted = {".html", ".js", ".css", ".webmanifest"}
    files = [path for path in (built / "bay").rglob("*") if path.suffix in counted and path.parent.name != "speech"]
    return sum(path.with_name(path.name + ".br").stat().st_size for path in files) / 1000


def run(folder: Path) -> list[Line]:
    built = build_faces()
    settings, workshop, manager = found_in(folder / "data")
    office = Office(settings, workshop, manager, create_app(settings))
    with writing(office.engine) as conn:
        persons.add(conn, workshop.id, TECHNICIAN, "technician", pin=PIN)
        desk.write(conn, settings, manager.id, "engine_type_described", body={"engine_type": a_v6()})
    with serving(settings) as url, sync_playwright() as playwright:
        running = RunningOffice(settings, workshop, manager, office.app, url=url)
        bay = Bay(Browsers(playwright), running, folder / "phone", url, ())
        bay.start()
        bay.join()
        taken = saving(bay, folder)
        started = cold_starts(bay)
        bay.stop()
    p95, start, size = percentile(taken, 0.95), statistics.median(started), app_size(built)
    slowed = f"Chromium slowed {SLOWED} times"
    return [
        Line(
            f"a 4 MB photo from bytes at hand to 'saved', {slowed}, p95 of {PICTURES}",
            f"{p95:.0f} ms", "", "", f"under {SAVED_MS} ms", p95 < SAVED_MS,
        ),
        Line(
            f"cold offline start to a usable job list, {slowed}, median of {STARTS}",
            f"{start:.0f} ms", "", "", f"under {START_MS} ms", start < START_MS,
        ),
        Line(
            "the bay app over the wire, without fonts",
            f"{size:.0f} kB Brotli", "", "", f"under {APP_KB} kB", size < APP_KB,
        ),
    ]  # fmt: skip
