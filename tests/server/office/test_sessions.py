"""How long a session lasts, what ends it, which passwords may be set, and what the server's log says of both."""

from __future__ import annotations

import json
import logging
import time

import pytest
from sqlalchemy import select, update

from tests.support.workshop import MANAGER, PASSWORD
from witnessmark.db import reading, writing
from witnessmark.people import passwords, secrets, sessions, sign_in, tables
from witnessmark.trade.ground.errors import Refusal
from witnessmark.web import security_log

SECRET = "never in a log 42"


def last_used(office, moment: float | None = None) -> float:
    """When the one session was used last; set to `moment` first, if one is given."""
    seen = tables.sessions.c.seen
    if moment is not None:
        with writing(office.engine) as conn:
            conn.execute(update(tables.sessions).values(seen=moment))
    with reading(office.engine) as conn:
        return conn.execute(select(seen)).scalar_one()


def test_a_session_nobody_uses_ends_before_its_time(office, client):
    last_used(office, time.time() - sessions.IDLE_SECONDS + 60)
    assert client.get("/api/office/me").status_code == 200
    assert last_used(office) > time.time() - 60
    last_used(office, time.time() - sessions.IDLE_SECONDS - 1)
    assert client.get("/api/office/me").status_code == 401


def test_a_page_that_nobody_touches_does_not_keep_its_session(office, client):
    before = last_used(office, time.time() - 600)
    assert client.get("/api/office/me", headers={"Witnessmark-Unattended": "1"}).status_code == 200
    assert last_used(office) == before
    client.get("/api/office/me")
    assert last_used(office) > before


def test_use_is_noted_once_a_minute_and_not_with_every_request(office, client):
    before = last_used(office, time.time() - sessions.SEEN_SECONDS / 2)
    client.get("/api/office/me")
    assert last_used(office) == before


def test_signing_in_again_ends_the_session_this_browser_had(office, client):
    old = client.get_cookie("witnessmark_session").value
    assert client.post("/api/office/sign-in", json={"name": MANAGER, "password": PASSWORD}).status_code == 200
    assert client.get_cookie("witnessmark_session").value != old
    browser = office.app.test_client()
    browser.set_cookie("witnessmark_session", old)
    assert browser.get("/api/office/me").status_code == 401
    assert client.get("/api/office/me").status_code == 200


def test_the_session_of_another_person_does_not_outlive_a_sign_in_in_the_same_browser(office, client):
    client.post("/api/people", json={"name": "Runa", "role": "technician", "password": "nine loose caps"})
    client.post("/api/office/sign-in", json={"name": "Runa", "password": "nine loose caps"})
    with reading(office.engine) as conn:
        people = conn.execute(select(tables.sessions.c.person)).scalars().all()
    assert len(people) == 1 and people[0] != office.manager.id


def test_signing_out_has_the_browser_forget_the_pictures_it_holds(client):
    assert client.post("/api/office/sign-out").headers["Clear-Site-Data"] == '"cache"'


@pytest.mark.parametrize(
    "password",
    [
        "eleven sign",
        "password1234",
        "Passw0rd!2026",
        "qwertyuiop12",
        "1qaz2wsx3edc",
        "zyxwvutsrqpo",
        "aaaaaaaaaaaa",
        "ababababababab",
        "Witnessmark1",
        "workshopengine",
        "Manager-2026-!",
        "ida holmgren 1999",
        "Welcome12345!",
        "correct horse battery staple",
    ],
)
def test_a_password_that_is_short_or_guessed_first_is_not_set(password):
    with pytest.raises(Refusal) as refused:
        passwords.check(password, "Ida Holmgren")
    assert refused.value.code in ("password_short", "password_easy")


@pytest.mark.parametrize(
    "password",
    [
        "brass balloon 7",
        "nine loose caps",
        "долгий пароль слов",
        "7Kq-vmz0Wx#u",
        "engine of nine violets",
        "k v e x p h n",
        "wabqk zr" * 20,
    ],
)
def test_any_other_password_is_set_whatever_it_is_made_of(password):
    passwords.check(password, "Ida Holmgren")


def test_a_password_is_taken_sign_by_sign(client, office):
    """Not cut, not folded: 100 signs, spaces at both ends, capitals."""
    long = f" Žluťoučký kůň {'nine violets ' * 6}99 "
    assert len(long) > 90
    client.post("/api/people", json={"name": "Runa", "role": "technician", "password": long})
    browser = office.app.test_client()
    browser.environ_base["HTTP_X_WITNESSMARK"] = "office"
    for near in (long.strip(), long.lower(), long[:72]):
        assert browser.post("/api/office/sign-in", json={"name": "Runa", "password": near}).status_code == 401
    with writing(office.engine) as conn:
        conn.execute(tables.attempts.delete())
    assert browser.post("/api/office/sign-in", json={"name": "Runa", "password": long}).status_code == 200


def test_a_password_in_use_may_be_shorter_than_those_that_are_set_now(office):
    """Rules for new passwords lock nobody out who has an old one."""
    with writing(office.engine) as conn:
        conn.execute(update(tables.persons).values(password=secrets.hash_password("old one")))
    assert sign_in.sign_in(office.engine, office.workshop.id, MANAGER, "old one", "10.0.0.7", 60)


def test_the_log_says_who_came_in_who_was_turned_away_and_what_was_changed(office, client, phone, caplog):
    caplog.set_level(logging.INFO, security_log.log.name)
    stranger = office.app.test_client()
    stranger.environ_base["HTTP_X_WITNESSMARK"] = "office"
    stranger.post("/api/office/sign-in", json={"name": SECRET, "password": SECRET})
    stranger.get("/api/office/me")
    client.post("/api/office/sign-in", json={"name": MANAGER, "password": PASSWORD})
    added = client.post("/api/people", json={"name": "Runa", "role": "technician", "password": SECRET, "pin": "471182"})
    client.post(f"/api/people/{added.get_json()['id']}", json={"active": False, "pin": "471183"})
    invited = client.post("/api/phones/invite").get_json()["code"]
    stranger.post("/api/sync/push", json={}, headers={"Authorization": f"Bearer {SECRET}"})
    client.post("/api/people\r\nsigned_in {}", json={}, headers={"X-Witnessmark": "no"})
    client.post("/api/office/sign-out")

    lines = [record.getMessage() for record in caplog.records if record.name == security_log.log.name]
    events = [(line.partition(" ")[0], json.loads(line.partition(" ")[2])) for line in lines]
    assert [(name, facts.get("code")) for name, facts in events] == [
        ("turned_away", "sign_in"), ("signed_in", None), ("person_added", None), ("person_changed", None),
        ("phone_invited", None), ("turned_away", "unknown_device"), ("signed_out", None),
    ]  # fmt: skip
    assert all(facts["from"] and facts["request"] for _, facts in events)
    assert [facts["person"] for name, facts in events if name != "turned_away"] == [office.manager.id] * 5
    assert events[3][1]["fields"] == ["active", "pin"] and events[3][1]["active"] is False
    text = "\n".join(lines)
    assert not any(secret in text for secret in (SECRET, PASSWORD, "471182", "471183", invited, phone.token))
    assert "\r" not in text and len(text.split("\n")) == len(lines)
