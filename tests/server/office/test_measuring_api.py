"""What the workshop says itself: gauges, limits, sizes, procedures and rules, each with its history."""

from __future__ import annotations

import json

import pytest

from tests.server.office.test_office import a_technician
from tests.support import measured as measuring
from tests.support import record
from tests.support.measured import (
    GAUGE_ID,
    a_gauge,
    a_limit,
    a_procedure,
    a_size,
    describe_gauge,
    describe_procedure,
    posted,
    set_limit,
    set_rules,
    set_size,
    some_rules,
)
from tests.support.record import ENGINE_TYPE_ID
from witnessmark.trade.measuring.procedures import BUILT_IN
from witnessmark.trade.measuring.rules import DEFAULT

LIMITS = f"/api/engine-types/{ENGINE_TYPE_ID}/limits"


@pytest.fixture
def v6(client) -> str:
    return record.describe(client)


def refused(response, code: str, where: str) -> str:
    assert response.status_code == 422, response.get_json()
    answer = response.get_json()
    assert (answer["code"], answer["where"]) == (code, where)
    return answer["message"]


def test_a_gauge_is_described_and_described_anew_and_both_can_be_read(client):
    first = describe_gauge(client, id="", due="2026-06-30")
    assert first["id"]
    describe_gauge(client, id=first["id"], due="2027-06-30", certificate="HL 26-207")
    [listed] = client.get("/api/gauges").get_json()["gauges"]
    assert (listed["name"], listed["due"], listed["descriptions"]) == ("Bore gauge 4", "2027-06-30", 2)
    shown = client.get(f"/api/gauges/{first['id']}").get_json()
    assert [edition["gauge"]["due"] for edition in shown["history"]] == ["2027-06-30", "2026-06-30"]
    assert shown["history"][0]["author"]["name"] == "Ida"
    assert shown["gauge"]["certificate"] == "HL 26-207" and shown["entry"] == shown["history"][0]["entry"]


def test_the_register_says_which_gauge_is_past_its_date_and_leaves_those_out_of_use_alone(client):
    describe_gauge(client, id="", name="A", calibrated="2019-01-01", due="2020-01-01")
    describe_gauge(client, id="", name="B", calibrated="2019-01-01", due="2020-01-01", retired=True)
    describe_gauge(client, id="", name="C", due="")
    answer = client.get("/api/gauges").get_json()["gauges"]
    assert [(gauge["name"], gauge["overdue"]) for gauge in answer] == [("A", True), ("B", False), ("C", False)]


def test_what_is_said_twice_is_written_once(client, office):
    describe_gauge(client)
    before = client.get("/api/office/me").get_json()["head"]["size"]
    describe_gauge(client)
    assert client.get("/api/office/me").get_json()["head"]["size"] == before


@pytest.mark.parametrize(
    ("path", "body"),
    [
        ("/api/gauges", {"gauge": a_gauge()}),
        (LIMITS, {"limit": a_limit()}),
        (LIMITS, {"size": a_size()}),
        ("/api/procedures", {"procedure": a_procedure()}),
        ("/api/measuring-rules", {"rules": some_rules(rule="simple")}),
    ],
)
def test_a_technician_reads_what_the_workshop_said_and_may_not_say_it(client, office, v6, path, body):
    technician = a_technician(client, office)
    answer = technician.post(path, json=body)
    assert (answer.status_code, answer.get_json()["code"]) == (403, "role")
    assert technician.get(path).status_code == 200


def test_a_phone_may_not_set_limits_nor_describe_gauges(phone, v6):
    for kind, body in (("limit_set", {"limit": a_limit()}), ("gauge_described", {"gauge": a_gauge()})):
        phone.keep(phone.entry(kind, body=body))
    _, answer = phone.push()
    assert [result["code"] for result in answer["results"]] == ["of_the_desk", "of_the_desk"]


def test_what_the_workshop_said_is_described_anew_and_not_withdrawn_by_a_phone(client, phone, v6):
    describe_gauge(client)
    entry = client.get(f"/api/gauges/{GAUGE_ID}").get_json()["entry"]
    written = client.get(f"/api/entries/{entry}").get_json()
    body = {"entry": entry, "entry_hash": written["hash"], "reason": "Never ours"}
    phone.keep(phone.entry("entry_withdrawn", body=body))
    _, answer = phone.push()
    assert [result["code"] for result in answer["results"]] == ["not_withdrawable"]


def test_a_faulty_statement_is_refused_with_the_field_and_the_reason(client, v6):
    message = refused(
        client.post("/api/gauges", json={"gauge": a_gauge(resolution="0")}), "faulty_gauge", "gauge.resolution"
    )
    assert "above zero" in message
    refused(client.post(LIMITS, json={"limit": a_limit(source="")}), "faulty_limit", "limit.source")
    refused(client.post(LIMITS, json={"size": a_size(values=[])}), "faulty_size", "size.values")
    refused(client.post("/api/measuring-rules", json={"rules": {}}), "faulty_rules", "rules.rule")
    assert client.get("/api/gauges").get_json() == {"gauges": []}


