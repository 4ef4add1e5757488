"""An original arrives in pieces, survives every way of breaking off, and is here only when every byte is."""

from __future__ import annotations

import hashlib
import os
import time
from base64 import b64encode

import pytest

from tests.support.media import PIECE, Sender, jpeg, metadata, noise, sha
from witnessmark.media import room, store, uploads
from witnessmark.media.errors import MediaRefusal


@pytest.fixture
def sender(office, phone) -> Sender:
    return Sender(office.app, phone.token)


def is_here(office, sha256: str) -> bool:
    with office.engine.connect() as conn:
        return store.has(conn, sha256)


def partials(office) -> list[str]:
    return sorted(path.name for path in office.settings.uploads.glob("**/*") if path.is_file())


def test_a_file_sent_in_one_piece_is_here_byte_for_byte(office, sender):
    data = noise(300_000)
    begun = sender.begin(data)
    answer = sender.piece(begun.headers["Location"], 0, data)

    assert (begun.status_code, begun.headers["Upload-Offset"]) == (201, "0")
    assert begun.headers["Location"] == f"/api/media/uploads/{sha(data)}.{len(data)}"
    assert (answer.status_code, answer.headers["Upload-Offset"]) == (204, str(len(data)))
    assert is_here(office, sha(data))
    assert store.path_of(office.settings, sha(data)).read_bytes() == data
    assert partials(office) == []


def test_a_file_sent_in_many_pieces_is_the_same_file(office, sender):
    data = noise(500_001)
    path = sender.begin(data).headers["Location"]
    for offset in range(0, len(data), 70_000):
        assert not is_here(office, sha(data))
        answer = sender.piece(path, offset, data[offset : offset + 70_000])
        assert answer.status_code == 204

    assert store.path_of(office.settings, sha(data)).read_bytes() == data


def test_a_sender_that_forgot_everything_is_told_where_to_go_on(sender):
    data = noise(9_000)
    path = sender.begin(data).headers["Location"]
    sender.piece(path, 0, data[:4_000])

    again = sender.begin(data)

    assert again.headers["Upload-Offset"] == "4000"
    assert sender.stands(path).headers["Upload-Offset"] == "4000"
    assert sender.stands(path).headers["Upload-Length"] == "9000"
    assert "Upload-Expires" in sender.stands(path).headers


def test_a_file_that_is_here_is_not_asked_for_twice(sender):
    data = noise(5_000)
    sender.send(data)

    again = sender.begin(data)

    assert (again.status_code, again.headers["Upload-Offset"]) == (201, "5000")
    assert sender.stands(again.headers["Location"]).headers["Upload-Offset"] == "5000"


def test_an_original_is_written_once_and_nobody_may_write_to_it(office, sender):
    path = store.path_of(office.settings, sender.send(noise(5_000)))

    assert path.stat().st_mode & 0o777 == 0o444


def test_bytes_that_are_not_the_file_they_claim_to_be_are_thrown_away(office, sender):
    data = noise(6_000)
    path = sender.begin(data).headers["Location"]
    answer = sender.piece(path, 0, data[:-1] + bytes([data[-1] ^ 1]))

    assert answer.status_code == 460
    assert "discarded" in answer.get_json()["message"]
    assert not is_here(office, sha(data))
    assert sender.stands(path).status_code == 404
    sender.send(data)
    assert is_here(office, sha(data))


def test_bytes_swapped_between_two_pieces_are_noticed(office, sender):
    """The hash runs along in memory; it must notice a partial file that somebody else changed."""
    data = noise(8_000)
    path = sender.begin(data).headers["Location"]
    sender.piece(path, 0, data[:4_000])
    part = next(office.settings.uploads.glob("*/*.part"))
    part.write_bytes(b"x" * 4_000)
    answer = sender.piece(path, 4_000, data[4_000:])

    assert answer.status_code == 460
    assert not is_here(office, sha(data))


@pytest.mark.parametrize("name, function", [("sha256", hashlib.sha256), ("sha1", hashlib.sha1)])
def test_a_damaged_piece_is_refused_and_only_that_piece(sender, name, function):
    data = noise(8_000)
    path = sender.begin(data).headers["Location"]
    first, rest = data[:5_000], data[5_000:]
    right = f"{name} {b64encode(function(first).digest()).decode()}"

    damaged = sender.piece(path, 0, first[:-1] + b"?", Upload_Checksum=right)
    assert damaged.status_code == 460
    assert sender.stands(path).headers["Upload-Offset"] == "0"
    assert sender.piece(path, 0, first, Upload_Checksum=right).headers["Upload-Offset"] == "5000"
    assert sender.piece(path, 5_000, rest).headers["Upload-Offset"] == "8000"


