"""Bad input, case by case: each gets an answer that names the thing, the reason and the next step, and whatever may
be evidence is kept. One promise for each case; how the good ways work is promised elsewhere."""

from __future__ import annotations

import io
import json
import uuid

import pytest

from tests.support.media import PIECE, Sender, jpeg, look, metadata, png_bomb, sha
from tests.support.record import a_v6
from witnessmark.db import reading, writing
from witnessmark.log import read
from witnessmark.media import store, uploads
from witnessmark.proof.canonical import canonical
from witnessmark.sync import desk, marks

NEXT_STEPS = (
    "office",
    "again",
    "add it",
    "split it",
    "go back",
    "choose the place",
    "let the phone join",
    "make room",
    "correct",
    "check",
    "cut it",
)


@pytest.fixture
def sender(office, phone) -> Sender:
    return Sender(office.app, phone.token)


@pytest.fixture
def job(office, phone) -> str:
    """A job on a V6 that the office has described."""
    engine_type = a_v6()
    with writing(office.engine) as conn:
        desk.write(conn, office.settings, office.manager.id, "engine_type_described", body={"engine_type": engine_type})
    job = phone.open_job(engine_type=engine_type["id"])
    assert phone.push()[0] == 200 and phone.outbox == []
    return job


def says(message: str, *words: str) -> None:
    """The answer names what it is about and what to do next, in sentences."""
    assert message.endswith(".") and all(word in message for word in words), message
    assert any(step in message.lower() for step in NEXT_STEPS), message


def kept(office, table: str) -> list[bytes]:
    with reading(office.engine) as conn:
        return list(conn.exec_driver_sql(f"SELECT bytes FROM {table} WHERE bytes <> ''").scalars())


def refused(phone, entry: dict, changes: dict | None = None) -> tuple[dict, dict]:
    """Sends a bad entry and a good one after it; what was sent, and the answer to it. The good one is stored."""
    sent = phone.keep(entry | (changes or {}))
    phone.note(entry["job"], "the next one still goes in")
    status, answer = phone.push()
    assert status == 200, answer
    bad, good = answer["results"]
    assert (bad["result"], good["result"]) == ("refused", "stored")
    return sent, bad


# --- Entries


def test_an_entry_with_a_field_nobody_knows_is_kept_whole_and_the_field_named(office, phone, job):
    sent, answer = refused(phone, phone.entry("note_made", job, weather="rain"))
    says(answer["message"], "weather", "is not a known field")
    assert kept(office, "log_refused") == [sent["bytes"].encode()]


@pytest.mark.parametrize("name", ["we\x00ather", "\x1b[31m", "w" * 5000, "\u202egpj", "\U0001f527"])
def test_a_field_with_a_name_that_is_no_text_never_blocks_the_phone(office, phone, job, name):
    """The reason quotes the name, and the reason goes into the log: what is wrong with one must not spoil the other."""
    sent, answer = refused(phone, phone.entry("note_made", job), {name: 1})
    assert answer["code"] == "unknown_field" and answer["message"].isprintable() and len(answer["message"]) <= 1000
    assert kept(office, "log_refused") == [sent["bytes"].encode()]


def test_what_was_refused_is_refused_again_in_the_same_words(office, phone, job):
    for changes in ({"id": "x" * 60}, {"weather": "rain"}):
        phone.outbox.clear()
        sent, answer = refused(phone, phone.entry("note_made", job), changes)
        again = phone.push([sent])[1]["results"][0]
        assert (again["result"], again["code"], again["message"]) == ("refused", answer["code"], answer["message"])
    assert len(kept(office, "log_refused")) == 2 and kept(office, "log_strays") == []


def test_an_entry_changed_after_it_was_signed_is_refused_and_both_wordings_are_kept(office, phone, job):
    sent = phone.note(job, "0.02 mm")
    changed = sent | {"bytes": sent["bytes"].replace("0.02", "0.05")}
    answer = phone.push([changed])[1]["results"][0]
    assert answer["code"] == "signature"
    says(answer["message"], "signature", "changed")
    assert kept(office, "log_strays") == [changed["bytes"].encode()]
    assert phone.push([sent])[1]["results"][0]["result"] == "stored"


def test_an_entry_that_breaks_the_chain_is_refused_and_its_bytes_are_kept(office, phone, job):
    sent = phone.note(job, previous="ab" * 32)
    answer = phone.push()[1]["results"][0]
    assert answer["code"] == "fork"
    says(answer["message"], "number 1", "a different one before it")
    assert kept(office, "log_strays") == [sent["bytes"].encode()]


