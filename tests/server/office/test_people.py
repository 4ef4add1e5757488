"""Who works here: signing in is guarded, roles are kept apart, and the owners' data can be erased."""

from __future__ import annotations

import base64
import hashlib
import json
import stat
import time
from concurrent.futures import ThreadPoolExecutor
from threading import Barrier
from types import SimpleNamespace

import pytest
from sqlalchemy import select, update

from tests.support.workshop import MANAGER, PASSWORD
from witnessmark.db import reading, writing
from witnessmark.people import owners, persons, secrets, server_key, sessions, sign_in, tables, throttle, workshops
from witnessmark.people.errors import NotSignedIn, Taken, TooMany, Unknown
from witnessmark.people.owners import Owner
from witnessmark.proof import keys
from witnessmark.sync.founding import found_workshop
from witnessmark.trade.ground.errors import Refusal


def enter(office, name=MANAGER, password=PASSWORD, address="10.0.0.7", seconds=60, **more):
    return sign_in.sign_in(office.engine, office.workshop.id, name, password, address, seconds, **more)


def who(office, token):
    with reading(office.engine) as conn:
        return sessions.session_of(conn, token).person


def add(office, *args, **kwargs):
    with writing(office.engine) as conn:
        return persons.add(conn, office.workshop.id, *args, **kwargs)


def change(office, person, **changes):
    with writing(office.engine) as conn:
        return persons.change(conn, office.workshop.id, person, **changes)


def test_signing_in_gives_a_session_that_ends(office):
    token, person = enter(office, "  iDa ")
    assert person.id == office.manager.id
    assert who(office, token).name == MANAGER
    with writing(office.engine) as conn:
        sign_in.sign_out(conn, token)
    with pytest.raises(NotSignedIn):
        who(office, token)


def test_a_session_runs_out_by_itself(office):
    token, _ = enter(office, seconds=0)
    with pytest.raises(NotSignedIn):
        who(office, token)


def test_wrong_name_and_wrong_password_are_answered_in_the_same_words(office):
    with pytest.raises(NotSignedIn) as wrong_name:
        enter(office, "Nobody", PASSWORD)
    with pytest.raises(NotSignedIn) as wrong_password:
        enter(office, MANAGER, "not the password")
    assert wrong_name.value.message == wrong_password.value.message


def test_a_person_without_a_password_cannot_sign_in_with_an_empty_one(office):
    add(office, "Tomas", "technician", pin="4711")
    with pytest.raises(NotSignedIn):
        enter(office, "Tomas", "")


def test_guessing_a_password_takes_longer_each_time(office):
    with writing(office.engine) as conn:
        for _ in range(throttle.FREE_TRIES["name"]):
            throttle.failed(conn, "name:ida")
    with pytest.raises(TooMany) as first:
        enter(office)
    with writing(office.engine) as conn:
        for _ in range(4):
            throttle.failed(conn, "name:ida")
    with pytest.raises(TooMany) as later:
        enter(office, address="10.0.0.8")
    assert later.value.seconds > 4 * first.value.seconds
    assert str(later.value.seconds) in later.value.message


def test_the_wait_is_kept_over_a_restart_and_ends(office):
    with writing(office.engine) as conn:
        for _ in range(6):
            throttle.failed(conn, "pair:ida|10.0.0.7")
    again = office.restart()
    with pytest.raises(TooMany):
        enter(again)
    with writing(again.engine) as conn:
        conn.execute(update(tables.attempts).values(last=time.time() - throttle.LONGEST_WAIT["pair"]))
    assert enter(again)[1].name == MANAGER
    with reading(again.engine) as conn:
        throttle.check(conn, "pair:ida|10.0.0.7", "name:ida")


@pytest.fixture
def stopped_clock(monkeypatch) -> None:
    """For the throttle: no wait ends while a test is at it."""
    now = time.time()
    monkeypatch.setattr(throttle, "time", SimpleNamespace(time=lambda: now))


