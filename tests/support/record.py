"""Records for tests, with only what matters: an engine type, a measurement, a photograph, a finding, a correction."""

from __future__ import annotations

import hashlib
import json
from contextlib import suppress

from tests.support.phone import Phone
from witnessmark.proof import pictures
from witnessmark.proof.canonical import sha256_hex
from witnessmark.trade.record.kinds import KINDS, TYPED

ENGINE_TYPE_ID = "5a2d3c4e-1f60-4b7a-8c9d-0e1f2a3b4c5d"


def a_v6(id: str = ENGINE_TYPE_ID, name: str = "Halvern 2.9 V6", **changes) -> dict:
    """An invented V6 with two heads of four bolts."""
    bolts = [{"label": str(number), "x_mm": 40 * number, "y_mm": 40 * (number % 2)} for number in (1, 2, 3, 4)]
    return {
        "id": id,
        "name": name,
        "invented": True,
        "layout": "v",
        "bank_angle": 60,
        "cylinders": 6,
        "banks": [
            {"code": "A", "name": "left", "cylinders": [1, 3, 5], "stagger_mm": 0},
            {"code": "B", "name": "right", "cylinders": [2, 4, 6], "stagger_mm": 22},
        ],
        "crankpins": [[1, 2], [3, 4], [5, 6]],
        "mains": 4,
        "firing_order": [1, 2, 3, 4, 5, 6],
        "rotation": "clockwise",
        "front": "away_from_flywheel",
        "valves": {"inlet": 1, "exhaust": 1},
        "camshafts": [{"code": "block", "bank": "", "drives": ["inlet", "exhaust"]}],
        "joints": [
            {"code": f"head_bolt/{bank}", "name": f"Head, bank {bank}", "fasteners": bolts} for bank in ("A", "B")
        ],
        "pieces": [],
        "notes": "",
    } | changes


def describe(client, engine_type: dict | None = None) -> str:
    """Describes an engine type in the office; returns its id."""
    answer = client.post("/api/engine-types", json={"engine_type": engine_type or a_v6()})
    assert answer.status_code == 201, answer.get_json()
    return answer.get_json()["engine_type"]["id"]


def at(place: str, point: str = "") -> dict:
    return {"place": place, "point": point}


def measure(
    phone: Phone,
    job: str,
    place: str,
    value: str,
    quantity: str = "bore_diameter",
    spoken: dict | None = None,
    **changes,
) -> dict:
    """Keeps a measurement on the phone, of a sound if `spoken` says so; returns the entry."""
    body = {name: "" for name in KINDS["measured"].fields}
    body |= {"edition": 0, "state": "as_found", "quantity": quantity, "value": value, "unit": "mm", "basis": []}
    body |= spoken or {}
    return keep(phone, phone.entry("measured", job, location=at(place), body=body, **changes))


def finding(phone: Phone, job: str, place: str, observation: str, spoken: dict | None = None, **changes) -> dict:
    """Keeps a finding on the phone, of a sound if `spoken` says so; returns the entry."""
    body = {"observation": observation, "condition": ["scored"], "opinion": "", "disposition": "", **TYPED} | (
        spoken or {}
    )
    return keep(phone, phone.entry("finding_made", job, location=at(place), body=body, **changes))


def photograph(
    phone: Phone, job: str, place: str, data: bytes = b"metal in light", *, older_app: bool = False, **changes
) -> dict:
    """Keeps a photograph on the phone, its file not sent; returns the entry."""
    body = {
        "method": "camera",
        "width": 4000,
        "height": 3000,
        "sharpness": None,
        "exposure": "ok",
        "caption": "",
        "file_time": None,
    }
    media = {
        "sha256": hashlib.sha256(data).hexdigest(),
        "length": len(data),
        "name": "IMG_1.jpg",
        "role": "original",
        "type": "image/jpeg",
    }
    with suppress(ValueError):  # a phone signs the pixels of what is a picture; an older app did not
        media |= {} if older_app else {"scan_sha256": pictures.scan_hash(data)}
    return keep(phone, phone.entry("photo_taken", job, location=at(place), body=body, media=[media], **changes))


def correct(phone: Phone, target: dict, changes: dict, location: dict | None = None, reason: str = "Misread") -> dict:
    """Keeps a correction of an entry; returns it."""
    body = {"changes": changes, "entry": target["id"], "location": location, "reason": reason}
    return keep(phone, phone.entry("entry_corrected", target["job"], body=body | {"entry_hash": hash_of(target)}))


def withdraw(phone: Phone, target: dict, reason: str = "Wrong engine") -> dict:
    """Keeps a withdrawal of an entry; returns it."""
    body = {"entry": target["id"], "entry_hash": hash_of(target), "reason": reason}
    return keep(phone, phone.entry("entry_withdrawn", target["job"], body=body))


def reach(phone: Phone, job: str, stage: str) -> dict:
    return keep(phone, phone.entry("stage_reached", job, body={"stage": stage}, stage=stage))


def tick(phone: Phone, job: str, stage: str, item: str, ticked: bool = True) -> dict:
    body = {"stage": stage, "item": item, "ticked": ticked, "note": ""}
    return keep(phone, phone.entry("checklist_ticked", job, body=body, stage=stage))


def keep(phone: Phone, entry: dict) -> dict:
    phone.keep(entry)
    return entry


def send(phone: Phone) -> None:
    """Pushes the whole outbox and asks that all of it was stored."""
    status, answer = phone.push()
    assert status == 200, answer
    assert {result["result"] for result in answer["results"]} <= {"stored", "duplicate"}, answer["results"]


def hash_of(entry: dict) -> str:
    return sha256_hex(json.dumps(entry, sort_keys=True, separators=(",", ":"), ensure_ascii=False).encode())
