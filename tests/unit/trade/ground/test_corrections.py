"""A mistake is answered by a new entry: what stands now is plain, and what stood before stays readable."""

import copy
import json
from pathlib import Path

from tests.support.cases import all_cases
from witnessmark.trade.ground.corrections import fold

VECTORS = json.loads((Path(__file__).parents[3] / "vectors" / "corrections.json").read_text())


@all_cases("case", VECTORS["fold"], ids=lambda case: case["name"])
def test_what_stands_when(case):
    before = copy.deepcopy(case["entries"])
    standings = [
        {
            "id": standing.entry["id"],
            "body": standing.body,
            "location": standing.location,
            "corrected_by": [other["id"] for other in standing.corrected_by],
            "withdrawn_by": standing.withdrawn_by and standing.withdrawn_by["id"],
        }
        for standing in fold(case["entries"])
    ]
    assert standings == case["standing"]
    assert case["entries"] == before, "the entries themselves must stay as they were made"
