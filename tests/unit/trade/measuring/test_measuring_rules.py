"""The workshop's measuring rules: their faults, and what counts when nobody has set any."""

import json
from pathlib import Path

from tests.support.cases import all_cases
from witnessmark.trade.measuring import rules as measuring_rules

VECTORS = json.loads((Path(__file__).parents[3] / "vectors" / "measuring_rules.json").read_text())


@all_cases(("rules", "faults"), VECTORS["checks"])
def test_all_faults_of_measuring_rules(rules, faults):
    assert [[fault.where, fault.message] for fault in measuring_rules.check(rules)] == faults


def test_what_counts_by_itself():
    assert measuring_rules.DEFAULT == VECTORS["default"]
    assert measuring_rules.RULES == VECTORS["rules"]
    assert measuring_rules.DEFAULT["rule"] == "guarded"
