"""A job's facts follow from its entries, the same on the phone and in the office."""

import json
from pathlib import Path

from tests.support.cases import all_cases
from witnessmark.trade.record.jobs import job_facts, propose_number

VECTORS = json.loads((Path(__file__).parents[3] / "vectors" / "jobs.json").read_text())


@all_cases("case", VECTORS["facts"], ids=lambda case: case["name"])
def test_the_facts_of_a_job(case):
    assert job_facts(case["entries"]) == case["facts"]


@all_cases("case", VECTORS["numbers"], ids=lambda case: f"{case['known']} {case['letter']}")
def test_the_next_job_number(case):
    assert propose_number(case["known"], case["letter"]) == case["number"]


def test_two_phones_without_signal_propose_different_numbers():
    known = ["2417", "2418"]
    assert propose_number(known, "A") != propose_number(known, "B")
