"""What a job's readings amount to, as the office shows it and as it is taken away as CSV and JSON."""

from __future__ import annotations

import csv
import io

import pytest
from marshmallow import RAISE

from tests.server.office.test_office import a_technician
from tests.support import measured as measuring
from tests.support import record
from tests.support.measured import figure, figures_of, place_of
from witnessmark.trade.sheets.table import safe
from witnessmark.web import measuring_schemas as schemas

WITH = {"gauge": "Bore gauge 4", "gauge_id": measuring.GAUGE_ID}


@pytest.fixture
def v6(client) -> str:
    return record.describe(client)


@pytest.fixture
def job(client, phone, v6) -> str:
    """A job on the V6, its bore 3 measured with a gauge of the register, a limit set on ovality."""
    gauge = measuring.describe_gauge(client)
    limit = measuring.set_limit(client)
    measuring.set_size(client)
    job = phone.open_job("24-118", engine_type=v6, engine_number="HV-29/0012", distance="182400", distance_unit="km")
    basis = [client.get(f"/api/gauges/{gauge['id']}").get_json()["entry"], _entry_of(client, limit["id"])]
    measuring.read_bore(phone, job, "bore/3", basis=basis, **WITH)
    record.send(phone)
    return job


def _entry_of(client, limit: str) -> str:
    answer = client.get(f"/api/engine-types/{record.ENGINE_TYPE_ID}/limits").get_json()["limits"]
    return next(row["entry"] for row in answer if row["id"] == limit)


def rows_of(client, job: str) -> list[dict]:
    answer = client.get(f"/api/jobs/{job}/figures.csv")
    assert answer.status_code == 200 and answer.data.startswith(b"\xef\xbb\xbf")
    return list(csv.DictReader(io.StringIO(answer.data.decode("utf-8-sig"), newline="")))


def test_a_figure_is_worked_out_and_judged_with_its_uncertainty(client, job):
    ovality = figure(figures_of(client, job), "bore/3", "ovality")
    assert (ovality["value"], ovality["unit"]) == ("0.042", "mm")
    assert ovality["U"] and ovality["budget"]
    [verdict] = ovality["now"]
    assert (verdict["sort"], verdict["high"], verdict["source"]) == (
        "service",
        "0.050",
        "Invented manual, edition 2, page 14",
    )
    assert ovality["then"] is None


def test_a_changed_limit_shows_both_verdicts(client, job):
    measuring.set_limit(client, high="0.020", source="Invented service letter 7")
    ovality = figure(figures_of(client, job), "bore/3", "ovality")
    assert [(judgement["high"], judgement["standing"]) for judgement in ovality["now"]] == [("0.020", "outside")]
    assert [judgement["high"] for judgement in ovality["then"]] == ["0.050"]
    assert ovality["now"][0]["source"] == "Invented service letter 7"


def test_a_gauges_old_due_date_stays_with_the_figures_it_gave(client, phone, v6):
    measuring.describe_gauge(client, calibrated="2019-01-01", due="2020-01-01")
    answer = client.get(f"/api/gauges/{measuring.GAUGE_ID}").get_json()
    job = phone.open_job("24-119", engine_type=v6)
    measuring.read_bore(phone, job, "bore/3", basis=[answer["entry"]], **WITH)
    record.send(phone)
    measuring.describe_gauge(client, calibrated="2026-02-03", due="2099-02-03")
    sheet = figures_of(client, job)["sheets"][0]
    assert [(gauge["due"], gauge["count"]) for gauge in sheet["overdue"]] == [("2020-01-01", 6)]
    assert all(value["overdue"] for taken in sheet["places"][2]["readings"].values() for value in taken["values"])


def test_a_withdrawn_reading_leaves_the_sheet_and_stays_in_the_record(client, phone, job):
    again = measuring.read(phone, job, "bore/3", "top/thrust", "89.162", **WITH)
    record.send(phone)
    assert place_of(figures_of(client, job), "bore/3")["readings"]["top/thrust"]["n"] == 2
    record.withdraw(phone, again, "Digit slipped")
    record.send(phone)
    taken = place_of(figures_of(client, job), "bore/3")["readings"]["top/thrust"]
    assert (taken["n"], taken["mean"]) == (1, "89.062")
    written = client.get(f"/api/entries/{again['id']}").get_json()
    assert written["body"]["value"] == "89.162" and written["withdrawn"]["reason"] == "Digit slipped"


