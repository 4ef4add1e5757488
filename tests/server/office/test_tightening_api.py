"""Tightening as the workshop lives it: sheets and tools from the desk, runs from the phone, told in the office."""

from __future__ import annotations

import json

import pytest

from tests.server.office.test_measuring_api import refused
from tests.server.office.test_office import a_technician
from tests.support import measured, record
from tests.support.record import ENGINE_TYPE_ID
from tests.support.tightening import (
    SHEET_ID,
    TOOL_ID,
    Tightening,
    a_sheet,
    a_stage,
    a_tool,
    a_turn,
    describe_sheet,
    describe_tool,
    runs,
)
from witnessmark.db import writing
from witnessmark.people import persons
from witnessmark.projections import apply as projections
from witnessmark.trade.record.kinds import TYPED

SHEETS = f"/api/engine-types/{ENGINE_TYPE_ID}/tightening"


@pytest.fixture
def v6(client) -> str:
    return record.describe(client)


@pytest.fixture
def job(phone, v6) -> str:
    return phone.open_job("24-118", engine_type=v6)


def a_person(client, name: str, role: str = "technician") -> str:
    return client.post("/api/people", json={"name": name, "role": role, "password": "seven feelers"}).get_json()["id"]


def test_a_sheet_is_described_and_described_anew_and_both_can_be_read(client, v6):
    sheet = describe_sheet(client, id="")
    describe_sheet(client, id=sheet["id"], stages=[a_stage(target="25"), a_turn()])
    [shown] = client.get(SHEETS).get_json()["sheets"]
    assert (shown["id"], shown["stages"][0]["target"], shown["joint"]) == (sheet["id"], "25", "head_bolt/*")
    assert [edition["sheet"]["stages"][0]["target"] for edition in shown["history"]] == ["25", "20"]
    assert shown["entry"] == shown["history"][0]["entry"]
    assert shown["history"][0]["author"]["name"] == "Ida"


def test_a_sheet_must_name_each_fastener_of_a_joint_that_is_there(client, v6):
    message = refused(
        client.post(SHEETS, json={"sheet": a_sheet(stages=[a_stage(order=["1", "2", "3"])])}),
        "faulty_sheet",
        "sheet.stages.0.order",
    )
    assert "fastener 4 of head_bolt/A and head_bolt/B is missing" in message
    message = refused(client.post(SHEETS, json={"sheet": a_sheet(joint="main_bolt/*")}), "faulty_sheet", "sheet.joint")
    assert "which has head_bolt/A and head_bolt/B" in message
    refused(client.post(SHEETS, json={"sheet": a_sheet(source="")}), "faulty_sheet", "sheet.source")
    nowhere = "/api/engine-types/0b4c1a52-5f1e-4c57-9b0a-3a6d2f7e9c99/tightening"
    assert client.post(nowhere, json={"sheet": a_sheet()}).status_code == 404
    assert client.get(SHEETS).get_json()["sheets"] == []


def test_a_torque_that_tears_the_bolt_whatever_the_friction_is_a_slip_of_the_hand(client, v6):
    answer = client.post(SHEETS, json={"sheet": a_sheet(stages=[a_stage(target="2000")])})
    message = refused(answer, "faulty_sheet", "sheet.stages.0.target")
    assert "2000 N·m cannot be right for head_bolt/*" in message


def test_a_torque_that_no_tool_in_use_reaches_is_refused_until_the_tool_is_described(client, v6):
    describe_tool(client)
    describe_tool(client, id="", name="Wrench W9", high="400", retired=True)
    sheet = a_sheet(thread={"size": "M16", "pitch": "2", "class": "10.9"}, stages=[a_stage(), a_stage("full", "150")])
    message = refused(client.post(SHEETS, json={"sheet": sheet}), "faulty_sheet", "sheet.stages.1.target")
    assert "150 N·m for head_bolt/* is outside the range of every torque tool in the register: Wrench W1." in message
    describe_tool(client, id="", name="Wrench W8", high="400")
    assert client.post(SHEETS, json={"sheet": sheet}).status_code == 201


