"""What is written in the office is signed and chained like any record of a phone; engine types travel as files."""

from __future__ import annotations

import hashlib
import json
from base64 import b64encode

import pytest

from tests.server.office.test_office import a_technician
from tests.support import record
from witnessmark.db import reading
from witnessmark.log import read
from witnessmark.trade.ground.identifiers import uuid7


def write(client, job: str | None, kind: str, body: dict, **more):
    return client.post("/api/desk/entries", json={"job": job, "kind": kind, "body": body} | more)


def opening(engine_type: str, **facts) -> dict:
    return {
        "number": "24-200",
        "vehicle": "Delivery van",
        "registration": "KR 2207",
        "engine_type": engine_type,
        "engine_number": "K-7",
        "distance": "181000",
        "distance_unit": "km",
        "complaint": "Oil lamp stays on",
        "received_as": "",
        "earlier_job": "",
    } | facts


@pytest.fixture
def job(client) -> str:
    """A job opened at the desk."""
    answer = write(client, None, "job_opened", opening(record.describe(client)))
    assert answer.status_code == 201, answer.get_json()
    return answer.get_json()["job"]["id"]


def upload(client, data: bytes, kind: str) -> dict:
    """Sends a file by tus as the office's page does; returns what a record says of it."""
    sha256 = hashlib.sha256(data).hexdigest()
    metadata = f"sha256 {b64encode(sha256.encode()).decode()}"
    begin = {"Tus-Resumable": "1.0.0", "Upload-Length": str(len(data)), "Upload-Metadata": metadata}
    address = client.post("/api/media/uploads", headers=begin).headers["Location"]
    piece = {"Tus-Resumable": "1.0.0", "Content-Type": "application/offset+octet-stream", "Upload-Offset": "0"}
    assert client.patch(address, data=data, headers=piece).status_code == 204
    return {"sha256": sha256, "length": len(data), "type": kind, "name": "Certificate 14.pdf", "role": "document"}


def test_a_job_opened_at_the_desk_is_in_the_list_and_known_to_phones(client, phone, job):
    listed = client.get("/api/jobs").get_json()["jobs"]
    assert [(row["id"], row["number"], row["stage"]) for row in listed] == [(job, "24-200", "intake")]
    _, answer = phone.get("/api/sync/pull?feed=workshop")
    assert job in {json.loads(entry["bytes"])["job"] for entry in answer["entries"]}


def test_opening_a_job_twice_is_refused(client, job):
    answer = write(client, job, "job_opened", opening(record.ENGINE_TYPE_ID))
    assert (answer.status_code, answer.get_json()["code"]) == (422, "opened")


def test_a_record_of_the_desk_bears_the_name_of_who_was_signed_in_and_the_stage_of_the_job(client, office, job):
    write(client, job, "stage_reached", {"stage": "agree"})
    technician = a_technician(client, office)
    item = write(technician, job, "note_made", {"text": "Owner agrees to new shells"}).get_json()
    assert item["author"]["name"] == "Tomas"
    assert item["device"]["name"] == "Office desk"
    assert item["stage"] == "agree"
    with reading(office.engine) as conn:
        chain = list(read.device_chain(conn, office.workshop.id, office.workshop.desk))
    assert [row.entry["previous"] for row in chain[1:]] == [row.hash for row in chain[:-1]]


def test_a_document_is_a_record_once_its_bytes_are_here_and_not_before(client, job):
    data = b"%PDF-1.7 a certificate of the crack test"
    named = {
        "sha256": hashlib.sha256(data).hexdigest(), "length": len(data), "type": "application/pdf",
        "name": "Certificate 14.pdf", "role": "document",
    }  # fmt: skip
    body = {"title": "Crack test, head A", "remark": ""}
    early = write(client, job, "document_added", body, media=[named], location=record.at("head/A"))
    assert (early.status_code, early.get_json()["code"]) == (422, "not_here")
    assert upload(client, data, "application/pdf") == named
    item = write(client, job, "document_added", body, media=[named], location=record.at("head/A")).get_json()
    assert item["media"][0]["here"] is True
    assert item["place_name"].startswith("cylinder head")
    with client.get(f"/api/media/{named['sha256']}/original") as original:
        assert original.data == data


def test_a_record_of_a_phone_can_be_corrected_at_the_desk(client, phone, job):
    misread = record.measure(phone, job, "bore/3", "88.94")
    record.send(phone)
    body = {
        "entry": misread["id"], "entry_hash": record.hash_of(misread), "reason": "Gauge was set wrong",
        "changes": {"value": "88.84"}, "location": None,
    }  # fmt: skip
    answer = write(client, job, "entry_corrected", body)
    assert answer.status_code == 201, answer.get_json()
    assert answer.get_json()["corrects"] == {"id": misread["id"], "exhibit": 2}


def test_a_place_the_engine_does_not_have_is_refused_with_the_place_named(client, job):
    answer = write(client, job, "note_made", {"text": "Scored"}, location=record.at("bore/7"))
    assert answer.status_code == 422
    assert answer.get_json()["where"] == "location.place" and "bore/7" in answer.get_json()["message"]


