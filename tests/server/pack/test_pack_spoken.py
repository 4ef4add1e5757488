"""What was spoken, in a pack: a stranger finds the sound, its words and who stands behind them together."""

from __future__ import annotations

import hashlib
import json
import re
from html import unescape
from html.parser import HTMLParser

import pytest

from tests.broken_packs.make import changed, entry_of, read, write
from tests.server.pack.test_pack_figures import engine_of, entries_of
from tests.support import record
from tests.support.packs import files_of
from tests.support.pdf import text_of
from tests.support.spoken_packs import PUMP, PUMP_HEARD, THRUST, bring, milliseconds, speak
from tests.support.workshop import MANAGER, PASSWORD
from witnessmark.db import reading
from witnessmark.pack import words
from witnessmark.pack.build import build
from witnessmark.proof import layout, sounds
from witnessmark.proof.verify import verify
from witnessmark.trade.ground.corrections import fold
from witnessmark.trade.record import own_words
from witnessmark.trade.spoken import notes as spoken_notes


@pytest.fixture(scope="module", params=["sealed", "customer"])
def files(spoken_pack, request) -> dict[str, bytes]:
    return files_of(getattr(spoken_pack, request.param).path)


class Records(HTMLParser):
    """The records of a page: what is read, the sound that plays, and each word with its times."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.all: list[dict] = []
        self._word = None
        self.feed(page)

    def handle_starttag(self, tag, attrs):
        answer = dict(attrs)
        if tag == "article":
            self.all.append({"id": answer["id"], "text": "", "audio": None, "words": []})
        elif tag == "audio":
            self.all[-1]["audio"] = answer["src"]
        elif tag == "span" and "data-from" in answer:
            self._word = [int(answer["data-from"]), int(answer["data-to"])]

    def handle_data(self, data):
        if self._word:
            self.all[-1]["words"].append((data, *self._word))
            self._word = None
        if self.all:
            self.all[-1]["text"] += " " + data

    def of(self, sha256: str, ending: str) -> dict:
        """The record whose sound is this original, or the copy made of it."""
        return next(one for one in self.all if one["audio"] and one["audio"].endswith(f"{sha256}.{ending}"))


def record_of(files: dict[str, bytes], sound: dict) -> dict:
    return Records(files[layout.PAGE].decode()).of(sound["media"][0]["sha256"], "webm")


@pytest.fixture(scope="module")
def pdf(files) -> str:
    return text_of(files[layout.REPORT])


def test_the_packs_are_found_whole_by_whoever_checks_them(spoken_pack):
    for pack in (spoken_pack.sealed, spoken_pack.customer):
        report = verify(pack.path)
        assert report.faults == []
        assert report.facts["left_out"] == 0


def test_sound_and_words_stand_in_one_record_and_the_times_are_those_of_the_sound(spoken_pack, files):
    sound = spoken_pack.recorded.sounds["query"]
    found = record_of(files, sound)
    path = f"data/{found['audio']}"

    assert [word for word, _, _ in found["words"]] == THRUST.split()
    times = [moment for _, start, end in found["words"] for moment in (start, end)]
    assert times == sorted(times) and times[-1] <= milliseconds("bore_3_thrust.webm")
    # The very bytes, or a copy that plays the same: RFC 9559 elements of words blanked, all else untouched.
    told = {load["sha256"]: load for load in map(json.loads, files[layout.MEDIA].splitlines())}
    kept = told[sound["media"][0]["sha256"]]
    if kept["copy"]:
        assert sounds.scan_hash(files[path]) == kept["copy"]["scan_sha256"]
    else:
        assert hashlib.sha256(files[path]).hexdigest() == sound["media"][0]["sha256"]


def test_words_are_a_machines_until_a_person_has_listened(spoken_pack, files, pdf):
    page = Records(files[layout.PAGE].decode())
    query, note = (
        record_of(files, spoken_pack.recorded.sounds["query"]),
        record_of(files, spoken_pack.recorded.sounds["note"]),
    )

    assert "machine transcript, not confirmed" in query["text"] and "confirmed by" not in query["text"]
    assert "the recognisers heard it differently" in query["text"]
    assert "not confirmed" not in note["text"]
    by = rf"confirmed by\s+{MANAGER}, \d{{4}}-\d\d-\d\d \d\d:\d\d:\d\d \S+, no\. (\d+)"
    number = re.search(by, note["text"])[1]
    confirmed = next(one for one in page.all if one["id"] == f"e{number}")
    assert PUMP in confirmed["text"] and "Remark: The compressor runs behind it." in note["text"]
    assert re.search(by, pdf) and words.MACHINE in pdf


def test_a_persons_words_are_lit_by_the_times_of_what_was_heard(spoken_pack, files):
    note = record_of(files, spoken_pack.recorded.sounds["note"])

    assert " ".join(word for word, _, _ in note["words"]) == PUMP
    # 'pickup' was heard as two words, 'sealer' as another: both have the time of what was heard there.
    said = note["words"]
    at = [word for word, _, _ in said].index("pickup")
    assert said[at - 1][2] == said[at][1] < said[at][2] == said[at + 1][1]
    assert said[-2][2] == said[-1][1] < said[-1][2]


def test_what_each_recogniser_heard_is_in_small_print_with_its_model(spoken_pack, files, pdf):
    page = unescape(re.sub(r"<[^>]+>", " ", files[layout.PAGE].decode()))
    for text in (" ".join(page.split()), pdf):
        assert f"“{PUMP_HEARD}”" in text
        assert "word for word as above" in text
        assert "sphinx_ngram 5.1.1, model en-us 111111111111…, its own score 80 of 100" in text
        assert "sphinx_ngram 5.1.1 the trade's words only, after noise was taken out" in text
        assert "whisper 1.2.1 free dictation" in text
    # The whole hashes stand once, under the recognisers.
    drawn = files[layout.PAGE].decode().split("<script")[0]
    assert drawn.count("44" * 32) == 1
    # A line of the PDF may break within a hash.
    assert "44" * 32 in pdf.replace(" ", "")


def test_a_record_that_nobody_heard_so_is_said_to_be_asked_about(spoken_pack, files, pdf):
    query = " ".join(record_of(files, spoken_pack.recorded.sounds["query"])["text"].split())
    right = record_of(files, spoken_pack.recorded.sounds["right"])["text"]

    for text in (query, pdf):
        assert "88.49 mm" in text and "A recogniser heard:" in text and "88.94 mm" in text
        assert "This differs: the value. Nobody has answered yet. The record stands as it was made." in text
    assert "A recogniser heard:" not in right


def test_where_there_are_no_words_it_says_why(spoken_pack, files, pdf):
    sound = spoken_pack.recorded.sounds
    assert "no recogniser understood a word of it" in record_of(files, sound["nothing"])["text"]
    assert "not transcribed when this pack was made" in record_of(files, sound["waiting"])["text"]
    assert "no recogniser understood a word of it" in pdf and "not transcribed when this pack was made" in pdf


def test_a_stranger_makes_the_same_of_the_entries_as_the_office_does(spoken_pack, files):
    client = spoken_pack.office.app.test_client()
    client.environ_base["HTTP_X_WITNESSMARK"] = "office"
    client.post("/api/office/sign-in", json={"name": MANAGER, "password": PASSWORD})
    entries = entries_of(files)
    own = own_words.own_words(entries)
    standings = fold(entry for entry in entries if entry["job"])

    assert [one["word"] for one in own] == ["Halvern"]
    for sound in spoken_pack.recorded.sounds.values():
        note = spoken_notes.of_standings(standings, sound["id"], engine_of(files), own)
        shown = client.get(f"/api/entries/{sound['id']}").get_json()["spoken"]
        for name in ("state", "text", "by", "words", "engine", "results"):
            assert note[name] == shown[name], name
        differ = [(record["id"], record["parts"]) for record in (note["query"] or {"records": []})["records"]]
        assert differ == [(record["id"], record["parts"]) for record in (shown["query"] or {"records": []})["records"]]


def test_words_of_a_transcript_that_were_changed_are_noticed(spoken_pack, tmp_path):
    top, all_files = read(spoken_pack.sealed.path)
    name = next(n for n, data in all_files.items() if n.startswith(layout.ENTRIES) and b"transcript_made" in data)
    all_files[name] = all_files[name].replace(b"eighty", b"ninety")
    faults = verify(write(tmp_path / "changed.zip", top, all_files)).faults

    assert any(name in str(fault) for fault in faults)


def test_an_own_word_without_its_word_is_noticed(spoken_pack, tmp_path):
    top, all_files = read(spoken_pack.sealed.path)
    changed(lambda files: entry_of(files, "spoken_word_set"), lambda entry: entry["body"].pop("word"))(all_files)
    faults = verify(write(tmp_path / "wordless.zip", top, all_files)).faults

    assert any(fault.step == 7 and fault.expected == "a body with word" for fault in faults)


def test_the_pack_says_what_a_transcript_is_worth(files, pdf):
    page = unescape(files[layout.PAGE].decode())
    assert words.SPOKEN in page and words.SPOKEN in pdf
    assert "A recording is the evidence" in " ".join(files[layout.READ_ME].decode().split())
    assert any("machine transcript" in one for one in words.DOES_NOT_SHOW)


def test_a_job_with_recordings_that_nobody_transcribed_brings_no_words_and_no_script(spoken_pack, tmp_path):
    office = spoken_pack.office
    phone = office.phone("bay 7")
    job = phone.open_job("24/779", engine_type=record.ENGINE_TYPE_ID)
    speak(phone, job, "bore/1", "", (b"a voice that never came in"))
    record.send(phone)
    bring(office)
    with reading(office.engine) as conn:
        path = build(conn, office.settings, job, "customer", tmp_path).path
    files = files_of(path)

    assert verify(path).faults == []
    assert "word that is touched" not in files[layout.PAGE].decode(), "the script that lights words"
    assert not any(entry["kind"] == own_words.KIND for entry in entries_of(files))
    assert "A recording is the evidence" not in files[layout.READ_ME].decode()
