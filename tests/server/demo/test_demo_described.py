"""What the office is answered is what /api/openapi.json says: nothing left out, nothing more, nothing of another type.

The apps' types are made from that description, so what is not in it would not be known to them. Judge: jsonschema."""

from __future__ import annotations

import pytest
from jsonschema import Draft202012Validator

from tests.support.demo import copy_of_demo
from witnessmark.app import create_app

ONCE = [
    *("/api/office/me", "/api/office/door", "/api/people", "/api/phones", "/api/engine-types", "/api/gauges"),
    *("/api/procedures", "/api/measuring-rules", "/api/torque-tools", "/api/jobs", "/api/search", "/api/live"),
    *("/api/spoken", "/api/spoken/tally", "/api/spoken/words"),
]
OF_A_JOB = ["", "/owner", "/timeline", "/figures", "/tightening", "/packs"]
OF_AN_ENGINE_TYPE = ["", "/limits", "/tightening"]


@pytest.fixture(scope="module")
def office(demo_once, tmp_path_factory):
    settings = copy_of_demo(demo_once, tmp_path_factory.mktemp("described") / "data")
    client = create_app(settings).test_client()
    client.environ_base["HTTP_X_WITNESSMARK"] = "office"
    assert client.post("/api/office/sign-in", json={"name": "Tomas", "password": "witness-demo"}).status_code == 200
    return client


@pytest.fixture(scope="module")
def closed(office) -> dict:
    """The description, each shape in it closed: a field that it does not name is a fault."""
    document = office.get("/api/openapi.json").get_json()
    for shape in document["components"]["schemas"].values():
        shape.setdefault("additionalProperties", False)
    return document


def faults_of(closed: dict, path: str, answer: object) -> list[str]:
    shape = closed["paths"][path]["get"]["responses"]["200"]["content"]["application/json"]["schema"]
    judge = Draft202012Validator(shape | {"components": closed["components"]})
    return [f"{path} {fault.json_path}: {fault.message[:200]}" for fault in judge.iter_errors(answer)]


def test_every_answer_of_the_office_is_as_described(office, closed):
    payload = {path: [path] for path in ONCE} | {"/api/search": ["/api/search?q=bore"]}
    jobs = [job["id"] for job in office.get("/api/jobs").get_json()["jobs"]]
    types = [engine_type["id"] for engine_type in office.get("/api/engine-types").get_json()["engine_types"]]
    for more in OF_A_JOB:
        payload[f"/api/jobs/{{job}}{more}"] = [f"/api/jobs/{id}{more}" for id in jobs]
    for more in OF_AN_ENGINE_TYPE:
        payload[f"/api/engine-types/{{engine_type}}{more}"] = [f"/api/engine-types/{id}{more}" for id in types]
    gauges, tools = office.get("/api/gauges").get_json()["gauges"], office.get("/api/torque-tools").get_json()["tools"]
    payload["/api/gauges/{gauge}"] = [f"/api/gauges/{gauge['id']}" for gauge in gauges]
    payload["/api/torque-tools/{tool}"] = [f"/api/torque-tools/{tool['id']}" for tool in tools]
    lines = [item for id in jobs for item in office.get(f"/api/jobs/{id}/timeline?limit=200").get_json()["items"]]
    newest = {item["kind"]: item["id"] for item in lines}
    payload["/api/entries/{entry}"] = [f"/api/entries/{id}" for id in newest.values()]

    assert all(payload.values()) and {"measured", "fastener_tightened", "sound_recorded"} <= newest.keys()
    faults = []
    for path, addresses in payload.items():
        for address in addresses:
            answer = office.get(address)
            assert answer.status_code == 200, address
            faults += faults_of(closed, path, answer.get_json())
    assert faults == []


def test_no_description_of_the_office_is_a_bare_object(closed):
    """Whatever is checked as it is typed, an entry's body and what a correction changes: nothing else is left open."""
    bare = [
        f"{name}.{field}"
        for name, shape in closed["components"]["schemas"].items()
        for field, described in shape.get("properties", {}).items()
        if described.get("type") == "object"
        and described.get("additionalProperties", {}) == {}
        and "properties" not in described
    ]
    assert sorted(bare) == ["Checked.value", "Correction.changes", "DeskEntry.body", "Entry.body", "Item.body"]
