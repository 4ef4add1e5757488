"""How readings and statements lie in the log and its views: found by words, asked for in few questions, made again."""

from __future__ import annotations

import pytest
from sqlalchemy import event

from tests.support import measured as measuring
from tests.support import record
from tests.support.measured import figures_of
from witnessmark.db import reading, writing
from witnessmark.projections import apply as projections
from witnessmark.projections import figures
from witnessmark.projections import measuring as statements
from witnessmark.projections import readings as filed

WITH = {"gauge": "Bore gauge 4", "gauge_id": measuring.GAUGE_ID}


@pytest.fixture
def v6(client) -> str:
    return record.describe(client)


@pytest.fixture
def job(client, phone, v6) -> str:
    measuring.describe_gauge(client)
    measuring.set_limit(client)
    job = phone.open_job("24-118", engine_type=v6)
    measuring.read_bore(phone, job, "bore/3", state="machined", **WITH)
    record.send(phone)
    return job


def titles(client, words: str) -> list[str]:
    answer = client.get("/api/search", query_string={"q": words}).get_json()
    return [item["title"] for item in answer["items"]]


def test_a_reading_says_what_it_is_in_the_timeline(client, job):
    items = client.get(f"/api/jobs/{job}/timeline").get_json()["items"]
    assert items[1]["title"] == "Bore 3, top, thrust: diameter 89.062 mm"
    assert items[1]["text"] == "Cylinder bore, after machining. Gauge: Bore gauge 4."


@pytest.mark.parametrize("words", ["cylinder bore", "diameter", "bore gauge 4", "after machining", "89.062"])
def test_a_reading_is_found_by_its_procedure_its_quantity_its_gauge_and_its_state(client, job, words):
    assert "Bore 3, top, thrust: diameter 89.062 mm" in titles(client, words)


def test_a_reading_is_found_by_the_name_that_the_workshops_own_procedure_had(client, office, phone, job):
    measuring.describe_procedure(client)
    measuring.read(phone, job, "bore/2", "top", "92.01", procedure="own_liner_seat")
    record.send(phone)
    measuring.describe_procedure(client, edition=2, name="Recess of a liner")
    for _ in range(2):
        assert titles(client, "seat of a liner") == ["Bore 2, top: diameter 92.01 mm"]
        assert titles(client, "recess of a liner") == []
        with writing(office.engine) as conn:
            projections.rebuild(conn)


def test_a_replay_gives_the_same_sheets(client, office, phone, job):
    again = measuring.read(phone, job, "bore/3", "top/thrust", "89.163", **WITH)
    record.correct(phone, again, {"value": "89.063"})
    slip = measuring.read(phone, job, "bore/4", "top/thrust", "98.1", **WITH)
    record.withdraw(phone, record.withdraw(phone, slip), "It was right")
    record.send(phone)
    measuring.set_limit(client, high="0.020")
    before = figures_of(client, job)
    with writing(office.engine) as conn:
        projections.rebuild(conn)
    assert figures_of(client, job) == before
    assert office.restart().app is not None


def test_readings_stand_as_the_phone_folds_them(office, phone, job):
    slip = measuring.read(phone, job, "bore/4", "top/thrust", "98.1", **WITH)
    correction = record.correct(phone, slip, {"value": "89.1"})
    record.withdraw(phone, correction)
    record.withdraw(phone, record.withdraw(phone, slip))
    record.send(phone)
    with reading(office.engine) as conn:
        last = filed.of_job(conn, office.workshop.id, job)[-1]
    assert (last["id"], last["body"]["value"]) == (slip["id"], "98.1")


def test_the_desk_writes_readings_in_the_latest_shape(client, job):
    payload = {
        "job": job,
        "kind": "measured",
        "location": record.at("bore/1"),
        "body": measuring.a_reading(value="3 1/2"),
    }
    answer = client.post("/api/desk/entries", json=payload)
    assert answer.status_code == 201, answer.get_json()
    wrong = client.post("/api/desk/entries", json=payload | {"body": measuring.a_reading(value="much")})
    assert (wrong.status_code, wrong.get_json()["where"]) == (422, "body.value")


def test_figures_of_a_long_job_are_asked_for_in_as_many_questions_as_those_of_a_short_one(client, office, phone, job):
    """5,000 records in the job, many of them readings, corrections and withdrawals."""

    def questions() -> int:
        queries = []
        with reading(office.engine) as conn:
            event.listen(conn, "before_cursor_execute", lambda *args: queries.append(args[2]))
            assert figures.of_job(conn, office.workshop.id, job)["sheets"]
        return len(queries)

    short = questions()
    for number in range(1000):
        phone.note(job, f"Note {number}")
        slip = measuring.read(phone, job, "bore/4", "top/thrust", f"89.{number:03d}", **WITH)
        record.correct(phone, slip, {"value": f"88.{number:03d}"})
        record.withdraw(phone, slip)
        if number % 5 == 0:
            measuring.read_bore(phone, job, f"bore/{number % 6 + 1}", **WITH)
        if number % 100 == 99:
            record.send(phone)
    record.send(phone)
    assert client.get(f"/api/jobs/{job}").get_json()["entries"] > 5000
    assert questions() == short <= 15


def test_the_database_finds_readings_and_statements_by_index(office, job):
    with reading(office.engine) as conn:
        plans = []
        event.listen(
            conn, "before_cursor_execute", lambda c, cursor, statement, given, *_: plans.append((statement, given))
        )
        filed.of_job(conn, office.workshop.id, job)
        statements.statements(conn, office.workshop.id, "gauge_described", measuring.GAUGE_ID)
        statements.known(conn, office.workshop.id)
        queries, plans[:] = list(plans), []
        assert len(queries) >= 3, "what the database was asked was not listened to"
        for statement, given in queries:
            plan = [line[3] for line in conn.exec_driver_sql(f"EXPLAIN QUERY PLAN {statement}", given)]
            assert not [step for step in plan if step.startswith("SCAN")], plan
