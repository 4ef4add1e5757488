"""What machines heard stands beside the sound: it changes no record, it is found, and a person has the last word."""

from __future__ import annotations

import json

import pytest

from tests.support import record
from tests.support.spoken import a_result, confirm, hears, speak, spoken_in
from witnessmark.db import reading, writing
from witnessmark.projections import apply as projections
from witnessmark.projections import tables
from witnessmark.sync import desk
from witnessmark.trade.ground.errors import Refusal

SAID = "bore 3 89.03 mm"
OTHER = "bore 3 89.08 mm"


@pytest.fixture
def job(client, phone) -> str:
    opened = phone.open_job("24-118", engine_type=record.describe(client))
    record.send(phone)
    return opened


@pytest.fixture
def accepted(phone, job) -> tuple[dict, dict]:
    """A sound, and the measurement that its technician accepted from it: 89.03 mm at bore 3."""
    sound = speak(phone, job, "bore/3")
    measured = record.measure(phone, job, "bore/3", "89.03", quantity="diameter", spoken=spoken_in(sound))
    record.send(phone)
    return sound, measured


def whole(client, id: str) -> dict:
    answer = client.get(f"/api/entries/{id}")
    assert answer.status_code == 200, answer.get_json()
    return answer.get_json()


def known(client, sound: dict) -> dict:
    """What the office shows of a sound."""
    return whole(client, sound["id"])["spoken"]


def listed(client, **asked) -> list[str]:
    answer = client.get("/api/spoken", query_string=asked)
    assert answer.status_code == 200, answer.get_json()
    return [item["id"] for item in answer.get_json()["items"]]


def test_a_sound_waits_until_somebody_heard_it_and_then_has_its_text(office, client, phone, job):
    sound = speak(phone, job, "bore/3", mode="note", screen="none")
    record.send(phone)
    assert known(client, sound)["state"] == "waiting"
    entry = hears(office, sound, a_result("whisper", "The liner is loose in the block.", sort="free"))
    note = known(client, sound)
    assert (note["text"], note["by"], note["engine"]) == ("The liner is loose in the block.", "machine", "whisper")
    assert note["transcript"] == entry
    assert [word[0] for word in note["words"]][:3] == ["The", "liner", "is"]
    line = whole(client, entry)
    assert line["title"] == "Machine transcript: bore 3"
    assert line["text"] == "The liner is loose in the block."
    assert line["author"]["name"] == "the office desk", "no person has listened"


def test_a_list_shows_the_text_without_the_times_of_its_words(office, client, phone, job):
    sound = speak(phone, job)
    record.send(phone)
    hears(office, sound, a_result(text=SAID))
    page = client.get(f"/api/jobs/{job}/timeline").get_json()["items"]
    note = next(item["spoken"] for item in page if item["id"] == sound["id"])
    assert note["words"] == [] and all("words" not in result for result in note["results"])
    assert note["text"] == SAID
    assert [item["spoken"] for item in page if item["kind"] == "job_opened"] == [None]


def test_the_same_recognisers_are_written_down_once_and_a_better_one_once_more(office, client, phone, job):
    sound = speak(phone, job)
    record.send(phone)
    assert hears(office, sound, a_result(text=SAID))
    assert hears(office, sound, a_result(text=SAID)) is None
    assert hears(office, sound, a_result(text=SAID), a_result("whisper", "Bore 3, 89.03 mm", sort="free"))
    assert hears(office, sound, a_result(text=SAID, vocabulary="33" * 32)), "with words that it did not know before"
    assert hears(office, sound, a_result(text=SAID, vocabulary="33" * 32)) is None


def test_nothing_understood_is_written_down_too(office, client, phone, job):
    sound = speak(phone, job)
    record.send(phone)
    entry = hears(office, sound, a_result(text=""), seconds=None)
    assert known(client, sound)["state"] == "nothing"
    assert whole(client, entry)["title"] == "Machine transcript: bore 3: nothing was understood"
    assert listed(client, state="nothing") == [sound["id"]]


def test_a_machine_never_overwrites_what_the_technician_accepted(office, client, accepted):
    sound, measured = accepted
    before = whole(client, measured["id"])
    hears(office, sound, a_result(text=OTHER), a_result("whisper", OTHER, sort="free"))
    after = whole(client, measured["id"])
    assert after == before
    assert after["body"]["value"] == "89.03" and after["corrected_by"] == []


