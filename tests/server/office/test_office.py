"""The office: who may come in, what every page shows at its head, phones, people, engine types."""

from __future__ import annotations

from tests.support.workshop import MANAGER, PASSWORD
from witnessmark.people import throttle


def a_technician(client, office, name="Tomas"):
    """A technician's own signed-in browser."""
    answer = client.post("/api/people", json={"name": name, "role": "technician", "password": "seven feelers"})
    assert answer.status_code == 201, answer.get_json()
    browser = office.app.test_client()
    browser.environ_base["HTTP_X_WITNESSMARK"] = "office"
    assert browser.post("/api/office/sign-in", json={"name": name, "password": "seven feelers"}).status_code == 200
    return browser


def test_the_head_of_every_page_says_who_where_and_how_far_the_log_is(client, office):
    answer = client.get("/api/office/me").get_json()
    assert answer["person"] == {
        "id": office.manager.id, "name": MANAGER, "role": "manager", "active": True,
        "has_password": True, "has_pin": False,
    }  # fmt: skip
    assert answer["workshop"]["name"] == office.workshop.name
    assert answer["head"]["size"] == 1 and len(answer["head"]["root"]) == 64
    assert answer["demo"] is False


def test_a_wrong_password_and_an_unknown_name_get_the_same_answer(client, office):
    stranger = office.app.test_client()
    stranger.environ_base["HTTP_X_WITNESSMARK"] = "office"
    wrong = stranger.post("/api/office/sign-in", json={"name": MANAGER, "password": "guess"})
    unknown = stranger.post("/api/office/sign-in", json={"name": "Nobody", "password": "guess"})
    assert wrong.status_code == unknown.status_code == 401
    assert wrong.get_json() == unknown.get_json()


def test_a_session_cookie_cannot_be_read_by_a_script_nor_sent_by_another_site(office):
    browser = office.app.test_client()
    answer = browser.post(
        "/api/office/sign-in", json={"name": MANAGER, "password": PASSWORD}, headers={"X-Witnessmark": "office"}
    )
    cookie = answer.headers["Set-Cookie"]
    assert "HttpOnly" in cookie and "SameSite=Strict" in cookie


def test_two_workshops_on_one_host_do_not_sign_each_other_out(office):
    """Browsers keep one jar of cookies for all ports of a host."""
    browser = office.app.test_client()
    first, other = ({"base_url": f"http://workshop.local:{port}"} for port in (8080, 9080))
    browser.environ_base["HTTP_X_WITNESSMARK"] = "office"
    for at in (first, other):
        signed_in = browser.post("/api/office/sign-in", json={"name": MANAGER, "password": PASSWORD}, **at)
        assert signed_in.status_code == 200
    assert browser.get("/api/office/me", **first).status_code == 200
    assert browser.post("/api/office/sign-out", **other).status_code == 204
    assert browser.get("/api/office/me", **first).status_code == 200
    assert browser.get("/api/office/me", **other).status_code == 401


def test_another_site_cannot_write_with_a_session_it_does_not_own(client):
    answer = client.post("/api/people", json={"name": "X", "role": "manager"}, headers={"X-Witnessmark": "elsewhere"})
    assert answer.status_code == 403
    assert answer.get_json()["code"] == "mark"


def test_after_signing_out_nothing_can_be_read(client):
    assert client.post("/api/office/sign-out").status_code == 204
    assert client.get("/api/people").status_code == 401


def test_a_technician_cannot_invite_phones_nor_shut_one_out_nor_add_people(client, office, phone):
    technician = a_technician(client, office)
    assert technician.post("/api/phones/invite").status_code == 403
    assert technician.post(f"/api/phones/{phone.device}/revoke", json={}).status_code == 403
    assert technician.post("/api/people", json={"name": "Nils", "role": "manager"}).status_code == 403
    assert technician.get("/api/phones").status_code == 200


def test_a_technician_changes_the_own_pin_and_nobody_elses(client, office):
    technician = a_technician(client, office)
    me = technician.get("/api/office/me").get_json()["person"]
    answer = technician.post(f"/api/people/{me['id']}", json={"pin": "4711"})
    assert answer.status_code == 200 and answer.get_json()["has_pin"] is True
    assert technician.post(f"/api/people/{me['id']}", json={"role": "manager"}).status_code == 403
    assert technician.post(f"/api/people/{office.manager.id}", json={"pin": "1234"}).status_code == 403


