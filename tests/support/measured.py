"""What measuring needs in server tests: readings, gauges, limits, sizes, a procedure of one's own. All invented."""

from __future__ import annotations

from collections.abc import Mapping

from tests.support.phone import Phone
from tests.support.record import ENGINE_TYPE_ID, at, keep
from witnessmark.trade.measuring.rules import DEFAULT
from witnessmark.trade.record.kinds import TYPED

GAUGE_ID = "0b4c1a52-5f1e-4c57-9b0a-3a6d2f7e9c11"
LIMIT_ID = "1c5d2b63-6a2f-4d68-8c1b-4b7e3a8f0d22"
SIZE_ID = "2d6e3c74-7b30-4e79-9d2c-5c8f4b901e33"
# The six readings of a bore, in the order they are asked for: ovality 0.042 mm.
BORE = {
    "top/thrust": "89.062",
    "top/axial": "89.020",
    "middle/thrust": "89.048",
    "middle/axial": "89.015",
    "bottom/thrust": "89.031",
    "bottom/axial": "89.010",
}


def a_reading(**changes) -> dict:
    """The body of `measured`: a single reading of a diameter, outside any procedure."""
    return {
        "procedure": "",
        "edition": 0,
        "reading": "",
        "state": "as_found",
        "quantity": "diameter",
        "value": "89.00",
        "unit": "mm",
        "gauge": "",
        "gauge_id": "",
        "part_temperature": "",
        "gauge_temperature": "",
        "material": "",
        "basis": [],
        "remark": "",
        **TYPED,
    } | changes


def a_gauge(**changes) -> dict:
    """A bore gauge that reads to 0.001 mm and may be wrong by 0.003 mm."""
    return {
        "id": GAUGE_ID,
        "name": "Bore gauge 4",
        "sort": "bore_gauge",
        "serial": "BG-0417",
        "unit": "mm",
        "low": "50",
        "high": "160",
        "resolution": "0.001",
        "mpe": "0.003",
        "repeatability": "",
        "certificate": "HL 26-031",
        "calibrated": "2026-02-03",
        "due": "2027-02-03",
        "retired": False,
        "notes": "Invented.",
    } | changes


def a_limit(**changes) -> dict:
    """The service limit of a bore's ovality on the invented V6."""
    return {
        "id": LIMIT_ID,
        "engine_type": ENGINE_TYPE_ID,
        "procedure": "cylinder_bore",
        "figure": "ovality",
        "sort": "service",
        "low": "",
        "high": "0.050",
        "unit": "mm",
        "where": [],
        "source": "Invented manual, edition 2, page 14",
        "valid_from": "",
        "valid_until": "",
        "withdrawn": False,
        "note": "",
    } | changes


def a_size(**changes) -> dict:
    """The nominal bore of the invented V6."""
    return {
        "id": SIZE_ID,
        "engine_type": ENGINE_TYPE_ID,
        "procedure": "cylinder_bore",
        "code": "nominal",
        "values": ["89.000"],
        "unit": "mm",
        "where": [],
        "source": "Invented manual, edition 2, page 12",
        "withdrawn": False,
        "note": "",
    } | changes


def some_rules(**changes) -> dict:
    return DEFAULT | changes


def a_procedure(**changes) -> dict:
    """A procedure of the workshop's own: one diameter at two heights."""
    heights = [{"code": "top", "words": "top"}, {"code": "bottom", "words": "bottom"}]
    taper = {
        "code": "taper",
        "words": "taper",
        "kind": "length",
        "do": "largest_spread",
        "of": ["grid"],
        "along": "height",
        "by": "",
        "definition": "Largest less smallest along the height.",
        "guide": None,
    }
    return {
        "code": "own_liner_seat",
        "edition": 1,
        "name": "Seat of a liner",
        "part": "bore",
        "quantity": "diameter",
        "about": "Invented.",
        "cautions": [],
        "grid": [{"axis": "height", "words": "height", "values": heights}],
        "readings": [],
        "optional": [],
        "sizes": [],
        "figures": [taper],
        "across": [],
        "walk": "place",
        "drawing": "bore",
    } | changes


def read(
    phone: Phone, job: str, place: str, reading: str, value: str, procedure: str = "cylinder_bore", **more
) -> dict:
    """Keeps one reading of a procedure on the phone; returns the entry."""
    envelope = {name: more.pop(name) for name in ("claimed", "author", "stage") if name in more}
    body = a_reading(**{"procedure": procedure, "edition": 1, "reading": reading, "value": value} | more)
    point = reading.replace("/", ", ")
    return keep(phone, phone.entry("measured", job, location=at(place, point), body=body, **envelope))


def read_bore(phone: Phone, job: str, place: str, values: Mapping[str, str] | None = None, **more) -> list[dict]:
    """Keeps all readings of one bore; returns the entries."""
    return [read(phone, job, place, reading, value, **more) for reading, value in (values or BORE).items()]


def describe_gauge(client, **changes) -> dict:
    """Describes a gauge in the office; returns it as answered, with the id of its entry under `entry`."""
    return posted(client, "/api/gauges", {"gauge": a_gauge(**changes)})["gauge"]


def set_limit(client, **changes) -> dict:
    limit = a_limit(**changes)
    return posted(client, f"/api/engine-types/{limit['engine_type']}/limits", {"limit": limit})["limit"]


def set_size(client, **changes) -> dict:
    size = a_size(**changes)
    return posted(client, f"/api/engine-types/{size['engine_type']}/limits", {"size": size})["size"]


def set_rules(client, **changes) -> dict:
    return posted(client, "/api/measuring-rules", {"rules": some_rules(**changes)})["rules"]


def describe_procedure(client, **changes) -> dict:
    return posted(client, "/api/procedures", {"procedure": a_procedure(**changes)})["procedure"]


def figures_of(client, job: str) -> dict:
    """What the office shows of a job's figures."""
    answer = client.get(f"/api/jobs/{job}/figures")
    assert answer.status_code == 200, answer.get_json()
    return answer.get_json()


def figure(answer: dict, place: str, code: str, procedure: str = "cylinder_bore", state: str = "as_found") -> dict:
    """One figure of a sheet in such an answer."""
    return next(figure for figure in place_of(answer, place, procedure, state)["figures"] if figure["code"] == code)


def place_of(answer: dict, place: str, procedure: str = "cylinder_bore", state: str = "as_found") -> dict:
    sheet = next(sheet for sheet in answer["sheets"] if (sheet["procedure"], sheet["state"]) == (procedure, state))
    return next(row for row in sheet["places"] if row["place"] == place)


def posted(client, path: str, body: dict) -> dict:
    answer = client.post(path, json=body)
    assert answer.status_code == 201, answer.get_json()
    return answer.get_json()
