"""An error is always the same JSON, says what to do next, and never costs a phone its records."""

from __future__ import annotations

import pytest

from witnessmark.db import make_engine, writing
from witnessmark.web.errors import first_fault


def test_a_busy_database_asks_for_patience(office, phone):
    """Another process holds the write lock for longer than anybody wants to wait."""
    job = phone.open_job()
    assert phone.push()[0] == 200
    with office.engine.connect() as conn:
        conn.connection.driver_connection.execute("PRAGMA busy_timeout = 20")
    phone.note(job)
    other = make_engine(office.settings.database)
    with writing(other):
        status, told, headers = phone._speak(
            "POST", "/api/sync/push", phone.ask_push(phone.outbox), {"Authorization": f"Bearer {phone.token}"}
        )
    other.dispose()
    assert (status, told["code"]) == (503, "busy")
    assert int(headers["Retry-After"]) > 0
    assert len(phone.outbox) == 1
    assert phone.push()[0] == 200 and phone.outbox == []


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
    status, told, headers = office.speak("GET", "/api/broken", None, {})
    assert (status, told["code"]) == (500, "error")
    assert "Witnessmark-Server" in headers
