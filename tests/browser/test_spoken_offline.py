"""Speaking at the bench without signal: what is heard is offered, a tap makes it a record, its sound is kept with it.

The voices are synthetic and the room is quiet (tests/clips): these runs show that nothing is recorded by itself and
that nothing is lost, not how well a loud workshop is understood.
"""

from __future__ import annotations

import pytest

from tests.support.bay import Bay, KeptPhone, desk, is_whole
from tests.support.measuring import NUMBERS, a_gauge, open_grid, press, say
from tests.support.office import overflow, unfit
from tests.support.speaking import (
    BEFORE,
    chips,
    fetch_parts,
    hold,
    hold_down,
    made,
    microphone,
    say_clip,
    seconds,
    sounds,
    talk,
)
from tests.support.waiting import expect

pytestmark = pytest.mark.browser

GAUGE = a_gauge("bore gauge 4")
BORE_3, CHATTER, REBORE = "bore_3_thrust.webm", "rain_chatter.webm", "rebore_1.webm"


@pytest.fixture(scope="module")
def registers(workshop):
    say(workshop, ("gauge_described", "gauge", GAUGE))
    return workshop


@pytest.fixture(scope="module")
def phones(registers, tmp_path_factory):
    """Holds a phone for each clip, with the speech parts and without, that the tests hand on to each other."""
    kept: dict[tuple[str, bool], KeptPhone] = {}

    def phone(file: str, parts: bool) -> KeptPhone:
        microphones = tmp_path_factory.getbasetemp()
        return kept.setdefault((file, parts), KeptPhone(microphone(file, microphones)))

    yield phone
    for held in kept.values():
        held.put_away()


@pytest.fixture
def speaking(phones, bays, browsers, registers, request, tmp_path_factory):
    """Gives a phone that hears one clip whenever somebody speaks to it, with a job open and without signal."""
    own = request.node.get_closest_marker("own_browser") is not None
    taken: list[Bay] = []

    def phone(file: str, parts: bool = True) -> Bay:
        held = phones(file, parts)
        if own:
            bay = bays(arguments=held.arguments)
        else:
            bay = held.take(browsers, registers, is_whole(request), request.session.testsfailed)
            taken.append(bay)
        bay.eventually(lambda: bay.rows("entries", kind="gauge_described"), 30)
        if parts and not bay.has_parts:
            fetch_parts(bay)
            bay.has_parts = True
        bay.page.goto(f"{bay.url}/bay/#/jobs")
        # Whatever a test before put in the place of the microphone is gone.
        bay.page.reload()
        bay.job = bay.open_job(f"26-{next(NUMBERS)}")
        bay.until_all_sent()
        bay.signal(there=False)
        return bay

    yield phone
    for bay in taken:
        faults, bay.faults = bay.faults, []
        assert faults == [], "the page reported errors"


def test_a_spoken_reading_is_offered_offline_and_a_tap_makes_it_a_record_with_its_sound(speaking):
    bay = speaking(BORE_3)
    page = open_grid(bay, bay.job, "cylinder_bore", "bore 3")
    say_clip(page, BORE_3)
    assert chips(page) == {"place": "bore 3, top, thrust", "figure": "88.94", "unit": "mm"}
    expect(page.get_by_role("region", name="Understood")).to_contain_text("eighty eight point nine four")

    # The recording is kept before anybody has accepted anything, and nothing else is.
    (sound,) = sounds(bay)
    assert sound["body"] | {"duration_ms": 0, "caption": ""} == {
        "method": "live",
        "duration_ms": 0,
        "interrupted": False,
        "caption": "",
        "mode": "measure",
        "screen": "measure",
        "procedure": "cylinder_bore",
        "reading": "top/thrust",
    }
    assert sound["location"]["place"] == "bore/3"
    assert made(bay, "measured") == []

    page.get_by_role("button", name="Save", exact=True).click()
    expect(page.get_by_role("status").filter(has_text="Saved.")).to_contain_text("88.94 mm")
    (reading,) = made(bay, "measured")
    assert (reading["location"]["place"], reading["location"]["point"]) == ("bore/3", "top, thrust")
    body = reading["body"]
    assert (body["value"], body["unit"], body["reading"]) == ("88.94", "mm", "top/thrust")
    assert body["spoken"] == sound["id"]
    assert "eighty eight point nine four" in body["heard"]
    assert body["heard_by"]

    bay.signal(there=True)
    bay.until_all_sent()
    received = {item["id"]: item for item in bay.received(bay.job)}
    assert {sound["id"], reading["id"]} <= set(received)
    original = desk(bay.office).get(f"/api/media/{sound['media'][0]['sha256']}/original")
    assert original.status_code == 200
    assert len(original.data) == sound["media"][0]["length"]
    original.close()


