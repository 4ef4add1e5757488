"""Sounds that went an odd way: withdrawn, heard by one alone, spoken to a screen of the workshop's own."""

from __future__ import annotations

import pytest

from tests.support import measured, record
from tests.support.spoken import a_result, hears, speak, spoken_in
from witnessmark.db import reading, writing
from witnessmark.projections import apply as projections
from witnessmark.projections import spoken_notes

OTHER = "bore 3 89.08 mm"


@pytest.fixture
def job(client, phone) -> str:
    opened = phone.open_job("24-118", engine_type=record.describe(client))
    record.send(phone)
    return opened


@pytest.fixture
def sound(phone, job) -> dict:
    """A sound from which a measurement was accepted: 89.03 mm at bore 3."""
    spoken = speak(phone, job, "bore/3")
    record.measure(phone, job, "bore/3", "89.03", quantity="diameter", spoken=spoken_in(spoken))
    record.send(phone)
    return spoken


def whole(client, id: str) -> dict:
    return client.get(f"/api/entries/{id}").get_json()


def known(client, sound: dict) -> dict:
    """What the office shows of a sound."""
    return whole(client, sound["id"])["spoken"]


def left(office) -> list[str]:
    """Sounds that recognisers have still to listen to."""
    with reading(office.engine) as conn:
        return [id for _, id, _ in spoken_notes.without_transcript(conn)]


def test_nobody_listens_by_himself_to_a_sound_that_is_not_to_count(office, client, phone, sound):
    assert left(office) == [sound["id"]]
    gone = record.withdraw(phone, sound)
    record.send(phone)
    assert left(office) == []
    answer = client.get("/api/spoken/tally").get_json()
    assert (answer["coming"], answer["waiting"]) == (0, 0), "and nothing seems to be under way"
    record.withdraw(phone, gone, "It was the right one")
    record.send(phone)
    assert left(office) == [sound["id"]]


def test_a_transcript_that_was_withdrawn_does_not_come_back_by_itself(office, client, sound):
    made = whole(client, hears(office, sound, a_result(text=OTHER)))
    body = {"entry": made["id"], "entry_hash": made["hash"], "reason": "It is somebody else's voice"}
    answer = client.post("/api/desk/entries", json={"job": sound["job"], "kind": "entry_withdrawn", "body": body})
    assert answer.status_code == 201, answer.get_json()
    assert left(office) == [] and known(client, sound)["text"] == ""
    assert hears(office, sound, a_result(text=OTHER)), "it comes when somebody asks for it"


def test_one_recogniser_alone_differs_from_nobody(office, client, sound):
    """A long note is for one that writes freely, and a workshop may have no other."""
    reads = "Bore 3 measures 89.08 millimetres diameter."
    hears(office, sound, a_result("whisper", reads, sort="free"))
    note = known(client, sound)
    assert (note["state"], note["text"]) == ("text", reads)
    assert note["query"]["records"][0]["parts"] == ["value"], "and what was recorded is asked about all the same"
    hears(office, sound, a_result("whisper", reads, sort="free"), a_result(text="bore 3 diameter 89.03 mm"))
    assert known(client, sound)["state"] == "differ"


def test_a_procedure_of_the_workshops_own_says_what_is_measured(office, client, phone, job):
    """A unit that no diameter has was misheard, and asks nothing: as with a procedure that comes with the program."""
    measured.describe_procedure(client)
    payload = {"procedure": "own_liner_seat", "reading": "top"}
    spoken = speak(phone, job, "bore/3", "top", **payload)
    record.measure(phone, job, "bore/3", "89.03", quantity="diameter", spoken=spoken_in(spoken) | payload)
    record.send(phone)
    hears(office, spoken, a_result(text="89.03 bar"))
    before = known(client, spoken)
    assert before["query"] is None and [record["id"] for record in before["records"]]
    with writing(office.engine) as conn:
        projections.rebuild(conn)
    assert known(client, spoken) == before
