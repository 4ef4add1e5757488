"""Words find what they mean in this trade, in all jobs and in one, and an engine that came back is recognised."""

from __future__ import annotations

import pytest
from sqlalchemy import event

from tests.support import record


@pytest.fixture
def job(client, phone) -> str:
    opened = phone.open_job("24-118", engine_type=record.describe(client))
    record.send(phone)
    return opened


def search(client, words: str, **filters) -> dict:
    answer = client.get("/api/search", query_string={"q": words, **filters})
    assert answer.status_code == 200, answer.get_json()
    return answer.get_json()


def ids_of(client, words: str, **filters) -> set[str]:
    return {item["id"] for item in search(client, words, **filters)["items"]}


def test_wrist_pin_finds_the_gudgeon_pin_and_says_what_else_was_looked_for(client, phone, job):
    pin = record.finding(phone, job, "gudgeon_pin/3", "Gudgeon pin blued and tight in the bush")
    record.finding(phone, job, "bore/3", "Scored")
    record.send(phone)
    answer = search(client, "wrist pin")
    assert [item["id"] for item in answer["items"]] == [pin["id"]]
    assert "gudgeon pin" in answer["also"]
    assert answer["items"][0]["job"] == {"id": job, "number": "24-118", "vehicle": "Harbour launch Marrow"}


def test_the_place_of_a_record_is_found_by_its_name_though_nobody_typed_it(client, phone, job):
    photo = record.photograph(phone, job, "gudgeon_pin/3")
    record.send(phone)
    assert photo["id"] in ids_of(client, "piston pin 3")


def test_every_word_has_to_be_there_and_the_last_may_be_unfinished(client, phone, job):
    both = record.finding(phone, job, "bore/3", "Scored by a broken ring")
    record.finding(phone, job, "bore/4", "Scored by grit")
    record.send(phone)
    assert ids_of(client, "scored broken") == {both["id"]}
    assert ids_of(client, "scored bro") == {both["id"]}
    assert ids_of(client, "bro scored") == set()


def test_a_value_is_found_as_it_was_typed_and_as_it_was_corrected(client, phone, job):
    misread = record.measure(phone, job, "bore/3", "88.94")
    record.correct(phone, misread, {"value": "89.04", "remark": "Ring land hidden by carbon"})
    record.send(phone)
    assert misread["id"] in ids_of(client, "88.94")
    assert misread["id"] in ids_of(client, "89.04")
    assert misread["id"] in ids_of(client, "carbon")
    item = next(item for item in search(client, "89.04")["items"] if item["id"] == misread["id"])
    assert item["body"]["value"] == "88.94"
    assert item["corrected_by"][0]["changes"]["value"] == "89.04"


def test_what_was_withdrawn_is_still_found_and_told_as_withdrawn(client, phone, job):
    wrong = record.finding(phone, job, "bore/3", "Porous casting")
    record.withdraw(phone, wrong)
    record.send(phone)
    item = next(item for item in search(client, "porous")["items"] if item["id"] == wrong["id"])
    assert item["withdrawn"]["reason"] == "Wrong engine"


@pytest.mark.parametrize("words", ["Kühlwasser", "kuhlwasser", "KUHLWASSER"])
def test_accents_and_capitals_make_no_difference(client, phone, job, words):
    note = record.keep(phone, phone.entry("note_made", job, body={"text": "Kühlwasser milky"}))
    record.send(phone)
    assert ids_of(client, words) == {note["id"]}


@pytest.mark.parametrize("words", ['"', "'", "bore AND", "(bore", "bore*", "words : bore", "NEAR(", "-bore", "\0", ";"])
def test_signs_that_mean_something_to_the_index_mean_nothing_in_the_search_box(client, phone, job, words):
    record.measure(phone, job, "bore/3", "88.94")
    record.send(phone)
    assert client.get("/api/search", query_string={"q": words}).status_code == 200
    assert client.get("/api/jobs", query_string={"q": words}).status_code == 200
    assert client.get(f"/api/jobs/{job}/timeline", query_string={"q": words}).status_code == 200


def test_an_empty_search_without_filters_finds_nothing(client, job):
    assert search(client, " ")["items"] == []


def test_a_word_that_is_a_tag_of_the_index_finds_nothing(client, phone, job):
    record.measure(phone, job, "bore/3", "88.94")
    record.send(phone)
    assert ids_of(client, "kmeasured") == set()


def test_search_in_all_jobs_shows_the_newest_first_and_pages_without_gaps(client, phone, job):
    other = phone.open_job("24-119")
    made = [record.finding(phone, (job, other)[n % 2], "bore/1", f"Scored {n}")["id"] for n in range(11)]
    record.send(phone)
    seen, before = [], None
    while True:
        page = search(client, "scored", limit=4, **({"before": before} if before else {}))
        seen += [item["id"] for item in page["items"]]
        made_later = record.finding(phone, job, "bore/2", "Scored later")["id"]
        record.send(phone)
        before = page["next"]
        if before is None:
            break
    assert seen == made[::-1]
    newer = search(client, "scored", limit=50, after=page["items"][0]["position"])
    assert newer["items"][0]["id"] == made_later