def test_a_difference_opens_a_query_that_names_both(office, client, accepted):
    sound, measured = accepted
    hears(office, sound, a_result(text=OTHER))
    [query] = known(client, sound)["query"]["records"]
    assert query["id"] == measured["id"]
    assert query["exhibit"] == whole(client, measured["id"])["exhibit"]
    assert query["parts"] == ["value"]
    assert "89.03" in query["recorded"] and "89.08" in query["heard"]
    assert listed(client, state="query") == [sound["id"]]
    assert client.get("/api/spoken/tally").get_json()["queries"] == 1


def test_what_one_recogniser_heard_as_it_was_recorded_asks_nothing(office, client, accepted):
    sound, measured = accepted
    hears(office, sound, a_result(text=OTHER), a_result("whisper", SAID, sort="free"))
    note = known(client, sound)
    assert note["query"] is None
    assert [record["id"] for record in note["records"]] == [measured["id"]]


def test_a_persons_word_closes_the_query(office, client, phone, accepted):
    sound, _ = accepted
    hears(office, sound, a_result(text=OTHER))
    said = confirm(phone, sound, "Bore three, eighty nine point oh three.", "Listened twice.")
    record.send(phone)
    note = known(client, sound)
    assert (note["state"], note["by"], note["query"]) == ("confirmed", "person", None)
    assert note["text"] == "Bore three, eighty nine point oh three."
    assert note["confirmed"]["id"] == said["id"]
    assert note["confirmed"]["author"] == {"id": office.manager.id, "name": office.manager.name}
    assert note["confirmed"]["remark"] == "Listened twice."
    assert [result["text"] for result in note["results"]] == [OTHER], "what the machine heard stays readable"
    assert listed(client, state="query") == []


def test_what_a_machine_hears_later_does_not_take_a_persons_word_away(office, client, phone, accepted):
    sound, _ = accepted
    confirm(phone, sound, "Bore three, eighty nine point oh three.")
    record.send(phone)
    hears(office, sound, a_result(text=OTHER))
    note = known(client, sound)
    assert (note["state"], note["by"], note["query"]) == ("confirmed", "person", None)


def test_a_confirmation_that_is_withdrawn_opens_the_query_again(office, client, phone, accepted):
    sound, _ = accepted
    hears(office, sound, a_result(text=OTHER))
    said = confirm(phone, sound, "Something else.")
    record.withdraw(phone, said, "Wrong sound")
    record.send(phone)
    note = known(client, sound)
    assert (note["state"] != "confirmed", note["by"]) == (True, "machine")
    assert note["query"] is not None


def test_a_correction_to_what_was_heard_closes_the_query(office, client, phone, accepted):
    sound, measured = accepted
    hears(office, sound, a_result(text=OTHER))
    slip = record.correct(phone, measured, {"value": "89.08"}, reason="Misread")
    record.send(phone)
    assert known(client, sound)["query"] is None
    record.withdraw(phone, slip, "It was right")
    record.send(phone)
    assert known(client, sound)["query"] is not None, "and without the correction it is open again"


def test_withdrawing_the_record_closes_the_query(office, client, phone, accepted):
    sound, measured = accepted
    hears(office, sound, a_result(text=OTHER))
    record.withdraw(phone, measured)
    record.send(phone)
    note = known(client, sound)
    assert (note["query"], note["records"]) == (None, [])


def test_withdrawing_the_sound_closes_the_query(office, client, phone, accepted):
    sound, _ = accepted
    hears(office, sound, a_result(text=OTHER))
    record.withdraw(phone, sound)
    record.send(phone)
    assert known(client, sound)["query"] is None


def test_a_record_may_arrive_before_or_after_what_was_heard(office, client, phone, job):
    sound = speak(phone, job, "bore/3")
    record.send(phone)
    hears(office, sound, a_result(text=OTHER))
    assert known(client, sound)["query"] is None
    record.measure(phone, job, "bore/3", "89.03", quantity="diameter", spoken=spoken_in(sound))
    record.send(phone)
    assert known(client, sound)["query"]["records"][0]["parts"] == ["value"]


def test_open_queries_come_first_then_the_newest_page_by_page(office, client, phone, job):
    sounds = [speak(phone, job, "bore/3", sound=bytes([number])) for number in range(5)]
    record.measure(phone, job, "bore/3", "89.03", quantity="diameter", spoken=spoken_in(sounds[1]))
    record.send(phone)
    hears(office, sounds[1], a_result(text=OTHER))
    wanted = [sounds[number]["id"] for number in (1, 4, 3, 2, 0)]
    assert listed(client) == wanted
    seen, after = [], ""
    while after is not None:
        page = client.get("/api/spoken", query_string={"limit": 2, "after": after}).get_json()
        seen += [item["id"] for item in page["items"]]
        after = page["next"]
    assert seen == wanted
    assert listed(client, job=job, state="waiting") == [sounds[number]["id"] for number in (4, 3, 2, 0)]
    assert listed(client, job="0197a3c0-1111-7000-8000-000000000004") == []


