"""A job's facts follow from its entries, the same on the phone and in the office."""

import json
from pathlib import Path

from tests.support.cases import all_cases
from witnessmark.trade.record.jobs import job_facts

VECTORS = json.loads((Path(__file__).parents[3] / "vectors" / "jobs.json").read_text())


@all_cases("case", VECTORS["facts"], ids=lambda case: case["name"])
def test_the_facts_of_a_job(case):
    assert job_facts(case["entries"]) == case["facts"]
