"""From the desk to the customer: a pack is cut by the whole server, watched, left alone and taken away."""

from __future__ import annotations

import shutil
import subprocess
import sys
import zipfile

import pytest

from tests.support.bay import desk
from tests.support.office import PATIENCE, OfficePage
from tests.support.record import describe
from tests.support.served import Served
from tests.support.waiting import expect
from tests.support.workshop import MANAGER, PASSWORD, Office
from witnessmark.app import create_app
from witnessmark.config import Settings

pytestmark = pytest.mark.browser


@pytest.fixture
def shop(built, founded_once, tmp_path):
    """The whole server, background work included, on a workshop of its own with one job; (office, address, job)."""
    folder, workshop, manager = founded_once
    shutil.copytree(folder, tmp_path / "data")
    settings = Settings(tmp_path / "data", secure_cookies=False)
    office = Office(settings, workshop, manager, create_app(settings))
    phone = office.phone()
    job = phone.open_job("26-700", describe(desk(office)))
    for number in range(30):
        phone.note(job, f"Note {number} of the strip.")
    assert phone.push()[0] == 200
    office.engine.dispose()
    with Served(settings) as served:
        served.until_answering()
        yield served.url, job


@pytest.mark.parametrize("sort", ["Sealed", "For the customer"])
def test_a_pack_is_cut_while_the_manager_does_something_else_and_holds_on_a_strangers_machine(
    browser, shop, tmp_path, sort
):
    url, job = shop
    office = OfficePage(browser, url)
    office.sign_in(MANAGER, PASSWORD)
    office.go(f"job/{job}/pack")
    page = office.page
    expect(page.get_by_text("it is not a certificate of fitness")).to_be_visible()
    page.get_by_role("radio", name=sort, exact=True).check()
    page.get_by_role("button", name="Make the pack").click()
    issued = page.get_by_role("region", name="Packs of this job")
    expect(issued).to_contain_text(sort)
    # Left and come back to.
    page.get_by_role("navigation", name="This job").get_by_role("link", name="Record").click()
    expect(page.get_by_role("list", name="Timeline")).to_contain_text("Pack issued", timeout=2 * PATIENCE)
    page.get_by_role("navigation", name="This job").get_by_role("link", name="Pack").click()
    with page.expect_download() as download:
        issued.get_by_role("link", name="Download").click()
    path = tmp_path / "taken-away.zip"
    download.value.save_as(path)
    office.context.close()
    assert office.faults == []

    zipfile.ZipFile(path).extractall(tmp_path / "stranger")
    inside = next((tmp_path / "stranger").iterdir())
    checked = subprocess.run(
        [sys.executable, "verify.pyz"], cwd=inside, capture_output=True, text=True, check=False, timeout=60
    )
    assert checked.returncode == 0, checked.stdout + checked.stderr
