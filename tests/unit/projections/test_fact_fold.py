"""The facts of a job folded record by record are those that the rules fold from the whole."""

from __future__ import annotations

from hypothesis import example, given
from hypothesis import strategies as st

from witnessmark.projections import facts
from witnessmark.projections.fact_fold import FactFold
from witnessmark.trade.record.jobs import FACTS, job_facts

# (kind, which earlier record it answers, a value)
STEPS = st.tuples(
    st.sampled_from(["job_opened", "job_amended", "stage_reached", "entry_corrected", "entry_withdrawn"]),
    st.integers(0, 30),
    st.sampled_from(["a", "b", "c"]),
)


def entries_of(steps: list[tuple[str, int, str]]) -> list[dict]:
    entries: list[dict] = []
    for kind, answered, value in steps:
        changes: dict = {"number": value} if answered % 2 else {"engine_type": value}
        if kind == "job_opened":
            body = dict.fromkeys(FACTS, value)
        elif kind == "stage_reached":
            body = {"stage": value}
        elif kind == "job_amended":
            body = {"changes": changes, "reason": ""}
        elif not entries:
            continue
        else:
            target = entries[answered % len(entries)]
            of = {"job_amended": {"changes": changes}, "stage_reached": {"stage": value}}
            body = {"entry": target["id"]}
            body |= {"changes": of.get(target["kind"], changes), "location": None} if kind == "entry_corrected" else {}
        entries.append({"id": str(len(entries)), "kind": kind, "body": body, "location": None, "claimed": "2026"})
    return entries


@given(st.lists(STEPS, max_size=30))
@example([("job_amended", 1, "a"), ("entry_corrected", 0, "a"), ("entry_withdrawn", 0, "a")])
def test_the_fold_stands_where_the_rules_stand_after_every_record(steps):
    fold, entries = FactFold([]), entries_of(steps)
    for count, entry in enumerate(entries, 1):
        fold.add(entry)
        expected = job_facts(entries[:count])
        assert fold.engine_type() == fold.facts()["engine_type"]
        if expected is not None:
            assert fold.facts() == expected | {"stage": expected["stage"] or ""}
    assert FactFold(entries).facts() == fold.facts()


@given(st.lists(STEPS.filter(lambda step: not step[0].startswith("entry_")), max_size=12))
def test_a_job_that_nothing_answers_has_the_same_facts_without_a_fold(steps):
    job = facts.unknown("workshop", "job", 1)
    entries, opened = [], False
    for entry in entries_of(steps):
        if entry["kind"] == "job_opened" and opened:
            continue
        opened = opened or entry["kind"] == "job_opened"
        entries.append(entry)
        facts.apply_entry(job, entry, len(entries), "2026")
    folded = dict(job)
    facts.apply_fold(folded, FactFold(entries))
    assert folded == job