def test_a_checksum_nobody_can_read_is_told_before_anything_is_taken(sender):
    data = noise(100)
    path = sender.begin(data).headers["Location"]

    assert sender.piece(path, 0, data, Upload_Checksum="md5 AAAA").status_code == 400
    assert sender.piece(path, 0, data, Upload_Checksum="sha256 !").status_code == 400
    assert sender.stands(path).headers["Upload-Offset"] == "0"


def test_a_piece_that_does_not_follow_on_is_refused(sender):
    data = noise(8_000)
    path = sender.begin(data).headers["Location"]

    answer = sender.piece(path, 100, data[100:])

    assert answer.status_code == 409
    assert "byte 0" in answer.get_json()["message"]


def test_more_than_was_announced_is_refused(sender):
    data = noise(8_000)
    path = sender.begin(data).headers["Location"]

    assert sender.piece(path, 0, data + b"more").status_code == 413


def test_the_slower_of_two_senders_of_one_file_is_told_so_and_the_file_is_whole(office):
    """The race is forced: the second sender writes while the first one waits for its next bytes."""
    data = noise(400_000)
    upload = uploads.Upload(sha(data), len(data))
    # Two of them: as if two server processes shared the folder.
    first, other = uploads.Uploads(office.settings, office.engine), uploads.Uploads(office.settings, office.engine)
    first.create(upload)
    slow, fast = iter([data[:100_000], data[100_000:]]), [data]

    def slowly(most):
        if fast:
            body = fast.pop()
            sent = iter([body[at : at + most] for at in range(0, len(body), most)])
            assert other.append(upload, 0, lambda _: next(sent, b""), len(body)).here
        return next(slow)

    with pytest.raises(MediaRefusal) as refusal:
        first.append(upload, 0, slowly, len(data))

    assert refusal.value.status == 409
    assert store.path_of(office.settings, upload.sha256).read_bytes() == data


def test_a_file_complete_but_unchecked_when_the_server_died_is_checked_when_asked_for(office, sender):
    data = noise(7_000)
    path = sender.begin(data).headers["Location"]
    next(office.settings.uploads.glob("*/*.part")).write_bytes(data)

    assert sender.stands(path).headers["Upload-Offset"] == "7000"
    assert is_here(office, sha(data))


def test_a_file_in_its_place_but_not_in_the_register_is_taken_up_again(office, sender):
    data = noise(7_000)
    place = store.path_of(office.settings, sha(data))
    place.parent.mkdir(parents=True)
    place.write_bytes(data)

    assert sender.begin(data).headers["Upload-Offset"] == "7000"
    assert is_here(office, sha(data))


def test_a_crash_before_the_last_step_leaves_a_partial_that_can_be_gone_on_with(office, sender, monkeypatch):
    """Nobody may write to an original; but one that did not reach its place yet is none."""
    data = jpeg()
    path = sender.begin(data).headers["Location"]
    with monkeypatch.context() as crash, pytest.raises(KeyboardInterrupt):
        crash.setattr(store.Folder, "place", lambda *_: (_ for _ in ()).throw(KeyboardInterrupt))
        sender.piece(path, 0, data)
    part = next(office.settings.uploads.glob("*/*.part"))
    assert part.stat().st_mode & 0o777 == 0o600
    assert sender.begin(data).headers["Upload-Offset"] == str(len(data))
    assert store.path_of(office.settings, sha(data)).stat().st_mode & 0o777 == 0o444


def test_a_damaged_file_in_its_place_is_not_taken_for_the_original(office, sender):
    data = noise(7_000)
    place = store.path_of(office.settings, sha(data))
    place.parent.mkdir(parents=True)
    place.write_bytes(data[:-1] + b"x")

    sender.send(data)

    assert place.read_bytes() == data


def test_an_empty_file_is_kept_too(office, sender):
    assert sender.begin(b"").headers["Upload-Offset"] == "0"
    assert is_here(office, sha(b""))


def test_an_upload_may_bring_its_bytes_when_it_begins(office, sender):
    data = jpeg()
    named = metadata(sha(data))
    answer = sender.ask(
        "POST", "/api/media/uploads", data, Upload_Length=str(len(data)), Upload_Metadata=named, Content_Type=PIECE
    )

    assert (answer.status_code, answer.headers["Upload-Offset"]) == (201, str(len(data)))
    assert is_here(office, sha(data))


def test_partial_files_are_swept_after_two_weeks_and_not_before(office, sender):
    old, young = noise(5_000), noise(5_000)
    for data in (old, young):
        sender.piece(sender.begin(data).headers["Location"], 0, data[:1_000])
    part = next(office.settings.uploads.glob(f"*/{sha(old)}.5000.part"))
    long_ago = time.time() - uploads.EXPIRES_AFTER - 60
    os.utime(part, (long_ago, long_ago))

    assert uploads.Uploads(office.settings, office.engine).sweep() == 1
    assert partials(office) == [f"{sha(young)}.5000.part"]