def guessed(office, address: str, times: int = 12, name: str = MANAGER, **more) -> int:
    """Guesses as fast as it goes; how many guesses were judged."""
    judged = 0
    for number in range(times):
        try:
            enter(office, name, f"wrong guess {number}", address=address, **more)
        except NotSignedIn:
            judged += 1
        except TooMany:
            continue
    return judged


def test_who_knows_a_managers_name_locks_nobody_out_but_the_own_address(office, stopped_clock):
    assert guessed(office, "10.0.0.66") == throttle.FREE_TRIES["pair"]
    with pytest.raises(TooMany):
        enter(office, address="10.0.0.66")
    assert enter(office, address="10.0.0.7")[1].name == MANAGER


def test_from_where_a_person_signed_in_before_strangers_keep_nobody_out(office, stopped_clock):
    """However many addresses they guess from: they reach the bound for the name, which does not count there."""
    enter(office, address="10.0.0.7")
    judged = sum(guessed(office, f"10.0.2.{number}", times=4) for number in range(20))
    assert judged == throttle.FREE_TRIES["name"]
    with pytest.raises(TooMany):
        enter(office, address="10.0.0.8")
    assert enter(office, address="10.0.0.7")[1].name == MANAGER


def test_one_guesser_behind_an_address_shuts_out_nobody_who_signed_in_there_before(office, stopped_clock):
    add(office, "Tomas", "technician", password="long enough 1")
    enter(office, "Tomas", "long enough 1", address="10.0.0.9")
    for number in range(throttle.FREE_TRIES["address"] + 1):
        guessed(office, "10.0.0.9", 1, f"guess {number}")
    with pytest.raises(TooMany):
        enter(office, address="10.0.0.9")
    assert enter(office, "Tomas", "long enough 1", address="10.0.0.9")[1].name == "Tomas"


def test_guessing_where_the_person_signed_in_before_is_slowed_too(office, stopped_clock):
    enter(office, address="10.0.0.7")
    assert guessed(office, "10.0.0.7") == throttle.FREE_TRIES["place"]
    with pytest.raises(TooMany) as slowed:
        enter(office, address="10.0.0.7")
    assert slowed.value.seconds <= throttle.LONGEST_WAIT["place"] + 1


def test_on_the_servers_own_machine_everybody_is_answered_and_guessing_is_slow(office, stopped_clock):
    for number in range(20):
        guessed(office, f"10.0.2.{number}", times=4)
    pauses = []
    assert guessed(office, "127.0.0.1", pause=pauses.append) == 12
    assert len(pauses) == 12 - throttle.FREE_TRIES["loopback"]
    assert max(pauses) == pytest.approx(throttle.LONGEST_WAIT["loopback"], abs=1)
    assert enter(office, address="::1", pause=pauses.append)[1].name == MANAGER


def test_only_so_many_are_slowed_at_once_on_the_servers_own_machine(office, stopped_clock):
    guessed(office, "127.0.0.1", throttle.FREE_TRIES["loopback"])
    pausing = Barrier(sign_in.AT_LOOPBACK + 1, timeout=10)

    def pause(_seconds):
        pausing.wait()
        pausing.wait()

    with ThreadPoolExecutor(sign_in.AT_LOOPBACK) as pool:
        slowed = [pool.submit(enter, office, address="127.0.0.1", pause=pause) for _ in range(sign_in.AT_LOOPBACK)]
        pausing.wait()
        with pytest.raises(TooMany) as refused:
            enter(office, address="127.0.0.1", pause=pause)
        pausing.wait()
        assert [attempt.result()[1].name for attempt in slowed] == [MANAGER] * sign_in.AT_LOOPBACK
    assert refused.value.seconds == throttle.LONGEST_WAIT["loopback"]


