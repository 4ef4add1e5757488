"""The two faces are served fenced in, and kept only as long as they cannot change."""

from __future__ import annotations

import dataclasses
import gzip
import os

import pytest

from witnessmark.app import create_app


@pytest.fixture
def faces(office, tmp_path):
    """A browser at a server that has both faces built."""
    folder = tmp_path / "pwa"
    for face in ("office", "bay"):
        (folder / face / "assets").mkdir(parents=True)
        (folder / face / "index.html").write_text(f"<!doctype html><title>{face}</title>" + " " * 200)
        (folder / face / "assets" / "index-BjAhEw0a.js").write_text(f"console.log('{face}');" * 20)
    (folder / "bay" / "sw.js").write_text("// worker")
    (folder / "bay" / "manifest.webmanifest").write_text("{}")
    (tmp_path / "secret.txt").write_text("not for sale")
    return create_app(dataclasses.replace(office.settings, app_folder=folder)).test_client()


def test_the_office_is_at_the_root_and_the_bay_in_a_scope_of_its_own(faces):
    assert b"<title>office</title>" in faces.get("/").data
    assert b"<title>bay</title>" in faces.get("/bay/").data
    assert faces.get("/bay").headers["Location"].endswith("/bay/")
    assert b"bay" in faces.get("/bay/assets/index-BjAhEw0a.js").data


def test_pages_run_no_script_but_their_own_and_stand_in_no_frame(faces):
    for address in ("/", "/bay/", "/bay/sw.js", "/nothing-here"):
        headers = faces.get(address).headers
        policy = headers["Content-Security-Policy"]
        assert "default-src 'self'" in policy and "frame-ancestors 'none'" in policy
        assert "unsafe" not in policy.replace("'wasm-unsafe-eval'", "")
        assert headers["X-Content-Type-Options"] == "nosniff"
        assert headers["Referrer-Policy"] == "no-referrer"
        assert "camera=(self)" in headers["Permissions-Policy"]


def test_only_the_bay_may_compile_programs_and_neither_face_runs_text_as_script(faces):
    assert "script-src 'self' 'wasm-unsafe-eval'" in faces.get("/bay/").headers["Content-Security-Policy"]
    assert (
        "script-src 'self' 'wasm-unsafe-eval'" in faces.get("/bay/speech/hears.js").headers["Content-Security-Policy"]
    )
    assert "wasm" not in faces.get("/").headers["Content-Security-Policy"]


def test_a_speech_part_comes_in_its_smaller_form_only_where_one_was_made(faces, tmp_path):
    model = tmp_path / "pwa" / "bay" / "speech" / "model"
    model.parent.mkdir()
    model.write_bytes(bytes(4096))
    (model.parent / "hears.wasm").write_bytes(b"\0asm")
    taken = {"Accept-Encoding": "br, gzip"}
    assert "Content-Encoding" not in faces.get("/bay/speech/model", headers=taken).headers
    assert faces.get("/bay/speech/hears.wasm").content_type == "application/wasm"
    assert faces.get("/bay/speech/model").content_type == "application/octet-stream"
    smaller = model.with_name("second")
    smaller.write_bytes(bytes(4096))
    smaller.with_name("second.br").write_bytes(b"made at build time")
    assert faces.get("/bay/speech/second", headers=taken).headers["Content-Encoding"] == "br"
    assert faces.get("/bay/speech/second", headers={"Accept-Encoding": "gzip"}).data == bytes(4096)


def test_what_may_change_is_asked_for_again_and_what_cannot_is_kept(faces):
    for address in ("/", "/bay/", "/bay/sw.js", "/bay/manifest.webmanifest"):
        assert faces.get(address).headers["Cache-Control"] == "no-cache"
    assert "immutable" in faces.get("/assets/index-BjAhEw0a.js").headers["Cache-Control"]


def test_a_page_that_did_not_change_is_not_sent_again(faces):
    etag = faces.get("/").headers["ETag"]
    assert faces.get("/", headers={"If-None-Match": etag}).status_code == 304


def test_a_squeezed_answer_is_the_same_file(faces):
    squeezed = faces.get("/assets/index-BjAhEw0a.js", headers={"Accept-Encoding": "gzip"})
    assert squeezed.headers["Content-Encoding"] == "gzip"
    assert gzip.decompress(squeezed.data) == faces.get("/assets/index-BjAhEw0a.js").data


def test_a_browser_that_takes_the_smaller_form_made_at_build_time_gets_it(faces, tmp_path):
    beside = tmp_path / "pwa" / "office" / "assets" / "index-BjAhEw0a.js.br"
    beside.write_bytes(b"made at build time")
    coded = [
        faces.get("/assets/index-BjAhEw0a.js", headers={"Accept-Encoding": taken}).headers.get("Content-Encoding")
        for taken in ("gzip, deflate, br, zstd", "gzip, deflate", "br;q=0, gzip", "identity")
    ]
    assert coded == ["br", "gzip", "gzip", None]
    smaller = faces.get("/assets/index-BjAhEw0a.js", headers={"Accept-Encoding": "br"})
    assert smaller.data == b"made at build time" and smaller.headers["Vary"] == "Accept-Encoding"
    assert "immutable" in smaller.headers["Cache-Control"] and smaller.content_type.startswith("text/javascript")


def test_a_smaller_form_of_an_earlier_build_is_not_sent(faces, tmp_path):
    worker = tmp_path / "pwa" / "bay" / "sw.js"
    worker.with_name("sw.js.br").write_bytes(b"of yesterday")
    os.utime(worker.with_name("sw.js.br"), ns=(0, worker.stat().st_mtime_ns - 1))
    answer = faces.get("/bay/sw.js", headers={"Accept-Encoding": "br, gzip"})
    assert answer.headers["Content-Encoding"] == "gzip" and gzip.decompress(answer.data) == b"// worker"


@pytest.mark.parametrize(
    "name", ["../secret.txt", "..%2Fsecret.txt", "assets/../../../secret.txt", "%2e%2e/secret.txt"]
)
def test_nothing_outside_the_folder_is_served(faces, name):
    for face in ("/", "/bay/"):
        answer = faces.get(face + name)
        assert b"not for sale" not in answer.data and answer.status_code == 404


def test_a_file_that_is_gone_does_not_answer_as_a_page(faces):
    answer = faces.get("/assets/index-00000000.js")
    assert answer.status_code == 404 and "html" not in answer.content_type


def test_the_scripts_have_the_type_a_browser_asks_for(faces):
    assert faces.get("/bay/sw.js").content_type.startswith("text/javascript")
    assert faces.get("/bay/manifest.webmanifest").content_type.startswith("application/manifest+json")


def test_a_server_without_built_faces_says_how_to_build_them(office, tmp_path):
    answer = create_app(dataclasses.replace(office.settings, app_folder=tmp_path / "none")).test_client().get("/")
    assert answer.status_code == 503
    assert b"pwa/build_app.py" in answer.data


def test_an_address_of_the_api_that_is_none_is_answered_as_the_api_answers(faces):
    answer = faces.get("/api/nothing")
    assert answer.status_code == 404
    assert answer.get_json()["code"] == "not_found"
    assert "Witnessmark-Server" in answer.headers


@pytest.mark.parametrize(
    "name", ["a" * 256, "a/" * 2000, "x" * 60_000, "%00", "index.html%00", "%ff%fe", "..%2fsecret.txt", "con", ".br"]
)
@pytest.mark.parametrize("face", ["/", "/bay/"])
def test_no_name_however_long_or_odd_makes_an_error_of_the_server(faces, caplog, face, name):
    assert faces.get(face + name).status_code == 404
    assert caplog.records == []