def test_a_figure_that_was_misheard_is_put_right_by_the_keys_and_still_names_its_sound(speaking):
    bay = speaking(BORE_3)
    page = open_grid(bay, bay.job, "cylinder_bore", "bore 3")
    say_clip(page, BORE_3)
    assert chips(page)["figure"] == "88.94"
    page.get_by_role("group", name="As it was understood").get_by_role("button", name="figure").click()
    keys = page.get_by_role("region", name="Understood").get_by_role("group", name="Keypad")
    keys.get_by_role("button", name="delete").click()
    keys.get_by_role("button", name="9", exact=True).click()
    page.get_by_role("group", name="As it was understood").get_by_role("button", name="place").click()
    where = page.get_by_role("dialog", name="Where it belongs")
    where.get_by_role("button", name="bore 5", exact=True).click()
    where.get_by_role("button", name="Done").click()
    assert chips(page) == {"place": "bore 5, top, thrust", "figure": "88.99", "unit": "mm"}
    page.get_by_role("button", name="Save", exact=True).click()
    expect(page.get_by_role("status").filter(has_text="Saved.")).to_contain_text("88.99 mm")
    (reading,) = made(bay, "measured")
    assert (reading["location"]["place"], reading["body"]["value"]) == ("bore/5", "88.99")
    assert reading["body"]["spoken"] == sounds(bay)[0]["id"]
    # What the machine heard stays as it was heard.
    assert "eighty eight point nine four" in reading["body"]["heard"]


@pytest.mark.own_browser
def test_nothing_is_recorded_without_a_tap_whatever_else_is_done(speaking):
    bay = speaking(BORE_3)
    page = open_grid(bay, bay.job, "cylinder_bore", "bore 3")
    say_clip(page, BORE_3)
    assert chips(page)["figure"] == "88.94"
    page.get_by_role("button", name="Wrong").click()
    say_clip(page, BORE_3)
    assert chips(page)["figure"] == "88.94"
    page.goto(f"{bay.url}/bay/#/job/{bay.job}")
    expect(talk(page)).to_have_count(0)
    bay.kill()
    page = bay.start(signal_there=False)
    open_grid(bay, bay.job, "cylinder_bore", "bore 3")
    page.wait_for_timeout(500)
    assert made(bay, "measured") == []
    assert len(sounds(bay)) == 2
    press(page, "88.941")
    page.get_by_role("button", name="Save, next").click()
    expect(page.get_by_role("status").filter(has_text="Saved.")).to_be_visible()
    # What was typed was spoken in nothing.
    assert [entry["body"]["spoken"] for entry in made(bay, "measured")] == [""]


def test_chatter_is_kept_as_a_sound_and_understood_as_nothing(speaking):
    bay = speaking(CHATTER)
    for screen, stands in (
        ("grid/cylinder_bore", "Keypad"),
        ("measure", "One reading"),
        ("finding", "Save"),
    ):
        page = bay.page
        page.goto(f"{bay.url}/bay/#/job/{bay.job}/{screen}")
        expect(page.get_by_role("group", name=stands).or_(page.get_by_role("button", name=stands))).to_be_visible()
        say_clip(page, CHATTER)
        expect(page.get_by_role("status").filter(has_text="Say it again")).to_be_visible(timeout=45_000)
        expect(page.get_by_role("group", name="As it was understood")).to_have_count(0)
        expect(page.get_by_role("button", name="Wrong")).to_have_count(0)
    assert len(sounds(bay)) == 3
    assert made(bay, "measured") == made(bay, "finding_made") == []


def test_a_finding_is_spoken_into_its_form_and_kept_by_hand(speaking):
    bay = speaking(REBORE)
    page = bay.page
    page.goto(f"{bay.url}/bay/#/job/{bay.job}/finding")
    say_clip(page, REBORE)
    assert chips(page) == {"place": "bore 1", "condition": "scored", "to do": "rework"}
    page.get_by_role("button", name="Use this").click()
    expect(page.get_by_role("button", name="scored", exact=True)).to_have_attribute("aria-pressed", "true")
    assert made(bay, "finding_made") == []
    page.get_by_label("Observation").fill("Scored on the thrust side, nine scores.")
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_text("Saved.")).to_be_visible()
    (finding,) = made(bay, "finding_made")
    assert finding["location"]["place"] == "bore/1"
    assert finding["body"]["condition"] == ["scored"]
    assert finding["body"]["disposition"] == "rework"
    assert finding["body"]["spoken"] == sounds(bay)[0]["id"]