def test_only_the_newest_places_of_a_person_are_remembered(office):
    for number in range(sign_in.PLACES + 3):
        enter(office, address=f"10.0.3.{number}")
    with reading(office.engine) as conn:
        kept = set(conn.scalars(select(tables.sign_in_places.c.address)))
    assert kept == {f"10.0.3.{number}" for number in range(3, sign_in.PLACES + 3)}


def test_one_address_that_tries_many_names_is_slowed_down_too(office):
    with writing(office.engine) as conn:
        for number in range(throttle.FREE_TRIES["address"]):
            throttle.failed(conn, f"name:guess {number}", "address:10.0.0.9")
    with pytest.raises(TooMany):
        enter(office, address="10.0.0.9")
    assert enter(office, address="10.0.0.10")


def test_guesses_made_at_one_moment_count_each_other(office, monkeypatch):
    """Thirty guesses at once, each waiting for the slow hash: no more are judged than would be one after the other."""
    judged, right = [], secrets.password_is_right

    def slowly(kept, password):
        judged.append(password)
        time.sleep(0.2)
        return right(kept, password)

    def guess(number):
        with pytest.raises((NotSignedIn, TooMany)):
            enter(office, password=f"wrong guess {number}", address="10.0.1.1")

    monkeypatch.setattr(secrets, "password_is_right", slowly)
    with ThreadPoolExecutor(30) as pool:
        list(pool.map(guess, range(30)))
    assert len(judged) == throttle.FREE_TRIES["pair"]


def test_guessing_from_a_stolen_database_is_dear(shipped_hashes):
    """16 MiB and 32,768 rounds for a password, 600,000 for a PIN: what was common advice in 2026, from memory."""
    kept = secrets.hash_password(PASSWORD)
    facts = json.loads(kept)
    assert facts["n"] >= 2**15 and facts["r"] >= 8 and facts["p"] >= 1
    cost = {name: facts[name] for name in ("n", "r", "p")}
    by_hand = hashlib.scrypt(PASSWORD.encode(), salt=base64.b64decode(facts["salt"]), maxmem=2**26, dklen=32, **cost)
    assert base64.b64decode(facts["hash"]) == by_hand
    assert secrets.password_is_right(kept, PASSWORD)
    assert not secrets.password_is_right(kept, PASSWORD + " ")
    assert json.loads(secrets.pin_verifier("4711", "technician"))["iterations"] >= 600_000


def test_signing_in_rightly_costs_nobody_a_wait(office):
    for _ in range(throttle.FREE_TRIES["address"] + 5):
        assert enter(office)[1].name == MANAGER
    with reading(office.engine) as conn:
        assert conn.execute(select(tables.attempts)).all() == []


def test_a_right_password_does_not_excuse_the_wrong_ones_of_the_same_address(office):
    for number in range(4):
        with pytest.raises(NotSignedIn):
            enter(office, name=f"Guess {number}")
    enter(office)
    with reading(office.engine) as conn:
        query = select(tables.attempts.c.failures).where(tables.attempts.c.who == "address:10.0.0.7")
        assert conn.scalar(query) == 4


def test_whoever_is_put_away_is_signed_out_at_once(office):
    tomas = add(office, "Tomas", "technician", password="long enough 1")
    token, _ = enter(office, "Tomas", "long enough 1")
    change(office, tomas.id, active=False)
    with pytest.raises(NotSignedIn):
        who(office, token)
    with pytest.raises(NotSignedIn):
        enter(office, "Tomas", "long enough 1")


def test_a_new_password_ends_the_sessions_of_the_old_one(office):
    token, _ = enter(office)
    change(office, office.manager.id, password="another brass 8")
    with pytest.raises(NotSignedIn):
        who(office, token)
    assert enter(office, MANAGER, "another brass 8")


def test_the_last_manager_can_neither_leave_nor_step_down(office):
    for changes in ({"active": False}, {"role": "technician"}):
        with pytest.raises(Refusal) as refused:
            change(office, office.manager.id, **changes)
        assert refused.value.code == "last_manager"
    second = add(office, "Nell", "manager", password="long enough 2")
    assert change(office, office.manager.id, role="technician").role == "technician"
    with pytest.raises(Refusal):
        change(office, second.id, active=False)


