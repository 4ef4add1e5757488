"""The log only grows: what it holds cannot be changed, and every head can be shown to come from the one before."""

from __future__ import annotations

import json
import sqlite3

import pytest
from pymerkle import InmemoryTree  # an outside judge of the tree: RFC 9162 as another hand wrote it
from sqlalchemy.exc import IntegrityError

from witnessmark.db import reading, writing
from witnessmark.log import heads, proofs, read, tree
from witnessmark.log.rows import stamp
from witnessmark.proof import heads as proof_heads
from witnessmark.proof import keys, merkle
from witnessmark.proof.canonical import canonical
from witnessmark.sync import office as server

EVIDENCE = ("log_entries", "log_refused", "log_strays", "log_heads", "log_nodes")


@pytest.fixture
def long_log(office, phone):
    """700 entries: two whole blocks of 256 leaves and a rest, in batches of odd sizes."""
    job = phone.open_job()
    for number in range(699):
        phone.note(job, f"Reading {number}")
    start = 0
    for size in (1, 7, 255, 300, 137):
        status, answer = phone.push(phone.outbox[:size])
        assert status == 200 and len(answer["results"]) == size, answer
        start += size
    return office


def all_stamps(conn, workshop):
    return [row.stamp for row in read.whole_log(conn, workshop)]


@pytest.mark.parametrize("verb", ["UPDATE", "DELETE"])
@pytest.mark.parametrize("table", EVIDENCE)
def test_the_database_itself_refuses_to_change_evidence(office, phone, table, verb):
    job = phone.open_job()
    phone.note(job, author=phone.device)  # refused: nobody of that name works here
    phone.push()
    phone.push([{"bytes": phone.entry()["id"], "signature": "x"}])  # a stray
    raw = sqlite3.connect(office.settings.data / "witnessmark.db")
    try:
        if table == "log_nodes":
            raw.execute("INSERT INTO log_nodes VALUES ('w', 8, 0, x'00')")
        assert raw.execute(f"SELECT count(*) FROM {table}").fetchone()[0] > 0
        order = f"DELETE FROM {table}" if verb == "DELETE" else f"UPDATE {table} SET workshop = 'x'"
        with pytest.raises(sqlite3.IntegrityError, match="evidence is added, never changed"):
            raw.execute(order)
    finally:
        raw.close()


def test_an_entry_cannot_be_put_in_the_place_of_another(office, phone):
    """REPLACE is a DELETE that by itself asks no guard."""
    phone.note(phone.open_job())
    phone.push()
    with pytest.raises(IntegrityError, match="evidence is added, never changed"), writing(office.engine) as conn:
        conn.exec_driver_sql("INSERT OR REPLACE INTO log_entries SELECT * FROM log_entries WHERE position = 2")


def test_a_stamp_is_the_canonical_json_it_says_it_is():
    for offset in (None, 0, -1234, 99):
        facts = {
            "entry": "ab" * 32,
            "offset_ms": offset,
            "position": 41,
            "received": "2026-05-14T09:38:07.120Z",
            "signature": "A" * 86 + "==",
        }
        assert stamp(facts["entry"], offset, 41, facts["received"], facts["signature"]) == canonical(facts)


def test_the_head_stands_for_every_entry_and_is_signed_by_the_server(long_log):
    with reading(long_log.engine) as conn:
        head = heads.latest(conn, long_log.workshop.id)
        stamps = all_stamps(conn, long_log.workshop.id)
    assert head.size == len(stamps) == 702  # founding, one phone joined, 700 entries
    assert head.root == merkle.root([merkle.leaf_hash(s) for s in stamps]).hex()
    spki = keys.unbase64(server.key(long_log.settings).public_key)
    assert proof_heads.check(head.bytes, head.signature, spki).size == 702


def test_another_implementation_finds_the_same_root(long_log):
    judge = InmemoryTree(algorithm="sha256")
    with reading(long_log.engine) as conn:
        for data in all_stamps(conn, long_log.workshop.id):
            judge.append_entry(data)
        head = heads.latest(conn, long_log.workshop.id)
    assert judge.get_root().hex() == head.root


