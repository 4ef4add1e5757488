"""A phone joins once, with a code that was given out for it, and with a key that only it holds."""

from __future__ import annotations

import base64
import hashlib
import json
import time

import pytest

from tests.support.phone import Phone
from witnessmark.db import reading, writing
from witnessmark.log import read
from witnessmark.people import devices, invitations, persons, secrets, throttle
from witnessmark.people.errors import TooMany
from witnessmark.sync import join as joining
from witnessmark.sync import office as server


@pytest.fixture
def stranger(office):
    return Phone(office.speak)


def test_a_phone_joins_and_the_log_says_so(office, stranger):
    status, answer = stranger.join(office.invite(), "  Phone   in bay 2 ")
    assert status == 201
    assert answer["server_key"] == server.key(office.settings).public_key
    assert answer["device"]["name"] == "Phone in bay 2" and answer["device"]["letter"] == "A"
    assert answer["workshop"] == {"id": office.workshop.id, "name": office.workshop.name}
    assert [p["name"] for p in answer["people"]] == ["Ida"]
    with reading(office.engine) as conn:
        last = list(read.whole_log(conn, office.workshop.id))[-1].entry
    assert (last["kind"], last["author"]) == ("device_enrolled", office.manager.id)
    assert last["device"] == office.workshop.desk
    assert last["body"]["public_key"] == stranger.public_key


def test_letters_are_given_out_in_order_and_never_twice():
    assert [devices.letter_of(n) for n in (0, 1, 25, 26, 27, 51, 52, 701, 702)] == [
        "A", "B", "Z", "AA", "AB", "AZ", "BA", "ZZ", "AAA",
    ]  # fmt: skip


def test_a_code_is_good_for_one_phone(office, stranger):
    code = office.invite()
    assert stranger.join(code)[0] == 201
    status, answer = Phone(office.speak).join(code)
    assert (status, answer["code"]) == (403, "code")


def test_a_code_may_be_typed_carelessly(office, stranger):
    code = office.invite()
    assert stranger.join(f" {code.lower().replace('-', ' ')} ")[0] == 201


def test_a_code_runs_out(office, stranger):
    with writing(office.engine) as conn:
        code = invitations.invite(conn, office.workshop.id, office.manager.id, 0).code
    time.sleep(0.01)
    assert stranger.join(code)[0] == 403


def test_codes_have_no_signs_that_are_mistaken_for_others():
    assert not set("0O1IL5S8BUV") & set("".join(secrets.new_code() for _ in range(200)))


def test_a_phone_whose_answer_got_lost_may_ask_again(office, stranger):
    code = office.invite()
    first = stranger.join(code)[1]
    status, again = stranger.join(code)
    assert status == 201
    assert again["device"] == first["device"]
    assert again["token"] != first["token"]
    assert stranger.get("/api/sync/state")[0] == 200
    stranger.token = first["token"]
    assert stranger.get("/api/sync/state")[0] == 401
    with reading(office.engine) as conn:
        assert len(devices.phones(conn, office.workshop.id)) == 1


def test_a_phone_that_was_shut_out_is_not_let_in_by_asking_again(office, stranger):
    code = office.invite()
    assert stranger.join(code)[0] == 201
    with writing(office.engine) as conn:
        joining.block(conn, office.settings, office.manager, stranger.device, "left on a bus")
    status, answer = stranger.join(code)
    assert (status, answer["code"]) == (403, "code") and "people" not in answer


def test_a_phone_whose_answer_got_lost_may_ask_again_with_another_code(office, stranger):
    """Its first code may have run out before it had signal again, and it cannot know that it was let in."""
    first = stranger.join(office.invite())[1]
    status, again = stranger.join(office.invite())
    assert (status, again["device"]) == (201, first["device"])
    assert stranger.get("/api/sync/state")[0] == 200
    with reading(office.engine) as conn:
        assert len(devices.phones(conn, office.workshop.id)) == 1


def test_one_key_cannot_join_as_two_phones(office, stranger):
    stranger.join(office.invite())
    assert stranger.get("/api/sync/state")[0] == 200
    status, answer = stranger.join(office.invite())
    assert (status, answer["code"]) == (409, "key_known")


