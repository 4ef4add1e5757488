"""A workshop with real data in it for the requests to work on, put back now and then: what one request changed,
blocked or deleted is there again for the others."""

from __future__ import annotations

import json
import shutil
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from tests.fuzz.odd_values import COOKIE
from tests.support import measured, record, spoken, tightening
from tests.support.app_copies import app_on
from tests.support.media import Sender, look
from tests.support.packs import record_the_job
from tests.support.phone import Phone
from tests.support.workshop import MANAGER, PASSWORD, Office, found_in
from witnessmark.app import create_app
from witnessmark.config import Settings
from witnessmark.db import reading, writing
from witnessmark.operate import certificate, certificate_page
from witnessmark.pack import issue, shelf
from witnessmark.proof.canonical import sha256_hex
from witnessmark.tasks import queue

TECHNICIAN, HER_PASSWORD = "Ewa", "seven feelers"
# Begun and not sent: what there is to go on with.
JPEG = b"\xff\xd8\xff\xe0\0\x10JFIF\0\1\1\0\0\1\0\1\0\0\xff\xd9"
CODES = 5  # invitations that wait for a phone


@dataclass
class Filled:
    """The workshop as it was filled. `known` holds what it knows, by the name of a path's parameter; `manager` and
    `technician` are their sessions."""

    settings: Settings
    office: Office
    phone: Phone
    manager: str
    technician: str
    known: dict[str, list[str]]
    originals: list[dict[str, Any]]
    entries: list[dict[str, Any]]
    _chain: tuple[int, str] = field(init=False)

    def __post_init__(self) -> None:
        self._chain = self.phone.sequence, self.phone.previous

    def copy(self, folder: Path) -> Office:
        """A copy in `folder` and the application on it."""
        shutil.copytree(self.settings.data, folder)
        settings = Settings(folder, secure_cookies=False)
        return Office(settings, self.office.workshop, self.office.manager, app_on(settings, self.office.app))

    def renew(self, office: Office) -> None:
        """Puts everything in a copy's folder back as it was filled, the phone too. The application stays: what it has
        worked out of the description and of its queries is half of what a new one costs."""
        office.engine.dispose()
        queue._open.cache_clear()
        shutil.rmtree(office.settings.data)
        shutil.copytree(self.settings.data, office.settings.data)
        self.phone.sequence, self.phone.previous = self._chain
        self.phone.outbox.clear()


def fill(folder: Path) -> Filled:
    """Founds a workshop in `folder` and records a job with every kind of evidence there, with its two packs."""
    settings, workshop, manager = found_in(folder / "filled")
    pattern = create_app(settings)
    # What fails becomes an answer, as in the server that ships; that it failed stands in the log.
    pattern.config["PROPAGATE_EXCEPTIONS"] = False
    office = Office(settings, workshop, manager, app_on(settings, pattern))
    job, originals = record_the_job(office)
    browser = _browser(office, MANAGER, PASSWORD)
    phone = office.phone("bay 3")
    sound = spoken.speak(phone, job, sound=b"a voice")
    measurement = record.measure(phone, job, "bore/3", "89.04")
    record.photograph(phone, job, "bore/3", JPEG)
    record.send(phone)
    spoken.hears(office, sound, spoken.a_result())
    measured.describe_procedure(browser)
    pictures = [sha256_hex(data) for name, data in originals.items() if name.endswith(".jpg")]
    look(settings, office.engine, pictures[0])
    packs = [_pack(office, job, sort) for sort in ("sealed", "customer")]
    certificate.ensure(settings, workshop.name, ["127.0.0.1"])
    page = certificate_page.make(settings, workshop.name, "http://127.0.0.1/certificate", "https://127.0.0.1")
    (settings.certificate / "page.html").write_text(page)
    _post(browser, "/api/people", {"name": TECHNICIAN, "role": "technician", "password": HER_PASSWORD})
    _post(browser, f"/api/jobs/{job}/owner", {"name": "Marten Quist", "phone": "0555 0100", "mail": ""}, 200)
    people = browser.get("/api/people").get_json()["people"]
    phones = browser.get("/api/phones").get_json()["phones"]
    known = {
        "job": [job],
        "person": [person["id"] for person in people if person["id"] != manager.id],
        "phone": [listed["id"] for listed in phones if listed["id"] != phone.device],
        "engine_type": [record.ENGINE_TYPE_ID],
        "gauge": [measured.GAUGE_ID],
        "sheet": [tightening.SHEET_ID],
        "tool": [tightening.TOOL_ID],
        "entry": [measurement["id"], sound["id"]],
        "sound": [sound["id"]],
        "pack": packs,
        "code": ["own_liner_seat", "cylinder_bore"],
        "sha256": pictures,
        "edge": ["320", "640", "1600"],
        "invitation": [office.invite() for _ in range(CODES)],
    }
    assert Sender(office.app, phone.token).begin(JPEG).status_code == 201
    technician = _browser(office, TECHNICIAN, HER_PASSWORD)
    files = [{"sha256": sha256_hex(data), "length": len(data), "name": name} for name, data in originals.items()]
    with reading(office.engine) as conn:
        kept = conn.exec_driver_sql("SELECT bytes FROM log_entries WHERE bytes <> ''").scalars()
        entries = [entry for entry in map(json.loads, kept) if entry["job"] in (job, None)]
    office.engine.dispose()
    base = Office(settings, workshop, manager, pattern)
    return Filled(settings, base, phone, _session(browser), _session(technician), known, files, entries)


def _browser(office: Office, name: str, password: str):
    browser = office.app.test_client()
    browser.environ_base["HTTP_X_WITNESSMARK"] = "office"
    _post(browser, "/api/office/sign-in", {"name": name, "password": password}, 200)
    return browser


def _session(browser) -> str:
    return browser.get_cookie(COOKIE).value


def _post(browser, path: str, body: dict, status: int = 201) -> dict:
    answer = browser.post(path, json=body)
    assert answer.status_code == status, answer.get_json()
    return answer.get_json()


def _pack(office: Office, job: str, sort: str) -> str:
    with writing(office.engine) as conn:
        pack = shelf.request(conn, office.workshop.id, job, sort, office.manager.id).id
    issue.issue(office.engine, office.settings, pack)
    with reading(office.engine) as conn:
        made = shelf.get(conn, office.workshop.id, pack)
    assert made.state == "ready", made.words
    return pack
