"""The demo's measurements: judged by what was known when they were made, and as telling as a machine shop's sheets."""

from __future__ import annotations

import json

import pytest

from witnessmark.config import sample_media_folder
from witnessmark.db import make_engine, reading
from witnessmark.log import read
from witnessmark.people import workshops
from witnessmark.projections import figures
from witnessmark.trade.measuring.gauges import check as check_gauge
from witnessmark.trade.measuring.known import FIELD
from witnessmark.trade.measuring.procedures import check as check_procedure


@pytest.fixture(scope="module")
def log(demo_once) -> tuple[list[dict], dict[str, dict]]:
    """All entries of the demo in order, and what the office shows of each job by its number."""
    engine = make_engine(demo_once.database)
    with reading(engine) as conn:
        workshop = workshops.only(conn).id
        entries = [row.entry for row in read.whole_log(conn, workshop)]
        opened = {entry["body"]["number"]: entry["job"] for entry in entries if entry["kind"] == "job_opened"}
        shown = {number: figures.of_job(conn, workshop, job) for number, job in opened.items()}
    engine.dispose()
    return entries, shown


@pytest.fixture(scope="module")
def entries(log) -> list[dict]:
    return log[0]


@pytest.fixture(scope="module")
def shown(log) -> dict[str, dict]:
    return log[1]


def figure(shown: dict, number: str, procedure: str, place: str, code: str, state: str = "as_found") -> dict:
    sheet = next(s for s in shown[number]["sheets"] if (s["procedure"], s["state"]) == (procedure, state))
    at = next(row for row in sheet["places"] if row["place"] == place)
    return next(figure for figure in at["figures"] if figure["code"] == code)


def standings(figure: dict, when: str = "now") -> dict[str, str]:
    return {judgement["sort"]: judgement["standing"] for judgement in figure[when] or []}


def test_what_the_invented_workshop_says_says_that_it_is_invented():
    text = (sample_media_folder() / "measuring.json").read_text()
    groups = json.loads(text)["said"]
    assert all("invented" in group["source"] for group in groups if "engine_type" in group)
    assert all(
        "nvented" in procedure["about"] and check_procedure(procedure) == []
        for g in groups
        for procedure in g.get("procedures", ())
    )


def test_gauges_are_sound_and_one_of_them_was_overdue_before_it_was_used_again(entries, shown):
    gauges = [entry["body"]["gauge"] for entry in entries if entry["kind"] == "gauge_described"]
    assert all(check_gauge(gauge) == [] for gauge in gauges)
    late = figure(shown, "2391", "oil_pressure", "engine", "at_idle", "built")
    assert any("pressure gauge 1" in words for words in late["overdue"])
    assert figure(shown, "2391", "oil_pressure", "engine", "at_idle")["overdue"] == []


def test_each_reading_names_what_it_was_judged_by_and_that_was_said_before(entries):
    earlier: set[str] = set()
    counted = 0
    for entry in entries:
        if entry["kind"] in FIELD:
            earlier.add(entry["id"])
        if entry["kind"] == "measured":
            counted += 1
            assert entry["version"] == 3
            assert entry["body"]["procedure"] and entry["body"]["reading"] and entry["body"]["gauge_id"]
            assert entry["body"]["basis"] and set(entry["body"]["basis"]) <= earlier
    assert counted > 500


def test_nothing_in_the_story_was_measured_before_what_came_before_it(entries):
    last: dict[str, str] = {}
    for entry in entries:
        if entry["kind"] == "measured":
            assert entry["claimed"] >= last.get(entry["job"], ""), entry["location"]
            last[entry["job"]] = entry["claimed"]
    assert len(last) > 1, "the story measures on several jobs"


def test_no_reading_falls_outside_its_sheet_and_the_finished_engine_is_measured_whole(shown):
    for job in shown.values():
        for sheet in job["sheets"] if job else ():
            assert sheet["procedure"] and all(reading["words"] for reading in sheet["readings_asked"])
    whole = {(s["procedure"], s["state"]) for s in shown["2391"]["sheets"] if all(at["done"] for at in s["places"])}
    assert {("cylinder_bore", "as_found"), ("cylinder_bore", "machined"), ("crankpin", "machined")} <= whole
    assert {("main_clearance", "built"), ("valve_shim", "built"), ("compression_ratio", "built")} <= whole


def test_one_bore_is_outside_its_limit_and_three_are_within(shown):
    assert standings(figure(shown, "2391", "cylinder_bore", "bore/3", "ovality")) == {"service": "outside"}
    for place in ("bore/1", "bore/2", "bore/4"):
        assert standings(figure(shown, "2391", "cylinder_bore", place, "ovality")) == {"service": "within"}


def test_a_pin_ground_to_the_edge_of_its_tolerance_is_not_proven_and_its_old_limit_no_longer_counts(shown):
    edge = figure(shown, "2391", "crankpin", "crankpin/4", "smallest", "machined")
    assert standings(edge) == {"machining": "not proven"}
    assert len(edge["budget"]) >= 2
    assert any("micrometer 12" in words for words in edge["now"][0]["settle"])
    assert standings(figure(shown, "2391", "crankpin", "crankpin/3", "smallest")) == {"service": "outside"}


def test_a_limit_that_was_changed_later_leaves_the_earlier_verdict_in_sight(shown):
    head = figure(shown, "2391", "head_flatness", "head/A", "flatness")
    assert standings(head, "then") == {"service": "within"}
    assert standings(head) == {"service": "outside"}


def test_the_half_done_job_has_half_done_grids_in_inches_and_millimetres(shown):
    sheets = {sheet["procedure"]: sheet for sheet in shown["2418"]["sheets"]}
    assert sheets["crankpin"]["unit"] == "in" and sheets["cylinder_bore"]["unit"] == "mm"
    for code in ("crankpin", "cylinder_bore", "head_flatness"):
        assert not all(at["done"] for at in sheets[code]["places"])
    assert standings(figure(shown, "2418", "cylinder_bore", "bore/3", "taper")) == {"service": "not proven"}


def test_a_bore_outside_its_limit_forces_the_oversize_that_is_proposed(shown):
    assert standings(figure(shown, "2418", "cylinder_bore", "bore/3", "ovality")) == {"service": "outside"}
    proposed = next(proposal for proposal in shown["2418"]["proposals"] if "oversize" in proposal["title"])
    assert proposed["forced_by"]["place"] == "bore/3" and "0.25 mm" in proposed["title"]


def test_the_engine_that_came_back_shows_its_wear_for_the_distance_between(shown):
    worn = {comparison["procedure"]: comparison for comparison in shown["2424"]["wear"]}
    assert worn["crankpin"]["number"] == "2264"
    pin = next(c for c in worn["crankpin"]["changes"] if (c["place"], c["figure"]) == ("crankpin/2", "smallest"))
    assert pin["change"] == "-0.0245" and pin["per_words"] == "10 000 mi" and pin["per"].startswith("-0.2")
    strip = next(c for c in worn["rod_clearance_strip"]["changes"] if c["place"] == "rod_bearing/2")
    assert strip["change"] == "+0.024"