def test_a_limit_speaks_of_a_figure_that_its_procedure_has_in_a_unit_that_fits(client, v6):
    message = refused(client.post(LIMITS, json={"limit": a_limit(figure="colour")}), "faulty_limit", "limit.figure")
    assert "Cylinder bore has no figure 'colour'. Its figures are: " in message and "ovality" in message
    refused(client.post(LIMITS, json={"limit": a_limit(unit="bar")}), "faulty_limit", "limit.unit")
    refused(client.post(LIMITS, json={"limit": a_limit(procedure="own_x")}), "faulty_limit", "limit.procedure")
    refused(client.post(LIMITS, json={"size": a_size(code="colour")}), "faulty_size", "size.code")
    refused(client.post(LIMITS, json={"size": a_size(unit="bar")}), "faulty_size", "size.unit")
    refused(client.post(LIMITS, json={"size": a_size(values=["89", "90"])}), "faulty_size", "size.values")
    assert (
        client.post(
            "/api/engine-types/0b4c1a52-5f1e-4c57-9b0a-3a6d2f7e9c99/limits", json={"limit": a_limit()}
        ).status_code
        == 404
    )


def test_limits_and_sizes_of_an_engine_type_with_what_was_said_before(client, v6):
    limit = set_limit(client, id="")
    set_limit(client, id=limit["id"], high="0.060")
    set_limit(client, id=limit["id"], high="0.060", withdrawn=True)
    set_size(client, id="")
    set_size(client, id="", code="material", values=["grey_iron"], unit="")
    answer = client.get(LIMITS).get_json()
    [shown] = answer["limits"]
    assert (shown["high"], shown["withdrawn"]) == ("0.060", True)
    assert [limit["limit"]["high"] for limit in shown["history"]] == ["0.060", "0.060", "0.050"]
    assert [size["code"] for size in answer["sizes"]] == ["nominal", "material"]


def test_a_limit_cannot_be_turned_into_a_limit_of_something_else(client, v6):
    limit = set_limit(client)
    answer = client.post(LIMITS, json={"limit": limit | {"figure": "taper"}})
    refused(answer, "faulty_limit", "limit.figure")


def test_a_limit_and_a_size_at_once_are_one_too_many(client, v6):
    refused(client.post(LIMITS, json={"limit": a_limit(), "size": a_size()}), "bad_value", "limit")
    refused(client.post(LIMITS, json={}), "bad_value", "limit")


def test_procedures_of_the_program_stand_beside_the_workshops_own(client):
    describe_procedure(client)
    answer = client.get("/api/procedures").get_json()["procedures"]
    assert [procedure["procedure"]["code"] for procedure in answer if procedure["built_in"]] == list(BUILT_IN)
    assert [(procedure["procedure"]["code"], procedure["built_in"]) for procedure in answer][-1] == (
        "own_liner_seat",
        False,
    )
    assert answer[-1]["position"] and answer[0]["position"] is None


def test_an_edition_that_is_given_out_is_not_written_over(client):
    describe_procedure(client)
    answer = client.post("/api/procedures", json={"procedure": a_procedure(name="Another")})
    message = refused(answer, "faulty_procedure", "procedure.edition")
    assert "Save yours as edition 2." in message
    describe_procedure(client, edition=2, name="Another")


def test_what_comes_with_the_program_is_not_changed(client):
    answer = client.post("/api/procedures", json={"procedure": BUILT_IN["cylinder_bore"] | {"name": "Mine"}})
    refused(answer, "faulty_procedure", "procedure.code")


def test_a_procedure_travels_in_a_file(client):
    data = client.get("/api/procedures/cylinder_bore/file").data
    read = client.post("/api/procedures/file", data=data, content_type="application/json").get_json()
    assert read == {"procedure": BUILT_IN["cylinder_bore"], "faults": []}
    faulty = json.loads(data)
    faulty["procedure"]["code"] = "bore_of_ours"
    read = client.post("/api/procedures/file", json=faulty).get_json()
    assert [fault["where"] for fault in read["faults"]] == ["code"]
    assert client.post("/api/procedures/file", data=b"no file", content_type="application/json").status_code == 422
    assert client.get("/api/procedures/own_nothing/file").status_code == 404


def test_rules_are_the_programs_until_the_workshop_sets_its_own(client):
    assert client.get("/api/measuring-rules").get_json() == {"rules": DEFAULT, "history": []}
    set_rules(client, rule="simple")
    set_rules(client, rule="guarded_95")
    answer = client.get("/api/measuring-rules").get_json()
    assert answer["rules"]["rule"] == "guarded_95"
    assert [rules_set["rules"]["rule"] for rules_set in answer["history"]] == ["guarded_95", "simple"]


def test_a_gauge_shows_what_was_measured_with_it_and_what_was_withdrawn_no_longer(client, phone, v6):
    gauge = describe_gauge(client)
    job = phone.open_job("24-118", engine_type=v6)
    with_it = {"gauge": gauge["name"], "gauge_id": gauge["id"]}
    entries = measuring.read_bore(phone, job, "bore/3", **with_it)
    record.withdraw(phone, entries[0])
    record.send(phone)
    answer = client.get(f"/api/gauges/{gauge['id']}").get_json()["figures"]
    assert [(use["number"], use["procedure"], use["name"], use["readings"]) for use in answer] == [
        ("24-118", "cylinder_bore", "Cylinder bore", 5)
    ]


def test_every_phone_hears_what_the_workshop_said(client, phone, v6):
    describe_gauge(client)
    set_limit(client)
    set_size(client)
    describe_procedure(client)
    posted(client, "/api/measuring-rules", {"rules": some_rules()})
    _, answer = phone.get("/api/sync/pull?feed=workshop&after=0&limit=100")
    kinds = [json.loads(entry["bytes"])["kind"] for entry in answer["entries"]]
    assert kinds[-5:] == ["gauge_described", "limit_set", "size_set", "procedure_described", "measuring_rules_set"]
