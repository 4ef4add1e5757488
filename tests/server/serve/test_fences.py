"""What goes for every address of the server: who may use it, how its answers are fenced in, which methods it knows."""

from __future__ import annotations

import re
import uuid

import pytest

from tests.support.record import photograph, send

ANY = {"uuid": str(uuid.UUID(int=7)), "int": "320", "path": "x"}  # whatever else an address takes is a text
# Answered to anybody, on purpose: signing in and out, joining (by its code), what stands on the door, what describes
# the API and its uploads, and what a phone needs before it can trust us. None holds anything of the workshop's record.
OPEN = {
    ("POST", "/api/office/sign-in"), ("POST", "/api/office/sign-out"), ("GET", "/api/office/door"),
    ("POST", "/api/sync/join"), ("GET", "/api/openapi.json"), ("OPTIONS", "/api/media/uploads"),
    ("GET", "/certificate"), ("GET", "/certificate/workshop-ca.crt"),
    ("GET", "/"), ("GET", "/<path:name>"), ("GET", "/bay"), ("GET", "/bay/"), ("GET", "/bay/<path:name>"),
}  # fmt: skip


def addresses(app) -> list[tuple[str, str, str]]:
    """(method, rule, an address that fits it), every one the server knows, without those Flask adds by itself."""
    known = []
    for rule in app.url_map.iter_rules():
        at = re.sub(r"<(?:(\w+):)?\w+>", lambda part: ANY.get(part[1], "a" * 64), rule.rule)
        methods = rule.methods - {"HEAD", "OPTIONS"} or rule.methods - {"OPTIONS"} or rule.methods
        known += [(method, rule.rule, at) for method in sorted(methods)]
    assert len(known) > 60, "the addresses are not where they were"
    return known


def test_every_address_but_the_few_that_are_listed_refuses_a_stranger(office):
    stranger = office.app.test_client()
    headers = {"X-Witnessmark": "office", "Tus-Resumable": "1.0.0"}
    let_in = {
        (method, rule)
        for method, rule, at in addresses(office.app)
        if stranger.open(at, method=method, headers=headers).status_code != 401
    }
    assert let_in == OPEN


def test_no_address_that_changes_anything_is_reached_with_a_cookie_alone(office, client):
    """Another site can make a browser send its cookies, but not our header. DELETE and PATCH and PUT are as POST."""
    del client.environ_base["HTTP_X_WITNESSMARK"]
    reached = []
    for method, rule, at in addresses(office.app):
        if method in ("GET", "HEAD", "OPTIONS") or rule == "/api/sync/join":
            continue
        answer = client.open(at, method=method, json={}, headers={"Tus-Resumable": "1.0.0"})
        if not (answer.status_code in (401, 403) or answer.get_json()["code"] == "bad_value"):
            reached.append((method, rule, answer.status_code))
    assert reached == []


def test_every_answer_is_fenced_in_and_lets_no_other_site_read_it(office, client, phone):
    job = phone.open_job()
    photograph(phone, job, "bore/3", b"\xff\xd8\xff no picture")
    send(phone)
    stranger = office.app.test_client()
    answers = [
        (f"{method} {at}", who.open(at, method=method, headers={"Origin": "https://elsewhere.example"}))
        for method, rule, at in addresses(office.app)
        for who in (stranger, client)
        if rule != "/api/office/sign-out" or who is stranger
    ]
    answers += [(method, stranger.open("/api/office/me", method=method)) for method in ("TRACE", "PROPFIND")]
    answers.append(("no json", client.post("/api/people", data="{", content_type="application/json")))
    answers += [(at, stranger.get(at)) for at in ("/nothing", "/api/nothing", "/..%2fdata")]
    assert {answer.status_code for _, answer in answers} >= {200, 308, 400, 401, 403, 404, 405, 422}
    for at, answer in answers:
        headers, policy = answer.headers, answer.headers.get("Content-Security-Policy", "")
        assert "frame-ancestors 'none'" in policy and "base-uri 'none'" in policy and "object-src 'none'" in policy, at
        assert headers["X-Content-Type-Options"] == "nosniff" and headers["Referrer-Policy"] in (
            "same-origin",
            "no-referrer",
        ), at
        assert headers["Cross-Origin-Resource-Policy"] == "same-origin", at
        assert "Access-Control-Allow-Origin" not in headers, at
        kind = headers.get("Content-Type", "")
        assert not answer.data or (kind and (not kind.startswith("text/") or "charset=utf-8" in kind)), at
        if at.split()[-1].startswith("/api/"):
            assert "no-store" in headers["Cache-Control"] and headers["Witnessmark-Server"], at


@pytest.mark.parametrize("method", ["TRACE", "CONNECT", "PROPFIND"])
def test_methods_nobody_uses_are_refused(office, method):
    assert office.app.test_client().open("/api/office/me", method=method).status_code == 405


def test_whom_a_request_claims_to_come_from_decides_nothing(office, caplog):
    """No proxy stands in front of the server, so no header speaks for one."""
    claimed = {name: "10.9.9.9" for name in ("X-Forwarded-For", "X-Real-IP", "Forwarded", "Client-IP")}
    office.app.test_client().post(
        "/api/office/sign-in",
        json={"name": "Nobody", "password": "guess"},
        headers={"X-Witnessmark": "office", "X-Forwarded-Host": "elsewhere.example", **claimed},
    )
    assert "turned_away" in caplog.text and "10.9.9.9" not in caplog.text


def test_requests_that_are_no_json_are_refused(client):
    """A form of another site can send text/plain and forms without asking first."""
    for kind in ("text/plain", "application/x-www-form-urlencoded", "multipart/form-data; boundary=x"):
        answer = client.post("/api/people", data='{"name": "X", "role": "manager"}', content_type=kind)
        assert answer.status_code == 422 and answer.get_json()["code"] == "bad_value"
    assert all(person["name"] != "X" for person in client.get("/api/people").get_json()["people"])
