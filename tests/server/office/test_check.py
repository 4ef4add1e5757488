"""POST /api/check: the office's forms ask what is wrong while somebody types; nothing is saved by asking."""

from __future__ import annotations

import pytest

from tests.server.office.test_office import a_technician
from tests.support import record
from tests.support.measured import a_gauge, a_limit, a_procedure, a_size, describe_procedure, some_rules
from tests.support.record import ENGINE_TYPE_ID
from tests.support.spoken import speak
from tests.support.tightening import a_sheet, a_stage, a_tool, describe_tool

WRONG = [
    ("engine_type", record.a_v6("", mains=0), "mains"),
    ("gauge", a_gauge(id="", resolution="0"), "resolution"),
    ("limit", a_limit(id="", low="", high=""), "high"),
    ("limit", a_limit(id="", figure="no_such_figure"), "figure"),
    ("size", a_size(id="", values=[]), "values"),
    ("procedure", a_procedure(walk="about"), "walk"),
    ("measuring_rules", some_rules(compression_share="0"), "compression_share"),
    ("tightening_sheet", a_sheet(id="", joint="main_bolt/*"), "joint"),
    ("tightening_sheet", a_sheet(id="", stages=[a_stage(target="2000")]), "stages.0.target"),
    ("tightening_sheet", a_sheet(id="", engine_type="nobody's"), "engine_type"),
    ("torque_tool", a_tool(id="", high=""), "high"),
]
SOUND = [
    ("engine_type", record.a_v6("")),
    ("gauge", a_gauge(id="")),
    ("limit", a_limit(id="")),
    ("size", a_size(id="")),
    ("procedure", a_procedure()),
    ("measuring_rules", some_rules()),
    ("tightening_sheet", a_sheet(id="")),
    ("torque_tool", a_tool(id="")),
]


@pytest.fixture
def v6(client) -> str:
    return record.describe(client)


def faults(client, sort: str, value: dict) -> list[dict]:
    answer = client.post("/api/check", json={"sort": sort, "value": value})
    assert answer.status_code == 200, answer.get_json()
    return answer.get_json()["faults"]


@pytest.mark.parametrize(("sort", "value", "where"), WRONG, ids=lambda part: part if type(part) is str else "")
def test_a_fault_is_told_with_the_field_it_stands_in(client, v6, sort, value, where):
    answer = faults(client, sort, value)
    assert where in [fault["where"] for fault in answer]
    assert all(fault["message"].endswith(".") for fault in answer)
    assert all(fault["code"].startswith(("trade.", "server.")) for fault in answer)


@pytest.mark.parametrize(("sort", "value"), SOUND, ids=[sort for sort, _ in SOUND])
def test_what_would_be_taken_has_no_fault(client, v6, sort, value):
    assert faults(client, sort, value) == []


def test_what_only_the_server_knows_is_told_too(client, v6):
    describe_tool(client)
    beyond = a_sheet(
        id="", stages=[a_stage(target="400", minus="0", plus="0")], thread={"size": "M24", "pitch": "", "class": ""}
    )
    assert (
        "outside the range of every torque tool in the register"
        in faults(client, "tightening_sheet", beyond)[0]["message"]
    )
    given = describe_procedure(client)
    again = faults(client, "procedure", given | {"about": "Said better."})
    assert [fault["where"] for fault in again] == ["edition"]
    assert faults(client, "procedure", given) == []


def test_nothing_is_saved_by_asking(client, v6):
    before = client.get("/api/gauges").get_json(), client.get("/api/torque-tools").get_json()
    for sort, value in SOUND:
        faults(client, sort, value)
    assert (client.get("/api/gauges").get_json(), client.get("/api/torque-tools").get_json()) == before


def test_anything_may_be_typed_and_a_sort_that_nobody_knows_is_refused(client, v6):
    for sort in (
        "gauge",
        "limit",
        "size",
        "procedure",
        "measuring_rules",
        "tightening_sheet",
        "torque_tool",
        "engine_type",
    ):
        assert faults(client, sort, {"id": ["x"], "values": {"a": None}})
    assert client.post("/api/check", json={"sort": "weather", "value": {}}).status_code == 422
    assert client.post("/api/check", json={"sort": "gauge"}).status_code == 422


def test_a_technician_may_ask_and_somebody_who_is_not_signed_in_may_not(office, client, v6):
    payload = {"sort": "gauge", "value": a_gauge(id="")}
    assert a_technician(client, office).post("/api/check", json=payload).get_json() == {"faults": []}
    answer = office.app.test_client().post("/api/check", json=payload, headers={"X-Witnessmark": "office"})
    assert answer.status_code == 401


def test_texts_of_a_sound_are_held_against_the_one_that_stands(client, v6, phone):
    job = phone.open_job("24-118", engine_type=v6)
    sound = speak(phone, job, "bore/3", "top, thrust", procedure="cylinder_bore", reading="top/thrust")
    phone.push()
    text = "reads eighty eight point nine four millimetres"
    others = [text, "reads eighty eight point nine five millimetres", "it may rain later"]
    value = {"sound": sound["id"], "text": "88.94 mm", "others": others}
    assert [fault["where"] for fault in faults(client, "heard", value)] == ["others.1", "others.2"]
    talk = {"sound": sound["id"], "text": "it may rain later", "others": ["it may rain later"]}
    assert [fault["where"] for fault in faults(client, "heard", talk)] == ["others.0"]
    nobody = value | {"sound": ENGINE_TYPE_ID}
    assert client.post("/api/check", json={"sort": "heard", "value": nobody}).status_code == 404
    assert client.post("/api/check", json={"sort": "heard", "value": {"sound": sound["id"]}}).status_code == 422