def test_a_sheet_stays_with_its_engine_type(client, v6):
    other = record.describe(client, record.a_v6(id="7c4f5e60-3182-4d9c-8eaf-2031425f6e7a", name="Another V6"))
    describe_sheet(client)
    answer = client.post(f"/api/engine-types/{other}/tightening", json={"sheet": a_sheet()})
    refused(answer, "faulty_sheet", "sheet.engine_type")


def test_a_sheet_travels_in_a_file_and_becomes_a_new_one_where_it_arrives(client, v6):
    describe_sheet(client)
    data = client.get(f"{SHEETS}/{SHEET_ID}/file").data
    read = client.post(f"{SHEETS}/file", data=data, content_type="application/json").get_json()
    assert read == {"sheet": a_sheet(id=""), "faults": []}
    faulty = json.loads(data)
    faulty["sheet"]["joint"] = "flywheel_bolt"
    read = client.post(f"{SHEETS}/file", json=faulty).get_json()
    assert [fault["where"] for fault in read["faults"]] == ["joint"]
    assert client.post(f"{SHEETS}/file", data=b"no file", content_type="application/json").status_code == 422
    assert client.get(f"{SHEETS}/{TOOL_ID}/file").status_code == 404


def test_an_order_is_proposed_from_the_positions_and_says_that_it_is_only_proposed(client, v6):
    answer = client.post(f"{SHEETS}/proposal", json={"joint": "head_bolt/A"}).get_json()
    assert sorted(answer["order"]) == ["1", "2", "3", "4"]
    assert answer["loosening"] == answer["order"][::-1]
    assert "Confirm it before use." in answer["words"]
    message = refused(client.post(f"{SHEETS}/proposal", json={"joint": "sump_bolt"}), "unknown_joint", "joint")
    assert "Halvern 2.9 V6 has no fasteners at 'sump_bolt'" in message


def test_the_register_of_tools_says_which_is_past_its_date(client):
    describe_tool(client, id="", name="B", due="2020-01-01", calibrated="2019-01-01")
    tool = describe_tool(client, id="", name="A")
    describe_tool(client, id=tool["id"], name="A", notes="New ratchet.")
    answer = client.get("/api/torque-tools").get_json()["tools"]
    assert [(tool["name"], tool["overdue"], tool["descriptions"]) for tool in answer] == [
        ("A", False, 2),
        ("B", True, 1),
    ]
    shown = client.get(f"/api/torque-tools/{tool['id']}").get_json()
    assert [edition["tool"]["notes"] for edition in shown["history"]] == ["New ratchet.", "Invented."]
    assert client.get(f"/api/torque-tools/{SHEET_ID}").status_code == 404


@pytest.mark.parametrize(("path", "body"), [(SHEETS, {"sheet": a_sheet()}), ("/api/torque-tools", {"tool": a_tool()})])
def test_a_technician_reads_sheets_and_tools_and_may_not_describe_them(client, office, v6, path, body):
    technician = a_technician(client, office)
    answer = technician.post(path, json=body)
    assert (answer.status_code, answer.get_json()["code"]) == (403, "role")
    assert technician.get(path).status_code == 200


def test_a_phone_may_not_describe_nor_withdraw_what_the_workshop_said(client, phone, v6):
    sheet = describe_sheet(client)
    phone.keep(phone.entry("tightening_sheet_described", body={"sheet": a_sheet()}))
    phone.keep(phone.entry("torque_tool_described", body={"tool": a_tool()}))
    written = client.get(f"/api/entries/{sheet['entry']}").get_json()
    body = {"entry": sheet["entry"], "entry_hash": written["hash"], "reason": "Never ours"}
    phone.keep(phone.entry("entry_withdrawn", body=body))
    _, answer = phone.push()
    assert [result["code"] for result in answer["results"]] == ["of_the_desk", "of_the_desk", "not_withdrawable"]


