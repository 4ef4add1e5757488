"""What goes out is the original and nothing else, and nothing that came from outside can run in somebody's browser."""

from __future__ import annotations

from urllib.parse import unquote

import pytest

from tests.support.media import Sender, jpeg, look, noise, sha
from tests.support.record import photograph, send
from witnessmark.web.fence import NOTHING_RUNS
from witnessmark.web.media import attachment

SCRIPT = b"<script>fetch('/api/office/me')</script>"

# Everything a browser has been seen to run or show when a server is careless with it.
HOSTILE = {
    "a page": b"<!doctype html><html>" + SCRIPT,
    "a page that begins late": b" " * 400 + b"<html>" + SCRIPT,
    "a drawing with a script": b'<svg xmlns="http://www.w3.org/2000/svg" onload="alert(1)"/>',
    "a drawing with a header": b'<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg"/>',
    "a script": b"alert(document.cookie)",
    "a style sheet": b"body{background:url(//elsewhere.invalid)}",
    "a page for another place": b"From: x\r\nContent-Type: multipart/related; boundary=x\r\n\r\n--x",
    "a picture that is a page": b"GIF89a/*" + SCRIPT + b"*/",
    "a program": b"\x7fELF\x02\x01\x01" + b"\x00" * 40,
}


@pytest.fixture
def sent(office, phone, client):
    """Sends a file, has a record name it, and gives the path of the original."""
    job = phone.open_job()

    def sent_file(data: bytes) -> str:
        photograph(phone, job, "bore/3", data)
        send(phone)
        return f"/api/media/{Sender(office.app, phone.token).send(data)}"

    return sent_file


def get(client, path: str, **headers):
    given = {name.replace("_", "-"): value for name, value in headers.items()}
    return client.get(path, headers=given, buffered=True)


@pytest.mark.parametrize("what", HOSTILE)
def test_what_could_run_is_only_ever_saved(client, sent, what):
    data = HOSTILE[what]
    answer = get(client, sent(data) + "/original")

    assert answer.data == data
    assert answer.headers["Content-Type"] == "application/octet-stream"
    assert answer.headers["Content-Disposition"].startswith("attachment;")
    assert answer.headers["X-Content-Type-Options"] == "nosniff"
    assert answer.headers["Content-Security-Policy"] == f"sandbox; {NOTHING_RUNS}"
    assert answer.headers["Cross-Origin-Resource-Policy"] == "same-origin"


def test_a_picture_with_a_page_behind_it_is_served_as_a_picture_and_cannot_be_read_as_a_page(client, sent):
    data = jpeg() + SCRIPT
    answer = get(client, sent(data) + "/original")

    assert answer.data == data
    assert answer.headers["Content-Type"] == "image/jpeg"
    assert answer.headers["X-Content-Type-Options"] == "nosniff"
    assert answer.headers["Content-Security-Policy"] == f"sandbox; {NOTHING_RUNS}"


def test_a_document_may_be_read_but_not_run(client, sent):
    answer = get(client, sent(b"%PDF-1.7\n%x") + "/original")

    assert answer.headers["Content-Type"] == "application/pdf"
    assert "default-src 'none'" in answer.headers["Content-Security-Policy"]
    assert "script-src" not in answer.headers["Content-Security-Policy"]


def test_what_the_phone_called_the_file_decides_nothing(client, office, phone):
    data = b"<html>" + SCRIPT
    job = phone.open_job()
    photograph(phone, job, "bore/3", data)  # its record says image/jpeg, IMG_1.jpg
    send(phone)
    Sender(office.app, phone.token).send(data)

    answer = get(client, f"/api/media/{sha(data)}/original?download=1&name=IMG_1.jpg")

    assert answer.headers["Content-Type"] == "application/octet-stream"


def test_an_original_may_be_kept_by_the_browser_for_good_but_by_nobody_between(client, sent):
    path = sent(jpeg()) + "/original"
    answer = get(client, path)

    assert answer.headers["Cache-Control"] == "private, max-age=31536000, immutable"
    assert get(client, path, If_None_Match=answer.headers["ETag"]).status_code == 304


def test_a_recording_can_be_played_from_the_middle(client, sent):
    data = b"RIFF\x24\x00\x00\x00WAVEfmt " + noise(90_000)
    path = sent(data) + "/original"
    part, last = get(client, path, Range="bytes=40000-49999"), get(client, path, Range="bytes=-100")

    assert (part.status_code, part.data) == (206, data[40_000:50_000])
    assert part.headers["Content-Range"] == f"bytes 40000-49999/{len(data)}"
    assert last.data == data[-100:]
    assert get(client, path).headers["Accept-Ranges"] == "bytes"
    assert get(client, path, Range=f"bytes={len(data)}-").status_code == 416