@pytest.mark.parametrize("key", ["", "AAAA", "not base64!", base64.b64encode(b"\0" * 91).decode()])
def test_a_key_that_is_none_is_refused(office, key):
    payload = {"protocol": 1, "code": office.invite(), "name": "x", "public_key": key, "platform": ""}
    status, answer, _ = office.speak("POST", "/api/sync/join", payload, {})
    assert status == 422 and answer["where"] == "public_key"


def test_a_key_joins_only_by_a_request_that_it_has_signed(office, stranger):
    """A public key stands in the log for all to read: it alone must not get anybody the token of its phone."""
    assert stranger.join(office.invite())[0] == 201
    thief, code = Phone(office.speak), office.invite()
    theirs = {"public_key": stranger.public_key, "device": stranger.device}
    cases = {
        "signed with another key": theirs,
        "signed for another code": theirs | {"proof": statement_of(stranger, office.invite(), stranger.device)},
        "signed for another phone": theirs | {"proof": statement_of(stranger, code, "")},
        "signed as an entry": theirs | {"proof": stranger.note("x")["signature"]},
        "no signature": theirs | {"proof": "A" * 88},
    }
    for case, more in cases.items():
        status, answer = thief.join(code, **more)
        assert (status, answer["code"], answer["where"]) == (422, "proof", "proof"), case
    assert stranger.get("/api/sync/state")[0] == 200, "its token is still its own"
    assert thief.join(code, **theirs, proof=statement_of(stranger, code, stranger.device))[0] == 201


def statement_of(phone: Phone, code: str, device: str) -> str:
    """The phone's signature to join with this code under the id it had, as docs of the wire describe it."""
    statement = {"code": code, "device": device, "name": "Phone in bay 2", "platform": "test"}
    statement |= {"public_key": phone.public_key, "purpose": "join"}
    return phone.sign(json.dumps(statement, separators=(",", ":")).encode())


def test_an_app_from_before_the_proof_is_told_to_reload(office, stranger):
    payload = {"protocol": 1, "code": office.invite(), "name": "x", "public_key": stranger.public_key, "platform": ""}
    status, answer, _ = office.speak("POST", "/api/sync/join", payload, {})
    assert (status, answer["code"]) == (422, "no_proof") and "Reload it" in answer["message"]
    assert stranger.join(payload["code"])[0] == 201, "the code is still good"


def test_guessing_codes_is_slowed_down_and_shuts_out_nobody_with_a_right_one(office, stranger):
    for _ in range(throttle.FREE_TRIES["code"]):
        assert stranger.join("WRNG-WRNG")[0] == 403
    status, answer = stranger.join("WRNG-WRNG")
    assert (status, answer["code"]) == (429, "too_many")
    with reading(office.engine) as conn, pytest.raises(TooMany):
        throttle.check(conn, "code:127.0.0.1")
    assert stranger.join(office.invite())[0] == 201


def test_a_phone_can_check_a_pin_without_the_server(shipped_hashes, office, stranger):
    with writing(office.engine) as conn:
        persons.add(conn, office.workshop.id, "Tomas", "technician", pin="4711")
    _, answer = stranger.join(office.invite())
    pin = next(p["pin"] for p in answer["people"] if p["name"] == "Tomas")
    # As WebCrypto does it: PBKDF2 with HMAC-SHA-256, 256 bits.
    digest = hashlib.pbkdf2_hmac("sha256", b"4711", base64.b64decode(pin["salt"]), pin["iterations"], 32)
    assert base64.b64encode(digest).decode() == pin["hash"]
    assert pin["iterations"] >= 600_000


def test_tokens_and_codes_are_not_in_the_database(office, stranger):
    code = office.invite()
    stranger.join(code)
    held = b"".join(p.read_bytes() for p in office.settings.data.glob("witnessmark.db*"))
    assert stranger.device.encode() in held
    assert stranger.token.encode() not in held
    assert code.encode() not in held and code.replace("-", "").encode() not in held
