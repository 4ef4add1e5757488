"""No kind of entry is half there: shape, line, twin on the phone, vectors and a line for contributors."""

import json
import re
from pathlib import Path

import pytest

from tests.support.cases import all_cases
from witnessmark.trade.record.kinds import KINDS

ROOT = Path(__file__).parents[3]
PHONE = ROOT / "pwa" / "src" / "trade"
VECTORS = ROOT / "tests" / "vectors"
PURE_TWINS = (
    "engine/locations", "engine/stages", "engine/vocabulary", "ground/amounts",
    "ground/corrections", "ground/described", "ground/errors", "ground/exact", "ground/shapes",
    "ground/units", "measuring/figures", "measuring/finer_gauge", "measuring/gauges", "measuring/gradients",
    "measuring/limits", "measuring/more_readings", "measuring/procedures",
    "measuring/rules", "measuring/settling", "measuring/uncertainty", "measuring/unproven", "measuring/verdicts",
    "proposals/press_fit",
    "record/jobs", "record/kinds", "record/lines", "record/own_words",
    "spoken/grammar", "spoken/jsgf", "spoken/notes", "spoken/number_rules", "spoken/place_rules",
    "spoken/pronunciation", "tightening/departures", "tightening/holds",
    "tightening/known", "tightening/preload", "tightening/preload_estimate", "tightening/rows", "tightening/run",
    "tightening/sheets", "tightening/stages", "tightening/threads", "tightening/tools",
    "tightening/values", "tightening/values_given", "tightening/words",
)  # fmt: skip


def vectors(name):
    return json.loads((VECTORS / f"{name}.json").read_text())


def test_the_phone_reads_the_same_table_of_kinds():
    imported = re.findall(r"from '(\.\./[^']+/kinds\.json)'", (PHONE / "record" / "kinds.ts").read_text())
    assert [(PHONE / "record" / path).resolve() for path in imported] == [
        ROOT / "server" / "witnessmark" / "trade" / "data" / "kinds.json"
    ]


@all_cases("kind", KINDS.values(), ids=KINDS.keys())
def test_a_kind_is_whole(kind):
    assert kind.words and kind.job in ("needed", "none", "either") and kind.feed in ("job", "workshop", "both")
    assert kind.feed != "workshop" or not kind.needs_job
    assert kind.fields, "a wire shape"
    assert kind.line["title"], "a line in the timeline"
    named = set(re.findall(r"\{([a-z0-9_]+)\}", kind.line["title"] + kind.line["text"]))
    made_up = {"place", "point", "new_place", "new_point", "fastener_there", "new", "measured_as", "told"}
    made_up |= {"joint_there", "bolts_there", "departure_there", "stands_for"}
    assert named - made_up <= set(kind.fields), "the line names only fields of the kind"
    assert any(case["entry"]["kind"] == kind.name for case in vectors("kinds")["taken"]), "a vector of its shape"
    assert any(case["entry"]["kind"] == kind.name for case in vectors("lines")["cases"]), "a vector of its line"
    developers = (ROOT / "DEVELOPERS.md").read_text()
    assert f"| `{kind.name}` |" in developers, "a line in DEVELOPERS.md"


def test_developers_md_names_no_kind_that_is_not_there():
    section = (ROOT / "DEVELOPERS.md").read_text().split("## Entry kinds")[1].split("\n## ")[0]
    assert set(re.findall(r"^\| `([a-z_]+)` \|", section, re.MULTILINE)) == set(KINDS)


@all_cases("name", PURE_TWINS)
def test_a_rule_of_the_trade_has_its_twin_on_the_phone(name):
    assert (ROOT / "server" / "witnessmark" / "trade" / f"{name}.py").exists()
    assert (PHONE / f"{name}.ts").exists()


# Vectors of rules that only one side ships: the desk's checks and sums, what the phone and the office work out alone.
SERVER_ALONE = {"engine_types", "machining", "proposals", "ratio", "sequence", "shims", "tightening_sheets", "wear"}


@pytest.mark.parametrize("path", sorted(VECTORS.glob("*.json")), ids=lambda path: path.stem)
def test_a_file_of_vectors_is_read_by_each_side_that_ships_the_rule(path):
    python = "".join(p.read_text() for p in (ROOT / "tests").rglob("test_*.py") if p.name != "test_catalogue.py")
    phone = "".join(p.read_text() for p in (ROOT / "pwa" / "src").rglob("*.test.ts*"))
    # What the apps work out alone has its vectors held against the outside by tests/outside.
    named = re.compile(rf"(?<!\w){re.escape(path.name)}")
    assert named.search(python), "read by pytest"
    assert bool(named.search(phone)) == (path.stem not in SERVER_ALONE), "read by vitest where the apps ship the rule"