def test_ones_own_password_is_changed_by_whoever_knows_the_old_one(client, office):
    """A session left open at the counter must not be enough to take an account over."""
    technician = a_technician(client, office)
    for browser, old in ((technician, "seven feelers"), (client, PASSWORD)):
        me = browser.get("/api/office/me").get_json()["person"]
        for more in ({}, {"old_password": "guess"}, {"old_password": ""}):
            answer = browser.post(f"/api/people/{me['id']}", json={"password": "eight feelers"} | more)
            assert (answer.status_code, answer.get_json()["where"]) == (422, "old_password")
        changed = {"password": "eight feelers", "old_password": old}
        assert browser.post(f"/api/people/{me['id']}", json=changed).status_code == 200
        again = {"name": me["name"], "password": "eight feelers"}
        assert browser.post("/api/office/sign-in", json=again).status_code == 200
    tomas = technician.get("/api/office/me").get_json()["person"]["id"]
    assert client.post(f"/api/people/{tomas}", json={"password": "nine feelers"}).status_code == 200, "a manager helps"


def test_guessing_the_old_password_is_slowed_down(client, office):
    changed = {"password": "eight feelers", "old_password": "guess"}
    tries = throttle.FREE_TRIES["own"] + 1
    answers = [client.post(f"/api/people/{office.manager.id}", json=changed).status_code for _ in range(tries)]
    assert answers == [422] * (tries - 1) + [429]


def test_the_last_manager_stays_a_manager(client, office):
    answer = client.post(f"/api/people/{office.manager.id}", json={"role": "technician"})
    assert answer.status_code == 422
    assert answer.get_json()["code"] == "last_manager"


def test_an_invitation_leads_to_the_bay_and_lets_one_phone_in(client, office):
    answer = client.post("/api/phones/invite").get_json()
    assert answer["url"].endswith(f"/bay/#join={answer['code']}")
    assert answer["qr_svg"].startswith("<svg") and "script" not in answer["qr_svg"]
    phone = office.phone()
    assert phone.get("/api/sync/state")[0] == 200
    assert phone.join(answer["code"])[0] == 409  # it has joined already, and was heard of since
    listed = client.get("/api/phones").get_json()["phones"]
    assert [phone_row["letter"] for phone_row in listed] == ["A"]


def test_the_list_of_phones_tells_what_was_announced_and_what_arrived(client, phone):
    job = phone.open_job()
    phone.push()
    phone.note(job)
    kept = phone.note(job)
    phone.push(phone.outbox[:1])
    listed = client.get("/api/phones").get_json()["phones"][0]
    assert kept in phone.outbox
    assert (listed["announced"], listed["received"]) == (3, 2)


def test_a_phone_that_was_shut_out_is_listed_as_such_and_the_log_says_why(client, phone):
    answer = client.post(f"/api/phones/{phone.device}/revoke", json={"reason": "Fell into the sump"})
    assert answer.status_code == 200 and answer.get_json()["revoked"]
    listed = client.get("/api/phones").get_json()["phones"][0]
    assert (listed["id"], listed["revoked_reason"]) == (phone.device, "Fell into the sump")


def test_fields_nobody_knows_are_refused_by_name(client):
    answer = client.post("/api/people", json={"name": "Nils", "role": "technician", "shoe_size": 44})
    assert answer.status_code == 422
    assert answer.get_json()["where"] == "shoe_size"


def test_the_description_of_the_api_is_valid_json_and_names_every_address(client):
    answer = client.get("/api/openapi.json").get_json()
    assert answer["openapi"] == "3.1.0"
    assert {"/api/office/me", "/api/phones/invite", "/api/engine-types/check"} <= answer["paths"].keys()


def test_the_door_names_the_workshop_and_says_when_it_is_invented_before_anybody_signs_in(office):
    answer = office.app.test_client().get("/api/office/door")
    assert answer.get_json() == {"workshop": office.workshop.name, "demo": False}
