"""An error is always the same JSON, says what to do next, and never costs a phone its records."""

from __future__ import annotations

import sqlite3

import pytest
from sqlalchemy.exc import OperationalError

from witnessmark.db import make_engine, reading, writing
from witnessmark.web.errors import database_failed, first_fault

OPENED = {
    "number": "24-119", "vehicle": "Harbour launch Marrow", "registration": "", "engine_number": "", "distance": "",
    "engine_type": "00000000-0000-4000-8000-000000000007", "distance_unit": "", "complaint": "", "received_as": "",
    "earlier_job": "",
}  # fmt: skip


def test_a_busy_database_asks_for_patience(office, phone):
    """Another process holds the write lock for longer than anybody wants to wait."""
    job = phone.open_job()
    assert phone.push()[0] == 200
    with office.engine.connect() as conn:
        conn.connection.driver_connection.execute("PRAGMA busy_timeout = 20")
    phone.note(job)
    other = make_engine(office.settings.database)
    with writing(other):
        status, answer, headers = phone._speak(
            "POST", "/api/sync/push", phone.ask_push(phone.outbox), {"Authorization": f"Bearer {phone.token}"}
        )
    other.dispose()
    assert (status, answer["code"]) == (503, "busy")
    assert int(headers["Retry-After"]) > 0
    assert len(phone.outbox) == 1
    assert phone.push()[0] == 200 and phone.outbox == []


def test_what_was_to_be_written_never_gets_into_the_servers_log(office, client, caplog):
    """An owner's name can be erased from the database, but not from a log somebody copied."""
    with reading(office.engine) as conn:
        conn.exec_driver_sql("DROP TABLE owners")
        conn.exec_driver_sql("DROP TABLE invitations")
    job = client.post("/api/desk/entries", json={"job": None, "kind": "job_opened", "body": OPENED}).get_json()["job"]
    answer = client.post(f"/api/jobs/{job['id']}/owner", json={"name": "Marten Quist"})
    assert (answer.status_code, answer.get_json()["code"]) == (500, "database")
    assert client.post("/api/phones/invite").status_code == 500
    assert "no such table" in caplog.text
    assert "Marten Quist" not in caplog.text and office.manager.id not in caplog.text


@pytest.mark.parametrize("exactly", [sqlite3.SQLITE_BUSY_RECOVERY, sqlite3.SQLITE_BUSY_SNAPSHOT])
def test_busy_is_busy_however_exactly_the_database_says_why(office, exactly):
    """After a crash the first reader reads the write-ahead log again; the others wait."""
    error = sqlite3.OperationalError("database is locked")
    error.sqlite_errorcode = exactly
    with office.app.app_context():
        answer = database_failed(OperationalError("SELECT 1", {}, error))
    assert (answer.status_code, answer.get_json()["code"]) == (503, "busy")


@pytest.mark.parametrize(
    ("faults", "where", "message"),
    [
        ({"json": {"lost": {"0": {"sequence": ["Not a valid integer."]}}}}, "lost.0.sequence", "Not a valid integer."),
        ({"query": {"upto": ["Missing data."]}}, "upto", "Missing data."),
        ({"json": ["Invalid input type."]}, "", "Invalid input type."),
        ({"json": {"query": ["Unknown field."]}}, "query", "Unknown field."),
    ],
)
def test_the_field_that_is_wrong_is_named(faults, where, message):
    assert first_fault(faults) == (where, message)


def test_what_nobody_foresaw_is_still_answered_in_json(office):
    @office.app.get("/api/broken")
    def broken():
        raise ZeroDivisionError

    office.app.config["PROPAGATE_EXCEPTIONS"] = False
    status, answer, headers = office.speak("GET", "/api/broken", None, {})
    assert (status, answer["code"]) == (500, "error")
    assert "Witnessmark-Server" in headers
