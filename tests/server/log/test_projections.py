"""What is read on the screens follows from the log alone, and can be made again from it at any time."""

from __future__ import annotations

import json

import pytest
from sqlalchemy import event, text

from tests.support import record
from witnessmark.db import reading, writing
from witnessmark.projections import apply as projections
from witnessmark.projections import job_list, media_refs, pages, tables
from witnessmark.projections.words import tag


def everything_shown(engine) -> dict[str, list[tuple]]:
    """Every row of every projection, the word indexes with their words and tags."""
    names = [table.name for projection in projections.PROJECTIONS.values() for table in projection.TABLES]
    with reading(engine) as conn:
        return {
            name: [tuple(row) for row in conn.execute(text(f"SELECT rowid, * FROM {name} ORDER BY rowid"))]
            if name.endswith("words")
            else sorted(map(repr, conn.execute(text(f"SELECT * FROM {name}"))))
            for name in [*names, tables.version.name, tables.workshop_number.name]
        }


@pytest.fixture
def story(client, phone, office) -> dict:
    """A job with something of everything, sent one record at a time, on an engine type that changes on the way."""
    engine_type = record.describe(client)
    job = phone.open_job(engine_type=engine_type)
    record.send(phone)
    answer = {"job": job, "measured": record.measure(phone, job, "bore/3", "88.94")}
    record.send(phone)
    record.describe(client, record.a_v6(name="Halvern 2.9 V6, second series"))
    answer["found"] = record.finding(phone, job, "bore/3", "Scored down the thrust side")
    answer["photo"] = record.photograph(phone, job, "head_bolt/A/3")
    record.send(phone)
    for last in (
        record.correct(phone, answer["measured"], {"value": "89.04"}, record.at("bore/5")),
        record.withdraw(phone, answer["found"]),
        record.reach(phone, job, "strip"),
        record.tick(phone, job, "strip", "timing_marks"),
        record.tick(phone, job, "strip", "timing_marks", ticked=False),
        record.keep(
            phone,
            phone.entry("job_amended", job, body={"changes": {"engine_number": "HV-29/0012"}, "reason": "Misread"}),
        ),
    ):
        record.send(phone)
        answer["last"] = last
    return answer


def test_a_replay_of_the_log_makes_the_same_rows_byte_for_byte(office, story):
    before = everything_shown(office.engine)
    assert before["read_timeline"] and before["read_words"] and before["read_answer"]
    with writing(office.engine) as conn:
        replayed = projections.rebuild(conn)
    with reading(office.engine) as conn:
        assert replayed == conn.scalar(text("SELECT count(*) FROM log_entries"))
    assert everything_shown(office.engine) == before


def test_a_replay_in_small_batches_makes_the_same_rows_as_one_in_a_large_batch(office, story, monkeypatch):
    before = everything_shown(office.engine)
    monkeypatch.setattr(projections, "REPLAYED_AT_ONCE", 2)
    with writing(office.engine) as conn:
        projections.rebuild(conn)
    assert everything_shown(office.engine) == before


def test_projections_of_another_version_are_made_again_when_the_server_starts(office, story):
    before = everything_shown(office.engine)
    with writing(office.engine) as conn:
        conn.execute(text("UPDATE read_version SET version = version - 1 WHERE name = 'timeline'"))
        conn.execute(text("DELETE FROM read_timeline"))
    again = office.restart()
    assert everything_shown(again.engine) == before


def test_records_that_arrive_on_outdated_projections_are_not_taken_in_twice(office, phone, story):
    with writing(office.engine) as conn:
        conn.execute(text("UPDATE read_version SET version = 0"))
    phone.note(story["job"])
    record.send(phone)
    with reading(office.engine) as conn:
        exhibits = list(conn.scalars(text("SELECT exhibit FROM read_timeline ORDER BY exhibit")))
        entries = conn.scalar(text("SELECT entries FROM read_job"))
    assert exhibits == list(range(1, len(exhibits) + 1))
    assert entries == len(exhibits)


def test_a_batch_that_fails_leaves_neither_log_nor_projections_half_written(office, phone, story, monkeypatch):
    before = everything_shown(office.engine)

    def fail(_batch):
        raise RuntimeError("the index is broken")

    monkeypatch.setattr(projections.PROJECTIONS["search"], "apply", fail)
    phone.note(story["job"])
    with pytest.raises(RuntimeError):
        office.app.config["PROPAGATE_EXCEPTIONS"] = True
        phone.push()
    assert everything_shown(office.engine) == before


