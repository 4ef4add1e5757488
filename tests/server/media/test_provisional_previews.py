"""Previews that phones send before their originals: of their own pictures, until the original is here."""

from __future__ import annotations

import pytest

from tests.support.media import Sender, jpeg, look, noise, sha
from tests.support.record import photograph, send
from witnessmark.db import reading, writing
from witnessmark.media import previews
from witnessmark.tasks import worker

PICTURE, KHAKI = jpeg(1000, 800), jpeg(320, 256, "khaki")


@pytest.fixture
def sender(office, phone) -> Sender:
    return Sender(office.app, phone.token)


@pytest.fixture
def named(phone):
    """Has the phone record a picture, its original still to come; gives its SHA-256."""
    job = phone.open_job()

    def record(data: bytes) -> str:
        photograph(phone, job, "bore/3", data)
        send(phone)
        return sha(data)

    return record


def put(sender: Sender, sha256: str, data: bytes = KHAKI):
    return sender.ask("PUT", f"/api/media/{sha256}/preview", data, Content_Type="image/jpeg")


def preview_of(office, sha256: str) -> previews.Preview | None:
    with reading(office.engine) as conn:
        assert previews.having_preview(conn, [sha256]) == (
            {sha256} if previews.find(office.settings, conn, sha256, 320) else set()
        )
        return previews.find(office.settings, conn, sha256, 320)


def test_it_serves_until_the_server_has_made_its_own(office, sender, named):
    sha256 = named(PICTURE)
    assert put(sender, sha256).get_json() == {"kept": True}
    before = preview_of(office, sha256)
    assert (before.final, before.path.read_bytes()) == (False, KHAKI)

    sender.send(PICTURE)
    look(office.settings, office.engine, sha256)

    assert preview_of(office, sha256).final
    assert not before.path.exists()
    assert put(sender, sha256).get_json() == {"kept": False}


def test_it_ends_with_the_original_even_if_that_cannot_be_drawn(office, sender, named):
    cut = PICTURE[:2_000]
    sha256 = named(cut)
    put(sender, sha256)
    kept = preview_of(office, sha256).path
    sender.send(cut)

    # Until the worker has looked at it, seconds later, there is nothing better.
    assert preview_of(office, sha256).path == kept
    assert put(sender, sha256).get_json() == {"kept": False}
    assert "could not be drawn" in look(office.settings, office.engine, sha256)["fault"]
    assert preview_of(office, sha256) is None and not kept.exists()
    assert put(sender, sha256).get_json() == {"kept": False}


def test_no_phone_may_show_another_phones_picture(office, client, sender, named):
    sha256, other = named(PICTURE), office.phone("Phone in bay 3")
    stranger = Sender(office.app, other.token)
    refused = put(stranger, sha256)
    # Its own record that names the same file comes second, and gives it no say either.
    photograph(other, other.open_job("24-119"), "bore/1", PICTURE)
    send(other)
    again = put(stranger, sha256)

    assert (refused.status_code, refused.get_json()["code"]) == (409, "not_its_picture")
    assert (again.status_code, again.get_json()["code"]) == (409, "not_its_picture")
    assert "another phone" in again.get_json()["message"]
    assert client.put(f"/api/media/{sha256}/preview", data=KHAKI).status_code == 401
    assert preview_of(office, sha256) is None
    assert put(sender, sha256).get_json() == {"kept": True}


def test_a_preview_of_what_no_record_names_is_refused(office, sender):
    answer = put(sender, sha(PICTURE))

    assert (answer.status_code, answer.get_json()["code"]) == (409, "no_record")
    assert "Send the record first" in answer.get_json()["message"]
    assert preview_of(office, sha(PICTURE)) is None


def test_one_that_is_no_jpeg_or_too_large_is_refused(sender, named):
    sha256 = named(PICTURE)

    assert put(sender, sha256, b"<svg onload=alert(1)>").status_code == 422
    assert put(sender, sha256, b"\xff\xd8\xff" + noise(300_001)).status_code == 413
    assert put(sender, "A" * 64).status_code == 404


def test_housekeeping_drops_what_no_record_names_and_what_has_served_and_nothing_else(
    office, sender, named, monkeypatch
):
    monkeypatch.setattr(worker, "SWEPT_AT_ONCE", 2)
    waiting, arrived = [named(jpeg(500 + at, 400)) for at in range(3)], named(PICTURE)
    unnamed = [sha(jpeg(600 + at, 400)) for at in range(3)]
    for sha256 in (*waiting, *unnamed, arrived):
        # As one that an earlier edition took from any phone.
        assert previews.keep_provisional(office.settings, office.engine, sha256, KHAKI)
    sender.send(PICTURE)
    with writing(office.engine) as conn:
        # As if the worker had been cut off between looking at it and dropping what the phone sent.
        conn.exec_driver_sql("UPDATE media SET looked = received")
    tools = worker.Tools(office.settings, office.engine)
    try:
        assert worker.sweep(tools) == 4
        assert worker.sweep(tools) == 0
    finally:
        tools.close()

    assert {path.name.split(".")[0] for path in office.settings.previews.glob("??/*.phone.jpg")} == set(waiting)
    with writing(office.engine) as conn:
        assert set(previews.provisional(conn, "", 100)) == set(waiting)
