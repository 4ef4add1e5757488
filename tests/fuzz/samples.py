"""For each operation, requests that the filled workshop answers well: odd ones are made from them."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

from tests.fuzz.asking import Request, as_json, in_path, in_query
from tests.fuzz.odd_values import COOKIE
from tests.fuzz.workshop import HER_PASSWORD, JPEG, TECHNICIAN, Filled
from tests.support import measured, tightening
from tests.support.media import metadata
from tests.support.phone import Phone
from tests.support.record import a_v6
from witnessmark.proof.canonical import canonical, sha256_hex
from witnessmark.trade.engine import types
from witnessmark.trade.ground.identifiers import uuid7
from witnessmark.trade.measuring import procedures
from witnessmark.trade.record.kinds import KINDS, written_by
from witnessmark.trade.tightening import sheets

TAKEN = json.loads((Path(__file__).parents[1] / "vectors" / "kinds.json").read_text())["taken"]
VERBS = ("get", "post", "put", "patch", "delete", "head", "options")
PIECE = "application/offset+octet-stream"
PARAMETER = re.compile(r"{(\w+)}")


def labels(description: dict[str, Any]) -> list[str]:
    """Every operation of the description, as "GET /api/jobs/{job}"."""
    return [f"{verb.upper()} {path}" for path, verbs in description["paths"].items() for verb in verbs if verb in VERBS]


def credentials(filled: Filled, label: str) -> dict[str, str]:
    """The headers of who may ask this: a joined phone, or the manager from the office's own page."""
    path = label.split(" ")[1]
    if path.startswith(("/api/sync/", "/api/media/")):
        return {"Authorization": f"Bearer {filled.phone.token}"} | (
            {"Tus-Resumable": "1.0.0"} if "/uploads" in path else {}
        )
    return {"Cookie": f"{COOKIE}={filled.manager}", "X-Witnessmark": "office"}


def fill_in(path: str, known: dict[str, list[str]]) -> str:
    """The path with the first known value for each of its parameters."""
    return in_path(PARAMETER.sub(lambda match: known[match[1]][0], path))


def samples(filled: Filled, every: list[str]) -> dict[str, list[Request]]:
    """By operation, at least one request each that is answered well."""
    return {label: _of(filled, label) for label in every}


def push_of(filled: Filled, entry: dict[str, Any]) -> Request:
    """A push of the phone's next entry, whatever is in it, signed as the phone does."""
    label = "POST /api/sync/push"
    data = canonical(entry)
    offered = {"bytes": data.decode(), "signature": filled.phone.sign(data)}
    return _request(filled, label, filled.phone.ask_push([offered]), entry_hash=sha256_hex(data))


def entries(filled: Filled) -> list[dict[str, Any]]:
    """Entries of every kind that a phone writes, as next in this phone's chain: those of the job that is there, and
    those of the vectors as if they were of that job."""
    same = ("body", "location", "media", "stage", "version", "kind")
    recorded = [entry for entry in filled.entries if entry["kind"] in written_by("phone")]
    invented = [case["entry"] | {"job": filled.known["job"][0]} for case in TAKEN]
    invented = [entry for entry in invented if entry["kind"] in written_by("phone")]
    return [
        filled.phone.entry(job=entry["job"], **{name: entry[name] for name in same}) for entry in recorded + invented
    ]


def _of(filled: Filled, label: str) -> list[Request]:
    if label == "POST /api/sync/push":
        note = filled.phone.entry("note_made", filled.known["job"][0])
        return [push_of(filled, note)]
    if "/uploads" in label or "/preview" in label:
        return _media(filled, label)
    if queries := _queries(filled).get(label):
        return [_request(filled, label, query=query) for query in queries]
    return [_request(filled, label, body) for body in _bodies(filled).get(label, [None])]


def _request(filled: Filled, label: str, body: Any = None, query: dict[str, str] | None = None, **more) -> Request:
    method, path = label.split(" ")
    headers = credentials(filled, label) | more.pop("headers", {})
    data = body if isinstance(body, bytes) else as_json(body) if body is not None else b""
    if body is not None:
        headers.setdefault("Content-Type", "application/json")
    known = filled.known | more.pop("known", {})
    more.setdefault("path", fill_in(path, known))
    return Request(label, method, query=in_query(list((query or {}).items())), headers=headers, body=data, **more)


def _media(filled: Filled, label: str) -> list[Request]:
    method, path = label.split(" ")
    sha256 = sha256_hex(JPEG)
    begin = {"Upload-Length": str(len(JPEG)), "Upload-Metadata": metadata(sha256)}
    name = {"name": [f"{filled.originals[0]['sha256']}.{filled.originals[0]['length']}"]}
    new = {"name": [f"{sha256}.{len(JPEG)}"]}
    if label == "POST /api/media/uploads":
        whole = _request(filled, label, JPEG, headers=begin | {"Content-Type": PIECE})
        return [_request(filled, label, headers=begin), whole]
    if method == "PATCH":
        return [_request(filled, label, JPEG, headers={"Upload-Offset": "0", "Content-Type": PIECE}, known=new)]
    if method == "PUT":
        own = {"sha256": [sha256]}
        return [_request(filled, label, JPEG, headers={"Content-Type": "image/jpeg"}, known=own)]
    return [_request(filled, label, known=name)]