@pytest.mark.parametrize(
    ("facts", "error"),
    [
        (("ida", "technician"), Taken),
        (("", "technician"), Refusal),
        (("x" * 81, "technician"), Refusal),
        (("Tomas", "owner"), Refusal),
        (("Tomas", "technician", "short"), Refusal),
        (("Tomas", "technician", "", "12"), Refusal),
        (("Tomas", "technician", "", "12ab"), Refusal),
        (("Tomas", "technician", "", "123456789"), Refusal),
        (("Tomas", "manager", "", "12345"), Refusal),
        (("Tomas", "technician", "", "١٢٣٤"), Refusal),
    ],
)
def test_a_person_is_not_added_with(office, facts, error):
    with pytest.raises(error) as refused:
        add(office, *facts)
    assert refused.value.message.endswith(".")


def test_a_managers_pin_has_six_digits_whenever_it_is_made(office):
    """What it signs counts for others, and what checks it lies on every phone."""
    tomas = add(office, "Tomas", "technician", pin="4711")
    with pytest.raises(Refusal) as refused:
        change(office, tomas.id, role="manager", pin="47110")
    assert "6 to 8 digits" in refused.value.message
    assert change(office, tomas.id, name="Tomas R.").pin is not None
    assert change(office, tomas.id, role="manager").pin is None, "made for a technician, it may be too short"
    made = change(office, tomas.id, pin="471105").pin
    assert made is not None and change(office, tomas.id, role="manager").pin == made
    assert change(office, tomas.id, role="technician").pin == made
    assert change(office, tomas.id, role="manager", pin="58120634").pin is not None


def test_a_person_nobody_knows_cannot_be_changed(office):
    with pytest.raises(Unknown):
        change(office, "nobody", name="Somebody")


def test_passwords_and_pins_are_not_in_the_database(office):
    add(office, "Tomas", "technician", password="long enough 3", pin="471182")
    held = b"".join(p.read_bytes() for p in office.settings.data.glob("witnessmark.db*"))
    assert b"Tomas" in held
    assert b"long enough 3" not in held and b"471182" not in held


def test_the_owners_personal_data_can_be_erased_and_was_never_in_the_log(office, phone):
    job = phone.open_job()
    phone.push()
    ours = office.workshop.id
    with writing(office.engine) as conn:
        owners.note(conn, ours, job, Owner("M. Invented", "0000 1234", "m@invented.example"))
        owners.note(conn, ours, job, Owner("M. Invented", "0000 5678", ""))
        assert owners.of_job(conn, ours, job) == Owner("M. Invented", "0000 5678", "")
        logged = b"".join(conn.exec_driver_sql("SELECT bytes FROM log_entries").scalars())
        assert job.encode() in logged and b"M. Invented" not in logged and b"0000 5678" not in logged
        owners.erase(conn, ours, job)
        assert owners.of_job(conn, ours, job) == Owner()


def test_the_servers_key_is_its_own_readers_alone_and_signs_what_others_can_check(office):
    path = office.settings.server_key
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    key = server_key.load(path)
    assert keys.verify(keys.unbase64(key.public_key), key.sign(b"a head"), b"a head")
    assert not keys.verify(keys.unbase64(key.public_key), key.sign(b"a head"), b"another")
    assert key.server_id == keys.server_id(keys.unbase64(key.public_key))
    with pytest.raises(FileExistsError):
        server_key.make(path)


def test_a_folder_holds_one_workshop(office):
    with pytest.raises(Refusal) as refused:
        found_workshop(office.settings, "Another", "Otto", "long enough 4")
    assert refused.value.code == "founded"
    with reading(office.engine) as conn:
        assert workshops.only(conn) == office.workshop
        assert persons.names(conn, office.workshop.id) == {office.manager.id: MANAGER}