def test_a_full_disk_is_told_before_a_byte_is_taken_and_the_phone_is_asked_to_wait(office, sender, monkeypatch):
    data = noise(5_000)
    path = sender.begin(data).headers["Location"]
    answer = os.statvfs(office.settings.uploads)
    little = room.RESERVE // answer.f_frsize
    monkeypatch.setattr(room.os, "statvfs", lambda _: os.statvfs_result([*answer[:4], little, *answer[5:]]))

    refused = sender.piece(path, 0, data)

    assert (refused.status_code, refused.headers["Retry-After"]) == (507, str(room.RETRY_AFTER))
    assert "safe where it is" in refused.get_json()["message"]
    assert sender.begin(noise(10)).status_code == 507
    assert sender.stands(path).headers["Upload-Offset"] == "0"


def test_a_disk_that_fills_up_in_the_middle_keeps_what_was_written(office, sender, monkeypatch):
    data = noise(5_000)
    path = sender.begin(data).headers["Location"]
    sender.piece(path, 0, data[:2_000])

    def full(*_):
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patched:
        patched.setattr(uploads.os, "pwrite", full)
        assert sender.piece(path, 2_000, data[2_000:]).status_code == 507
    assert sender.stands(path).headers["Upload-Offset"] == "2000"
    assert sender.piece(path, 2_000, data[2_000:]).status_code == 204
    assert is_here(office, sha(data))


@pytest.mark.parametrize(
    "length, named",
    [
        ("10", "sha256 " + b64encode(b"../../../etc/passwd").decode()),
        ("10", "sha256 " + b64encode(b"A" * 64).decode()),
        ("10", "filename " + b64encode(b"x.jpg").decode()),
        ("ten", metadata("a" * 64)),
        ("-1", metadata("a" * 64)),
        ("10", "sha256 ***"),
        ("", ""),
    ],
)
def test_an_upload_that_does_not_say_what_it_is_is_refused_in_words(sender, length, named):
    answer = sender.ask("POST", "/api/media/uploads", Upload_Length=length, Upload_Metadata=named)

    assert answer.status_code == 400
    assert answer.get_json()["message"].endswith((".", "!"))


@pytest.mark.parametrize("name", ["..%2f..%2fepoch", "x.1", "a" * 64, "a" * 64 + ".1x", "a" * 64 + ".-1"])
def test_an_upload_of_no_sensible_name_does_not_exist(sender, name):
    assert sender.stands(f"/api/media/uploads/{name}").status_code == 404


def test_a_file_too_long_for_one_original_is_refused_at_once(sender):
    answer = sender.ask(
        "POST", "/api/media/uploads", Upload_Length=str(uploads.LARGEST + 1), Upload_Metadata=metadata("a" * 64)
    )

    assert answer.status_code == 413


def test_strangers_cannot_send_and_other_dialects_are_told_which_is_spoken(office, sender):
    assert Sender(office.app, "wrong").begin(b"x").status_code == 401
    answer = sender.ask("POST", "/api/media/uploads", Tus_Resumable="0.2.2")
    assert (answer.status_code, answer.headers["Tus-Version"]) == (412, "1.0.0")
    offered = office.app.test_client().options("/api/media/uploads").headers
    assert offered["Tus-Extension"] == "creation,creation-with-upload,checksum,expiration"
    assert offered["Tus-Checksum-Algorithm"] == "sha256,sha1"


def test_a_phone_learns_which_of_its_originals_are_here(sender):
    here = [sender.send(noise(50 + n)) for n in range(3)]
    answer = sender.app.test_client().post(
        "/api/media/have",
        json={"sha256": [*here, "b" * 64]},
        headers={"Authorization": f"Bearer {sender.token}"},
    )

    assert sorted(answer.get_json()["here"]) == sorted(here)


@pytest.mark.parametrize(("header", "value"), [("Upload_Metadata", "name \xff"), ("Upload_Checksum", "sha256 \xff")])
def test_a_header_that_is_no_ascii_is_a_fault_of_the_request(sender, caplog, header, value):
    data = noise(10)
    headers = {"Upload_Length": "10", "Upload_Metadata": metadata(sha(data)), "Content_Type": PIECE} | {header: value}
    answer = sender.ask("POST", "/api/media/uploads", data, **headers)
    assert answer.status_code == 400 and answer.get_json()["message"].endswith("."), answer.get_json()
    assert "Traceback" not in caplog.text
