"""The demo's tightening: invented sheets and tools, and runs with every sort of answer to what went otherwise."""

from __future__ import annotations

import json

import pytest

from witnessmark.config import sample_media_folder
from witnessmark.db import make_engine, reading
from witnessmark.log import read
from witnessmark.people import persons, workshops
from witnessmark.projections import measuring, tightening
from witnessmark.trade.ground.tables import table
from witnessmark.trade.tightening import sheets as tightening_sheets
from witnessmark.trade.tightening import tools as torque_tools
from witnessmark.trade.tightening.known import FIELD, Known

ENGINES = {engine["id"]: engine for engine in table("invented_engine_types")["engine_types"]}


@pytest.fixture(scope="module")
def made(demo_once) -> tuple[list[dict], Known, dict[str, list[dict]]]:
    """All entries of the demo in order, its sheets and tools, and the runs of each job by its number."""
    engine = make_engine(demo_once.database)
    with reading(engine) as conn:
        workshop = workshops.only(conn).id
        entries = [row.entry for row in read.whole_log(conn, workshop)]
        managers = {person.id for person in persons.everyone(conn, workshop) if person.role == "manager"}
        opened = {entry["body"]["number"]: entry["job"] for entry in entries if entry["kind"] == "job_opened"}
        runs = {number: tightening.of_job(conn, workshop, job, managers) for number, job in opened.items()}
        known = measuring.known_tightening(conn, workshop)
    engine.dispose()
    return entries, known, runs


def of(runs: list[dict], joint: str, direction: str = "tighten") -> dict:
    return next(run for run in runs if (run["joint"], run["direction"]) == (joint, direction))


def test_what_is_said_of_tightening_says_that_it_is_invented():
    groups = json.loads((sample_media_folder() / "tightening.json").read_text())["said"]
    assert all("invented" in group["source"] for group in groups if "engine_type" in group)
    assert all("nvented" in tool["notes"] for group in groups for tool in group.get("tools", ()))


def test_sheets_fit_their_engines_and_tools_are_sound(made):
    _, known, _ = made
    for statement in known.sheets.values():
        assert tightening_sheets.check(statement.data, ENGINES[statement.data["engine_type"]]) == []
    assert all(torque_tools.check(statement.data) == [] for statement in known.tools.values())
    joints = {(ENGINES[sheet.data["engine_type"]]["name"], sheet.data["joint"]) for sheet in known.sheets.values()}
    assert joints == {
        (engine, joint)
        for engine, head in (("Corrie 2.2 four", "head_bolt/A"), ("Halvern 2.9 V6", "head_bolt/*"))
        for joint in (head, "main_bolt/*", "flywheel_bolt")
    }
    assert [sheet.data["name"] for sheet in known.sheets.values() if sheet.data["bolt"] == "stretch"] == [
        "Cylinder heads"
    ]


def test_each_fastener_names_the_sheet_and_the_tool_as_they_were_said_before(made):
    entries, _, _ = made
    earlier: set[str] = set()
    counted = 0
    for entry in entries:
        if entry["kind"] in FIELD:
            earlier.add(entry["id"])
        if entry["body"].get("run") and "basis" in entry["body"]:
            counted += 1
            assert entry["body"]["basis"] and set(entry["body"]["basis"]) <= earlier
            assert len(entry["body"]["basis"]) == (2 if entry["kind"] == "fastener_tightened" else 1)
    assert counted > 70


def test_the_head_of_the_finished_engine_is_complete_with_one_departure_answered(made):
    head = of(made[2]["2391"], "head_bolt/A")
    assert head["complete"] and head["closed"] and head["missing"] == []
    [departure] = head["departures"]
    assert (departure["sort"], departure["answered"]["how"]) == ("out_of_order", "reason")
    assert [row["label"] for row in head["withdrawn"]] == ["10"]


def test_a_second_person_witnessed_each_main_cap_after_its_clearance_was_within(made):
    caps = [run for run in made[2]["2391"] if run["joint"].startswith("main_bolt/")]
    assert [run["joint"][-1] for run in caps] == ["3", "2", "4", "1", "5"]
    for run in caps:
        assert run["closed"] and run["missing"] == [] and run["departures"] == []
        hands = {done["by"] for stage in run["stages"] for done in stage["done"]}
        assert run["witnessed"]["by"] not in hands


def test_the_flywheel_was_begun_again_and_its_proposed_order_was_answered_for(made):
    flywheel = of(made[2]["2391"], "flywheel_bolt")
    how = {departure["sort"]: departure["answered"]["how"] for departure in flywheel["departures"]}
    assert how == {"order_proposed": "reason", "over": "restart"}
    assert (flywheel["stages"][0]["restarted"], len(flywheel["stages"][0]["earlier"][0])) == (1, 4)


def test_the_trial_on_the_other_engine_is_half_done_and_waits_for_its_manager(made):
    trial = of(made[2]["2418"], "head_bolt/A")
    assert not trial["complete"] and not trial["may_close"]
    assert (trial["stage"], trial["next"]) == (1, "4")
    still = {
        departure["sort"]: departure["needs"] for departure in trial["departures"] if departure["answered"] is None
    }
    assert still == {"stretch_reused": "manager", "overdue_tool": "reason", "over": "reason"}


def test_a_cap_was_let_go_in_the_reverse_order_and_nobody_had_to_stand_beside(made):
    cap = of(made[2]["2418"], "main_bolt/4", "loosen")
    assert [(done["label"], done["value"]) for done in cap["stages"][0]["done"]] == [("2", "61"), ("1", "38")]
    assert cap["departures"] == [] and cap["missing"] == []
