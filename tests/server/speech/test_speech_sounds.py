"""Sounds are listened to in the background: each once, a hostile one costs the others nothing, nothing is forgotten."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from threading import Event, Thread

import numpy as np
import pytest

from tests.support import record
from tests.support.clips import clip
from tests.support.media import Sender, jpeg, look, sha
from tests.support.sounds import as_wav
from tests.support.spoken import speak
from witnessmark.config import Settings
from witnessmark.db import reading, writing
from witnessmark.media import previews, store
from witnessmark.projections import spoken_notes
from witnessmark.speech import states
from witnessmark.tasks import queue, sounds, worker

NOTE = "oil_pump_note.webm"
LONG = 60  # seconds until a test gives up: two cores may be shared by many


@pytest.fixture
def job(client, phone) -> str:
    opened = phone.open_job("24-118", engine_type=record.describe(client))
    record.send(phone)
    return opened


@pytest.fixture
def hearing(office, others) -> Callable[..., Settings]:
    """Settings of the office with these recognisers and no others."""

    def with_these(*names: str) -> Settings:
        return replace(office.settings, speech=",".join(names))

    others("parrot", "mute", "slow", "suicide")
    return with_these


def arrives(office, phone, job: str, data: bytes, **facts) -> dict:
    """A sound whose entry and file are both here."""
    sound = speak(phone, job, sound=data, **facts)
    record.send(phone)
    with writing(office.engine) as conn:
        store.adopt(office.settings, conn, data)
    return sound


def heard(office, sound: dict) -> list[dict]:
    """The bodies of its transcripts."""
    with reading(office.engine) as conn:
        return spoken_notes.transcripts_of(conn, office.workshop.id, sound["id"])


def facts(office, data: bytes) -> dict:
    with reading(office.engine) as conn:
        return previews.facts_of(conn, sha(data))


@contextmanager
def listener(office, settings: Settings) -> Iterator[sounds.Listener]:
    made = sounds.Listener(settings, office.engine)
    try:
        yield made
    finally:
        made.close()


@contextmanager
def working(settings: Settings) -> Iterator[None]:
    stop = Event()
    thread = Thread(target=worker.run, args=(settings, stop))
    thread.start()
    try:
        yield
    finally:
        stop.set()
        thread.join()


def until(came: Callable[[], object]) -> object:
    end = time.monotonic() + LONG
    while not (result := came()) and time.monotonic() < end:
        time.sleep(0.05)
    return result


def test_what_arrives_is_heard_in_the_background_by_the_free_recogniser(office, phone, job):
    """A note as a phone sends it: first the record, then the file, in pieces; nobody asks for anything."""
    with working(replace(office.settings, speech="whisper")):
        sound = speak(phone, job, sound=clip(NOTE), mode="note", screen="none", duration_ms=5700)
        record.send(phone)
        Sender(office.app, phone.token).send(clip(NOTE))
        until(lambda: heard(office, sound))

    (body,) = heard(office, sound)
    assert "oil pump was full of metal" in body["text"]
    assert (body["engine"], body["duration_ms"]) == ("whisper", pytest.approx(5712, abs=40))
    assert store.path_of(office.settings, sha(clip(NOTE))).read_bytes() == clip(NOTE)
    assert "fault" not in facts(office, clip(NOTE)) and float(facts(office, clip(NOTE))["seconds"]) > 5


def test_a_file_that_came_before_its_record_is_heard_as_well(office, phone, job, hearing):
    Sender(office.app, phone.token).send(clip())
    with working(hearing("parrot")):
        sound = speak(phone, job, sound=clip())
        record.send(phone)
        assert until(lambda: heard(office, sound))


def test_the_same_sound_asked_for_twice_is_written_down_once(office, phone, job, hearing):
    sound = arrives(office, phone, job, clip())
    with listener(office, hearing("parrot")) as ear:
        ear.listen(sound["id"])
        ear.listen(sound["id"])
        ear.listen(sha(clip()))
        assert len(heard(office, sound)) == 1
        ear.listen(sound["id"], sounds.AGAIN)
        assert len(heard(office, sound)) == 1  # the same recognisers with the same words have nothing new to say
        assert ear.waiting() == []
    assert not office.settings.hearing.exists()


def test_two_records_of_one_file_are_both_heard(office, phone, job, hearing):
    first, second = (arrives(office, phone, job, clip()) for _ in range(2))
    with listener(office, hearing("parrot")) as ear:
        ear.listen(sha(clip()))
    assert len(heard(office, first)) == len(heard(office, second)) == 1


def test_a_second_record_of_a_file_that_was_heard_is_heard_as_well(office, phone, job, hearing):
    first = arrives(office, phone, job, clip())
    with listener(office, hearing("parrot")) as ear:
        ear.listen(first["id"])
        second = arrives(office, phone, job, clip())
        assert ear.waiting() == [second["id"]]
        ear.listen(second["id"])
        assert ear.waiting() == []
    assert len(heard(office, first)) == len(heard(office, second)) == 1


@pytest.mark.parametrize(
    "what, data, told",
    [
        ("cut off before the end where it says what is in it", b"\x00\x00\x00\x18ftypM4A " + bytes(9000), "damaged"),
        ("random bytes", os.urandom(4_000), "of a kind this server cannot play"),
    ],
)
def test_a_hostile_sound_is_kept_and_told_of_and_stops_no_other(what, data, told, office, client, phone, job, hearing):
    bad, good = arrives(office, phone, job, data), arrives(office, phone, job, clip())
    with listener(office, hearing("parrot")) as ear:
        assert ear.waiting() == [bad["id"], good["id"]]
        for id in ear.waiting():
            ear.listen(id)
        assert ear.waiting() == []  # and it is not tried for ever

    assert heard(office, bad) == [] and len(heard(office, good)) == 1
    assert told in facts(office, data)["fault"] and facts(office, data)["fault"].endswith(".")
    assert store.path_of(office.settings, sha(data)).read_bytes() == data
    tally = client.get("/api/spoken/tally").get_json()
    assert (tally["undecodable"], tally["transcribed"], tally["waiting"]) == (1, 1, 0)


def test_a_recording_cut_off_on_its_way_is_heard_as_far_as_it_goes(office, phone, job, hearing):
    """The phone said 5.8 seconds; 60 % of the bytes are there. What came through is written down, and what is missing
    is told."""
    data = clip()[: len(clip()) * 6 // 10]
    sound = arrives(office, phone, job, data, duration_ms=5800)
    with listener(office, hearing("parrot")) as ear:
        ear.listen(sound["id"])

    assert len(heard(office, sound)) == 1
    assert "of 5.8 seconds could be decoded" in facts(office, data)["fault"]


def test_a_picture_that_was_called_a_sound_stays_a_picture(office, phone, job, hearing):
    data = jpeg()
    sound = arrives(office, phone, job, data)
    look(office.settings, office.engine, sha(data))
    with listener(office, hearing("parrot")) as ear:
        ear.listen(sound["id"])
        assert ear.waiting() == [] and heard(office, sound) == []

    assert facts(office, data)["width"] == 640 and "picture" in facts(office, data)["fault"]
    assert previews.own(office.settings, sha(data), 320)


def test_silence_is_written_down_as_nothing_understood(office, phone, job, hearing):
    sound = arrives(office, phone, job, as_wav(np.zeros(32_000)))
    with listener(office, hearing("parrot")) as ear:
        ear.listen(sound["id"])
    (body,) = heard(office, sound)

    assert (body["outcome"], body["text"]) == ("nothing", "")


def test_without_a_recogniser_nothing_is_queued_and_the_tally_says_why(office, client, phone, job, monkeypatch):
    monkeypatch.setattr(states.util, "find_spec", lambda name: None)
    sound = speak(phone, job, sound=clip())
    record.send(phone)
    Sender(office.app, phone.token).send(clip())
    assert queue.waiting(office.settings) == 0
    tools = worker.Tools(office.settings, office.engine)
    try:
        assert worker.find_forgotten(tools) == 0
        worker.hear_sound(tools, sound["id"])
    finally:
        tools.close()

    assert heard(office, sound) == [] and facts(office, clip())["length"] == len(clip())
    assert client.get("/api/spoken/tally").get_json()["waiting"] == 1


def test_an_upload_asks_for_its_sound_to_be_heard(office, phone, job):
    Sender(office.app, phone.token).send(clip())
    assert queue.waiting(office.settings) == 1


def test_a_sound_that_nobody_could_hear_is_heard_once_there_is_a_better_recogniser(office, phone, job, hearing):
    sound = arrives(office, phone, job, clip())
    with listener(office, hearing("mute", "suicide")) as ear:
        ear.listen(sound["id"])
        assert ear.waiting() == []
    answer = facts(office, clip())["fault"]
    assert heard(office, sound) == [] and "No recogniser could listen" in answer and "no voice" in answer

    with listener(office, hearing("mute", "parrot")) as ear:
        assert ear.waiting() == [sound["id"]]
        ear.listen(sound["id"])
    assert len(heard(office, sound)) == 1
    assert "fault" not in facts(office, clip())


def test_a_long_note_needs_a_free_recogniser(office, phone, job):
    """Half a minute of speech; the closed ones would force it into their vocabulary."""
    from tests.support.sounds import samples_of
    from witnessmark.speech.decode import Decoder

    decoder = Decoder()
    office.settings.uploads.mkdir(parents=True, exist_ok=True)
    try:
        spoken = samples_of(clip(NOTE), office.settings.uploads, decoder)[1]
    finally:
        decoder.close()
    data = as_wav(np.tile(spoken, 5))
    sound = arrives(office, phone, job, data)
    with listener(office, replace(office.settings, speech="sphinx_ngram,sphinx_grammar")) as ear:
        ear.listen(sound["id"])
        assert ear.waiting() == []

    assert heard(office, sound) == [] and "Notes need free dictation" in facts(office, data)["fault"]


def test_a_note_that_takes_long_holds_nobody_up(office, phone, job, hearing):
    """The worker has a few threads: while one listens, the others leave their sounds with it and go on."""
    first, second = (arrives(office, phone, job, clip(name)) for name in ("main_4.webm", "rebore_1.webm"))
    with listener(office, hearing("slow")) as ear:
        thread = Thread(target=ear.listen, args=(first["id"],))
        thread.start()
        until(ear._lock.locked)
        began = time.monotonic()
        ear.listen(second["id"])
        assert time.monotonic() - began < 1
        assert ear.waiting() == []  # it is being done
        thread.join(LONG)
    assert len(heard(office, first)) == len(heard(office, second)) == 1


def test_the_work_of_a_killed_worker_is_found_again(office, phone, job, hearing):
    """SIGKILL while a recogniser listens: nothing half-heard is written, the next worker begins anew."""
    sound = arrives(office, phone, job, clip())
    settings = hearing("slow")
    code = (
        "import sys; from pathlib import Path; from threading import Event; from witnessmark.config import Settings; "
        "from witnessmark.tasks import worker; worker.run(Settings(Path(sys.argv[1]), speech='slow'), Event())"
    )
    environment = {"PYTHONPATH": os.pathsep.join(place for place in sys.path if place), "PATH": os.defpath}
    killed = subprocess.Popen([sys.executable, "-c", code, str(settings.data)], env=environment)
    try:
        assert until(lambda: list(settings.hearing.glob("*/raw")))
    finally:
        killed.send_signal(signal.SIGKILL)
        killed.wait()
    assert heard(office, sound) == [] and list(settings.hearing.iterdir())

    with working(settings):
        assert until(lambda: heard(office, sound))
    assert len(heard(office, sound)) == 1
    assert not settings.hearing.exists()


def test_a_worker_that_is_told_to_stop_writes_nothing_half_heard(office, phone, job, hearing, monkeypatch):
    monkeypatch.setattr(worker, "LAST_WORD_SECONDS", 0.1)
    sound = arrives(office, phone, job, clip())
    with working(hearing("slow")):
        assert until(lambda: list(office.settings.hearing.glob("*/raw")))

    assert heard(office, sound) == []
    assert "fault" not in facts(office, clip()) and "tried" not in facts(office, clip())
