"""Runs as the pack draws and tells them, from folds of made-up entries."""

from __future__ import annotations

import pytest

from tests.support.tightening import a_sheet, a_stage, a_tool
from tests.unit.pack.test_report import HEAD, MOMENT, PACK, a_record, a_story
from witnessmark.pack import joint_plan, joint_stages, joint_words, report
from witnessmark.pack.joint_words import Names
from witnessmark.pack.joints import _departure
from witnessmark.pack.page_joints import joints as section
from witnessmark.pack.typeset import Sheet
from witnessmark.trade.tightening.run import fold

IDA = "ida"


def fasteners(count: int, apart: int = 100) -> list[dict]:
    """Two rows."""
    half = -(-count // 2)
    return [
        {"label": str(n + 1), "x_mm": (n % half) * apart - (half - 1) * apart // 2, "y_mm": (n // half) * 90 - 45}
        for n in range(count)
    ]


class RunOfEntries:
    """A run told entry by entry; numbers of the job begin at 1."""

    def __init__(self, sheet: dict, **begun):
        self.sheet, self.entries = sheet, []
        body = {"run": "r", "direction": "tighten", "bolts": "new", "use": 0, "remark": "", "sheet": sheet["id"]}
        self.say("tightening_begun", **body | begun)

    def say(self, kind: str, **body) -> None:
        number = len(self.entries) + 1
        at = f"2026-05-14T10:{number // 60:02d}:{number % 60:02d}.000+01:00"
        entry = {"id": f"e{number}", "kind": kind, "author": IDA, "claimed": at, "body": {"run": "r"} | body}
        self.entries.append(entry)

    def tap(self, stage: str, *labels: str, **more) -> None:
        asked = next((one for one in self.sheet["stages"] if one["code"] == stage), a_stage())
        body = {"value": asked["target"], "unit": asked["unit"], "method": asked["method"], "given": "tap"}
        body |= {"tool": "Wrench W1", "tool_id": "", "set_value": "", "remark": "", "basis": [], "state": "oiled"}
        for label in labels:
            self.say("fastener_tightened", stage=stage, fastener=label, **body | more)

    def fold(self) -> dict:
        made = fold(self.sheet, self.entries)
        return made | {"exhibits": {one["id"]: str(number) for number, one in enumerate(self.entries, 1)}}

    @property
    def names(self) -> Names:
        return Names(self.fold()["exhibits"], {IDA: "Ida"}, {})


def test_stages_done_alike_share_one_drawing_and_others_have_their_own():
    run = RunOfEntries(a_sheet(stages=[a_stage(), a_stage("half", "40"), a_stage("full", "60")]))
    run.tap("snug", "2", "3", "1", "4")
    run.tap("half", "2", "3", "1", "4")
    run.tap("full", "3", "2")
    drawn = joint_stages.drawings(run.fold(), fasteners(4))
    assert [one["title"] for one in drawn] == ["Snug; Half, in the same order", "Full"]
    by_label = {head["label"]: head for head in drawn[1]["plan"]["heads"]}
    assert [by_label[label]["done"] for label in "1234"] == ["", "2", "1", ""]
    assert [by_label[label]["apart"] for label in "1234"] == [False, True, True, False]
    assert (by_label["3"]["ring"], by_label["2"]["ring"]) == ("open", "")
    assert len(drawn[1]["plan"]["way"]) == 1


def test_what_was_answered_before_a_stage_was_begun_again_marks_nothing_that_stands_now():
    run = RunOfEntries(a_sheet(stages=[a_stage()]))
    run.tap("snug", "2", given="typed", value="26")
    run.say("tightening_stage_restarted", stage="snug", reason="Past its torque.")
    run.tap("snug", "2", "3", "1", "4")
    state = run.fold()
    [table] = joint_stages.tables(state, fasteners(4), run.names)
    assert all(done["tags"] == [] for row in table["rows"] for done in row["cells"][0])
    assert all(head["ring"] == "" for head in joint_stages.drawings(state, fasteners(4))[0]["plan"]["heads"])
    assert joint_stages.earlier(state, run.names) == [
        "Snug, before it was restarted: fastener 2, 26 N·m at 10:00:02 (no. 2)."
    ]
    assert _departure(state["departures"][0], run.names)["answer"].startswith("The stage was restarted: “Past its")


def test_a_cell_says_value_order_time_and_record_and_what_differs_within_its_stage():
    run = RunOfEntries(a_sheet(stages=[a_stage()]))
    run.tap("snug", "2")
    run.tap("snug", "1", given="typed", value="21", tool="old wrench", set_value="18.5", remark="Stiff.")
    run.tap("snug", "1")
    state = run.fold()
    [table] = joint_stages.tables(state, fasteners(4), run.names)
    one, two, three, _ = (row["cells"][0] for row in table["rows"])
    assert [done["value"] for done in one] == ["21 N·m", "20 N·m"]
    assert one[0]["small"] == ("2nd, specified as 3rd, typed, 10:00:03, old wrench, set to 18.5, no. 3, “Stiff.”")
    assert one[1]["small"] == "again, tap, 10:00:04, Wrench W1, no. 4"
    assert [tag["words"] for tag in one[-1]["tags"]] == ["out of order", "tightened again"]
    assert two[0]["small"] == "1st, tap, 10:00:02, Wrench W1, no. 2"
    assert [tag["words"] for tag in three[0]["tags"]] == ["not done"]
    assert table["stages"][0]["facts"] == ["3 fasteners in 2 seconds.", "2026-05-14, Ida."]


@pytest.mark.parametrize(
    ("stage", "words"),
    [
        (a_stage(), "20 N·m ± 2"),
        (a_stage(minus="0", plus="0"), "20 N·m"),
        (a_stage(minus="1", plus="4"), "20 N·m − 1 + 4"),
        (a_stage(target="90", unit="°", minus="5", plus="5"), "90° ± 5°"),
        (a_stage(target="", unit="", minus="", plus="", method="release"), "any value"),
    ],
)
def test_a_target_is_said_with_what_it_may_be_off(stage, words):
    assert joint_stages.target(stage) == words


@pytest.mark.parametrize(
    ("number", "words"), [(1, "1st"), (2, "2nd"), (3, "3rd"), (11, "11th"), (23, "23rd"), (112, "112th")]
)
def test_a_place_in_the_order_is_said_as_one_says_it(number, words):
    assert joint_stages._nth(number) == words


def test_a_joint_of_many_fasteners_takes_the_room_of_two_and_one_without_positions_is_not_drawn():
    stage = {"code": "s", "order": [], "done": [], "skipped": []}
    assert not joint_plan.plan(fasteners(10), stage, [])["wide"]
    wide = joint_plan.plan(fasteners(40), stage, [])
    assert wide["wide"] and wide["width"] == joint_plan.WIDE
    assert all(0 < head["x"] < wide["width"] and 0 < head["y"] < wide["height"] for head in wide["heads"])
    assert joint_plan.plan([], stage, []) is None


@pytest.mark.parametrize("spots", [[(0, 0)], [(0, 0), (0, 0)], [(30, 0)], [(-500, 400), (500, -400)]])
def test_any_positions_can_be_drawn(spots):
    stage = {"code": "s", "order": ["1"], "done": [], "skipped": ["1"]}
    placed = [{"label": str(number), "x_mm": x, "y_mm": y} for number, (x, y) in enumerate(spots, 1)]
    drawn = joint_plan.plan(placed, stage, [])
    assert drawn["height"] > 0 and drawn["heads"][0]["done"] == "–"


def test_a_run_that_nobody_began_and_a_sheet_that_nobody_described_are_told_as_that():
    run = {
        "sheet": None,
        "begun": None,
        "bolts": "",
        "use": 0,
        "remark": "",
        "people": [IDA],
        "closed": None,
        "missing": [],
    }
    about = dict(joint_words.about(run, Names({}, {}, {}), []))
    assert about == {"sheet": "the sheet that it names is not in the register", "tools": "none named"}
    assert joint_words.state(run)["words"] == "not closed"


def test_a_tool_is_told_without_notes():
    assert joint_words.tool(a_tool(notes="Dropped twice.")) == (
        "Wrench W1: range 10 to 100 N·m. Permissible deviation plus or minus 4 %. Serial number W-0417. "
        "Certificate HL 26-044. Calibrated 2026-01-01. Calibration due 2096-01-01"
    )


def test_a_joint_of_two_hundred_fasteners_in_twenty_stages_can_be_set_and_shown():
    placed = fasteners(200, 30)
    order = [one["label"] for one in placed]
    run = RunOfEntries(a_sheet(stages=[a_stage(f"s{n}", order=order) for n in range(20)]))
    run.tap("s0", *order)
    state, names = run.fold(), run.names
    arranged = {
        "title": "Sump, tightened", "state": joint_words.state(state), "about": [("sheet", "x" * 400)], "overdue": [],
        "drawings": joint_stages.drawings(state, placed), "tables": joint_stages.tables(state, placed, names),
        "earlier": [], "departures": [], "aside": [], "sign_off": [], "missing": state["missing"], "preload": None,
        "preload_as": "",
    }  # fmt: skip
    story = a_story(a_record())
    whole = report.report(story, [], "sealed", PACK, "witnessmark", HEAD, False, [], [arranged])
    with Sheet() as sheet:
        assert sheet.print(whole, MOMENT).startswith(b"%PDF")
    assert "200th" in "".join(section(whole))
