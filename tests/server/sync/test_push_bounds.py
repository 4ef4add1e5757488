"""What a phone that has joined may cost the server: strays, long batches, batches of tiny things."""

from __future__ import annotations

import hashlib
import json
import tracemalloc

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.support.record import send
from witnessmark.db import reading
from witnessmark.sync import strays
from witnessmark.web import json_bounds


@pytest.fixture
def job(phone) -> str:
    opened = phone.open_job()
    send(phone)
    return opened


def stored(office) -> dict[str, bytes]:
    """What is kept of strays, by hash."""
    with reading(office.engine) as conn:
        return dict(conn.exec_driver_sql("SELECT hash, bytes FROM log_strays").all())


def loose(text: str) -> dict:
    return {"bytes": text, "signature": ""}


def sha256(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()


def answers(phone, *texts: str) -> list[dict]:
    status, answer = phone.push([loose(text) for text in texts])
    assert status == 200
    assert {result["result"] for result in answer["results"]} == {"refused"}
    return answer["results"]


def test_of_a_long_stray_the_hash_alone_is_kept_and_the_phone_is_told(office, phone):
    short, long = "x" * strays.LONGEST_KEPT, "y" * (strays.LONGEST_KEPT + 1)
    whole, hash_alone = answers(phone, short, long)

    assert stored(office) == {sha256(short): short.encode(), sha256(long): b""}
    assert "stored here as well" in whole["message"]
    assert "Only its SHA-256 is stored here: leave the record on this phone" in hash_alone["message"]


def test_a_phone_has_room_for_so_many_strays_and_is_told_when_it_is_full(office, phone, job, monkeypatch):
    monkeypatch.setattr(strays, "MOST_KEPT", 3)
    first = answers(phone, "a", "b", "b")
    then = answers(phone, "c", "d", "a")
    last = answers(phone, "e", "c")

    assert set(stored(office)) == {sha256(text) for text in "abc"}
    for answer in (*first, then[0], then[2], last[1]):
        assert "stored here as well" in answer["message"]
    for answer in (then[1], last[0]):
        assert "It is not stored here, because this phone has already sent too many" in answer["message"]
        assert "leave it on this phone and show the phone to the office." in answer["message"]
    other = office.phone("Phone in bay 3")
    assert "stored here as well" in answers(other, "e")[0]["message"]
    phone.note(job)
    assert phone.push()[1]["results"][0]["result"] == "stored"


def test_a_phones_strays_are_kept_whole_up_to_so_many_bytes(office, phone, monkeypatch):
    monkeypatch.setattr(strays, "MOST_BYTES_KEPT", 1000)
    first, two, three = "a" * 600, "b" * 600, "c" * 300
    answers(phone, first)
    second, third = answers(phone, two, three)

    assert stored(office) == {sha256(first): first.encode(), sha256(two): b"", sha256(three): three.encode()}
    assert "Only its SHA-256" in second["message"] and "stored here as well" in third["message"]


def test_a_batch_of_strays_writes_one_line_into_the_servers_log(phone, caplog):
    answers(phone, *(f"stray {number}" for number in range(50)))

    [line] = [record.getMessage() for record in caplog.records if phone.device in record.getMessage()]
    assert "50 records outside its chain" in line


def values_and_depth(value: object) -> tuple[int, int]:
    """Counted on the value itself, one after the other."""
    if not isinstance(value, (list, dict)):
        return 0, 0
    inside = [values_and_depth(inner) for inner in (value.values() if isinstance(value, dict) else value)]
    return max(1, len(inside)) + sum(count for count, _ in inside), 1 + max((deep for _, deep in inside), default=0)


# Texts of what could be taken for structure.
TEXTS = st.text(st.sampled_from('\\"[]{},:u0c \n\u00e9'), max_size=8)
LEAVES = st.none() | st.booleans() | st.integers() | TEXTS
ANY_JSON = st.recursive(LEAVES, lambda inside: st.lists(inside) | st.dictionaries(TEXTS, inside), max_leaves=12)


@given(ANY_JSON, st.booleans(), st.sampled_from([None, 1]))
def test_what_is_counted_on_the_bytes_is_what_the_parser_would_make(value, escaped, indent):
    data = json.dumps(value, ensure_ascii=escaped, indent=indent).encode()
    outside = json_bounds.outside_of_texts(data, 1000)

    counted = sum(outside.count(mark) for mark in (b",", b"[", b"{")), json_bounds.depth(outside, 1000)
    assert counted == values_and_depth(value)


def sent(phone, client, **fields: bytes) -> tuple[int, dict, float]:
    """A push whose fields are given as they go over the wire: status, answer, and the most megabytes it took."""
    parts = {"protocol": b"1", "device_time": b'""', "announced": b"0", "entries": b"[]"} | fields
    body = b"{" + b",".join(b'"%s":%s' % (name.encode(), value) for name, value in parts.items()) + b"}"
    headers = {"Authorization": f"Bearer {phone.token}"}
    tracemalloc.start()
    try:
        answer = client.post("/api/sync/push", data=body, content_type="application/json", headers=headers)
        return answer.status_code, answer.get_json(), tracemalloc.get_traced_memory()[1] / 1e6 - len(body) / 1e6
    finally:
        tracemalloc.stop()


def listed(item: bytes, count: int) -> bytes:
    return b"[" + b",".join([item] * count) + b"]"


@pytest.mark.parametrize(
    ("field", "item", "count"),
    [
        ("entries", b"{}", 1_300_000),
        ("entries", b'{"a":{"a":1}}', 15_000),
        ("lost", b"{}", 20_000),
        ("entries", b'{"bytes":"%s","signature":""}' % (b"[]," * 1_000), 300),
        ("entries", b'""', 30_000),
    ],
)
def test_a_batch_of_tiny_things_is_refused_before_it_becomes_objects(office, phone, field, item, count):
    status, answer, megabytes = sent(phone, office.app.test_client(), **{field: listed(item, count)})

    assert (status, answer["code"]) == (413, "too_many_values")
    assert answer["message"].endswith("values. Send less at a time.")
    assert megabytes < 15


def test_a_request_nested_too_deeply_is_refused_by_its_bytes(office, phone, client):
    status, answer, _ = sent(phone, office.app.test_client(), entries=b"[" * 200 + b"]" * 200)
    elsewhere = client.post("/api/people", data=b"[" * 200 + b"]" * 200, content_type="application/json")

    assert (status, answer["code"]) == (400, "too_deep")
    assert (elsewhere.status_code, elsewhere.get_json()["code"]) == (400, "too_deep")


def test_as_many_records_and_lost_numbers_as_are_allowed_pass(office, phone, job):
    """A thousand of each, full of commas, quotes and brackets."""
    full = ',"[{\\' * 30
    notes = [phone.note(job, f"{number} {full}") for number in range(1000)]
    status, answer = phone.push(notes, lost=list(range(5000, 6000)))

    assert status == 200
    assert [result["result"] for result in answer["results"]] == ["stored"] * 1000


def test_no_batch_is_longer_than_four_mebibytes(office, phone):
    status, answer, _ = sent(phone, office.app.test_client(), device_time=b'"%s"' % (b"x" * (4 << 20)))

    assert (status, answer["code"]) == (413, "too_large")