def test_an_entry_is_shown_to_be_in_the_log(long_log):
    with reading(long_log.engine) as conn:
        stamps = all_stamps(conn, long_log.workshop.id)
        prover = proofs.Tree(conn, long_log.workshop.id)
        for size in (1, 2, 255, 256, 257, 511, 512, 640, 702):
            root = prover.root(size)
            for position in {1, min(2, size), size // 2 or 1, size - 1 or 1, size}:
                path = [bytes.fromhex(node) for node in prover.inclusion(position, size)]
                leaf = merkle.leaf_hash(stamps[position - 1])
                assert merkle.verify_inclusion(leaf, position - 1, size, path, root), (position, size)


def test_every_later_head_is_shown_to_only_add(long_log):
    with reading(long_log.engine) as conn:
        known = heads.all_since(conn, long_log.workshop.id)
        assert len({head.size for head in known}) > 2
        prover = proofs.Tree(conn, long_log.workshop.id)
        for older in known:
            for newer in known:
                if newer.size < older.size:
                    continue
                proof = [bytes.fromhex(node) for node in prover.consistency(older.size, newer.size)]
                assert merkle.verify_consistency(
                    older.size, newer.size, bytes.fromhex(older.root), bytes.fromhex(newer.root), proof
                )


def test_proofs_read_a_handful_of_nodes_however_long_the_log_is(long_log):
    with reading(long_log.engine) as conn:
        prover = proofs.Tree(conn, long_log.workshop.id)
        prover.inclusion(10, 702)
        assert len(prover._blocks) <= 2
        leaves = [key for key in prover._nodes if key[0] == 0]
        assert len(leaves) <= 2 * proofs.BLOCK


def test_a_proof_beyond_the_log_is_refused(long_log):
    with reading(long_log.engine) as conn:
        prover = proofs.Tree(conn, long_log.workshop.id)
        for ask in (lambda: prover.inclusion(0, 5), lambda: prover.inclusion(6, 5), lambda: prover.consistency(6, 5)):
            with pytest.raises(ValueError):
                ask()


def test_peaks_grow_like_the_tree_they_stand_for():
    leaves = [merkle.leaf_hash(str(n).encode()) for n in range(600)]
    peaks, kept = [], []
    for size, leaf in enumerate(leaves):
        tree.grow(peaks, size, leaf, kept)
        if size % 61 == 0:
            assert tree.root_of(tree.unpack_peaks(tree.pack_peaks(peaks))) == merkle.root(leaves[: size + 1])
    assert [(level, place) for level, place, _ in kept] == [(8, 0), (8, 1), (9, 0)]


def test_the_log_is_read_by_id_by_job_and_by_phone(office):
    first, second = office.phone("First"), office.phone("Second")
    job = first.open_job()
    first.note(job, "one")
    first.push()
    second.note(job, "two")
    second.push()
    ours = office.workshop.id
    with reading(office.engine) as conn:
        texts = [row.entry["body"].get("text") for row in read.job_entries(conn, ours, job)]
        assert texts == [None, "one", "two"]
        last = list(read.whole_log(conn, ours))[-1]
        assert read.by_id(conn, ours, last.id).position == last.position
        assert read.by_id(conn, ours, job) is None
        assert [row.sequence for row in read.device_chain(conn, ours, first.device)] == [1, 2]
        assert [row.sequence for row in read.device_chain(conn, ours, first.device, after=1)] == [2]
        assert read.chain_end(conn, ours, second.device).hash == second.previous
        newest = read.feed_before(conn, ours, f"job:{job}", 10**9, 2)
        assert [row.position for row in newest] == [last.position, last.position - 1]
        kinds = [row.entry["kind"] for row in read.feed_after(conn, ours, "workshop", 0)]
        assert kinds == ["workshop_founded", "device_enrolled", "device_enrolled", "job_opened"]
        assert json.loads(last.bytes) == last.entry


def test_a_failed_batch_leaves_no_trace(office, phone):
    phone.note(phone.open_job())
    with reading(office.engine) as conn:
        before = heads.latest(conn, office.workshop.id)
    with pytest.raises(RuntimeError, match="power"), writing(office.engine) as conn:
        server_rows = list(read.whole_log(conn, office.workshop.id))
        assert server_rows
        conn.exec_driver_sql("INSERT INTO log_nodes VALUES ('w', 8, 7, x'00')")
        raise RuntimeError("power")
    with reading(office.engine) as conn:
        assert heads.latest(conn, office.workshop.id) == before
        assert conn.exec_driver_sql("SELECT count(*) FROM log_nodes").scalar() == 0
