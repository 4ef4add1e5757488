"""Makes tests/vectors/tightening.json: runs as both sides must tell them, to the last word. What the words should be is
held by test_tightening.py; this file only makes both sides say the same.

    python -m tests.unit.trade.tightening.make_tightening_vectors
"""

from __future__ import annotations

import json
from pathlib import Path

from tests.unit.trade.tightening.stories import (
    BEN,
    CLICK,
    GAUGE,
    MANAGER,
    OLD,
    OTHER_RUN,
    Story,
    let_go,
    register,
    sheet,
    stage,
    tool,
    turn,
)
from witnessmark.trade.tightening.run import fold

OUT = Path(__file__).parents[3] / "vectors" / "tightening.json"
TOOLS = register(
    tool(),
    tool(GAUGE, "angle_gauge", "°", "0", "360", name="Gauge G1"),
    tool(OLD, "dial", unit="lbf·ft", low="10", high="150", due="2026-03-31", name="Wrench W9"),
    tool(OLD, "dial", unit="lbf·ft", low="10", high="150", due="2027-03-31", name="Wrench W9"),
)
TOOLS[3]["claimed"] = "2026-06-01T08:00:00.000Z"


def everything_goes_wrong():
    made = sheet(stage(proposed=True), turn(), bolt="stretch", uses_most=1, two_people=True)
    story = Story(bolts="used", use=1)
    story.tap("snug", "3", tool_id=OLD)
    story.typed("snug", "1", "23,5", tool_id=GAUGE)
    story.typed("snug", "1", "12.5", "lbf·ft", by=BEN)
    story.typed("snug", "4", "20", "bar")
    story.tap("turn", "2", method="angle", tool_id=CLICK, by=BEN)
    story.tap("turn", "7", method="feel")
    story.tap("gone", "1")
    for _ in range(2):
        story.tap("gone", "\N{WRENCH} the long one beside the dipstick, behind the bracket")
    story.answer("snug/3/out_of_order/1", "Bolt 1 was on its way from the store.")
    story.answer("//stretch_reused/1", "Not mine to say.", by=BEN)
    story.answer("//stretch_reused/1", "Length measured.", by=MANAGER)
    story.witness(BEN)
    story.close()
    return "everything goes wrong", made, story, {"managers": [MANAGER]}


def a_restart():
    story = Story().taps("snug", "13").taps("turn", "2", method="angle")
    story.restart("snug", by=BEN)
    story.taps("snug", "1234", by=BEN).taps("turn", "1234", method="angle")
    story.close()
    return "a stage begun again", sheet(), story, {}


def taken_back():
    story = Story(step_ms=70_000).taps("snug", "124")
    story.entries[-1]["withdrawn"] = True
    story.taps("snug", "34")
    return "a tap taken back", sheet(), story, {}


def others_beside_it():
    story = Story().taps("snug", "12")
    story.entries += Story(run=OTHER_RUN).taps("snug", "43").entries
    return "another run beside it", sheet(stage()), story, {"holds": ["Rods: orientation is not ticked."]}


def without_a_beginning():
    story = Story(begun=False).taps("snug", "12")
    story.answer("snug/3/skipped/1", "Broken stud.")
    return "without a beginning", sheet(two_people=True), story, {}


def loosened():
    story = Story(direction="loosen", bolts="used", use=1).taps("release", "43", method="release")
    story.typed("release", "1", "155", method="release")
    made = sheet(bolt="stretch", uses_most=1, two_people=True)
    return "let go in the reverse", made, story, {"holds": ["Rods: orientation is not ticked."]}


def let_go_by_an_angle():
    made = sheet(let_go(target="90", unit="°", minus="10", plus="10"), let_go("out"))
    story = Story(direction="loosen")
    story.typed("slack", "1", "120", "°", method="release")
    story.typed("slack", "2", "95", "°", method="release")
    return "let go by an angle", made, story, {}


def set_by_an_extension():
    made = sheet(stage(target="110", minus="0", plus="0"))
    story = Story().taps("snug", "1", tool_id=CLICK, set_value="97.8 N·m").taps("snug", "2", tool_id=CLICK)
    story.typed("snug", "3", "110.0000000001", tool_id=OLD, basis=[TOOLS[3]["entry"]])
    story.typed("snug", "4", "1100/10", tool_id=OLD)
    return "set by an extension", made, story, {}


def nothing():
    return "nothing at all", sheet(), Story(begun=False), {}


def the_clock_goes_back():
    story = Story(step_ms=-1500)
    story.ms = 90_000
    story.taps("snug", "1234")
    return "the clock goes back", sheet(), story, {}


def used_otherwise():
    made = sheet(bolt="stretch", uses_most=1, length_most="150.5")
    story = Story().taps("snug", "12", tool_id=CLICK, state="dry").taps("snug", "34", state="new")
    story.taps("turn", "12", method="angle")
    story.restart("turn")
    return "a dry thread, a worn tool, bolts turned twice", made, story, {"counted": {story.entries[2]["id"]: 5001}}


STORIES = (
    nothing,
    everything_goes_wrong,
    a_restart,
    taken_back,
    others_beside_it,
    without_a_beginning,
    loosened,
    let_go_by_an_angle,
    set_by_an_extension,
    the_clock_goes_back,
    used_otherwise,
)


def cases():
    for made in STORIES:
        name, sheet, story, facts = made()
        yield {
            "name": name,
            "sheet": sheet,
            "facts": facts,
            "entries": story.entries,
            "state": fold(sheet, story.entries, TOOLS, facts),
        }


if __name__ == "__main__":
    OUT.write_text(
        json.dumps(
            {"about": "Made by make_tightening_vectors.", "tools": TOOLS, "cases": list(cases())},
            ensure_ascii=False,
            indent=1,
        )
        + "\n"
    )