def test_a_corrected_reading_counts_as_corrected_also_with_its_place(client, phone, job):
    slip = measuring.read(phone, job, "bore/5", "top/thrust", "98.041", **WITH)
    record.correct(phone, slip, {"value": "89.041"}, record.at("bore/1", "top, thrust"))
    record.send(phone)
    answer = figures_of(client, job)
    assert place_of(answer, "bore/1")["readings"]["top/thrust"]["mean"] == "89.041"
    assert place_of(answer, "bore/5")["readings"] == {}
    [value] = place_of(answer, "bore/1")["readings"]["top/thrust"]["values"]
    assert value["id"] == slip["id"] and value["exhibit"].isdigit()


def test_a_correction_to_no_number_is_refused_and_blocks_nothing(phone, job):
    slip = measuring.read(phone, job, "bore/5", "top/thrust", "89.041")
    record.correct(phone, slip, {"value": "about 89"})
    phone.note(job, "Bore 5 read again.")
    _, answer = phone.push()
    assert [result["result"] for result in answer["results"]] == ["stored", "refused", "stored"]
    assert answer["results"][1]["code"] == "bad_value"


def test_a_reading_with_an_unreadable_value_goes_to_the_shelf_and_blocks_nothing(client, phone, job):
    measuring.read(phone, job, "bore/4", "top/thrust", "89,04,1")
    measuring.read(phone, job, "bore/4", "top/axial", "89.011")
    _, answer = phone.push()
    assert [result["result"] for result in answer["results"]] == ["refused", "stored"]
    assert "body.value is not a number that can be worked with" in answer["results"][0]["message"]
    assert list(place_of(figures_of(client, job), "bore/4")["readings"]) == ["top/axial"]


def test_readings_of_an_older_phone_stand_among_the_single_ones(client, phone, job):
    body = {"quantity": "diameter", "value": "57.02", "unit": "mm", "gauge": "", "remark": ""}
    record.keep(phone, phone.entry("measured", job, location=record.at("main/2"), body=body, version=1))
    record.send(phone)
    answer = figures_of(client, job)
    assert place_of(answer, "main/2", procedure="")["readings"]["diameter"]["mean"] == "57.02"


def test_a_reading_in_a_unit_or_of_a_thing_nobody_knows_is_shown_and_breaks_nothing(client, phone, job):
    measuring.read(phone, job, "bore/6", "top/thrust", "3", unit="barleycorn")
    measuring.read(phone, job, "bore/6", "middle/sideways", "89.1")
    measuring.read(phone, job, "bore/6", "top/thrust", "4", procedure="own_never_heard_of")
    record.send(phone)
    answer = figures_of(client, job)
    assert place_of(answer, "bore/6")["readings"]["top/thrust"]["values"][0]["value"] == "3"
    assert place_of(answer, "bore/6", procedure="own_never_heard_of")["readings"]
    assert rows_of(client, job)


def test_wear_since_the_engine_was_here_before_per_distance(client, phone, job, v6):
    back = phone.open_job("26-014", engine_type=v6, engine_number="hv 29 0012", distance="232400", distance_unit="km")
    worn = {reading: f"{float(value) + 0.020:.3f}" for reading, value in measuring.BORE.items()}
    measuring.read_bore(phone, back, "bore/3", worn, **WITH)
    record.send(phone)
    answer = figures_of(client, back)
    [visit] = answer["wear"]
    assert (visit["number"], visit["distance"], visit["procedure"], visit["state"]) == (
        "24-118", "182400 km", "cylinder_bore", "as_found",
    )  # fmt: skip
    largest = next(
        change for change in visit["changes"] if (change["place"], change["figure"]) == ("bore/3", "largest")
    )
    # 0.020 mm in 50 000 km
    assert (largest["change"], largest["per"], largest["per_words"]) == ("+0.020", "0.0040", "10 000 km")
    assert answer["distance"] == "232400 km"
    assert figures_of(client, job)["wear"] == []


def test_a_job_that_nobody_measured_has_no_sheets_and_an_unknown_job_is_said(client, phone, v6):
    job = phone.open_job("24-120", engine_type=v6)
    record.send(phone)
    assert figures_of(client, job)["sheets"] == []
    assert len(rows_of(client, job)) == 0
    for ending in ("", ".csv", ".json"):
        answer = client.get(f"/api/jobs/0b4c1a52-5f1e-4c57-9b0a-3a6d2f7e9c99/figures{ending}")
        assert (answer.status_code, answer.get_json()["code"]) == (404, "unknown_job")


