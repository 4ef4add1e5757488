"""A record that states another length than its file has spoils nothing but itself."""

from __future__ import annotations

import hashlib

import pytest

from tests.support.media import jpeg
from tests.support.phone import Phone
from tests.support.record import at, describe, keep, photograph, send
from witnessmark.db import reading, writing
from witnessmark.media.store import adopt
from witnessmark.pack.build import build
from witnessmark.proof.verify import verify


def wrongly_named(phone: Phone, job: str, data: bytes) -> dict:
    media = [
        {"sha256": hashlib.sha256(data).hexdigest(), "length": 7, "name": "x", "role": "original", "type": "image/jpeg"}
    ]
    body = {"method": "camera", "width": 4000, "height": 3000, "sharpness": None, "exposure": "ok", "caption": ""}
    entry = phone.entry("photo_taken", job, location=at("bore/3"), body=body | {"file_time": None}, media=media)
    return keep(phone, entry)


@pytest.mark.parametrize("sort", ["sealed", "customer"])
def test_a_length_that_was_stated_before_the_file_came_is_a_remark_in_packs(built, office, client, tmp_path, sort):
    data = jpeg()
    honest, other = office.phone("bay 1"), office.phone("bay 2")
    job = honest.open_job("24-118", engine_type=describe(client))
    send(honest)
    wrongly_named(other, job, data)
    send(other)
    photograph(honest, job, "bore/3", data)
    send(honest)
    with writing(office.engine) as conn:
        adopt(office.settings, conn, data)
    with reading(office.engine) as conn:
        made = build(conn, office.settings, job, sort, tmp_path)
    report = verify(made.path)
    stated = ", ".join(sorted([str(len(data)), "7"]))

    assert report.faults == []
    assert any(remark.endswith(f"by the records: {stated}; by the pack: {len(data)}") for remark in report.remarks)


def test_a_length_that_the_file_here_has_not_is_refused_and_told(office, client):
    data = jpeg()
    phone = office.phone()
    job = phone.open_job("24-118", engine_type=describe(client))
    send(phone)
    with writing(office.engine) as conn:
        adopt(office.settings, conn, data)
    wrongly_named(phone, job, data)
    right = photograph(phone, job, "bore/3", data)
    status, answer = phone.push()
    results = [result["result"] for result in answer["results"]]

    assert status == 200 and results[0] == "refused" and results[1] in ("stored", "duplicate")
    assert answer["results"][0]["code"] == "other_length" and f"{len(data):,}" in answer["results"][0]["message"]
    assert right["media"][0]["length"] == len(data)
