"""The record of a job as the office reads it: in order, by place, with what was said about it later."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from sqlalchemy import event

from tests.support import record


@pytest.fixture
def job(client, phone) -> str:
    """A job on an invented V6, opened on a phone."""
    opened = phone.open_job(engine_type=record.describe(client))
    record.send(phone)
    return opened


def read(client, job: str, **filters) -> dict:
    answer = client.get(f"/api/jobs/{job}/timeline", query_string=filters)
    assert answer.status_code == 200, answer.get_json()
    return answer.get_json()


def exhibits(page: dict) -> list[int]:
    return [item["exhibit"] for item in page["items"]]


def ids(page: dict) -> set[str]:
    return {item["id"] for item in page["items"]}


def test_exhibits_are_numbered_in_the_order_of_receipt_across_phones(client, office, phone, job):
    other = office.phone("Phone in bay 4")
    first = record.measure(phone, job, "bore/1", "88.90")
    second = record.measure(other, job, "bore/2", "88.91")
    record.send(other)
    record.send(phone)
    page = read(client, job)
    assert [item["id"] for item in page["items"]][1:] == [second["id"], first["id"]]
    assert exhibits(page) == [1, 2, 3]
    assert page["items"][1]["device"]["name"] == "B, Phone in bay 4"
    assert page["items"][1]["author"]["name"] == office.manager.name


def test_a_record_is_told_in_words_with_its_place(client, phone, job):
    record.finding(phone, job, "bore/3", "Dragged by a broken ring", clock=phone.entry()["clock"])
    record.send(phone)
    item = read(client, job)["items"][-1]
    assert (item["place"], item["place_name"]) == ("bore/3", "bore 3")
    assert "bore 3" in item["title"].lower()
    assert "broken ring" in item["text"]
    assert item["body"]["condition"] == ["scored"]


def test_a_correction_stands_beside_what_it_corrects_and_changes_nothing_in_it(client, office, phone, job):
    misread = record.measure(phone, job, "bore/3", "88.94")
    correction = record.correct(phone, misread, {"value": "89.04"}, record.at("bore/5"), "Read the wrong bore")
    record.send(phone)
    original, beside = read(client, job)["items"][1:]
    assert original["body"]["value"] == "88.94" and original["place"] == "bore/3"
    corrections = original["corrected_by"]
    assert len(corrections) == 1
    assert corrections[0]["changes"] == {"value": "89.04", "location": {"place": "bore/5", "point": ""}}
    assert (corrections[0]["exhibit"], corrections[0]["reason"]) == (3, "Read the wrong bore")
    assert corrections[0]["by"] == {"id": office.manager.id, "name": office.manager.name}
    assert beside["id"] == correction["id"]
    assert beside["corrects"] == {"id": misread["id"], "exhibit": 2}


def test_what_was_withdrawn_stays_in_the_record_and_says_so(client, phone, job):
    wrong = record.finding(phone, job, "bore/3", "Cracked between the bores")
    record.withdraw(phone, wrong, "That was the other block")
    record.send(phone)
    shown = read(client, job)["items"][1]
    assert shown["text"].startswith("Cracked between the bores")
    assert shown["withdrawn"]["reason"] == "That was the other block"
    assert shown["withdrawn"]["exhibit"] == 3


def test_a_withdrawal_that_was_withdrawn_lets_the_record_stand_again(client, phone, job):
    doubted = record.finding(phone, job, "bore/3", "Cracked between the bores")
    withdrawal = record.withdraw(phone, doubted)
    record.withdraw(phone, withdrawal, "It was this block after all")
    record.send(phone)
    shown, taken_back, _ = read(client, job)["items"][1:]
    assert shown["withdrawn"] is None
    assert taken_back["withdrawn"]["reason"] == "It was this block after all"


def test_a_correction_that_was_withdrawn_is_still_told_and_marked_so(client, phone, job):
    misread = record.measure(phone, job, "bore/3", "88.94")
    correction = record.correct(phone, misread, {"value": "89.04"})
    record.withdraw(phone, correction)
    record.send(phone)
    answer = read(client, job)["items"][1]["corrected_by"]
    assert [(correction["changes"], correction["withdrawn"]) for correction in answer] == [({"value": "89.04"}, True)]


def test_a_record_that_came_in_late_is_marked_late(client, phone, job):
    an_hour_ago = (datetime.now(UTC) - timedelta(hours=1)).isoformat(timespec="milliseconds")
    late = record.measure(phone, job, "bore/1", "88.90", claimed=an_hour_ago)
    fresh = record.measure(phone, job, "bore/2", "88.90")
    record.send(phone)
    by_id = {item["id"]: item["late_s"] for item in read(client, job)["items"]}
    assert 3590 <= by_id[late["id"]] <= 3700
    assert by_id[fresh["id"]] == 0


def test_a_phone_with_a_slow_clock_is_not_late_for_that(client, phone, job):
    slow = (datetime.now(UTC) - timedelta(hours=2)).isoformat(timespec="milliseconds")
    on_time = record.measure(phone, job, "bore/1", "88.90", claimed=slow)
    status, answer = phone.push(device_time=slow)
    assert (status, answer["results"][0]["result"]) == (200, "stored")
    item = next(item for item in read(client, job)["items"] if item["id"] == on_time["id"])
    assert item["late_s"] == 0
    assert item["claimed"] == slow
    assert abs(item["offset_ms"] - 7_200_000) < 60_000


def test_a_place_takes_in_all_it_holds_and_related_places_when_asked(client, phone, job):
    bolt = record.photograph(phone, job, "head_bolt/A/3")
    other_bank = record.photograph(phone, job, "head_bolt/B/3", b"other")
    bore = record.measure(phone, job, "bore/3", "88.94")
    pin = record.finding(phone, job, "crankpin/2", "Blued from lack of oil")
    far = record.finding(phone, job, "crankpin/1", "Polished")
    record.send(phone)
    assert ids(read(client, job, place="head_bolt/A")) == {bolt["id"]}
    assert ids(read(client, job, place="head_bolt")) == {bolt["id"], other_bank["id"]}
    assert ids(read(client, job, place="bore/3")) == {bore["id"]}
    related = ids(read(client, job, place="bore/3", related=1))
    assert {bore["id"], pin["id"]} <= related
    assert far["id"] not in related


def test_a_record_moved_by_a_correction_is_found_at_both_places(client, phone, job):
    moved = record.measure(phone, job, "bore/3", "88.94")
    record.correct(phone, moved, {}, record.at("bore/5"))
    record.send(phone)
    assert moved["id"] in ids(read(client, job, place="bore/3"))
    assert moved["id"] in ids(read(client, job, place="bore/5"))
    tallies = client.get(f"/api/jobs/{job}").get_json()["tallies"]
    assert (tallies["bore/3"], tallies["bore/5"]) == (1, 1)


def test_filters_narrow_together(client, office, phone, job):
    scored = record.finding(phone, job, "bore/3", "Scored", stage="strip")
    record.finding(phone, job, "bore/3", "Scored", stage="measure")
    record.finding(phone, job, "bore/4", "Scored", stage="strip")
    record.measure(phone, job, "bore/3", "88.94", stage="strip")
    record.send(phone)
    page = read(client, job, place="bore/3", kind="finding_made", stage="strip", person=office.manager.id)
    assert ids(page) == {scored["id"]}
    assert page["total"] == 1
    assert read(client, job, person="00000000-0000-4000-8000-000000000000")["items"] == []


def test_days_are_those_the_phone_claimed_both_ends_included(client, phone, job):
    def on(day: str) -> str:
        return record.measure(phone, job, "bore/1", "88.90", claimed=f"{day}T23:30:00.000+02:00")["id"]

    made = {day: on(day) for day in ("2025-12-31", "2026-01-01", "2026-02-28", "2026-03-01", "2026-11-09")}
    record.send(phone)

    def days(**filters) -> set[str]:
        return {day for day, id in made.items() if id in ids(read(client, job, **filters))}

    assert days(**{"from": "2026-01-01", "to": "2026-02-28"}) == {"2026-01-01", "2026-02-28"}
    assert days(**{"from": "2026-02-28", "to": "2026-02-28"}) == {"2026-02-28"}
    assert days(**{"from": "2026-03-01"}) == {"2026-03-01", "2026-11-09"}
    assert days(to="2025-12-31") == {"2025-12-31"}


@pytest.mark.parametrize(
    "filters", [{"from": "2026-02-30"}, {"from": "May"}, {"from": "2026-03-02", "to": "2026-03-01"}]
)
def test_a_day_that_is_none_is_refused_with_its_field(client, job, filters):
    answer = client.get(f"/api/jobs/{job}/timeline", query_string=filters)
    assert answer.status_code == 422
    assert answer.get_json()["where"] == "from"


@pytest.mark.parametrize("filters", [{}, {"place": "bore"}])
def test_paging_skips_nothing_and_repeats_nothing_while_new_records_come_in(client, phone, job, filters):
    made = [record.measure(phone, job, f"bore/{number % 6 + 1}", f"88.{number:02}")["id"] for number in range(23)]
    record.send(phone)
    seen, after = [], None
    while True:
        if len(made) < 40:
            made.append(record.measure(phone, job, "bore/1", "88.99")["id"])
            record.send(phone)
        page = read(client, job, limit=5, **filters, **({"after": after} if after else {}))
        seen += [item["id"] for item in page["items"] if item["kind"] == "measured"]
        after = page["next"]
        if after is None:
            break
    assert seen == made


@pytest.mark.parametrize("filters", [{}, {"place": "bore"}])
def test_pages_lead_back_to_where_they_came_from(client, phone, job, filters):
    for number in range(20):
        record.measure(phone, job, "bore/1", f"88.{number:02}")
    record.send(phone)
    forth = read(client, job, limit=6, after=7, **filters)
    back = read(client, job, limit=6, before=forth["items"][0]["exhibit"], **filters)
    assert exhibits(forth) == [8, 9, 10, 11, 12, 13]
    assert exhibits(back) == [2, 3, 4, 5, 6, 7]
    assert forth["previous"] == 8 and back["next"] == 7
    assert read(client, job, limit=30, **filters)["next"] is None


@pytest.mark.parametrize("filters", [{}, {"kind": "note_made"}])
def test_the_page_before_an_end_nobody_reached_holds_the_last_record_too(client, phone, job, filters):
    for number in range(4):
        phone.note(job, f"Note {number}")
    record.send(phone)
    assert exhibits(read(client, job, before=1000, limit=2, **filters)) == [4, 5]
    assert exhibits(read(client, job, before=5, limit=2, **filters)) == [3, 4]


def test_a_page_around_an_exhibit_has_it_in_the_middle(client, phone, job):
    for number in range(20):
        record.measure(phone, job, "bore/1", f"88.{number:02}")
    record.send(phone)
    assert exhibits(read(client, job, around=10, limit=6)) == [7, 8, 9, 10, 11, 12]
    assert exhibits(read(client, job, around=1, limit=4))[0] == 1
    assert read(client, job, around=1, limit=4)["previous"] is None


def test_the_number_of_questions_to_the_database_does_not_grow_with_the_page(client, office, phone, job):
    for number in range(40):
        misread = record.photograph(phone, job, "bore/1", f"picture {number}".encode())
        record.correct(phone, misread, {"caption": f"Bore {number}"})
    record.send(phone)

    def asked_for(address: str) -> int:
        statements = []

        def note(_conn, _cursor, statement, *_):
            statements.append(statement)

        event.listen(office.engine, "before_cursor_execute", note)
        assert client.get(address).status_code == 200
        event.remove(office.engine, "before_cursor_execute", note)
        return len(statements)

    page = f"/api/jobs/{job}/timeline?limit="
    assert asked_for(f"{page}4") == asked_for(f"{page}80")
    filtered = f"/api/jobs/{job}/timeline?place=bore&limit="
    assert asked_for(f"{filtered}4") == asked_for(f"{filtered}39")


def test_new_records_appear_while_the_page_is_open(client, phone, job):
    stands = client.get("/api/live").get_json()
    assert stands["items"] == []
    fresh = record.measure(phone, job, "bore/1", "88.90")
    record.send(phone)
    for address in ("/api/live?", f"/api/live?job={job}&"):
        answer = client.get(f"{address}after={stands['position']}").get_json()
        assert [item["id"] for item in answer["items"]] == [fresh["id"]]
        assert answer["position"] == stands["position"] + 1


def test_one_record_whole_shows_the_very_bytes_that_were_signed(client, phone, job):
    entry = record.measure(phone, job, "bore/1", "88.90")
    sent = phone.outbox[-1]
    record.send(phone)
    whole = client.get(f"/api/entries/{entry['id']}").get_json()
    assert (whole["bytes"], whole["signature"]) == (sent["bytes"], sent["signature"])
    assert (whole["previous"], whole["sequence"]) == (entry["previous"], 2)
    assert whole["hash"] in whole["stamp"]


def test_a_job_nobody_opened_is_said_not_to_be_there(client):
    answer = client.get("/api/jobs/00000000-0000-4000-8000-000000000000/timeline")
    assert answer.status_code == 404
    assert answer.get_json()["code"] == "unknown_job"


def test_without_a_session_nothing_is_shown(office, job):
    stranger = office.app.test_client()
    for address in (f"/api/jobs/{job}/timeline", "/api/jobs", "/api/search?q=bore", "/api/live"):
        assert stranger.get(address).status_code == 401


GROW_WITH_THE_LOG = ("read_timeline", "read_answer", "read_media_ref", "log_entries", "media")


def test_no_page_reads_through_a_table_that_grows_with_the_log(client, office, phone, job):
    """By EXPLAIN QUERY PLAN of SQLite: every growing table is entered by its key, never read through."""
    misread = record.photograph(phone, job, "bore/1")
    record.correct(phone, misread, {"caption": "Bore 1"}, record.at("bore/2"))
    for number in range(60):  # a full page: SQLite plans a long list of keys otherwise than a short one
        record.photograph(phone, job, "bore/1", f"picture {number}".encode())
    record.send(phone)
    statements = []

    def note(_conn, _cursor, statement, parameters, *_):
        if statement.startswith("SELECT"):
            statements.append((statement, parameters))

    event.listen(office.engine, "before_cursor_execute", note)
    for address in (
        "/api/jobs", "/api/jobs?q=launch&stage=intake", f"/api/jobs/{job}", f"/api/entries/{misread['id']}",
        f"/api/jobs/{job}/timeline", f"/api/jobs/{job}/timeline?after=1", f"/api/jobs/{job}/timeline?around=2",
        f"/api/jobs/{job}/timeline?place=bore/1&related=1&before=3", "/api/search?q=bore&before=9",
        "/api/live", "/api/live?after=1", f"/api/live?job={job}&after=1", "/api/phones",
    ):  # fmt: skip
        assert client.get(address).status_code == 200
    event.remove(office.engine, "before_cursor_execute", note)
    slow = set()
    with office.engine.connect() as conn:
        for statement, parameters in statements:
            for *_, step in conn.exec_driver_sql(f"EXPLAIN QUERY PLAN {statement}", parameters):
                grows = step.split(" ", 2)[1:2] in ([table] for table in GROW_WITH_THE_LOG)
                if grows and (step.startswith("SCAN") or step.endswith("(workshop=?)")):
                    slow.add((step, statement))
    assert len(statements) > 50
    assert slow == set()