def test_a_search_for_a_synonym_finds_a_spoken_note(office, client, phone, job):
    sound = speak(phone, job, "engine", mode="note", screen="none")
    record.send(phone)
    hears(office, sound, a_result("whisper", "The gudgeon pin is blued and tight.", sort="free"))
    answer = client.get("/api/search", query_string={"q": "wrist pin"}).get_json()
    assert sound["id"] in [item["id"] for item in answer["items"]]
    confirm(phone, sound, "The circlip is missing.")
    record.send(phone)
    answer = client.get("/api/search", query_string={"q": "snap ring"}).get_json()
    assert sound["id"] in [item["id"] for item in answer["items"]]


def test_a_replay_makes_the_same_of_every_sound(office, client, phone, accepted):
    sound, measured = accepted
    hears(office, sound, a_result(text=OTHER))
    word = {"word": "Petrel", "sounds_like": ["petrol"], "means": "", "retired": False}
    assert (
        client.post("/api/desk/entries", json={"job": None, "kind": "spoken_word_set", "body": word}).status_code == 201
    )
    other = speak(phone, sound["job"], sound=b"another")
    record.correct(phone, measured, {"spoken": other["id"]}, reason="Taken from the other recording")
    confirm(phone, other, "Bore three.")
    record.correct(phone, other, {"caption": "Second try"})
    confirm(phone, other, "Bore three, second try.")
    record.send(phone)
    assert known(client, sound)["records"] == [] and len(known(client, other)["records"]) == 1

    def rows() -> list:
        with reading(office.engine) as conn:
            kept = [tables.spoken, tables.spoken_tie, tables.spoken_word]
            found = [list(map(tuple, conn.execute(table.select().order_by(table.c.row)))) for table in kept]
            words = conn.exec_driver_sql("SELECT rowid, words, tags FROM read_words ORDER BY rowid")
            return [*found, list(map(tuple, words))]

    before = rows()
    with writing(office.engine) as conn:
        projections.rebuild(conn)
    assert rows() == before


def test_a_phone_that_does_not_keep_the_job_gets_nothing_of_it(office, phone, accepted):
    sound, _ = accepted
    entry = hears(office, sound, a_result(text=SAID))
    other = office.phone("Phone in bay 3")

    def pulled(feed: str) -> list[str]:
        status, answer = other.get(f"/api/sync/pull?feed={feed}&after=0")
        assert status == 200, answer
        return [json.loads(entry["bytes"])["id"] for entry in answer["entries"]]

    assert entry not in pulled("workshop")
    assert entry in pulled(f"job:{sound['job']}")


def test_what_is_no_sound_has_no_transcript(office, phone, accepted):
    _, measured = accepted
    with pytest.raises(Refusal, match="no such sound"):
        hears(office, measured, a_result())


@pytest.mark.parametrize(
    "hostile",
    [
        a_result(text="x" * 16_001),
        a_result(words=[["bore", 0, 10, 101]]),
        a_result(words=[["bore", 10, 0, 50]]),
        a_result(words=[["bore", 0, 10, 50.5]]),
        a_result(words=[["bo\x00re", 0, 10, 50]]),
        a_result(model_sha256="none"),
        a_result(engine="e" * 61),
        a_result() | {"mood": "fine"},
        {"text": 5},
        "bore three",
    ],
    ids=[
        "long",
        "too sure",
        "backwards",
        "a fraction",
        "a control sign",
        "no hash",
        "a long name",
        "a field of its own",
        "half of it",
        "text alone",
    ],
)
def test_a_hostile_transcript_is_refused_and_nothing_is_kept(office, client, phone, job, hostile):
    sound = speak(phone, job)
    record.send(phone)
    with pytest.raises(Refusal):
        hears(office, sound, hostile)
    assert known(client, sound)["state"] == "waiting"


def test_a_transcript_comes_from_the_office_alone(office, client, phone, accepted):
    sound, _ = accepted
    entry = hears(office, sound, a_result(text=SAID))
    body = whole(client, entry)["body"]
    record.keep(phone, phone.entry("transcript_made", sound["job"], body=body))
    _, answer = phone.push()
    assert [(one["result"], one["code"]) for one in answer["results"]] == [("refused", "of_the_desk")]
    written = client.post("/api/desk/entries", json={"job": sound["job"], "kind": "transcript_made", "body": body})
    assert written.status_code == 422, "and no person writes one by hand"


