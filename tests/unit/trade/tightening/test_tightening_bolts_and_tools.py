"""What a run says of the state of its threads, of worn and retired tools, and of stretch bolts turned twice."""

from tests.unit.trade.tightening import stories
from tests.unit.trade.tightening.stories import CLICK, Story, sheet
from witnessmark.trade.tightening.run import fold

TOOLS = stories.register(stories.tool())


def departures(story, made=None, **facts):
    return [
        (departure["key"], departure["words"])
        for departure in fold(made or sheet(), story.entries, TOOLS, facts)["departures"]
    ]


def test_a_thread_in_another_state_is_said_once_for_a_state_in_a_stage():
    story = Story().taps("snug", "1").taps("snug", "23", state="dry").taps("snug", "4", state="new")
    assert departures(story) == [("snug//other_state/1", "Snug: the thread was dry, not oiled as the sheet asks.")]
    letting = Story(direction="loosen").taps("release", "4321", method="release", state="dry")
    assert departures(letting) == []


def test_a_tool_with_too_many_cycles_by_then_and_one_out_of_use():
    story = Story().taps("snug", "12", tool_id=CLICK)
    counted = {story.entries[1]["id"]: 5000, story.entries[2]["id"]: 5001}
    words = "Snug: Wrench W1 had done 5,001 cycles since its calibration; recalibration is due after 5,000."
    assert departures(story, counted=counted) == [("snug//overdue_count/1", words)]
    assert departures(story) == []
    state = fold(sheet(), story.entries, stories.register(stories.tool(retired=True)))
    assert [departure["words"] for departure in state["departures"]] == ["Snug: Wrench W1 is out of use."]


def test_stretch_bolts_turned_again_need_a_manager():
    made = sheet(bolt="stretch", uses_most=1, length_most="150.5")
    story = Story().taps("snug", "1234").taps("turn", "12", method="angle")
    story.restart("snug")
    assert departures(story, made) == [
        ("turn//stretch_reused/1",
         "Turn: restarted after 2 stretch bolts were turned; each counts as tightened once more. "
         "Maximum length 150.5 mm."),
    ]  # fmt: skip
    assert fold(made, story.entries)["departures"][0]["needs"] == "manager"
    assert departures(Story().taps("snug", "12"), made) == []


def test_ten_thousand_taps_fold_in_a_straight_line():
    story = Story(step_ms=10).taps("snug", "1234" * 2500)
    departures = fold(sheet(), story.entries)["departures"]
    assert len(departures) == 9996 and departures[-1]["key"] == "snug/4/repeated/2499"
