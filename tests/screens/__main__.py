"""`python -m tests.screens FOLDER`: photographs every screen of the demo, at 360x800 and 1440x900, light and dark.
`python -m tests.screens compare BEFORE AFTER`: says how far the pictures of two such folders differ, and which most.

README.md shows four of them, kept beside this file.
"""

from __future__ import annotations

import re
import sys
import tempfile
from pathlib import Path

from playwright.sync_api import Page, sync_playwright

from tests.screens.compare import report
from tests.screens.demo_server import Demo
from tests.support.built import build_faces
from tests.support.chromium import ARGUMENTS, find

BAY, OFFICE = (360, 800), (1440, 900)
FINISHED, HALF_WAY, CAME_BACK = "2391", "2418", "2424"

BAY_SCREENS = {
    "jobs": "#/jobs", "bench": "#/job/{job}", "places": "#/job/{job}/places", "say": "#/job/{job}/say",
    "note": "#/job/{job}/note", "measure": "#/job/{job}/measure", "reading": "#/job/{job}/reading",
    "bores": "#/job/{job}/grid/cylinder_bore", "faces": "#/job/{job}/grid/head_flatness",
    "torque": "#/job/{job}/torque", "fits": "#/job/{job}/fits",
    "finding": "#/job/{job}/finding", "stage": "#/job/{job}/stage", "record": "#/job/{job}/record",
    "facts": "#/job/{job}/facts", "new_job": "#/new", "on_this_phone": "#/phone", "settings": "#/settings",
}  # fmt: skip
OFFICE_SCREENS = {
    "jobs": "#/jobs", "record": "#/job/{job}/record?exhibit=27", "record_place": "#/job/{job}/record?place=bore%2F3",
    "figures": "#/job/{job}/figures", "figures_list": "#/job/{job}/figures?procedure=compression_cold",
    "joints": "#/job/{job}/joints", "gauges": "#/gauges", "torque_tools": "#/gauges/torque",
    "rules": "#/gauges/rules", "procedures": "#/procedures",
    "procedure": "#/procedures/cylinder_bore", "new_procedure": "#/procedures/crankpin/own",
    "pack": "#/job/{job}/pack", "facts": "#/job/{job}/facts", "search": "#/search?q=wrist+pin",
    "spoken": "#/spoken", "own_words": "#/spoken/words", "recognisers": "#/spoken/recognisers",
    "engine_types": "#/engine-types", "fits": "#/fits", "phones": "#/phones", "people": "#/people", "about": "#/about",
}  # fmt: skip


def settle(page: Page, milliseconds: int = 900) -> None:
    page.wait_for_timeout(milliseconds)


def bay(playwright, demo: Demo, folder: Path, profile: Path) -> None:
    context = playwright.chromium.launch_persistent_context(
        profile,
        executable_path=find(),
        args=[*ARGUMENTS, "--use-fake-device-for-media-stream", "--use-fake-ui-for-media-stream"],
        viewport={"width": BAY[0], "height": BAY[1]},
        has_touch=True,
        is_mobile=True,
        device_scale_factor=2,
        locale="en-GB",
    )
    page = context.pages[0]
    page.goto(f"{demo.url}/bay/#join={demo.code}")
    settle(page)
    shoot(page, folder, "bay_join")
    page.get_by_label("Name of this phone").fill("bay 3")
    page.get_by_role("button", name="Join", exact=True).click()
    page.get_by_role("button", name="Ida").wait_for()
    shoot(page, folder, "bay_who")
    page.get_by_role("button", name="Ida").click()
    page.get_by_label("PIN", exact=True).fill("1470")
    page.get_by_role("button", name="Sign in").click()
    page.get_by_text(HALF_WAY).first.wait_for()
    job = page.evaluate(JOB_BY_NUMBER, HALF_WAY)
    # Kept on this phone: its whole record and small pictures, readable without signal.
    page.get_by_role("button", name=re.compile(f"keep.*{HALF_WAY}", re.I)).click()
    settle(page, 8000)
    page.goto(f"{demo.url}/bay/#/job/{job}")
    page.get_by_role("button", name=re.compile("^bore 3")).first.click()
    for name, address in BAY_SCREENS.items():
        page.goto(f"{demo.url}/bay/{address.format(job=job)}")
        settle(page, 1200)
        shoot(page, folder, f"bay_{name}")
    context.close()


JOB_BY_NUMBER = """async (number) => {
  const done = (asked) => new Promise((yes, no) => { asked.onsuccess = () => yes(asked.result); asked.onerror = no })
  const db = await done(indexedDB.open('witnessmark'))
  const jobs = await done(db.transaction('jobs').objectStore('jobs').getAll())
  db.close()
  return jobs.find((job) => job.number === number).id
}"""


def office(playwright, demo: Demo, folder: Path, size: tuple[int, int]) -> None:
    browser = playwright.chromium.launch(executable_path=find(), args=ARGUMENTS)
    page = browser.new_page(viewport={"width": size[0], "height": size[1]}, locale="en-GB")
    page.goto(demo.url)
    settle(page)
    narrow = "_narrow" if size == BAY else ""
    shoot(page, folder, f"office_sign_in{narrow}")
    page.get_by_label("Name").fill("Tomas")
    page.get_by_label("Password").fill("witness-demo")
    page.keyboard.press("Enter")
    page.get_by_text(HALF_WAY).first.wait_for()
    answer = page.request.get(f"{demo.url}/api/jobs").json()["jobs"]
    job = next(row["id"] for row in answer if row["number"] == HALF_WAY)
    until_listened(page, demo)
    for name, address in OFFICE_SCREENS.items():
        page.goto(f"{demo.url}/{address.format(job=job)}")
        settle(page, 1800)
        shoot(page, folder, f"office_{name}{narrow}")
    browser.close()


def until_listened(page: Page, demo: Demo, seconds: int = 240) -> None:
    """Waits until all that was spoken is transcribed, where anybody listens."""
    for _ in range(seconds):
        tally = page.request.get(f"{demo.url}/api/spoken/tally").json()
        if tally["waiting"] == 0 or not any(recogniser["usable"] for recogniser in tally["recognisers"]):
            return
        settle(page, 1000)


def shoot(page: Page, folder: Path, name: str) -> None:
    """The screen as it stands, in both themes."""
    for theme in ("light", "dark"):
        page.emulate_media(color_scheme=theme)
        page.wait_for_timeout(150)
        page.screenshot(path=folder / f"{name}_{theme}.png")
    page.emulate_media(color_scheme="light")


def main(folder: Path) -> None:
    build_faces()
    folder.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as room, Demo(Path(room) / "demo") as demo, sync_playwright() as playwright:
        office(playwright, demo, folder, OFFICE)
        office(playwright, demo, folder, BAY)
        bay(playwright, demo, folder, Path(room) / "phone")
    print(f"{len(list(folder.glob('*.png')))} pictures in {folder}")


if __name__ == "__main__":
    match sys.argv[1:]:
        case ["compare", before, after]:
            report(Path(before), Path(after))
        case [folder]:
            main(Path(folder))
        case _:
            sys.exit(__doc__)