def test_an_entry_with_a_float_is_refused_with_the_number_named_and_its_bytes_are_kept(office, phone, job):
    data = canonical(phone.entry("note_made", job)).replace(b'"monotonic_ms":5', b'"monotonic_ms":5.5')
    answer = phone.push([{"bytes": data.decode(), "signature": phone.sign(data)}])[1]["results"][0]
    assert answer["code"] == "not_canonical"
    says(answer["message"], "5.5", "whole number")
    assert kept(office, "log_strays") == [data]


def test_an_entry_at_a_place_the_engine_does_not_have_is_kept_and_the_place_named(office, phone, job):
    entry = phone.entry("note_made", job, location={"place": "bore/9", "point": ""})
    sent, answer = refused(phone, entry)
    assert answer["code"] == "unknown_place"
    says(answer["message"], "'bore/9'", "engine")
    assert kept(office, "log_refused") == [sent["bytes"].encode()]


def test_what_is_no_entry_at_all_is_refused_and_what_bytes_it_has_are_kept(office, phone, job):
    sent = phone.note(job)
    offered = [sent | {"mood": "poor"}, {"bytes": "half an ent", "signature": None}, {"bytes": 7}, None, [], "entry"]
    _, answer = phone.push(offered)
    assert [result["code"] for result in answer["results"]] == ["shape"] * 6
    for result in answer["results"]:
        says(result["message"], "ecord")
    assert sorted(kept(office, "log_strays")) == sorted([sent["bytes"].encode(), b"half an ent"])


# --- Files


def test_a_file_cut_off_on_its_way_stays_half_and_goes_on_where_it_was_cut(office, sender):
    data = jpeg()
    begun = sender.begin(data)
    answer = sender.ask("PATCH", begun.headers["Location"], data[:1000], Upload_Offset="0", Content_Type=PIECE)
    assert (answer.status_code, answer.headers["Upload-Offset"]) == (204, "1000")
    assert not store.path_of(office.settings, sha(data)).exists()
    assert sender.piece(begun.headers["Location"], 1000, data[1000:]).status_code == 204
    assert store.path_of(office.settings, sha(data)).read_bytes() == data


def test_a_picture_cut_off_before_it_was_hashed_is_kept_and_the_reason_it_cannot_be_drawn_is_said(office, sender):
    cut = jpeg()[:2000]
    facts = look(office.settings, office.engine, sender.send(cut))
    assert "could not be drawn" in facts["fault"]
    assert store.path_of(office.settings, sha(cut)).read_bytes() == cut


def test_a_file_larger_than_any_original_is_refused_before_a_byte_is_sent(sender):
    length = uploads.LARGEST + 1
    answer = sender.ask(
        "POST", "/api/media/uploads", Upload_Length=str(length), Upload_Metadata=metadata(sha(b"an hour and more"))
    )
    assert answer.status_code == 413
    says(answer.get_json()["message"], f"{length:,}", f"{uploads.LARGEST:,}")


def test_an_empty_file_is_kept_as_what_it_is(office, sender):
    assert sender.begin(b"").headers["Upload-Offset"] == "0"
    assert store.path_of(office.settings, sha(b"")).read_bytes() == b""


def test_a_bomb_is_kept_and_never_unfolded(office, sender):
    bomb = png_bomb()
    facts = look(office.settings, office.engine, sender.send(bomb))
    assert "has more than" in facts["fault"]
    assert store.path_of(office.settings, sha(bomb)).read_bytes() == bomb


def test_a_foreign_file_is_kept_and_only_ever_saved(office, client, phone, sender, job):
    page = b"<html><script>alert(1)</script></html>"
    media = {"length": len(page), "name": "../../bill\r\nX: y.html", "role": "document", "sha256": sha(page)}
    named = media | {"name": "bill.html", "type": "text/html"}
    phone.keep(phone.entry("document_added", job, body={"title": "Bill", "remark": ""}, media=[named]))
    assert phone.push()[0] == 200
    sender.send(page)
    with client.get(f"/api/media/{sha(page)}/original", query_string={"name": media["name"]}) as answer_file:
        assert answer_file.data == page and answer_file.content_type == "application/octet-stream"
        assert answer_file.headers["Content-Disposition"].startswith("attachment;")
        assert "X" not in answer_file.headers and "sandbox" in answer_file.headers["Content-Security-Policy"]