def test_every_phone_hears_of_sheets_and_tools(client, phone, v6):
    describe_sheet(client)
    describe_tool(client)
    _, answer = phone.get("/api/sync/pull?feed=workshop&after=0&limit=100")
    kinds = [json.loads(entry["bytes"])["kind"] for entry in answer["entries"]]
    assert kinds[-2:] == ["tightening_sheet_described", "torque_tool_described"]


def test_a_run_by_the_book_may_be_closed_and_says_who_and_how_fast(client, phone, job):
    run = Tightening(phone, job, describe_sheet(client))
    run.tap("snug")
    run.send()
    [answer] = runs(client, job)
    assert (answer["joint_name"], answer["stage"], answer["next"], answer["may_close"]) == (
        "Head, bank A",
        1,
        "2",
        False,
    )
    assert answer["missing"] == ["Turn: fasteners 2, 3, 1 and 4 are still to be turned."]
    run.tap("turn")
    run.send()
    [answer] = runs(client, job)
    assert (answer["complete"], answer["may_close"], answer["missing"], answer["departures"]) == (True, True, [], [])
    assert [person["name"] for person in answer["people"]] == ["Ida"]
    assert [pace["fasteners"] for pace in answer["pace"]] == [4, 4]
    done = answer["stages"][0]["done"]
    assert [(tap["label"], tap["value"], tap["position"], tap["asked"]) for tap in done][:2] == [
        ("2", "20", 1, 1),
        ("3", "20", 2, 2),
    ]
    # The job was opened by the first entry, the run by the second.
    assert answer["exhibits"][run.begun["id"]] == "2"
    run.close()
    run.send()
    assert runs(client, job)[0]["closed"]["by"] == phone.author


def test_what_was_done_otherwise_is_taken_as_it_happened_and_answered(client, phone, job):
    run = Tightening(phone, job, describe_sheet(client))
    run.tap("snug", "32")
    run.tap("snug", "1", given="typed", value="25")
    run.send()
    [answer] = runs(client, job)
    assert [departure["key"] for departure in answer["departures"]] == ["snug/3/out_of_order/1", "snug/1/over/1"]
    assert all(departure["answered"] is None for departure in answer["departures"])
    run.answer("snug/3/out_of_order/1")
    run.send()
    first, second = runs(client, job)[0]["departures"]
    assert first["answered"]["reason"] == "Bolt 2 was on its way from the store."
    assert second["answered"] is None and "above the maximum of 22 N·m" in second["words"]
    run.restart("snug")
    run.tap("snug")
    run.send()
    [answer] = runs(client, job)
    assert answer["departures"][1]["answered"]["how"] == "restart"
    assert (answer["stages"][0]["restarted"], len(answer["stages"][0]["earlier"][0])) == (1, 3)


def test_a_tap_by_mistake_is_withdrawn_and_asked_for_again(client, phone, job):
    run = Tightening(phone, job, describe_sheet(client))
    [_, wrong] = run.tap("snug", "24")
    record.withdraw(phone, wrong, "tapped by mistake")
    run.send()
    [answer] = runs(client, job)
    assert (answer["next"], answer["departures"], answer["stages"][0]["missing"]) == ("3", [], ["3", "1", "4"])
    assert [row["entry"] for row in answer["withdrawn"]] == [wrong["id"]]


def test_a_value_that_was_mistyped_is_corrected(client, phone, job):
    run = Tightening(phone, job, describe_sheet(client))
    [typed] = run.tap("snug", "2", given="typed", value="200")
    record.correct(phone, typed, {"value": "20.0"})
    run.send()
    [answer] = runs(client, job)
    assert answer["departures"] == [] and answer["stages"][0]["done"][0]["value"] == "20.0"