def test_the_facts_of_a_job_are_those_last_told(office, story):
    with reading(office.engine) as conn:
        job = job_list.by_id(conn, office.workshop.id, story["job"])
    assert job["stage"] == "strip"
    assert job["engine_number"] == "HV-29/0012"
    assert job["engine_type_name"] == "Halvern 2.9 V6, second series"
    assert (job["entries"], job["pictures"], job["missing_media"]) == (10, 1, 1)


def test_facts_follow_a_correction_of_the_opening_and_the_withdrawal_of_a_stage(client, office, phone):
    job = phone.open_job("24-118", engine_type=record.describe(client))
    opening = json.loads(phone.outbox[-1]["bytes"])
    record.send(phone)
    record.reach(phone, job, "strip")
    too_early = record.reach(phone, job, "build")
    record.send(phone)
    record.correct(phone, opening, {"number": "24-181", "engine_number": "K-2033I"})
    record.send(phone)
    correction = record.withdraw(phone, too_early)
    record.keep(phone, phone.entry("job_amended", job, body={"changes": {"registration": "HL 14"}, "reason": ""}))
    record.send(phone)

    def facts() -> dict:
        with reading(office.engine) as conn:
            return job_list.by_id(conn, office.workshop.id, job)

    answer = facts()
    assert (answer["number"], answer["registration"], answer["stage"]) == ("24-181", "HL 14", "strip")
    record.withdraw(phone, correction, "It had begun after all")
    record.send(phone)
    assert facts()["stage"] == "build"
    before = everything_shown(office.engine)
    with writing(office.engine) as conn:
        projections.rebuild(conn)
    assert everything_shown(office.engine) == before


def test_a_file_is_missing_until_it_arrives(office, story):
    data = b"metal in light"
    with writing(office.engine) as conn:
        assert media_refs.missing(conn, office.workshop.id, [story["job"]]) == {story["job"]: 1}
        conn.execute(
            text("INSERT INTO media (sha256, length, type, received) VALUES (:sha, :length, 'image/jpeg', '')"),
            {"sha": story["photo"]["media"][0]["sha256"], "length": len(data)},
        )
        assert media_refs.missing(conn, office.workshop.id, [story["job"]]) == {}


def test_only_files_that_a_record_names_may_be_looked_at(office, story):
    with reading(office.engine) as conn:
        assert media_refs.is_named(conn, office.workshop.id, story["photo"]["media"][0]["sha256"])
        assert not media_refs.is_named(conn, office.workshop.id, "0" * 64)


def test_the_number_of_questions_to_the_database_does_not_grow_with_the_records_taken_in(client, office, phone):
    job = phone.open_job(engine_type=record.describe(client))
    record.send(phone)

    def asked_for(count: int) -> int:
        for number in range(count):
            record.measure(phone, job, f"bore/{number % 6 + 1}", f"88.{number:02}")
        statements = []

        def note(_conn, _cursor, statement, *_):
            statements.append(statement)

        event.listen(office.engine, "before_cursor_execute", note)
        record.send(phone)
        event.remove(office.engine, "before_cursor_execute", note)
        return len(statements)

    asked_for(10)  # the first of each place has counters to begin
    assert asked_for(10) == asked_for(80)


@pytest.mark.parametrize("value", ["head_bolt/A/7", "x", "x78", "ä/ö", "A b", "a_b", "a/b", "a-b"])
def test_a_tag_is_one_word_that_no_other_value_makes(value):
    others = {"head_bolt/A/7", "x", "x78", "ä/ö", "A b", "a_b", "a/b", "a-b"} - {value}
    assert tag("l", value).isalnum() and tag("l", value).isascii()
    assert tag("l", value) not in {tag("l", other) for other in others}


def test_what_came_in_after_a_position_is_told_once_and_in_order(office, phone, story):
    with reading(office.engine) as conn:
        stands = pages.newer(conn, office.workshop.id, "", None)
        assert stands.rows == []
        assert pages.newer(conn, office.workshop.id, story["job"], stands.position).rows == []
    for _ in range(5):
        phone.note(story["job"])
    record.send(phone)
    with reading(office.engine) as conn:
        seen, cursor = [], stands.position
        while (newer := pages.newer(conn, office.workshop.id, story["job"], cursor, limit=2)).rows:
            seen += newer.rows
            cursor = newer.position
        assert seen == [stands.position + number for number in range(1, 6)]
        assert pages.newer(conn, office.workshop.id, "", stands.position).rows == seen
