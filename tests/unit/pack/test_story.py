"""A job's records are told as they stand: what was corrected, withdrawn, and what of that was itself taken back."""

from __future__ import annotations

import json

from tests.support.measured import a_reading
from witnessmark.log.rows import Row
from witnessmark.pack import figures, story
from witnessmark.pack.story import Story
from witnessmark.trade.measuring.known import known

TIME = "2026-05-14T10:38:07.120+01:00"


def a_row(number: int, kind: str, body: dict, place: str = "") -> Row:
    entry = {
        "id": f"{0x01900000 + number:08x}-0000-7000-8000-000000000000",
        "kind": kind,
        "version": 2 if kind == "measured" else 1,
        "body": body,
        "location": {"place": place, "point": "top, thrust"} if place else None,
        "claimed": TIME,
        "author": "p",
        "device": "d",
        "job": "j",
        "stage": None,
        "media": [],
    }
    return Row("w", number, "ab" * 32, "", "2026-05-14T09:42:51.310Z", None, json.dumps(entry).encode())


def corrected(number: int, target: Row, value: str) -> Row:
    body = {"entry": target.id, "entry_hash": "", "changes": {"value": value}, "location": None, "reason": "Slip."}
    return a_row(number, "entry_corrected", body)


def withdrawn(number: int, target: Row) -> Row:
    return a_row(number, "entry_withdrawn", {"entry": target.id, "entry_hash": "", "reason": "Wrong engine."})


def story_of(*rows: Row) -> Story:
    return story.story_of(rows, "Reed (invented)", {"p": "Ida"}, {}, {})


def shown(rows: tuple[Row, ...]) -> list[str]:
    return [
        reading["mean"]
        for sheet in figures.sheets(rows, None, known([]))
        for place in sheet["places"]
        for reading in place["readings"].values()
    ]


def a_measured() -> Row:
    body = a_reading(procedure="cylinder_bore", edition=1, reading="top/thrust", value="89.22")
    return a_row(1, "measured", body, "bore/3")


def test_a_correction_counts_in_the_story_and_on_the_sheet():
    rows = (first := a_measured(), corrected(2, first, "89.022"))
    exhibit = story_of(*rows).exhibits[0]

    assert exhibit.body["value"] == "89.022" and exhibit.first_body["value"] == "89.22" and exhibit.was
    assert [correction.exhibit for correction in exhibit.corrections] == [2]
    assert shown(rows) == ["89.022"]


def test_a_correction_that_was_taken_back_changes_neither():
    rows = (first := a_measured(), slip := corrected(2, first, "8.9"), withdrawn(3, slip))
    told = story_of(*rows).exhibits

    assert told[0].body["value"] == "89.22" and told[0].was is None
    assert [correction.exhibit for correction in told[0].corrections] == [2]
    assert told[1].withdrawn and told[1].withdrawn.exhibit == 3
    assert shown(rows) == ["89.22"]


def test_a_reading_whose_withdrawal_was_taken_back_stands_again():
    rows = (first := a_measured(), gone := withdrawn(2, first), withdrawn(3, gone))

    assert story_of(*rows).exhibits[0].withdrawn is None
    assert shown(rows) == ["89.22"]
    assert shown(rows[:2]) == []