def test_stretch_bolts_used_again_need_the_reason_of_a_manager(client, office, phone, job):
    sheet = describe_sheet(client, bolt="stretch", uses_most=1)
    run = Tightening(phone, job, sheet, bolts="used", use=1)
    manager, phone.author = phone.author, a_person(client, "Tomas")
    run.answer("//stretch_reused/1", "They looked fine.")
    run.send()
    [departure] = runs(client, job)[0]["departures"]
    assert (departure["needs"], departure["answered"]) == ("manager", None)
    assert "tightened once before; they may be tightened once in all" in departure["words"]
    phone.author = manager
    run.answer("//stretch_reused/1", "Trial assembly only, new bolts ordered.")
    run.send()
    assert runs(client, job)[0]["departures"][0]["answered"]["by"] == manager


def test_the_second_person_is_another_person(client, phone, job):
    run = Tightening(phone, job, describe_sheet(client, stages=[a_stage()], two_people=True))
    run.tap("snug")
    run.say("tightening_witnessed", remark="")
    run.send()
    assert runs(client, job)[0]["missing"] == [
        "It was witnessed by somebody who tightened; a second person must witness it."
    ]
    phone.author = a_person(client, "Tomas")
    run.say("tightening_witnessed", remark="")
    run.send()
    [answer] = runs(client, job)
    assert answer["missing"] == [] and [person["name"] for person in answer["people"]] == ["Ida", "Tomas"]


def test_a_run_waits_for_what_its_sheet_asks_first(client, phone, job):
    holds = [
        {"sort": "measured", "procedure": "cylinder_bore", "figure": "ovality", "where": ["bore/3"]},
        {"sort": "ticked", "stage": "build", "item": "which_way"},
    ]
    run = Tightening(phone, job, describe_sheet(client, stages=[a_stage()], holds=holds))
    run.tap("snug")
    run.send()
    assert runs(client, job)[0]["missing"] == [
        "Cylinder bore, ovality: not measured yet.",
        "Checklist for build: “Rods and pistons the right way round, with pictures” is not ticked.",
    ]
    measured.read_bore(phone, job, "bore/3")
    record.tick(phone, job, "build", "which_way")
    run.send()
    assert runs(client, job)[0]["missing"] == ["Cylinder bore, ovality: no limit is set at bore 3."]
    limit = measured.set_limit(client, high="0.010")
    # Without a gauge of the register nobody knows how sure a reading is.
    assert runs(client, job)[0]["missing"] == ["Cylinder bore, ovality: not proven to be within its limits at bore 3."]
    measured.set_rules(client, rule="simple")
    assert runs(client, job)[0]["missing"] == ["Cylinder bore, ovality: outside its limits at bore 3."]
    measured.set_limit(client, id=limit["id"], high="0.200")
    [answer] = runs(client, job)
    assert (answer["missing"], answer["may_close"]) == ([], True)


def test_a_run_says_what_its_torque_may_come_to_in_the_bolt_and_that_this_is_no_limit(client, phone, job):
    run = Tightening(phone, job, describe_sheet(client))
    run.send()
    preload = runs(client, job)[0]["preload"]
    assert preload["thread"].startswith("M10") and preload["unknown"] == ""
    # F = T / (K·d), Shigley, Mechanical Engineering Design, 9th edition, equation 8-27: 20 / (0.20 · 0.010) = 10 kN.
    assert [stage["short"] and stage["short"]["usual"] for stage in preload["stages"]] == ["10.0 kN", None]
    assert any("not a limit" in caution for caution in preload["cautions"])


def test_a_run_is_told_by_the_sheet_that_it_was_begun_by(client, phone, job):
    sheet = describe_sheet(client)
    run = Tightening(phone, job, sheet)
    run.tap("snug")
    run.send()
    describe_sheet(client, stages=[a_stage(target="45"), a_turn()])
    [answer] = runs(client, job)
    assert (answer["stages"][0]["target"], answer["sheet_newest"], answer["sheet_entry"]) == (
        "20",
        False,
        sheet["entry"],
    )


