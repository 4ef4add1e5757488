"""A phone sends what it has recorded: each entry gets its own answer, and nothing is stored twice or lost."""

from __future__ import annotations

import json
from concurrent.futures import ThreadPoolExecutor

import pytest

from tests.support.phone import ZERO
from witnessmark.db import reading, writing
from witnessmark.log import heads, read
from witnessmark.people import devices, persons
from witnessmark.proof import heads as proof_heads
from witnessmark.proof import keys, merkle
from witnessmark.proof.canonical import canonical, sha256_hex
from witnessmark.sync import join as joining
from witnessmark.sync import office as server


def results(answer):
    return [(result["result"], result["code"]) for result in answer["results"]]


def logged(office, device):
    with reading(office.engine) as conn:
        return [row.entry for row in read.device_chain(conn, office.workshop.id, device)]


def desk_says(office, kind):
    with reading(office.engine) as conn:
        return [row.entry["body"] for row in read.whole_log(conn, office.workshop.id) if row.entry["kind"] == kind]


@pytest.fixture
def job(phone):
    """A job that is known to the server."""
    job = phone.open_job()
    phone.push()
    assert phone.outbox == []
    return job


def test_what_was_stored_has_a_receipt_that_can_be_checked(office, phone, job):
    sent = phone.note(job)
    _, answer = phone.push()
    receipt = answer["results"][0]
    assert receipt["result"] == "stored"
    assert receipt["hash"] == sha256_hex(sent["bytes"].encode())
    stamp = json.loads(receipt["stamp"])
    assert (stamp["entry"], stamp["signature"]) == (receipt["hash"], sent["signature"])
    assert (stamp["position"], stamp["received"]) == (receipt["position"], receipt["received"])
    spki = keys.unbase64(server.key(office.settings).public_key)
    head = proof_heads.check(answer["head"]["bytes"].encode(), answer["head"]["signature"], spki)
    with reading(office.engine) as conn:
        leaves = [merkle.leaf_hash(row.stamp) for row in read.whole_log(conn, office.workshop.id)]
    assert leaves[receipt["position"] - 1] == merkle.leaf_hash(receipt["stamp"].encode())
    assert merkle.root(leaves) == head.root and head.size == len(leaves)
    # And without the log: the receipt alone leads to the head that the server signed.
    path = [bytes.fromhex(answer["hashes"][place]) for place in receipt["path"]]
    leaf = merkle.leaf_hash(receipt["stamp"].encode())
    assert merkle.verify_inclusion(leaf, receipt["position"] - 1, head.size, path, head.root)
    assert not merkle.verify_inclusion(bytes(32), receipt["position"] - 1, head.size, path, head.root)


def test_every_receipt_of_a_batch_leads_to_its_head_and_no_hash_comes_twice(office, phone, job):
    for number in range(150):
        phone.note(job, f"note {number}")
    _, answer = phone.push()
    spki = keys.unbase64(server.key(office.settings).public_key)
    head = proof_heads.check(answer["head"]["bytes"].encode(), answer["head"]["signature"], spki)
    for receipt in answer["results"]:
        path = [bytes.fromhex(answer["hashes"][place]) for place in receipt["path"]]
        leaf = merkle.leaf_hash(receipt["stamp"].encode())
        assert merkle.verify_inclusion(leaf, receipt["position"] - 1, head.size, path, head.root)
    assert len(answer["hashes"]) == len(set(answer["hashes"])) < 3 * 150


def test_what_was_refused_has_no_way_to_the_head(phone, job):
    phone.note(job, author=phone.device)
    _, answer = phone.push()
    assert [(result["result"], result["path"]) for result in answer["results"]] == [("refused", None)]


def test_a_lost_acknowledgement_stores_once_and_gives_the_first_receipt_again(office, phone, job):
    sent = [phone.note(job, f"note {n}") for n in range(5)]
    _, first = phone.push(sent)
    _, again = phone.push(sent)
    assert results(first) == [("stored", "")] * 5
    assert results(again) == [("duplicate", "")] * 5
    for stored, two in zip(first["results"], again["results"], strict=True):
        assert {**stored, "result": ""} == {**two, "result": ""}
    assert len(logged(office, phone.device)) == 6
    assert first["head"] == again["head"]


