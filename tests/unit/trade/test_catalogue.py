"""No kind of entry is half there: shape, line, twin on the phone, vectors and a line for contributors."""

import json
import re
from functools import cache
from pathlib import Path

import pytest

from tests.support.cases import all_cases
from tests.unit.trade.make_kinds_table import PAGE, with_table
from witnessmark.trade.ground.tables import table
from witnessmark.trade.record.kinds import GROUPS, KINDS

ROOT = Path(__file__).parents[3]
PHONE = ROOT / "pwa" / "src" / "trade"
VECTORS = ROOT / "tests" / "vectors"
TABLE = table("kinds")
ICONS = (ROOT / "pwa" / "src" / "parts" / "controls" / "icons.tsx").read_text()
FIELD_FACTS = {"label", "correct", "only_with", "only_without", "lines", "figures", "shown", "words", "as"}
# Sorts of fields that a person can type or choose.
TYPED = {"text", "amount", "decimal", "whole", "choice", "texts", "yes_no"}
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


@cache
def vectors(name):
    return json.loads((VECTORS / f"{name}.json").read_text())


def test_the_phone_reads_the_same_files_of_kinds():
    data = ROOT / "server" / "witnessmark" / "trade" / "data"
    source = (PHONE / "record" / "kinds.ts").read_text()
    named = re.findall(r"'(\.\./[^']+\.json)'", source)
    assert [(PHONE / "record" / path).resolve() for path in named] == [data / "kinds.json", data / "kinds" / "*.json"]
    assert set(KINDS) == {path.stem for path in (data / "kinds").iterdir()}, "nothing else lies beside the kinds"


@all_cases("kind", KINDS.values(), ids=KINDS.keys())
def test_a_kind_is_whole(kind):
    assert kind.words and kind.job in ("needed", "none", "either") and kind.feed in ("job", "workshop", "both")
    assert kind.feed != "workshop" or not kind.needs_job
    assert kind.fields, "a wire shape"
    assert kind.line["title"], "a line in the timeline"
    named = set(re.findall(r"\{([a-z0-9_]+)\}", kind.line["title"] + kind.line["text"]))
    made_up = {"place", "point", "new_place", "new_point", "fastener_there", "new", "measured_as", "told"}
    made_up |= {"joint_there", "bolts_there", "departure_there", "stands_for", "state_there"}
    assert named - made_up <= set(kind.fields), "the line names only fields of the kind"
    for name, cases in (("kinds", "taken"), ("kinds", "refused"), ("lines", "cases")):
        assert any(case["entry"]["kind"] == kind.name for case in vectors(name)[cases]), (
            f"a case in {name}.json, {cases}"
        )


@pytest.mark.parametrize("kind", KINDS.values(), ids=KINDS.keys())
def test_a_kind_has_all_that_the_screens_show_of_it(kind):
    assert kind.says.endswith(".") and kind.group in GROUPS and kind.about in ("", "record", "sound")
    assert kind.written_by and kind.written_by <= set(TABLE["writers"])
    assert {kind.corrections, kind.withdrawals} <= {"offered", "taken", "refused"}
    assert re.search(rf"^export const {kind.sign} = ", ICONS, re.MULTILINE), "a sign that is drawn"
    assert kind.view in TABLE["views"]
    assert (kind.media is not None) == (kind.view in ("picture", "sound", "document")), "a file is drawn as what it is"
    assert set(kind.read_there) <= set(kind.fields)
    assert "phone" in kind.written_by or kind.corrections != "offered", "what the office says it says again"


@pytest.mark.parametrize("kind", KINDS.values(), ids=KINDS.keys())
def test_every_field_of_a_kind_has_its_facts(kind):
    fields = {name: spec for version in kind.versions.values() for name, spec in version["body"].items()}
    assert set(kind.field_facts) == set(fields)
    for name, facts in kind.field_facts.items():
        assert facts.keys() <= FIELD_FACTS, f"{name} has facts that nobody reads"
        assert re.fullmatch(r"[a-z][^_]*", facts["label"]), f"{name} has a label in words"
        assert {facts.get("only_with", name), facts.get("only_without", name)} <= set(fields)
        assert facts.get("words", {}).keys() <= fields[name].get("of", {}).keys(), "words for the choices of its shape"
        assert not facts.get("correct") or fields[name]["is"] in TYPED or "as" in facts, f"{name} has an editor"
    offered = any(facts.get("correct") for facts in kind.field_facts.values())
    assert not offered or kind.corrections == "offered", "no form would show the field"
    assert offered or kind.may_have_location or kind.corrections != "offered", "there is something to correct"


def test_the_table_in_developers_md_is_that_of_the_data():
    page = PAGE.read_text()
    assert page == with_table(page), "python -m tests.unit.trade.make_kinds_table writes it"


@all_cases("name", PURE_TWINS)
def test_a_rule_of_the_trade_has_its_twin_on_the_phone(name):
    assert (ROOT / "server" / "witnessmark" / "trade" / f"{name}.py").exists()
    assert (PHONE / f"{name}.ts").exists()


# Vectors of rules that only one side ships: the desk's checks and sums, what the phone and the office work out alone.
SERVER_ALONE = {"engine_types", "machining", "proposals", "ratio", "sequence", "shims", "tightening_sheets", "wear"}


@all_cases("path", sorted(VECTORS.glob("*.json")), ids=lambda path: path.stem)
def test_a_file_of_vectors_is_read_by_each_side_that_ships_the_rule(path):
    python = "".join(p.read_text() for p in (ROOT / "tests").rglob("test_*.py") if p.name != "test_catalogue.py")
    phone = "".join(p.read_text() for p in (ROOT / "pwa" / "src").rglob("*.test.ts*"))
    # What the apps work out alone has its vectors held against the outside by tests/outside.
    named = re.compile(rf"(?<!\w){re.escape(path.name)}")
    assert named.search(python), "read by pytest"
    assert bool(named.search(phone)) == (path.stem not in SERVER_ALONE), "read by vitest where the apps ship the rule"