def test_a_wrench_past_its_date_is_said_by_what_was_known_when_it_was_used(client, phone, job):
    describe_tool(client, due="2020-01-01", calibrated="2019-01-01")
    run = Tightening(phone, job, describe_sheet(client))
    run.tap("snug", "23", tool_id=TOOL_ID, tool="Wrench W1")
    run.send()
    [departure] = runs(client, job)[0]["departures"]
    assert departure["key"] == "snug//overdue_tool/1"
    assert departure["words"] == "Snug: the calibration of Wrench W1 was due on 2020-01-01."


def test_a_wrench_past_its_cycles_is_said_by_how_many_it_had_done_by_then(client, phone, job):
    describe_tool(client, cycles_most=3)
    run = Tightening(phone, job, describe_sheet(client))
    [_, wrong, *_] = run.tap("snug", "231", tool_id=TOOL_ID, tool="Wrench W1")
    run.send()
    assert runs(client, job)[0]["departures"] == []
    run.tap("snug", "4", tool_id=TOOL_ID, tool="Wrench W1")
    run.send()
    [departure] = runs(client, job)[0]["departures"]
    assert departure["key"] == "snug//overdue_count/1"
    assert "had done 4 cycles since its calibration; recalibration is due after 3" in departure["words"]
    record.withdraw(phone, wrong, "tapped by mistake")
    run.send()
    assert "overdue_count" not in {departure["sort"] for departure in runs(client, job)[0]["departures"]}


def test_nothing_of_a_run_is_refused_because_its_beginning_is_still_on_another_phone(client, office, phone, job):
    run = Tightening(phone, job, describe_sheet(client))
    record.send(phone)
    other = office.phone("Phone in bay 3")
    there = Tightening(other, job, run.sheet)
    other.outbox.clear()
    other.sequence, other.previous = 0, "0" * 64
    there.tap("snug", "23")
    there.answer("snug/2/skipped/1")
    there.send()
    answer = runs(client, job)
    assert [run_row["run"] for run_row in answer] == [run.run, there.run]
    assert (answer[1]["sheet"], answer[1]["begun"], answer[1]["joint"]) == (None, None, "head_bolt/A")
    assert [stray["label"] for stray in answer[1]["strays"]] == ["2", "3"]
    assert answer[1]["missing"][0].startswith("The start of the run is missing")


def test_a_fastener_outside_any_run_belongs_to_none(client, phone, job):
    describe_sheet(client)
    old = {"fastener": "1", "value": "60", "unit": "N·m", "method": "torque", "tool": "", "state": "", "remark": ""}
    record.keep(phone, phone.entry("fastener_tightened", job, location=record.at("head_bolt/A/1"), body=old, version=1))
    new = old | {"run": "", "stage": "", "given": "typed", "tool_id": "", "set_value": "", "basis": [], **TYPED}
    record.keep(phone, phone.entry("fastener_tightened", job, location=record.at("head_bolt/A/1"), body=new))
    record.send(phone)
    assert runs(client, job) == []


def test_runs_are_the_same_after_the_projections_are_made_again(client, office, phone, job):
    run = Tightening(phone, job, describe_sheet(client))
    run.tap("snug", "231")
    run.send()
    before = runs(client, job)
    with writing(office.engine) as conn:
        projections.rebuild(conn)
    assert runs(client, job) == before


def test_a_job_nobody_knows_has_no_runs(client):
    assert client.get(f"/api/jobs/{SHEET_ID}/tightening").status_code == 404


def test_a_manager_who_became_technician_answers_for_no_manager_any_more(client, office, phone, job):
    run = Tightening(phone, job, describe_sheet(client, bolt="stretch", uses_most=1), bolts="unknown")
    phone.author = a_person(client, "Tomas", "manager")
    run.answer("//stretch_reused/1", "Length measured.")
    run.send()
    assert runs(client, job)[0]["departures"][0]["answered"]["by"] == phone.author
    with writing(office.engine) as conn:
        persons.change(conn, office.workshop.id, phone.author, role="technician")
    assert runs(client, job)[0]["departures"][0]["answered"] is None