def test_the_same_batch_from_four_sides_at_once_is_stored_once(office, phone, job):
    sent = [phone.note(job, f"note {n}") for n in range(20)]
    with ThreadPoolExecutor(4) as pool:
        answer = list(pool.map(lambda _: phone.post("/api/sync/push", phone.ask_push(sent)), range(4)))
    assert [status for status, _ in answer] == [200] * 4
    for place in range(20):
        answers = [t["results"][place] for _, t in answer]
        assert sorted(a["result"] for a in answers) == ["duplicate"] * 3 + ["stored"]
        assert len({a["position"] for a in answers}) == 1
    assert len(logged(office, phone.device)) == 21


def test_one_bad_entry_never_blocks_the_others(office, phone, job):
    sent = [phone.note(job, f"note {n}") for n in range(3)]
    sent.append(phone.keep(phone.entry("note_made", job, body={"text": "x", "mood": "poor"})))
    sent += [phone.note(job, f"note {n}") for n in range(4, 10)]
    _, answer = phone.push(sent)
    assert results(answer) == [("stored", "")] * 3 + [("refused", "unknown_field")] + [("stored", "")] * 6
    assert "mood" in answer["results"][3]["message"]
    assert answer["last_sequence"] == phone.sequence
    assert phone.outbox == [sent[3]]


def test_what_is_refused_is_kept_whole_and_the_log_says_so(office, phone, job):
    sent = phone.note(job, author=phone.device)
    _, answer = phone.push()
    assert results(answer) == [("refused", "unknown_person")]
    with reading(office.engine) as conn:
        kept = read.all_refused(conn, office.workshop.id)
    assert [(k["bytes"].decode(), k["signature"]) for k in kept] == [(sent["bytes"], sent["signature"])]
    refusals = desk_says(office, "entry_refused")
    assert [(s["device"], s["sequence"], s["entry_hash"]) for s in refusals] == [
        (phone.device, 2, sha256_hex(sent["bytes"].encode()))
    ]
    _, again = phone.push()
    assert results(again) == results(answer)
    assert len(desk_says(office, "entry_refused")) == 1


REFUSED = {
    "an unknown kind": (dict(kind="dream_dreamt"), "unknown_kind"),
    "an unknown version": (dict(version=9), "unknown_version"),
    "a field nobody knows": (dict(weather="rain"), "unknown_field"),
    "a stage there is not": (dict(stage="lunch"), "bad_value"),
    "a note without its job": (dict(job=None), "needs_job"),
    "somebody who does not work here": (dict(author="0b0e7a5e-0000-4000-8000-000000000000"), "unknown_person"),
}


@pytest.mark.parametrize("case", REFUSED)
def test_an_entry_is_refused_for(office, phone, job, case):
    changes, code = REFUSED[case]
    entry = phone.entry("note_made", job) | changes
    phone.keep(entry)
    phone.note(job, "the next one still goes in")
    _, answer = phone.push()
    assert results(answer) == [("refused", code), ("stored", "")]
    message = answer["results"][0]["message"]
    assert message and message.endswith(".")


def test_only_the_office_writes_what_belongs_to_the_office(phone):
    body = {"device": phone.device, "reason": "lost"}
    phone.keep(phone.entry("device_revoked", body=body))
    _, answer = phone.push()
    assert results(answer) == [("refused", "of_the_desk")]


def changed_after(phone, job):
    sent = phone.note(job, "0.02 mm")
    return {**sent, "bytes": sent["bytes"].replace("0.02", "0.05")}


def with_a_float(phone, job):
    data = canonical(phone.entry("note_made", job)).replace(b'"monotonic_ms":5', b'"monotonic_ms":5.5')
    return {"bytes": data.decode(), "signature": phone.sign(data)}


def with_spaces(phone, job):
    data = json.dumps(phone.entry("note_made", job), sort_keys=True).encode()
    return {"bytes": data.decode(), "signature": phone.sign(data)}


def of_another_phone(phone, job):
    return phone.keep(phone.entry("note_made", job, device=phone.workshop))


def of_another_workshop(phone, job):
    return phone.keep(phone.entry("note_made", job, workshop=phone.device))


def not_text(phone, job):
    return {"bytes": 7, "signature": None}


