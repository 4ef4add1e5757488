"""Each head says how many records every job has, by a tree that outsiders can check."""

from __future__ import annotations

import random

import pytest
from pymerkle import InmemoryTree  # an outside judge of the tree: RFC 9162 as another hand wrote it

from witnessmark.db import reading, writing
from witnessmark.log import heads, job_counts, read, tables
from witnessmark.operate.log_check import check_log
from witnessmark.proof import heads as proof_heads
from witnessmark.proof import merkle
from witnessmark.proof.canonical import canonical
from witnessmark.proof.entries import job_leaf


def counted(office) -> dict[str, tuple[int, str]]:
    """By job, in the order of their first record: how many, and the newest one's hash."""
    counts: dict[str, tuple[int, str]] = {}
    with reading(office.engine) as conn:
        for row in read.whole_log(conn, office.workshop.id):
            if job := row.entry["job"]:
                counts[job] = counts.get(job, (0, ""))[0] + 1, row.hash
    return counts


def signed(office):
    with reading(office.engine) as conn:
        return proof_heads.read(heads.latest(conn, office.workshop.id).bytes)


def proofs(office) -> dict[str, dict]:
    with reading(office.engine) as conn:
        return {job: job_counts.proof(conn, office.workshop.id, job) for job in counted(office)}


@pytest.fixture
def many_jobs(office, phone):
    """Eleven jobs with notes in an order nobody planned, sent in batches of odd sizes."""
    order = random.Random(7)
    jobs = []
    for number in range(60):
        if len(jobs) < 11 and number % 5 == 0:
            jobs.append(phone.open_job(f"26-{number}"))
        phone.note(order.choice(jobs), f"note {number}")
        if number % 7 == 0:
            phone.push()
    phone.push()
    return jobs


def test_a_log_without_a_job_says_nothing_of_jobs(office):
    assert signed(office).jobs is None


def test_the_head_carries_the_root_that_others_work_out_and_each_job_leads_to_it(office, many_jobs):
    head, counts = signed(office), counted(office)
    outside = InmemoryTree(algorithm="sha256")
    for job, (count, last) in counts.items():
        outside.append_entry(canonical({"count": count, "job": job, "last": last}))
    assert (head.jobs.number, head.jobs.root) == (len(counts), outside.get_root())
    for job, proof in proofs(office).items():
        assert (proof["count"], proof["last"]) == counts[job]
        path = [bytes.fromhex(step) for step in proof["path"]]
        leaf = job_leaf(job, proof["count"], proof["last"])
        assert merkle.verify_inclusion(leaf, proof["place"], head.jobs.number, path, head.jobs.root)
        one_less = job_leaf(job, proof["count"] - 1, proof["last"])
        assert not merkle.verify_inclusion(one_less, proof["place"], head.jobs.number, path, head.jobs.root)


def test_the_tree_is_that_of_rfc_9162_for_every_number_of_jobs(office, phone):
    for number in range(1, 18):
        phone.open_job(f"26-{number}")
        phone.push()
        leaves = [job_leaf(job, count, last) for job, (count, last) in counted(office).items()]
        assert signed(office).jobs == (number, merkle.root(leaves))


def test_a_log_from_before_jobs_were_counted_is_counted_at_the_next_record(office, phone, many_jobs):
    before = proofs(office)
    with writing(office.engine) as conn:
        for table in (tables.jobs, tables.job_nodes):
            conn.execute(table.delete())
    phone.note(many_jobs[3], "after the update")
    phone.push()
    after = proofs(office)
    assert after.keys() == before.keys() and after[many_jobs[3]]["count"] == before[many_jobs[3]]["count"] + 1
    with reading(office.engine) as conn:
        assert check_log(conn, office.workshop).faults == []


def test_what_one_record_costs_grows_with_the_logarithm_of_the_jobs(office, phone):
    def statements(until: int) -> int:
        while len(counted(office)) < until:
            phone.open_job(f"26-{len(counted(office))}")
            phone.push()
        made: list[str] = []
        with writing(office.engine) as conn:
            rows = list(read.whole_log(conn, office.workshop.id))[-1:]
            execute = type(conn).execute
            try:
                type(conn).execute = lambda self, *given, **named: made.append("") or execute(self, *given, **named)
                job_counts.note(conn, office.workshop.id, rows)
            finally:
                type(conn).execute = execute
            conn.get_transaction().rollback()
        return len(made)

    assert statements(40) - statements(20) <= 5


def test_the_doctor_sees_a_count_that_is_not_the_logs(office, phone, many_jobs):
    with writing(office.engine) as conn:
        conn.execute(tables.jobs.update().values(count=3).where(tables.jobs.c.place == 0))
    phone.note(many_jobs[0], "one more")
    phone.push()
    with reading(office.engine) as conn:
        assert any("as many records of each job" in fault for fault in check_log(conn, office.workshop).faults)
