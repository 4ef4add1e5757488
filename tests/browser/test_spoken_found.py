"""From a spoken figure to its text in the office: offered and accepted offline, heard again by the server that ships,
found by a word that nobody said."""

from __future__ import annotations

import shutil
import time

import pytest

from tests.support.bay import PIN, TECHNICIAN, Bay, desk
from tests.support.measuring import NUMBERS
from tests.support.record import a_v6
from tests.support.served import START, Served
from tests.support.speaking import chips, fetch_parts, made, microphone, say_clip, sounds
from tests.support.waiting import expect
from tests.support.workshop import RunningOffice
from witnessmark.app import create_app
from witnessmark.config import Settings
from witnessmark.db import writing
from witnessmark.people import persons

pytestmark = pytest.mark.browser

CLEARANCE = "clearance_2.ogg"
# The recognisers that come with the program and are quick: what is shown here is the way, not their skill.
HEARD_BY = "sphinx_ngram,sphinx_grammar"
PATIENCE = 150  # seconds until the server has heard it


@pytest.fixture
def shop(built, founded_once, tmp_path):
    """The whole server, background work included, with a technician and one engine type."""
    folder, workshop, manager = founded_once
    shutil.copytree(folder, tmp_path / "data")
    settings = Settings(tmp_path / "data", secure_cookies=False, speech=HEARD_BY)
    here = RunningOffice(settings, workshop, manager, create_app(settings))
    with writing(here.engine) as conn:
        persons.add(conn, workshop.id, TECHNICIAN, "technician", pin=PIN)
    assert desk(here).post("/api/engine-types", json={"engine_type": a_v6()}).status_code == 201
    script = START.replace("Settings(Path(sys.argv[1]))", f"Settings(Path(sys.argv[1]), speech={HEARD_BY!r})")
    with Served(settings, script) as served:
        served.until_answering()
        here.url = served.url
        yield here
    here.engine.dispose()


@pytest.fixture
def phone(browsers, shop, tmp_path):
    bay = Bay(browsers, shop, None, shop.url, microphone(CLEARANCE, tmp_path))
    bay.start()
    bay.join("Bench phone")
    yield bay
    bay.stop()
    assert bay.faults == [], "the page reported errors"


def test_what_was_spoken_offline_is_found_in_the_office_by_a_word_that_nobody_said(shop, phone):
    fetch_parts(phone)
    phone.page.goto(f"{phone.url}/bay/#/jobs")
    job = phone.open_job(f"26-{next(NUMBERS)}")
    phone.until_all_sent()
    phone.signal(there=False)
    page = phone.page
    page.goto(f"{phone.url}/bay/#/job/{job}/measure")
    say_clip(page, CLEARANCE)
    understood = chips(page)
    assert (understood["figure"], understood["unit"], understood["what"]) == ("3.5", "thou", "clearance")
    assert made(phone, "measured") == []
    page.get_by_role("button", name="Save", exact=True).click()
    expect(page.get_by_role("status").filter(has_text="Saved.")).to_contain_text("3.5 thou")
    (sound,) = sounds(phone)
    (reading,) = made(phone, "measured")
    assert reading["body"]["spoken"] == sound["id"]

    phone.signal(there=True)
    phone.until_all_sent()
    office = desk(shop)
    until = time.monotonic() + PATIENCE
    while time.monotonic() < until:
        page_of_results = office.get("/api/search", query_string={"q": "mains"}).get_json()
        if sound["id"] in {item["id"] for item in page_of_results["items"]}:
            break
        time.sleep(1)
    else:
        pytest.fail(f"the office does not find the recording: {office.get('/api/spoken').get_json()}")
    item = next(item for item in page_of_results["items"] if item["id"] == sound["id"])
    assert item["spoken"]["by"] == "machine"
    assert "main bearing" in item["spoken"]["text"]
    # Heard again as it was recorded: nothing to ask.
    assert item["spoken"]["query"] is None

    # Back on the phone: the text is there, by machine until somebody has listened.
    phone.eventually(lambda: phone.rows("entries", kind="transcript_made"), 60)
    page.goto(f"{phone.url}/bay/#/job/{job}/entry/{sound['id']}")
    note = page.get_by_role("region", name="What was said")
    expect(note).to_contain_text("Machine transcript")
    page.get_by_role("button", name="Write the text myself").click()
    page.get_by_label("Word for word").fill("Main bearing two, clearance: three and a half thou.")
    page.get_by_role("button", name="Save this text").click()
    expect(note).to_contain_text("Confirmed by Tomas")
    expect(note).to_contain_text("three and a half thou.")
    phone.until_all_sent()
    answer = office.get(f"/api/entries/{sound['id']}").get_json()
    assert answer["spoken"]["state"] == "confirmed"