def test_a_search_in_one_job_stays_in_that_job(client, phone, job):
    other = phone.open_job("24-119", engine_type=record.ENGINE_TYPE_ID)
    here = record.finding(phone, job, "bore/1", "Scored")
    record.finding(phone, other, "bore/1", "Scored")
    record.send(phone)
    answer = client.get(f"/api/jobs/{job}/timeline", query_string={"q": "scored"}).get_json()
    assert [item["id"] for item in answer["items"]] == [here["id"]]


def test_two_visits_of_one_engine_are_recognised_however_its_number_was_written(client, phone):
    engine_type = record.describe(client)
    first = phone.open_job("24-001", engine_type=engine_type, engine_number="HV 29-0012", distance="61200")
    phone.open_job("24-050", engine_type=engine_type, engine_number="HV 29-0013")
    phone.open_job("24-051", engine_type=engine_type, engine_number="")
    phone.open_job("24-052", engine_type=engine_type, engine_number="")
    second = phone.open_job("24-118", engine_type=engine_type, engine_number="hv29/0012", distance="88400")
    record.send(phone)
    jobs = {job["number"]: job for job in client.get("/api/jobs").get_json()["jobs"]}
    assert {number: job["earlier_visits"] for number, job in jobs.items()} == {
        "24-118": 1, "24-052": 0, "24-051": 0, "24-050": 0, "24-001": 0,
    }  # fmt: skip
    facts = client.get(f"/api/jobs/{second}").get_json()
    assert [(visit["job"], visit["number"], visit["distance"]) for visit in facts["visits"]] == [
        (first, "24-001", "61200")
    ]
    assert client.get(f"/api/jobs/{first}").get_json()["visits"][0]["job"] == second


def test_the_list_of_jobs_is_found_by_words_and_by_stage_the_last_opened_first(client, phone):
    engine_type = record.describe(client)
    launch = phone.open_job("24-001", engine_type=engine_type, complaint="Blocked strainer")
    van = phone.open_job("24-002", engine_type=engine_type, vehicle="Delivery van", registration="KR 2207")
    record.reach(phone, van, "strip")
    record.send(phone)

    def listed(**filters) -> list[str]:
        return [job["id"] for job in client.get("/api/jobs", query_string=filters).get_json()["jobs"]]

    assert listed() == [van, launch]
    assert listed(q="strainer") == [launch]
    assert listed(q="deliv") == [van]
    assert listed(q="24-002") == [van]
    assert set(listed(q="Halvern")) == {launch, van}
    assert listed(stage="strip") == [van]
    assert listed(stage="strip", q="strainer") == []


def test_pages_of_jobs_skip_none_while_jobs_are_worked_on(client, phone):
    opened = [phone.open_job(f"24-{number:03}") for number in range(9)]
    record.send(phone)
    seen, before = [], None
    while True:
        page = client.get("/api/jobs", query_string={"limit": 4, **({"before": before} if before else {})}).get_json()
        seen += [job["id"] for job in page["jobs"]]
        phone.note(opened[0])
        phone.open_job("25-001")
        record.send(phone)
        before = page["next"]
        if before is None:
            break
    assert seen == opened[::-1]


def test_one_job_tells_its_people_phones_places_checklist_and_stages(client, office, phone, job):
    record.measure(phone, job, "bore/3", "88.94", stage="strip")
    record.measure(phone, job, "bore/3", "88.95", stage="strip")
    record.tick(phone, job, "strip", "timing_marks")
    record.tick(phone, job, "strip", "gasket_faces")
    record.tick(phone, job, "strip", "gasket_faces", ticked=False)
    record.send(phone)
    facts = client.get(f"/api/jobs/{job}").get_json()
    assert facts["tallies"] == {"bore/3": 2}
    assert facts["kinds"] == {"job_opened": 1, "measured": 2, "checklist_ticked": 3}
    assert facts["people"] == [{"id": office.manager.id, "name": office.manager.name, "entries": 6}]
    assert [device["name"] for device in facts["devices"]] == ["A, Phone in bay 2"]
    ticked = {(tick["stage"], tick["item"]): tick for tick in facts["checklist"] if tick["when"]}
    assert ticked["strip", "timing_marks"]["ticked"] and ticked["strip", "timing_marks"]["by"] == office.manager.name
    assert not ticked["strip", "gasket_faces"]["ticked"]
    assert [stage["code"] for stage in facts["stages"] if stage["entries"]] == ["strip"]
    assert facts["engine_type_data"]["cylinders"] == 6


def test_the_number_of_questions_to_the_database_does_not_grow_with_the_jobs(client, office, phone):
    def asked_for() -> int:
        statements = []

        def note(_conn, _cursor, statement, *_):
            statements.append(statement)

        event.listen(office.engine, "before_cursor_execute", note)
        assert client.get("/api/jobs?limit=100").status_code == 200
        event.remove(office.engine, "before_cursor_execute", note)
        return len(statements)

    phone.open_job("24-001", engine_type=record.describe(client))
    record.send(phone)
    few = asked_for()
    for number in range(40):
        record.photograph(phone, phone.open_job(f"25-{number:03}", engine_type=record.ENGINE_TYPE_ID), "bore/1")
    record.send(phone)
    assert asked_for() == few