@pytest.mark.parametrize(
    ("make", "code"),
    [
        (changed_after, "signature"),
        (with_a_float, "not_canonical"),
        (with_spaces, "not_canonical"),
        (of_another_phone, "other_device"),
        (of_another_workshop, "other_workshop"),
        (not_text, "shape"),
    ],
)
def test_what_cannot_be_tied_to_the_chain_is_refused_but_its_bytes_are_kept(office, phone, job, make, code):
    bad = make(phone, job)
    _, answer = phone.push([bad])
    assert results(answer) == [("refused", code)]
    assert answer["last_sequence"] == 1
    with reading(office.engine) as conn:
        kept = conn.exec_driver_sql("SELECT bytes FROM log_strays").scalars().all()
    # Of what is longer than any record may be, the hash says enough.
    expected = {"shape": [], "too_long": [b""]}
    assert kept == (expected[code] if code in expected else [bad["bytes"].encode()])


def test_an_entry_longer_than_any_is_refused_in_its_place_and_the_next_are_stored(office, phone, job):
    """The refusal stands in the log as that of any other entry, so the phone's chain stays provable."""
    long = phone.keep(phone.entry("note_made", job, body={"text": "x" * 70_000}))
    phone.note(job, "after it")
    _, answer = phone.push()
    assert results(answer) == [("refused", "too_long"), ("stored", "")]
    assert "70," in answer["results"][0]["message"] and "65,536" in answer["results"][0]["message"]
    assert answer["last_sequence"] == phone.sequence
    refusals = desk_says(office, "entry_refused")
    assert [(s["sequence"], s["code"]) for s in refusals] == [(phone.sequence - 1, "too_long")]
    assert refusals[0]["entry_hash"] == sha256_hex(long["bytes"].encode())
    with reading(office.engine) as conn:
        assert [kept["bytes"] for kept in read.all_refused(conn, office.workshop.id)] == [long["bytes"].encode()]
        assert conn.exec_driver_sql("SELECT count(*) FROM log_strays").scalar() == 0
    _, answer = phone.push([long])
    assert results(answer) == [("refused", "too_long")]
    assert len(desk_says(office, "entry_refused")) == 1


def test_a_missing_number_means_later_and_nothing_is_lost(office, phone, job):
    sent = [phone.note(job, f"note {n}") for n in range(3)]
    _, answer = phone.push([sent[0], sent[2]])
    assert results(answer) == [("stored", ""), ("later", "gap")]
    assert "Record 3" in answer["results"][1]["message"]
    _, answer = phone.push()
    assert results(answer) == [("stored", ""), ("stored", "")]
    assert [entry["sequence"] for entry in logged(office, phone.device)] == [1, 2, 3, 4]


def test_a_number_the_phone_declares_lost_lets_the_chain_go_on(office, phone, job):
    phone.note(job, "eaten by a bad memory chip")
    phone.outbox.clear()
    kept = phone.note(job, "after it")
    _, answer = phone.push([kept])
    assert results(answer) == [("later", "gap")]
    _, answer = phone.push([kept], lost=[2])
    assert results(answer) == [("stored", "")]
    assert answer["last_sequence"] == 3
    refusals = desk_says(office, "entry_refused")
    assert [(s["sequence"], s["code"], s["entry_hash"]) for s in refusals] == [(2, "lost", ZERO)]
    _, answer = phone.push([kept], lost=[2])
    assert results(answer) == [("duplicate", "")]
    assert len(desk_says(office, "entry_refused")) == 1


def test_a_number_that_is_here_cannot_be_declared_lost(office, phone, job):
    phone.note(job)
    phone.push(lost=[1, 2, 40])
    assert desk_says(office, "entry_refused") == []
    assert len(logged(office, phone.device)) == 2


def test_a_forked_phone_is_refused_and_both_sides_are_kept(office, phone, job):
    where = phone.sequence, phone.previous
    phone.note(job, "first story")
    phone.push()
    phone.sequence, phone.previous = where
    other = phone.note(job, "second story")
    _, answer = phone.push([other])
    assert results(answer) == [("refused", "fork")]
    assert [e["body"].get("text") for e in logged(office, phone.device)][1:] == ["first story"]
    with reading(office.engine) as conn:
        assert conn.exec_driver_sql("SELECT bytes FROM log_strays").scalars().all() == [other["bytes"].encode()]


def test_an_entry_that_names_another_one_before_it_is_a_fork_too(phone, job):
    phone.keep(phone.entry("note_made", job, previous="ab" * 32))
    _, answer = phone.push()
    assert results(answer) == [("refused", "fork")]


