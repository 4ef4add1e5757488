"""Each entry stands in the timeline in words a technician would say."""

import json
from pathlib import Path

from tests.support.cases import all_cases
from witnessmark.trade.ground.tables import table
from witnessmark.trade.record.lines import line

VECTORS = json.loads((Path(__file__).parents[3] / "vectors" / "lines.json").read_text())
ENGINES = {engine["name"]: engine for engine in table("invented_engine_types")["engine_types"]}


@all_cases("case", VECTORS["cases"], ids=lambda case: case["name"])
def test_the_line_of(case):
    assert line(case["entry"], ENGINES.get(case["engine_type"])) == case["line"]


def test_an_entry_of_a_kind_from_a_later_version_still_has_a_line():
    entry = {"kind": "hold_point_waived", "version": 1, "body": {}, "location": None}
    assert line(entry) == {"title": "Hold point waived", "text": ""}


def test_what_somebody_wrote_with_brackets_in_it_is_shown_as_written():
    entry = {"kind": "note_made", "version": 1, "body": {"text": "[sic] {odd}. ok."}, "location": None}
    assert line(entry)["text"] == "[sic] {odd}. ok."
