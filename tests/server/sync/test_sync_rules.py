"""What an entry must fit besides its own shape: the engine of its job, and the entry it speaks of."""

from __future__ import annotations

import json

import pytest

from tests.support.record import a_v6
from witnessmark.db import writing
from witnessmark.proof.canonical import sha256_hex
from witnessmark.sync import desk
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.tables import table


def at(place):
    return {"place": place, "point": ""}


def pushed(phone):
    _, answer = phone.push()
    return [(result["result"], result["code"]) for result in answer["results"]]


@pytest.fixture
def six(office):
    """A V6 that the office has described; returns its id."""
    engine_type = a_v6()
    with writing(office.engine) as conn:
        desk.write(conn, office.settings, office.manager.id, "engine_type_described", body={"engine_type": engine_type})
    return engine_type["id"]


def test_a_place_the_engine_does_not_have_is_refused_by_name(phone, six):
    job = phone.open_job(engine_type=six)
    phone.note(job, location=at("bore/4"))
    phone.note(job, location=at("bore/9"))
    _, answer = phone.push()
    assert [(result["result"], result["code"]) for result in answer["results"]] == [
        ("stored", ""),
        ("stored", ""),
        ("refused", "unknown_place"),
    ]
    assert "'bore/9'" in answer["results"][2]["message"]


def test_a_place_is_checked_against_the_engine_as_the_job_was_amended(phone, six):
    job = phone.open_job()
    phone.note(job, location=at("bore/9"))  # nobody has described that engine: any place may be right
    phone.keep(phone.entry("job_amended", job, body={"changes": {"engine_type": six}, "reason": "plate read"}))
    phone.note(job, location=at("bore/9"))
    assert pushed(phone) == [("stored", ""), ("stored", ""), ("stored", ""), ("refused", "unknown_place")]


def test_a_phone_that_was_away_may_use_places_of_an_older_description(office, phone, six):
    types = table("invented_engine_types")["engine_types"]
    smaller = next(engine_type for engine_type in types if engine_type["cylinders"] == 4) | {"id": six}
    with writing(office.engine) as conn:
        desk.write(conn, office.settings, office.manager.id, "engine_type_described", body={"engine_type": smaller})
    job = phone.open_job(engine_type=six)
    phone.note(job, location=at("bore/6"))
    assert pushed(phone) == [("stored", ""), ("stored", "")]


def a_four(office):
    """A four that the office has described; returns its id."""
    types = table("invented_engine_types")["engine_types"]
    engine_type = next(engine_type for engine_type in types if engine_type["cylinders"] == 4)
    with writing(office.engine) as conn:
        desk.write(conn, office.settings, office.manager.id, "engine_type_described", body={"engine_type": engine_type})
    return engine_type["id"]


def test_a_phone_that_was_away_when_the_engine_was_set_right_loses_none_of_its_records(office, phone, six):
    """Recorded by the six the job was opened with; meanwhile the office read the plate, and it is a four."""
    four = a_four(office)
    job = phone.open_job(engine_type=six)
    assert pushed(phone) == [("stored", "")]
    with writing(office.engine) as conn:
        body = {"changes": {"engine_type": four}, "reason": "plate read"}
        desk.write(conn, office.settings, office.manager.id, "job_amended", job=job, body=body)
    phone.note(job, location=at("bore/6"))
    phone.note(job, location=at("bore/9"))
    assert pushed(phone) == [("stored", ""), ("refused", "unknown_place")]


def test_an_engine_corrected_without_signal_counts_for_what_follows_in_the_same_batch(office, phone, six):
    four = a_four(office)
    job = phone.open_job(engine_type=four)
    correction(phone, job, phone.outbox[-1], changes={"engine_type": six})
    phone.note(job, location=at("bore/6"))
    assert pushed(phone) == [("stored", "")] * 3


def correction(phone, job, target, **changes):
    body = {
        "entry": json.loads(target["bytes"])["id"],
        "entry_hash": sha256_hex(target["bytes"].encode()),
        "reason": "misread",
        "changes": {"text": "Crankpin 3, not 2."},
        "location": None,
    }
    return phone.keep(phone.entry("entry_corrected", job, body=body | changes))


def test_a_correction_may_travel_in_one_batch_with_what_it_corrects(phone):
    job = phone.open_job()
    correction(phone, job, phone.note(job))
    assert pushed(phone) == [("stored", "")] * 3


WRONG = {
    "an entry that is not in the record": ({"entry": "0198b6a0-0000-7000-8000-000000000000"}, "unknown_entry"),
    "an entry that reads differently here": ({"entry_hash": "ab" * 32}, "other_entry"),
    "a field the entry does not have": ({"changes": {"mood": "poor"}}, "unknown_field"),
    "a value the field cannot take": ({"changes": {"text": 7}}, "bad_value"),
    "a place the engine does not have": ({"location": at("bore/9")}, "unknown_place"),
}


@pytest.mark.parametrize("case", WRONG)
def test_a_correction_is_refused_for(phone, six, case):
    changes, code = WRONG[case]
    job = phone.open_job(engine_type=six)
    correction(phone, job, phone.note(job), **changes)
    assert pushed(phone) == [("stored", ""), ("stored", ""), ("refused", code)]


def test_a_correction_stays_within_its_job(phone):
    job, other = phone.open_job("24-118"), phone.open_job("24-119")
    correction(phone, other, phone.note(job))
    assert pushed(phone)[-1] == ("refused", "unknown_entry")


def test_a_correction_is_not_corrected_but_written_anew(phone):
    job = phone.open_job()
    first = correction(phone, job, phone.note(job))
    correction(phone, job, first, changes={"reason": "typing error"})
    assert pushed(phone)[-1] == ("refused", "not_correctable")


def test_a_withdrawal_names_what_it_withdraws(phone):
    job = phone.open_job()
    target = phone.note(job)
    body = {"entry": json.loads(target["bytes"])["id"], "entry_hash": "ab" * 32, "reason": "wrong engine"}
    phone.keep(phone.entry("entry_withdrawn", job, body=body))
    phone.keep(phone.entry("entry_withdrawn", job, body=body | {"entry_hash": sha256_hex(target["bytes"].encode())}))
    assert pushed(phone)[2:] == [("refused", "other_entry"), ("stored", "")]


def test_the_desk_keeps_to_the_same_rules(office, phone, six):
    job = phone.open_job(engine_type=six)
    phone.push()
    with pytest.raises(Refusal, match="bore/9"), writing(office.engine) as conn:
        body = {"text": "cracked"}
        desk.write(conn, office.settings, office.manager.id, "note_made", job=job, location=at("bore/9"), body=body)


def test_an_engine_type_that_cannot_be_drawn_is_not_described(office):
    faulty = a_v6() | {"cylinders": 5}
    with pytest.raises(Refusal, match="ylinder"), writing(office.engine) as conn:
        desk.write(conn, office.settings, office.manager.id, "engine_type_described", body={"engine_type": faulty})