def test_a_person_in_the_office_confirms_as_one_in_the_bay_does(client, accepted):
    sound, _ = accepted
    body = {"entry": sound["id"], "entry_hash": record.hash_of(sound), "text": "Bore three.", "remark": ""}
    answer = client.post("/api/desk/entries", json={"job": sound["job"], "kind": "transcript_confirmed", "body": body})
    assert answer.status_code == 201, answer.get_json()
    assert known(client, sound)["text"] == "Bore three."


def test_only_a_sound_of_this_job_is_confirmed_or_named(client, phone, accepted):
    sound, measured = accepted
    other = phone.open_job("24-119")
    confirm(phone, measured, "Not a sound.")
    record.measure(phone, other, "bore/3", "89.03", spoken=spoken_in(sound))
    record.measure(phone, sound["job"], "bore/3", "89.03", spoken=spoken_in(measured))
    gone = spoken_in(sound) | {"spoken": "0197a3c0-1111-7000-8000-0000000000ff"}
    record.measure(phone, sound["job"], "bore/3", "89.03", spoken=gone)
    _, answer = phone.push()
    results = [(result["result"], result["code"]) for result in answer["results"]]
    assert results == [("stored", ""), *[("refused", "no_sound")] * 3, ("stored", "")], (
        "a sound that has not arrived may still come, or was lost: the reading stands without it"
    )


def test_a_sound_is_asked_for_again(office, client, phone, accepted):
    sound, measured = accepted
    assert client.post(f"/api/spoken/{sound['id']}/again").status_code == 202
    assert client.post(f"/api/spoken/{measured['id']}/again").status_code == 404


def test_the_tally_says_how_far_hearing_is(office, client, phone, accepted):
    sound, _ = accepted
    answer = client.get("/api/spoken/tally").get_json()
    assert (answer["coming"], answer["waiting"], answer["transcribed"], answer["queries"]) == (1, 0, 0, 0)
    hears(office, sound, a_result(text=SAID))
    answer = client.get("/api/spoken/tally").get_json()
    assert (answer["coming"], answer["waiting"], answer["transcribed"], answer["queries"]) == (0, 0, 1, 0)


def test_words_of_the_workshop_are_set_set_anew_and_retired(office, client):
    def say(**changes) -> int:
        body = {"word": "Petrel", "sounds_like": ["petrol"], "means": "", "retired": False} | changes
        payload = {"job": None, "kind": "spoken_word_set", "body": body}
        return client.post("/api/desk/entries", json=payload).status_code

    assert say() == 201
    assert say(word="knuckle", sounds_like=["n u c k l"], means="part:gudgeon_pin") == 201
    assert say(word="petrel", sounds_like=["p e t l"]) == 201
    answer = client.get("/api/spoken/words").get_json()["words"]
    assert [(one["word"]["word"], one["word"]["sounds_like"]) for one in answer] == [
        ("petrel", ["p e t l"]),
        ("knuckle", ["n u c k l"]),
    ]
    assert say(word="petrel", retired=True) == 201
    answer = client.get("/api/spoken/words").get_json()["words"]
    assert [one["word"]["retired"] for one in answer] == [True, False]
    assert say(means="part:flux_capacitor") == 422
    assert say(word="<line> = bore;") == 422
    assert say(sounds_like=["petrol 7"]) == 422
    assert say(sounds_like=[]) == 422, "nobody has said how it sounds"
    assert say(sounds_like=["pet rel"]) == 422, "by words that nobody can say either"


def test_a_word_of_the_workshop_goes_to_every_phone_and_is_not_withdrawn(office, client, phone):
    body = {"word": "Petrel", "sounds_like": ["petrol"], "means": "", "retired": False}
    with writing(office.engine) as conn:
        said = desk.write(conn, office.settings, office.manager.id, "spoken_word_set", body=body)
    status, answer = phone.get("/api/sync/pull?feed=workshop&after=0")
    assert said.entry["id"] in [json.loads(one["bytes"])["id"] for one in answer["entries"]]
    record.keep(phone, phone.entry("spoken_word_set", body=body))
    away = {"entry": said.entry["id"], "entry_hash": said.hash, "reason": "No such engine"}
    record.keep(phone, phone.entry("entry_withdrawn", body=away))
    _, answer = phone.push()
    assert [result["code"] for result in answer["results"]] == ["of_the_desk", "not_withdrawable"]
