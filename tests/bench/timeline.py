"""The first page of a job's timeline with 500 and with 500,000 records in the database."""

from __future__ import annotations

import gc
import statistics
import time
import uuid
from pathlib import Path

from tests.bench.common import Line
from tests.support.phone import Phone
from tests.support.workshop import MANAGER, PASSWORD, Office, found_in
from witnessmark.app import create_app
from witnessmark.db import now, writing
from witnessmark.log.append import append
from witnessmark.log.rows import CheckedEntry
from witnessmark.projections.apply import apply
from witnessmark.proof.canonical import canonical, sha256_hex
from witnessmark.sync import office as keeping

FEW, MANY, JOB_ENTRIES, BATCH, ASKED = 500, 500_000, 400, 1000, 200


def fill(office: Office, phone: Phone, count: int) -> str:
    """Puts `count` entries into log and projections, over jobs of 400 entries each; returns the first job."""
    first = ""
    items: list[CheckedEntry] = []
    keeper = keeping.keeper(office.settings)

    def store() -> None:
        with writing(office.engine) as conn:
            rows, _ = append(conn, office.workshop.id, items, now(), keeper)
            apply(conn, rows)
        items.clear()

    def take(entry: dict) -> None:
        # The log does not look at signatures again: one made up serves, and 500,000 real ones would take longer.
        data = canonical(entry)
        phone.sequence, phone.previous = entry["sequence"], sha256_hex(data)
        items.append(CheckedEntry(data, phone.previous, "A" * 86 + "==", entry, 0))
        if len(items) == BATCH:
            store()

    for number in range(count):
        if number % JOB_ENTRIES == 0:
            job = str(uuid.uuid4())
            first = first or job
            body = {
                "number": f"b{number}", "vehicle": "Launch Marrow", "registration": "",
                "engine_type": str(uuid.UUID(int=7)),
                "engine_number": f"K-{number}", "distance": "", "distance_unit": "", "complaint": "", "received_as": "",
                "earlier_job": "",
            }  # fmt: skip
            take(phone.entry("job_opened", job, body=body))
        else:
            text = f"Reading {number}: crankpin blued, gudgeon pin free, shell {number % 7} wiped."
            take(phone.entry("note_made", job, body={"text": text}, location={"place": "engine", "point": ""}))
    if items:
        store()
    return first


PAGES = {"first page": "limit=50", "page for a word": "limit=50&q=wrist+pin"}


def reader(office: Office):
    """The office's browser, signed in."""
    client = office.app.test_client()
    client.environ_base["HTTP_X_WITNESSMARK"] = "office"
    client.post("/api/office/sign-in", json={"name": MANAGER, "password": PASSWORD})
    return client


def ask(client, job: str, query: str) -> float:
    """Milliseconds for one page."""
    begun = time.perf_counter()
    answer = client.get(f"/api/jobs/{job}/timeline?{query}")
    took = (time.perf_counter() - begun) * 1000
    if answer.status_code != 200 or not answer.get_json()["items"]:
        raise RuntimeError(f"{query}: {answer.status_code} {answer.get_data(as_text=True)[:300]}")
    return took


def run(folder: Path) -> list[Line]:
    payload = {}
    for count in (FEW, MANY):
        settings, workshop, manager = found_in(folder / str(count))
        office = Office(settings, workshop, manager, create_app(settings))
        payload[count] = reader(office), fill(office, office.phone(), count)
    gc.collect()
    gc.freeze()  # what filling left behind is not to be looked through while pages are timed
    lines = []
    for name, query in PAGES.items():
        # In turns: a slow moment of the machine meets both alike.
        pairs = [(ask(*payload[FEW], query), ask(*payload[MANY], query)) for _ in range(ASKED)]
        few, many = (statistics.median(column) for column in zip(*pairs, strict=True))
        goal, met = ("at most 1.3", many / few <= 1.3) if name == "first page" else ("none set", None)
        work = f"{name} of a job's timeline at 500,000 records"
        lines.append(Line(work, f"{many:.1f} ms", f"at 500 records {few:.1f} ms", f"{many / few:.2f}", goal, met))
    return lines