@pytest.mark.parametrize(
    "kind", ["workshop_founded", "device_enrolled", "pack_issued", "entry_refused", "no_such_kind"]
)
def test_what_the_server_itself_writes_cannot_be_written_by_hand(client, job, kind):
    answer = write(client, job, kind, {})
    assert answer.status_code == 422
    assert answer.get_json()["where"] == "kind"


def test_a_record_for_a_job_that_is_not_there_is_refused(client):
    answer = write(client, "00000000-0000-4000-8000-000000000000", "note_made", {"text": "Scored"})
    assert (answer.status_code, answer.get_json()["code"]) == (404, "unknown_job")


def test_an_engine_type_described_anew_is_read_by_its_newest_name_and_keeps_its_history(client, office):
    id = record.describe(client)
    record.describe(client, record.a_v6(name="Halvern 2.9 V6, second series"))
    listed = client.get("/api/engine-types").get_json()["engine_types"]
    assert [(engine_type["id"], engine_type["name"]) for engine_type in listed] == [
        (id, "Halvern 2.9 V6, second series")
    ]
    answer = client.get(f"/api/engine-types/{id}").get_json()
    assert [line["name"] for line in answer["history"]] == ["Halvern 2.9 V6, second series", "Halvern 2.9 V6"]
    assert answer["history"][0]["author"]["name"] == office.manager.name


def test_all_faults_of_an_engine_type_are_told_at_once_and_none_is_saved(client):
    faulty = record.a_v6(firing_order=[1, 2, 3], mains=0)
    answer = client.post("/api/engine-types/check", json={"engine_type": faulty}).get_json()
    assert answer["faults"]
    refused = client.post("/api/engine-types", json={"engine_type": faulty})
    assert (refused.status_code, refused.get_json()["code"]) == (422, "faulty_engine_type")
    assert client.get("/api/engine-types").get_json()["engine_types"] == []


def test_an_engine_type_goes_out_as_a_file_and_comes_in_again_the_same(client):
    id = record.describe(client)
    file = client.get(f"/api/engine-types/{id}/file")
    assert 'filename="halvern-2-9-v6.json"' in file.headers["Content-Disposition"]
    answer = client.post("/api/engine-types/read-file", data=file.data).get_json()
    assert answer == {"engine_type": record.a_v6(), "faults": []}


def test_a_file_that_is_no_engine_type_is_refused_in_words(client):
    answer = client.post("/api/engine-types/read-file", data=b"\x00 not text")
    assert (answer.status_code, answer.get_json()["code"]) == (422, "bad_file")


def test_a_technician_may_add_records_and_read_engine_types_but_not_describe_them(client, office, job):
    technician = a_technician(client, office)
    assert write(technician, job, "note_made", {"text": "Seen"}).status_code == 201
    assert technician.get("/api/engine-types").status_code == 200
    assert technician.post("/api/engine-types", json={"engine_type": record.a_v6()}).status_code == 403
    assert technician.post(f"/api/jobs/{job}/packs", json={"sort": "sealed"}).status_code == 403


def test_the_owner_of_a_job_is_kept_beside_the_log_and_can_be_erased(client, office, job):
    owner = {"name": "M. Invented", "phone": "555 0100", "mail": "m@example.org"}
    assert client.post(f"/api/jobs/{job}/owner", json=owner).status_code == 200
    assert client.get(f"/api/jobs/{job}/owner").get_json() == owner
    with reading(office.engine) as conn:
        assert not any(
            b"Invented" in row.bytes and b"555" in row.bytes for row in read.whole_log(conn, office.workshop.id)
        )
    technician = a_technician(client, office)
    assert technician.delete(f"/api/jobs/{job}/owner").status_code == 403
    assert client.delete(f"/api/jobs/{job}/owner").status_code == 204
    assert client.get(f"/api/jobs/{job}/owner").get_json() == {"name": "", "phone": "", "mail": ""}


def test_what_the_server_writes_itself_bears_the_name_of_the_desk(client, office, phone, job):
    """A record that was refused is logged when nobody is there to sign it but the server."""
    phone.note(job, weather="rain")
    phone.push()
    with reading(office.engine) as conn:
        last = list(read.whole_log(conn, office.workshop.id))[-1]
    answer = client.get(f"/api/entries/{last.id}").get_json()
    assert (answer["kind"], answer["author"]["name"]) == ("entry_refused", "the office desk")
    assert answer["device"]["name"] == "Office desk"


def test_a_record_asked_for_again_because_the_answer_got_lost_is_there_once(client, job):
    payload = {"id": uuid7(), "job": job, "kind": "note_made", "body": {"text": "Owner rang."}}
    first, again = (client.post("/api/desk/entries", json=payload) for _ in range(2))
    assert (first.status_code, again.status_code) == (201, 201)
    assert again.get_json()["position"] == first.get_json()["position"]
    notes = client.get(f"/api/jobs/{job}/timeline?kind=note_made").get_json()["items"]
    assert [note["text"] for note in notes] == ["Owner rang."]

    other = client.post("/api/desk/entries", json=payload | {"body": {"text": "Owner wrote."}})
    assert other.status_code == 422
    assert other.get_json()["where"] == "id"