def test_bytes_that_are_not_the_file_they_claim_to_be_are_refused_by_name(sender):
    answer = sender.piece(sender.begin(b"x" * 9, sha(b"y" * 9)).headers["Location"], 0, b"x" * 9)
    assert answer.status_code == 460
    says(answer.get_json()["message"], sha(b"y" * 9)[:12], "9 bytes")


# --- People, phones, disk


def test_a_wrong_password_says_what_to_check_and_nothing_about_who_is_known(client):
    answers = [
        client.post("/api/office/sign-in", json={"name": name, "password": "wrong wrong"}) for name in ("Ida", "Nobody")
    ]
    assert [answer.status_code for answer in answers] == [401, 401]
    assert answers[0].get_json() == answers[1].get_json()
    says(answers[0].get_json()["message"], "password")


def test_a_pin_that_is_none_is_refused_with_what_a_pin_is(client, office):
    answer = client.post(f"/api/people/{office.manager.id}", json={"pin": "12"})
    assert answer.status_code == 422
    assert answer.get_json()["message"] == "The PIN cannot be used. Give it 6 to 8 digits."


@pytest.mark.parametrize("token", ["", "nobody", "é" * 40])
def test_an_unknown_phone_is_told_to_keep_what_it_has_and_join_again(office, phone, job, token):
    phone.note(job)
    phone.token = token
    status, answer = phone.push()
    assert (status, answer["code"]) == (401, "unknown_device")
    says(answer["message"], "phone", "Nothing on it is lost")
    assert len(phone.outbox) == 1


def test_a_full_disk_takes_nothing_says_so_and_reading_still_works(office, client, phone, job):
    with reading(office.engine) as conn:
        conn.exec_driver_sql(f"PRAGMA max_page_count = {conn.exec_driver_sql('PRAGMA page_count').scalar()}")
    for number in range(60):
        phone.note(job, f"{number} " + "x" * 7000)
    status, answer = phone.push()
    assert (status, answer["code"]) == (507, "disk_full")
    says(answer["message"], "disk is full", "Leave everything as it is")
    assert len(phone.outbox) == 60
    assert client.get(f"/api/jobs/{job}/timeline").status_code == 200
    assert phone.get("/api/sync/pull?feed=workshop")[0] == 200


def test_reading_goes_on_when_not_even_a_mark_can_be_written(office, phone, job, monkeypatch):
    """The mark of the highest promised size is a help; evidence, receipts and reading do not hang on it."""

    def full(*_args, **_more):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("witnessmark.sync.marks._write", full)
    phone.note(job)
    status, answer = phone.push()
    assert (status, [result["result"] for result in answer["results"]]) == (200, ["stored"])
    assert phone.get("/api/sync/state")[0] == 200


def test_what_was_promised_is_noted_even_when_the_disk_has_no_room_for_a_new_file(office, phone, job, monkeypatch):
    def full(*_args, **_more):
        raise OSError(28, "No space left on device")

    phone.note(job)
    phone.push()
    monkeypatch.setattr("witnessmark.sync.marks._write", full)
    for _ in range(120):
        phone.note(job)
    _, answer = phone.push()
    assert marks.issued(office.settings) == max(result["position"] for result in answer["results"])


# --- Requests that are no requests


@pytest.mark.parametrize(
    ("path", "body"),
    [
        ("/api/office/sign-in", b'{"name":"Ida","password":"\\ud800 half a letter"}'),
        ("/api/office/sign-in", b'{"name":"\\ud800","password":"brass balloon 7"}'),
        ("/api/people", b'{"name":"\\udc00","role":"technician"}'),
        ("/api/engine-types/check", b'{"engine_type":{"banks":' + b"[" * 50_000 + b"]" * 50_000 + b"}}"),
        ("/api/office/sign-in", b"[" * 100_000),
    ],
)
def test_a_request_that_is_no_text_is_the_senders_fault_not_the_servers(client, path, body):
    answer = client.post(path, data=body, content_type="application/json")
    assert answer.status_code in (400, 422)
    says(answer.get_json()["message"])


class Unread(io.BytesIO):
    """A body that nobody may read."""

    def read(self, *_args):
        raise AssertionError("a stranger's body was read")

    readinto = readline = read


@pytest.mark.parametrize("path", ["/api/sync/push", "/api/desk/entries", "/api/people", "/api/engine-types/read-file"])
def test_nothing_a_stranger_sends_is_read_before_he_is_known(office, path):
    headers = {"Content-Type": "application/json", "Authorization": "Bearer nobody"}
    answer = office.app.test_client().post(path, headers=headers, input_stream=Unread(b"{" * 1000))
    assert answer.status_code in (401, 403)
    says(answer.get_json()["message"])


