"""What one sender may cost the disk: so many uploads and bytes under way, never the reserve, nobody else's upload."""

from __future__ import annotations

import hashlib
import os
import time
from base64 import b64encode

import pytest

from tests.support.media import Sender, noise, sha
from witnessmark.media import hashing, room, store, uploads
from witnessmark.media.errors import MediaRefusal


@pytest.fixture
def sender(office, phone) -> Sender:
    return Sender(office.app, phone.token)


def left_alone(office, sha256: str, seconds: float) -> None:
    """As if the upload had not grown for so long."""
    [part] = office.settings.uploads.glob(f"*/{sha256}.*.part")
    os.utime(part, (time.time() - seconds,) * 2)


def begun(sender: Sender, data: bytes) -> str:
    answer = sender.begin(data)
    assert answer.status_code == 201, answer.get_json()
    return answer.headers["Location"]


def test_a_sender_has_so_many_uploads_under_way_and_the_one_left_alone_gives_way(office, sender, monkeypatch):
    monkeypatch.setattr(uploads, "MOST_OPEN", 3)
    files = [noise(1_000 + number) for number in range(4)]
    paths = [begun(sender, data) for data in files[:3]]
    refused = sender.begin(files[3])

    assert (refused.status_code, refused.get_json()["code"]) == (429, "too_much_open")
    assert refused.headers["Retry-After"] == str(room.RETRY_AFTER)
    assert "3 uploads from here are under way" in refused.get_json()["message"]
    assert begun(sender, files[0]) == paths[0], "what is under way goes on"
    assert begun(Sender(office.app, office.phone("Phone in bay 3").token), files[3]), "others are not held up"

    left_alone(office, sha(files[1]), uploads.GIVES_WAY_AFTER + 60)
    assert begun(sender, files[3])
    assert sender.stands(paths[1]).status_code == 404
    assert sender.stands(paths[0]).status_code == sender.stands(paths[2]).status_code == 200


def test_a_sender_has_so_many_bytes_under_way_counted_as_announced(sender, monkeypatch):
    monkeypatch.setattr(uploads, "MOST_OPEN_BYTES", 10_000)
    first, second, third = noise(6_000), noise(5_000), noise(4_000)
    path = begun(sender, first)

    assert sender.begin(second).status_code == 429
    assert begun(sender, third)
    assert sender.piece(path, 0, first).status_code == 204
    assert begun(sender, second), "what has arrived is no longer under way"


def test_room_is_looked_at_with_every_piece_as_others_fill_the_disk_meanwhile(office, sender, monkeypatch):
    data = noise(5_000)
    path = begun(sender, data)
    monkeypatch.setattr(uploads, "PIECE", 1_000)
    actual = os.statvfs(office.settings.uploads)
    # Enough for the whole file when it is asked for; after two pieces somebody else has taken it.
    free = iter([room.RESERVE + 10 * actual.f_frsize + len(data)] * 3)

    def statvfs(_):
        return os.statvfs_result([*actual[:4], next(free, room.RESERVE) // actual.f_frsize, *actual[5:]])

    with monkeypatch.context() as patched:
        patched.setattr(room.os, "statvfs", statvfs)
        assert sender.piece(path, 0, data).status_code == 507
    assert sender.stands(path).headers["Upload-Offset"] == "2000"
    assert sender.piece(path, 2_000, data[2_000:]).status_code == 204
    assert store.path_of(office.settings, sha(data)).read_bytes() == data


def test_a_checked_piece_is_held_in_memory_and_so_is_not_long(sender):
    data = noise(hashing.LARGEST_CHECKED + 1)
    path = begun(sender, data)
    checksum = f"sha256 {b64encode(hashlib.sha256(data).digest()).decode()}"
    refused = sender.piece(path, 0, data, Upload_Checksum=checksum)

    assert (refused.status_code, refused.get_json()["code"]) == (413, "piece_too_long")
    assert hashing.LARGEST_CHECKED <= 4 << 20
    assert sender.piece(path, 0, data).status_code == 204


def test_nobody_can_spoil_what_another_has_half_sent(office, sender):
    data, other = noise(5_000), Sender(office.app, office.phone("Phone in bay 3").token)
    path = begun(sender, data)
    sender.piece(path, 0, data[:2_000])
    assert begun(other, data) == path
    assert other.stands(path).headers["Upload-Offset"] == "0"
    other.piece(path, 0, b"x" * 4_000)

    assert sender.stands(path).headers["Upload-Offset"] == "2000"
    assert sender.piece(path, 2_000, data[2_000:]).status_code == 204
    assert store.path_of(office.settings, sha(data)).read_bytes() == data
    # The other one is told that it is here, and its half is gone.
    assert other.begin(data).headers["Upload-Offset"] == "5000"
    assert list(office.settings.uploads.glob("*/*.part")) == []


def test_an_upload_swept_away_under_its_sender_is_begun_again(office):
    data = noise(3_000)
    upload, under_way = uploads.Upload(sha(data), len(data), "a"), uploads.Uploads(office.settings, office.engine)
    under_way.create(upload)
    left_alone(office, upload.sha256, uploads.EXPIRES_AFTER + 60)
    assert under_way.sweep() == 1
    with pytest.raises(MediaRefusal) as refused:
        under_way.progress(upload)

    assert refused.value.status == 404
    assert under_way.create(upload).offset == 0
