"""Corrections and withdrawals, however many: what they cost, what they are found by, which facts they leave."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable

import pytest
from sqlalchemy import event

from tests.server.log.test_projections import everything_shown
from tests.support import record
from witnessmark.db import reading, writing
from witnessmark.projections import apply as projections
from witnessmark.projections import job_list


def opened(phone, engine_type: str, **facts) -> tuple[str, dict]:
    """A job that this phone opens, and the record that opens it, sent."""
    job = phone.open_job(engine_type=engine_type, **facts)
    opening = json.loads(phone.outbox[-1]["bytes"])
    record.send(phone)
    return job, opening


def amend(phone, job: str, **changes) -> dict:
    return record.keep(phone, phone.entry("job_amended", job, body={"changes": changes, "reason": "Misread"}))


def corrections_of_one_record(phone, job: str, opening: dict, count: int) -> None:
    note = json.loads(phone.note(job, "Scored")["bytes"])
    for number in range(count):
        record.correct(phone, note, {"text": f"Scored {number} times " * 40})


def withdrawals_of_the_opening(phone, job: str, opening: dict, count: int) -> None:
    for _ in range(count):
        record.withdraw(phone, opening)


def withdrawals_each_of_the_one_before(phone, job: str, opening: dict, count: int) -> None:
    before = opening
    for _ in range(count):
        before = record.withdraw(phone, before)


def corrections_of_the_opening(phone, job: str, opening: dict, count: int) -> None:
    for number in range(count):
        record.correct(phone, opening, {"number": f"24-{number}", "engine_type": opening["body"]["engine_type"]})


def amendments_withdrawn_at_once(phone, job: str, opening: dict, count: int) -> None:
    for number in range(count // 2):
        record.withdraw(phone, amend(phone, job, engine_number=f"K-{number}"))


def confirmations_of_one_sound(phone, job: str, opening: dict, count: int) -> None:
    sound = {"sha256": "5" * 64, "length": 4, "type": "audio/webm", "role": "audio", "name": "a.webm"}
    body = {name: "" for name in record.KINDS["sound_recorded"].fields}
    body |= {"method": "live", "duration_ms": 1000, "interrupted": False, "screen": "none", "mode": "note"}
    spoken = record.keep(phone, phone.entry("sound_recorded", job, body=body, media=[sound]))
    for number in range(count):
        confirmation = {"entry": spoken["id"], "entry_hash": record.hash_of(spoken), "remark": ""}
        confirmation |= {"text": f"bore {number} " * 40}
        record.keep(phone, phone.entry("transcript_confirmed", job, body=confirmation))


@pytest.mark.parametrize(
    "add",
    [
        corrections_of_one_record,
        withdrawals_of_the_opening,
        withdrawals_each_of_the_one_before,
        corrections_of_the_opening,
        amendments_withdrawn_at_once,
        confirmations_of_one_sound,
    ],
)
def test_the_work_grows_with_the_answers_and_not_with_their_square(client, office, phone, add):
    engine_type = record.describe(client)

    def work(count: int) -> dict[str, int]:
        job, opening = opened(phone, engine_type)
        add(phone, job, opening, count)
        return work_of(office, lambda: record.send(phone))

    work(4)  # what is made once: statements, tables of the trade
    few, more, many = work(24), work(48), work(96)
    growth = {name: (many[name] - more[name]) / max(more[name] - few[name], 1) for name in few}
    assert {name: grown for name, grown in growth.items() if grown > 2.1} == {}, (few, more, many)


def work_of(office, do: Callable[[], None]) -> dict[str, int]:
    """What was done: calls of functions, statements of the database, signs handed to it."""
    done = {"calls": 0, "statements": 0, "signs": 0}

    def called(_frame, sort: str, _of) -> None:
        done["calls"] += sort in ("call", "c_call")

    def executed(_conn, _cursor, _statement, given, *_) -> None:
        done["statements"] += 1
        for values in given if isinstance(given, list) else [given]:
            done["signs"] += sum(len(value) for value in values if isinstance(value, (str, bytes)))

    event.listen(office.engine, "before_cursor_execute", executed)
    before = sys.getprofile()
    sys.setprofile(called)
    try:
        do()
    finally:
        sys.setprofile(before)
        event.remove(office.engine, "before_cursor_execute", executed)
    return done


def search(client, words: str, **filters) -> dict:
    answer = client.get("/api/search", query_string={"q": words, **filters})
    assert answer.status_code == 200, answer.get_json()
    return answer.get_json()


def test_a_record_corrected_again_and_again_is_found_once_by_each_of_its_words(client, phone):
    job, _ = opened(phone, record.describe(client))
    misread = record.measure(phone, job, "bore/3", "88.94")
    record.send(phone)
    record.correct(phone, misread, {"value": "89.04"}, record.at("bore/5"))
    record.correct(phone, misread, {"remark": "Ring land hidden by carbon"})
    record.send(phone)
    record.correct(phone, misread, {"value": "89.05"})
    record.send(phone)
    for words in ("88.94", "89.04", "89.05", "carbon", "89.04 carbon", "88.94 89.05 carbon", "bore 3", "bore 5"):
        page = search(client, words, kind="measured")
        assert [item["id"] for item in page["items"]] == [misread["id"]], words
        assert page["total"] == 1
    listed = client.get(f"/api/jobs/{job}/timeline", query_string={"place": "bore/5", "kind": "measured"}).get_json()
    assert [item["id"] for item in listed["items"]] == [misread["id"]]
    assert search(client, "carbon")["total"] == 2, "the record, and the correction by its own words"


def test_pages_of_what_was_found_by_corrections_skip_none_and_show_none_twice(client, phone):
    job, _ = opened(phone, record.describe(client))
    made = [record.measure(phone, job, "bore/3", f"88.{number}") for number in range(10, 19)]
    for reading_ in (*made, *made[::-2]):
        record.correct(phone, reading_, {"remark": "Carbon on the ring land"})
    record.send(phone)
    expected = [entry["id"] for entry in made]

    def pages(**query) -> list[str]:
        seen, cursor = [], {}
        while True:
            page = client.get(query["path"], query_string={**query["query"], "limit": 2, **cursor}).get_json()
            seen += [item["id"] for item in page["items"]]
            if page["next"] is None:
                return seen
            cursor = {query["cursor"]: page["next"]}

    query = {"q": "carbon", "kind": "measured"}
    assert pages(path="/api/search", query=query, cursor="before") == expected[::-1]
    assert pages(path=f"/api/jobs/{job}/timeline", query=query, cursor="after") == expected


def test_facts_after_the_opening_was_withdrawn_are_the_same_however_the_log_is_cut(client, office, phone, monkeypatch):
    engine_type = record.describe(client)
    job, opening = opened(phone, engine_type, vehicle="Launch Petrel")
    record.withdraw(phone, amend(phone, job, vehicle="Van"))
    record.withdraw(phone, opening)
    record.send(phone)
    assert facts(office, job)["vehicle"] == "Launch Petrel", "all there is to name the job by"
    body = opening["body"] | {"vehicle": "Launch Tern", "number": "24-119"}
    record.keep(phone, phone.entry("job_opened", job, body=body))
    record.send(phone)
    assert (facts(office, job)["vehicle"], facts(office, job)["number"]) == ("Launch Tern", "24-119")
    record.withdraw(phone, record.withdraw(phone, opening))
    record.reach(phone, job, "strip")
    record.send(phone)
    assert (facts(office, job)["vehicle"], facts(office, job)["stage"]) == ("Launch Tern", "strip")
    before = everything_shown(office.engine)
    for at_once in (1, 3, 2000):
        monkeypatch.setattr(projections, "REPLAYED_AT_ONCE", at_once)
        with writing(office.engine) as conn:
            projections.rebuild(conn)
        assert everything_shown(office.engine) == before, at_once


def test_a_record_is_read_by_the_engine_type_that_stood_when_it_came_in(client, office, phone):
    first = record.describe(client)
    second = record.describe(client, record.a_v6("7a2d3c4e-1f60-4b7a-8c9d-0e1f2a3b4c5d", "Halvern straight"))
    job, opening = opened(phone, first)
    mistaken = amend(phone, job, engine_type=second)
    record.send(phone)
    record.withdraw(phone, mistaken)
    record.correct(phone, opening, {"engine_number": "K-2"})
    record.send(phone)
    assert facts(office, job)["engine_type_name"] == "Halvern 2.9 V6"
    jobs = client.get("/api/jobs", query_string={"q": "K-2 Halvern 2.9"}).get_json()["jobs"]
    assert [listed["id"] for listed in jobs] == [job]


def facts(office, job: str) -> dict:
    with reading(office.engine) as conn:
        return job_list.by_id(conn, office.workshop.id, job)