def test_csv_has_each_reading_as_typed_and_each_figure_with_both_verdicts(client, phone, job):
    measuring.set_limit(client, high="0.020")
    measuring.read(phone, job, "bore/1", "top/thrust", "89,0410", remark="=HYPERLINK(1)", gauge="@bore")
    record.send(phone)
    rows = rows_of(client, job)
    read = next(row for row in rows if row["row"] == "reading" and row["place"] == "bore/1")
    assert (read["value"], read["unit"], read["code"]) == ("89,0410", "mm", "top/thrust")
    assert (read["remark"], read["gauge"]) == ("'=HYPERLINK(1)", "'@bore")
    ovality = next(row for row in rows if row["code"] == "ovality" and row["place"] == "bore/3")
    assert (ovality["value"], ovality["limit_high"]) == ("0.042", "0.020")
    assert (ovality["verdict_now"], ovality["verdict_then"]) == ("outside", "within")
    assert [row["entry"] for row in rows if row["row"] == "figure"] == [""] * sum(
        row["row"] == "figure" for row in rows
    )


def test_no_cell_can_run_in_a_spreadsheet_and_no_number_is_touched():
    for number in ("-0.02", "+0.020", "\u22120.02", "3 1/2", "-3 1/2", "89,04", "< 0.1", ""):
        assert safe(number) == number
    for formula in ("=1+1", "+1+1", "-1+cmd|' /C calc'!A0", "@SUM(A1)", "\tx", "\r=1", "--1", "\uff1d1+1"):
        assert safe(formula) == f"'{formula}"


def test_json_has_the_job_the_sheets_and_the_readings_they_were_made_of(client, office, job):
    answer = client.get(f"/api/jobs/{job}/figures.json")
    assert 'filename="24-118-figures.json"' in answer.headers["Content-Disposition"]
    data = answer.get_json()
    assert data["format"] == "witnessmark figures 1" and data["workshop"]["name"] == office.workshop.name
    assert (data["job"]["number"], data["engine_type"]["name"]) == ("24-118", "Halvern 2.9 V6")
    assert len(data["readings"]) == 6
    shown = figures_of(client, job)
    assert {name: data[name] for name in shown} == shown


def test_figures_are_described_as_they_are_answered(client, phone, job):
    """The description at /api/openapi.json leaves nothing out of an answer and promises nothing that is not there."""
    measuring.set_limit(client, high="0.020")
    shape = schemas.JobFigures(unknown=RAISE)
    assert shape.validate(figures_of(client, job)) == {}


def test_a_technician_sees_the_figures(client, office, job):
    technician = a_technician(client, office)
    assert figures_of(technician, job)["sheets"]
    assert office.app.test_client().get(f"/api/jobs/{job}/figures").status_code == 401


def test_whatever_a_phone_names_the_figures_are_made_and_nothing_is_lost(client, phone, job):
    """Forty statements nobody made, an edition from nowhere, names every object has, more digits than any gauge."""
    strangers = [f"01900000-0000-7000-8000-{n:012x}" for n in range(40)]
    for value in ("89.000000000000001", "89.000000000000002"):
        measuring.read(phone, job, "bore/2", "top/thrust", value, basis=strangers, edition=1_000_000)
    for name in ("__proto__", "constructor", "=1+1"):
        measuring.read(phone, job, "bore/2", name, "89.1", procedure=name, remark="x" * 1000)
    measuring.read(phone, job, "bore/2", "top/axial", "89.1", remark="x" * 1001)
    measuring.read(phone, job, "bore/2", "top/axial", "89.1", basis=[*strangers, job])
    _, answer = phone.push()
    assert [result["result"] for result in answer["results"]] == ["stored"] * 5 + ["refused"] * 2
    answer = figures_of(client, job)
    assert place_of(answer, "bore/2")["readings"]["top/thrust"]["mean"] == "89.0000000000000015"
    for name in ("__proto__", "constructor", "=1+1"):
        assert place_of(answer, "bore/2", procedure=name)["readings"][name]["mean"] == "89.1"
    rows = rows_of(client, job)
    assert {row["edition"] for row in rows if row["row"] == "reading" and row["code"] == "top/thrust"} >= {"1000000"}
    assert not any(cell.startswith("=") for row in rows for cell in row.values())
    assert client.get(f"/api/jobs/{job}/figures.json").status_code == 200