def test_the_same_id_with_other_bytes_raises_an_alarm(office, phone, job):
    first = phone.entry("note_made", job)
    phone.keep(first)
    phone.push()
    phone.keep(phone.entry("note_made", job, id=first["id"], body={"text": "rewritten"}))
    _, answer = phone.push()
    assert results(answer) == [("refused", "other_bytes")]
    assert logged(office, phone.device)[-1]["body"] == first["body"]


def test_a_phone_that_was_shut_out_is_told_to_keep_what_it_has(office, phone, job):
    phone.note(job)
    with writing(office.engine) as conn:
        joining.block(conn, office.settings, office.manager, phone.device, "left on a bus")
    status, answer = phone.push()
    assert (status, answer["code"]) == (403, "phone_shut_out")
    assert "Nothing on it is lost" in answer["message"]
    assert len(phone.outbox) == 1
    assert phone.get("/api/sync/pull?feed=workshop")[0] == 403
    status, state = phone.get("/api/sync/state")
    assert status == 200 and state["device"]["revoked"] is True
    assert state["people"] == []  # nor anything to try PINs against
    assert desk_says(office, "device_revoked") == [{"device": phone.device, "reason": "left on a bus"}]


def test_two_phones_writing_at_once_never_make_a_reader_miss_an_entry(office):
    writers = [office.phone("One"), office.phone("Two")]
    reader = office.phone("Three")
    jobs = [writer.open_job() for writer in writers]
    seen, cursor = [], 0

    def read_on():
        nonlocal cursor
        _, page = reader.get(f"/api/sync/pull?feed=workshop&after={cursor}&limit=3")
        seen.extend(entry["position"] for entry in page["entries"])
        cursor = page["next"]
        return page["more"]

    def write(index):
        for _ in range(12):
            jobs.append(writers[index].open_job())
            writers[index].push()

    with ThreadPoolExecutor(2) as pool:
        busy = [pool.submit(write, index) for index in range(2)]
        while not all(writer.done() for writer in busy):
            read_on()
        for writer in busy:
            writer.result()
    while read_on():
        pass
    with reading(office.engine) as conn:
        everything = [row.position for row in read.whole_log(conn, office.workshop.id)]
    assert seen == everything == list(range(1, len(everything) + 1))


def test_a_wrong_protocol_and_unknown_fields_are_refused_before_anything_is_read(phone, job):
    phone.note(job)
    status, answer = phone.push(protocol=2)
    assert (status, answer["code"]) == (422, "protocol")
    status, answer = phone.push(mood="good")
    assert (status, answer["where"]) == (422, "mood")
    status, answer = phone.post("/api/sync/push", phone.ask_push([]) | {"entries": "all of them"})
    assert (status, answer["where"]) == (422, "entries")
    assert len(phone.outbox) == 1


def test_more_than_a_thousand_at_once_are_not_taken(phone):
    status, answer = phone.push([{"bytes": "", "signature": ""}] * 1001)
    assert (status, answer["code"]) == (422, "too_many")


def test_the_office_learns_what_a_phone_says_it_holds_and_how_far_its_clock_is_off(office, phone, job):
    phone.note(job)
    phone.push(announced=40, device_time="2020-01-01T00:00:00.000+00:00")
    with reading(office.engine) as conn:
        device = devices.get(conn, phone.workshop, phone.device)
        row = list(read.device_chain(conn, phone.workshop, phone.device))[-1]
    assert device.announced == 40
    assert device.clock_offset_ms > 5 * 365 * 86_400_000
    assert abs(row.offset_ms - device.clock_offset_ms) < 5
    assert device.last_seen == row.received


def test_a_clock_that_is_wrong_or_unreadable_decides_nothing(phone, job):
    phone.note(job, claimed="1999-01-01T00:00:00.000+00:00")
    _, answer = phone.push(device_time="half past nine")
    assert results(answer) == [("stored", "")]


def test_a_person_put_away_may_still_have_written_before(office, phone, job):
    with writing(office.engine) as conn:
        gone = persons.add(conn, office.workshop.id, "Tomas", "technician")
        persons.change(conn, office.workshop.id, gone.id, active=False)
    phone.note(job, author=gone.id)
    _, answer = phone.push()
    assert results(answer) == [("stored", "")]


def test_a_push_of_nothing_still_tells_how_things_stand(office, phone, job):
    _, answer = phone.push([])
    with reading(office.engine) as conn:
        head = heads.latest(conn, office.workshop.id)
    assert answer["results"] == [] and answer["head"] == head.wire() and answer["last_sequence"] == 1