def test_a_small_picture_says_whose_it_is_and_only_the_servers_own_may_be_kept(client, office, phone):
    data = jpeg(900, 700)
    photograph(phone, phone.open_job(), "bore/3", data)
    send(phone)
    sender = Sender(office.app, phone.token)
    path = f"/api/media/{sha(data)}/preview/320"
    missing = get(client, path)
    sender.ask("PUT", f"/api/media/{sha(data)}/preview", jpeg(320, 249, "khaki"))
    provisional = get(client, path)
    sender.send(data)
    look(office.settings, office.engine, sha(data))
    own = get(client, path, If_None_Match=provisional.headers["ETag"])

    assert (missing.status_code, missing.get_json()["code"]) == (404, "no_preview")
    assert provisional.headers["Witnessmark-Preview"] == "provisional"
    assert "immutable" not in provisional.headers["Cache-Control"]
    assert (own.status_code, own.headers["Witnessmark-Preview"]) == (200, "own")
    assert "immutable" in own.headers["Cache-Control"]
    assert own.headers["Content-Type"] == "image/jpeg"
    assert get(client, f"/api/media/{sha(data)}/preview/641").status_code == 404


def test_a_file_no_record_speaks_of_is_not_given_out(client, office, phone):
    sha256 = Sender(office.app, phone.token).send(jpeg())

    assert get(client, f"/api/media/{sha256}/original").status_code == 404


def test_a_file_that_has_not_come_yet_is_said_to_be_on_its_way(client, phone):
    photograph(phone, phone.open_job(), "bore/3", jpeg())
    send(phone)
    answer = get(client, f"/api/media/{sha(jpeg())}/original")

    assert answer.status_code == 404
    assert "has not reached this server yet" in answer.get_json()["message"]


@pytest.mark.parametrize("path", ["/original", "/preview/320"])
def test_nobody_sees_a_picture_without_signing_in(office, sent, path):
    assert get(office.app.test_client(), sent(jpeg()) + path).status_code == 401


@pytest.mark.parametrize("name", ["../../etc/passwd", "..", "%2e%2e", "a" * 63, "G" * 64, "epoch", "A" * 64])
def test_no_name_leads_out_of_the_folder(client, name):
    assert get(client, f"/api/media/{name}/original").status_code in (404, 405, 308)


@pytest.mark.parametrize(
    "given, saved",
    [
        ("crankpin 2.jpg", "crankpin 2.jpg"),
        ("../../../etc/passwd", "passwd"),
        ("C:\\Users\\x\\bore.jpg", "bore.jpg"),
        ("фото поршня.jpg", "фото поршня.jpg"),
        ("lager_\u202egpj.exe", "lager_gpj.exe"),
        ("a\r\nSet-Cookie: x=1.jpg", "aSet-Cookie: x=1.jpg"),
        ('qu"ote;.jpg', 'qu"ote;.jpg'),
        ("...", "file"),
        ("\x00", "file"),
        ("x" * 300 + ".jpg", "x" * 116 + ".jpg"),
    ],
)
def test_a_name_is_data_and_nothing_else(given, saved):
    """Read back as RFC 8187 says; the plain form beside it is for old programs."""
    answer = attachment(given)
    plain, extended = answer.removeprefix("attachment; filename=").split("; filename*=UTF-8''")

    assert unquote(extended) == saved
    assert answer.isascii() and "\r" not in answer and "\n" not in answer
    assert plain.count('"') == 2 and plain[0] == plain[-1] == '"'


def test_a_large_original_goes_out_in_large_pieces(client, sent):
    """The server's own default of 8 KiB a piece makes a picture of 8 MB slow to open."""
    data = noise(3_000_000)
    answer = client.get(sent(data) + "/original", buffered=False)
    pieces = [len(piece) for piece in answer.iter_encoded()]
    answer.close()

    assert sum(pieces) == len(data)
    assert max(pieces) >= 1 << 17


def test_a_condition_that_does_not_hold_is_refused_and_no_file_goes_with_it(client, sent):
    answer = client.get(sent(jpeg()) + "/original", headers={"If-Match": '"x"'})
    assert (answer.status_code, answer.get_json()["code"]) == (412, "other_file")
    assert "Witnessmark-Server" in answer.headers
    assert answer.get_json()["message"].endswith(".")