def _queries(filled: Filled) -> dict[str, list[dict[str, str]]]:
    job, person = filled.known["job"][0], filled.known["person"][0]
    filters = {"place": "bore", "related": "true", "kind": "measured,photo_taken", "q": "bore", "limit": "5"}
    more = {"person": person, "stage": "build", "from": "2020-01-01", "to": "2099-12-31", "after": "1", "limit": "5"}
    return {
        "GET /api/sync/pull": [{"feed": "workshop"}, {"feed": f"job:{job}", "after": "3", "limit": "5"}],
        "GET /api/sync/consistency": [{"from": "1", "to": "20"}],
        "GET /api/sync/digest": [{"feed": "workshop", "upto": "20"}, {"feed": f"job:{job}", "upto": "20"}],
        "GET /api/jobs": [{"q": "24", "stage": "intake", "limit": "5"}, {}],
        "GET /api/jobs/{job}/timeline": [filters, more, {"around": "9"}, {"before": "9", "q": '"thrust side" -bore'}],
        "GET /api/search": [filters, more],
        "GET /api/live": [{}, {"job": job, "after": "10"}],
        "GET /api/spoken": [{"state": "query", "job": job, "limit": "5"}, {}],
        "GET /api/media/{sha256}/original": [{}, {"download": "1", "name": "bore 3.jpg"}],
    }


def _bodies(filled: Filled) -> dict[str, list[Any]]:
    known = filled.known
    text = {"sound": known["sound"][0], "text": "bore three eighty nine point oh three mm", "others": ["bore three"]}
    joint = {"joint": "head_bolt/A"}
    phone = Phone(None)
    joined = {"protocol": 1, "code": known["invitation"][0], "name": "Bay 9", "platform": ""}
    joined |= {"public_key": phone.public_key}
    checks = {
        "engine_type": a_v6(), "heard": text, "gauge": measured.a_gauge(), "limit": measured.a_limit(),
        "size": measured.a_size(), "procedure": measured.a_procedure(), "measuring_rules": measured.some_rules(),
        "tightening_sheet": tightening.a_sheet(), "torque_tool": tightening.a_tool(),
    }  # fmt: skip
    return {
        "POST /api/sync/join": [joined | {"proof": phone.proof(joined)}],
        "POST /api/media/have": [{"sha256": [file["sha256"] for file in filled.originals]}],
        "POST /api/office/sign-in": [{"name": TECHNICIAN, "password": HER_PASSWORD}],
        "POST /api/people": [{"name": "Bo", "role": "technician", "password": "nine gaskets", "pin": "2580"}],
        "POST /api/people/{person}": [
            {"name": "Tomas R", "pin": "1379"},
            {"active": False},
            {"password": "six tired valve springs"},
        ],
        "POST /api/phones/{phone}/revoke": [{"reason": "Fell into the sump."}],
        "POST /api/engine-types": [{"engine_type": a_v6()}, {"engine_type": a_v6(id="", name="Halvern 3.1 V6")}],
        "POST /api/engine-types/check": [{"engine_type": a_v6()}],
        "POST /api/engine-types/read-file": [types.write_file(a_v6())],
        "POST /api/jobs/{job}/owner": [{"name": "Marten Quist", "phone": "0555 0100", "mail": "m@example.org"}],
        "POST /api/gauges": [{"gauge": measured.a_gauge()}, {"gauge": measured.a_gauge(id="", name="Gauge 9")}],
        "POST /api/engine-types/{engine_type}/limits": [{"limit": measured.a_limit()}, {"size": measured.a_size()}],
        "POST /api/procedures": [{"procedure": measured.a_procedure(edition=2)}],
        "POST /api/procedures/file": [procedures.write_file(measured.a_procedure())],
        "POST /api/measuring-rules": [{"rules": measured.some_rules()}],
        "POST /api/engine-types/{engine_type}/tightening": [{"sheet": tightening.a_sheet()}],
        "POST /api/engine-types/{engine_type}/tightening/proposal": [joint],
        "POST /api/engine-types/{engine_type}/tightening/file": [sheets.write_file(tightening.a_sheet())],
        "POST /api/torque-tools": [{"tool": tightening.a_tool()}],
        "POST /api/desk/entries": _written(filled),
        "POST /api/sync/inclusion": [{"size": 3, "positions": [1, 3]}],
        "POST /api/check": [{"sort": sort, "value": value} for sort, value in checks.items()],
        "POST /api/jobs/{job}/packs": [{"sort": "sealed"}, {"sort": "customer"}],
    }


def _written(filled: Filled) -> list[dict[str, Any]]:
    """What may be written in the office, of every kind, as it was recorded in the job and as the vectors have it."""
    job = filled.known["job"][0]
    recorded = [entry for entry in filled.entries if entry["kind"] != "job_opened"] + [case["entry"] for case in TAKEN]
    return [
        {"id": uuid7(), "job": None if KINDS[entry["kind"]].job == "none" else job}
        | {name: entry[name] for name in ("kind", "location", "body")}
        # The desk signs no pixels: its key is the server's own.
        | {"media": [{name: of for name, of in file.items() if name != "scan_sha256"} for file in entry["media"]]}
        for entry in recorded
        if entry["kind"] in written_by("desk")
    ]