def test_without_the_speech_parts_it_is_recorded_all_the_same_and_says_when_its_text_comes(speaking):
    bay = speaking(BORE_3, parts=False)
    page = open_grid(bay, bay.job, "cylinder_bore", "bore 3")
    hold(page, 2.5)
    notice = page.get_by_role("status").filter(has_text="Its text follows when this phone has reached the server")
    expect(notice).to_be_visible()
    assert len(sounds(bay)) == 1
    assert made(bay, "measured") == []
    page.get_by_role("button", name="Get text at once").click()
    expect(page.get_by_role("heading", name="Speech on this phone")).to_be_visible()


def test_the_button_can_be_touched_once_and_once_again_and_worked_by_the_keyboard(speaking):
    bay = speaking(BORE_3, parts=False)
    page = open_grid(bay, bay.job, "cylinder_bore", "bore 3")
    talk(page).click()
    expect(page.get_by_text("Listening. Touch again when you have finished.")).to_be_visible()
    page.wait_for_timeout(1500)
    talk(page).click()
    bay.eventually(lambda: len(sounds(bay)) == 1)
    for key in ("Enter", " "):
        before = len(sounds(bay))
        talk(page).focus()
        page.keyboard.down(key)
        expect(page.get_by_text("Listening. Let go of the button when you have finished.")).to_be_visible()
        page.wait_for_timeout(1500)
        page.keyboard.up(key)
        bay.eventually(lambda before=before: len(sounds(bay)) == before + 1)
    # A finger that slides off has said what it said.
    box = talk(page).bounding_box()
    page.mouse.move(box["x"] + 20, box["y"] + 20)
    page.mouse.down()
    page.wait_for_timeout(1500)
    page.mouse.move(20, 300)
    page.mouse.up()
    bay.eventually(lambda: len(sounds(bay)) == 4)
    assert all(sound["media"][0]["length"] > 500 for sound in sounds(bay))


def test_a_call_that_cuts_it_off_keeps_what_was_said_and_proposes_nothing_of_half_a_figure(speaking):
    bay = speaking(BORE_3)
    page = open_grid(bay, bay.job, "cylinder_bore", "bore 3")
    hold_down(page)
    page.wait_for_timeout(int(1000 * (BEFORE + seconds(BORE_3))))
    page.evaluate(
        """() => {
            Object.defineProperty(document, 'visibilityState', { value: 'hidden', configurable: true })
            document.dispatchEvent(new Event('visibilitychange'))
            delete document.visibilityState
        }"""
    )
    expect(page.get_by_role("status").filter(has_text="The recording was cut off")).to_be_visible()
    page.mouse.up()
    (sound,) = sounds(bay)
    assert sound["body"]["interrupted"] is True
    expect(page.get_by_role("group", name="As it was understood")).to_have_count(0)
    assert made(bay, "measured") == []


def test_a_microphone_that_is_not_allowed_is_told_and_the_keys_work_on(speaking):
    bay = speaking(BORE_3, parts=False)
    page = open_grid(bay, bay.job, "cylinder_bore", "bore 3")
    page.evaluate(
        """() => {
            navigator.mediaDevices.getUserMedia = () => Promise.reject(new DOMException('', 'NotAllowedError'))
        }"""
    )
    talk(page).click()
    expect(page.get_by_role("status").filter(has_text="The microphone did not open")).to_be_visible()
    press(page, "88.94")
    expect(page.locator("#grid-value")).to_have_value("88.94")
    assert sounds(bay) == []


def test_what_was_understood_can_be_read_by_everyone_and_moves_nothing_of_the_sheet(speaking):
    bay = speaking(BORE_3)
    page = open_grid(bay, bay.job, "cylinder_bore", "bore 3")
    for size in ((320, 568), (360, 800)):
        page.set_viewport_size({"width": size[0], "height": size[1]})
        keypad = page.get_by_role("group", name="Keypad").first.bounding_box()
        acts = page.get_by_role("navigation", name="Actions").bounding_box()
        assert keypad["y"] + keypad["height"] <= acts["y"] + 1, "the acts lie over the keys"
        box = talk(page).bounding_box()
        assert min(box["width"], box["height"]) >= 56
        assert box["x"] + box["width"] <= size[0] + 1
        # Let go in the middle of a word: whatever that is taken for, the sheet under it stays as it is.
        hold(page, 0.8)
        understood = page.get_by_role("button", name="Wrong")
        expect(understood.or_(page.get_by_role("status").filter(has_text="Say it again"))).to_be_visible(timeout=45_000)
        if understood.count():
            understood.click()
        assert page.get_by_role("group", name="Keypad").first.bounding_box()["height"] == keypad["height"]
    say_clip(page, BORE_3)
    assert chips(page)["figure"] == "88.94"
    wrong = unfit(page)
    page.get_by_role("group", name="As it was understood").get_by_role("button", name="figure").click()
    wrong += unfit(page)
    assert overflow(page) <= 0
    page.get_by_role("group", name="As it was understood").get_by_role("button", name="place").click()
    assert wrong + unfit(page) == []
