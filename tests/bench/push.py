"""Pushing 10,000 entries over HTTP with validation, signature, log and projections all on, against PouchDB."""

from __future__ import annotations

import json
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import requests

from tests.bench.common import Line, free_port, node, peer_server
from tests.support.measured import a_reading
from tests.support.phone import Phone
from tests.support.workshop import Office, RunningOffice, found_in, serving
from witnessmark.app import create_app

COUNT, BATCH, PHONES = 10_000, 1000, 4


def measured_entries(phone: Phone, job: str, count: int) -> list[dict]:
    for number in range(count):
        body = a_reading(quantity="Diameter", value=f"89.{number % 1000:03d}", gauge="bore gauge 4")
        place = {"place": "engine", "point": f"reading {number}"}
        phone.keep(phone.entry("measured", job, body=body, location=place, stage="measure"))
    entries, phone.outbox = phone.outbox, []
    return entries


def push_all(url: str, phone: Phone, entries: list[dict]) -> None:
    with requests.Session() as session:
        session.headers["Authorization"] = f"Bearer {phone.token}"
        for at in range(0, len(entries), BATCH):
            answer = session.post(f"{url}/api/sync/push", json=phone.ask_push(entries[at : at + BATCH]), timeout=120)
            wrong = [r for r in answer.json()["results"] if r["result"] != "stored"]
            if wrong:
                raise RuntimeError(f"not stored: {wrong[0]}")


def ours(folder: Path, phones: int) -> float:
    """Seconds for COUNT entries from this many phones at a time, through the server as it ships."""
    settings, workshop, manager = found_in(folder / f"ours-{phones}")
    here = Office(settings, workshop, manager, create_app(settings))
    with serving(settings) as url:
        office = RunningOffice(settings, workshop, manager, here.app, url=url)
        waiting = []
        for number in range(phones):
            phone = office.phone(f"bench {number}")
            job = phone.open_job(f"bench-{phones}-{number}")
            phone.push()
            waiting.append((phone, measured_entries(phone, job, COUNT // phones)))
        begun = time.perf_counter()
        with ThreadPoolExecutor(phones) as pool:
            list(pool.map(lambda one: push_all(url, *one), waiting))
        return time.perf_counter() - begun


def peer(folder: Path) -> dict:
    """Seconds PouchDB needs for as many records of like size: {bulk, replicate}."""
    place = {"place": "bore/3", "point": "top"}
    records = [
        {
            "_id": f"{number:08d}", "kind": "measured", "author": "a" * 36, "device": "b" * 36, "job": "c" * 36,
            "body": {"quantity": "Diameter", "value": "89.012", "unit": "mm", "gauge": "bore gauge 4", "remark": ""},
            "claimed": "2026-05-14T10:38:07.120+01:00", "location": place, "previous": "0" * 64, "sequence": number,
        }
        for number in range(COUNT)
    ]  # fmt: skip
    port = free_port()
    (folder / "pouch").mkdir()
    with peer_server("pouch_server.mjs", str(folder / "pouch"), str(port)):
        return node(
            "pouch_push.mjs", f"http://127.0.0.1:{port}", str(folder / "pouch"), str(COUNT), given=json.dumps(records)
        )


def run(folder: Path) -> list[Line]:
    theirs = peer(folder)
    mine = min(ours(folder, 1), ours(folder, PHONES))
    replicate, bulk = COUNT / theirs["replicate"], COUNT / theirs["bulk"]
    rate = COUNT / mine
    return [
        Line(
            "push of 10,000 entries over HTTP, validation, signature, log and projections on",
            f"{rate:,.0f}/s",
            f"PouchDB to express-pouchdb by replication {replicate:,.0f}/s (its unchecked bulk write: {bulk:,.0f}/s)",
            f"{rate / replicate:.2f}",
            "at least 3",
            rate / replicate >= 3,
        )
    ]