def test_only_a_phone_may_send_much_at_once(client):
    answer = client.post("/api/office/sign-in", json={"name": "Ida", "password": "x" * (1 << 20)})
    assert (answer.status_code, answer.get_json()["code"]) == (413, "too_large")


def test_a_file_cut_off_on_its_way_into_the_office_is_not_taken_for_a_whole_one(client):
    announced = {"CONTENT_LENGTH": "500"}
    answer = client.post("/api/engine-types/read-file", data=b"{}", environ_overrides=announced)
    assert (answer.status_code, answer.get_json()["code"]) == (400, "bad_request")


@pytest.mark.parametrize("cursor", ["99999999999999999999", "-1"])
@pytest.mark.parametrize(
    "path", ["/api/jobs?before=", "/api/live?after=", "/api/search?q=x&before=", "timeline?around="]
)
def test_a_cursor_that_was_never_given_out_is_refused_by_name(client, job, path, cursor):
    answer = client.get((path if path.startswith("/") else f"/api/jobs/{job}/{path}") + cursor)
    assert answer.status_code == 422
    says(answer.get_json()["message"], answer.get_json()["where"])


def test_a_record_that_tells_a_files_length_wrongly_is_refused(client, phone, sender, job):
    """A pack of the job would be found faulty for ever: what is written is never changed."""
    data = jpeg()
    payload = {"job": job, "kind": "document_added", "body": {"title": "Bill", "remark": ""}}
    named = {
        "sha256": sender.send(data),
        "length": len(data) + 1,
        "type": "image/jpeg",
        "name": "b",
        "role": "document",
    }
    answer = client.post("/api/desk/entries", json=payload | {"media": [named]})
    assert answer.status_code == 422
    says(answer.get_json()["message"], f"{len(data):,}")


def test_a_stranger_with_a_random_id_gets_no_record(client):
    answer = client.get(f"/api/entries/{uuid.uuid4()}")
    assert answer.status_code == 404
    says(answer.get_json()["message"], "record")


def test_every_answer_to_a_bad_entry_can_be_matched_to_it(office, phone, job):
    phone.note(job, previous="ab" * 32)
    answer = phone.push()[1]["results"][0]
    assert answer["id"] == json.loads(phone.outbox[0]["bytes"])["id"]
    with reading(office.engine) as conn:
        assert read.by_id(conn, office.workshop.id, answer["id"]) is None


@pytest.mark.parametrize(
    "path", ["/api/office/sign-in", "/api/sync/join", "/api/sync/push", "/api/check", "/api/gauges"]
)
@pytest.mark.parametrize("number", ["9" * 5_000, "1" * 500_000, "1e999999", "NaN"])
def test_a_number_that_nothing_can_hold_is_a_fault_of_the_request(office, client, phone, caplog, path, number):
    headers = {"Authorization": f"Bearer {phone.token}", "Content-Type": "application/json"}
    answer = client.post(path, data=f'{{"protocol": {number}}}', headers=headers)
    assert 400 <= answer.status_code < 500 and answer.get_json()["message"].endswith("."), answer.get_json()
    assert "Traceback" not in caplog.text


@pytest.mark.parametrize("query", ["q=\xff", "feed=workshop&upto=\xe9", "limit=1&limit\xfe"])
def test_a_query_that_is_no_text_is_a_fault_of_the_request(client, phone, caplog, query):
    headers = {"Authorization": f"Bearer {phone.token}"}
    for path in ("/api/jobs", "/api/search", "/api/sync/digest", f"/api/media/{'0' * 64}/original"):
        answer = client.get(path, environ_overrides={"QUERY_STRING": query}, headers=headers)
        assert answer.status_code in (400, 404) and answer.get_json()["message"].endswith("."), answer.get_json()
    assert client.get("/api/jobs", environ_overrides={"QUERY_STRING": query}).status_code == 400
    assert "Traceback" not in caplog.text


@pytest.mark.parametrize("number", [10**28, 10**400, -(10**300)])
def test_a_number_too_long_for_any_engine_is_a_fault_that_names_it(client, caplog, number):
    """All its digits are in the fault: one that somebody mistyped is found by them."""
    faulty = a_v6(firing_order=[1, 2, 3, 4, 5, number])
    answer = client.post("/api/engine-types/check", json={"engine_type": faulty})
    assert answer.status_code == 200, answer.get_json()
    assert any(str(abs(number)) in fault["message"].replace(",", "") for fault in answer.get_json()["faults"])
    assert "Traceback" not in caplog.text
