"""Two packs of one workshop show together what neither shows alone: whether the log between them only grew."""

from __future__ import annotations

import json
import subprocess
import sys
import zipfile

import pytest

from tests.broken_packs.make import read as read_pack
from tests.broken_packs.make import relist, write
from tests.support.cutting import Bench
from tests.support.rewriting import rewrite
from witnessmark.db import writing
from witnessmark.proof import layout
from witnessmark.proof.compare import compare
from witnessmark.proof.verify_cli import main
from witnessmark.sync import desk


@pytest.fixture
def bench(office, tmp_path) -> Bench:
    return Bench(office, tmp_path)


def test_the_record_that_came_next_shows_that_the_log_only_grew(bench, capsys):
    old = bench.cut("old")
    bench.issue(old)
    bench.note("Crankpin 2 blued.")
    new = bench.cut("new")
    report = compare(old.path, new.path)

    assert report.well and report.remarks == []
    assert report.facts == {
        "log_only_grew": True, "old_size": old.head_size, "new_size": new.head_size, "records_added": 2,
    }  # fmt: skip
    assert main([str(old.path), str(new.path)]) == 0
    last = f"Result of the comparison: the later log holds all {old.head_size} records of the earlier one, unchanged."
    assert capsys.readouterr().out.splitlines()[-1] == last
    assert main([str(old.path), str(new.path), "--json"]) == 0
    result = json.loads(capsys.readouterr().out)
    assert [pack["well"] for pack in result["packs"]] == [True, True]
    assert result["comparison"]["facts"]["log_only_grew"] is True


def test_the_proof_that_travels_in_the_later_pack_shows_it_too(bench):
    """What came next is of another job, so only the proof can tell."""
    old = bench.cut("old")
    bench.note("Of the next bench.", bench.other)
    bench.issue(old)
    new = bench.cut("new")
    top, files = read_pack(new.path)
    assert layout.entry_path(old.head_size + 1) not in files
    (proof,) = json.loads(files[layout.EARLIER])["earlier"]
    assert proof["size"] == old.head_size

    assert compare(old.path, new.path).facts["log_only_grew"] is True
    files[layout.EARLIER] = files[layout.EARLIER].replace(proof["proof"][0].encode(), b"0" * 64)
    relist(files)
    spoilt = compare(old.path, write(bench.folder / "spoilt.zip", top, files))
    assert spoilt.facts["log_only_grew"] is False and not spoilt.well


def test_without_a_proof_it_is_said_that_it_cannot_be_told(bench, capsys):
    old = bench.cut("old")
    bench.note("Of the next bench.", bench.other)
    new = bench.cut("new")
    report = compare(old.path, new.path)

    assert report.well and report.facts["log_only_grew"] is None
    assert "cannot be told from these two alone" in report.remarks[0]
    assert main([str(old.path), str(new.path)]) == 0
    assert "whether the log only grew cannot be told" in capsys.readouterr().out.splitlines()[-1]


def test_a_record_taken_out_before_the_later_pack_is_found(bench, capsys):
    """Each pack is well by itself: the workshop signed a new log. The earlier pack remembers."""
    old = bench.cut("old")
    bench.issue(old)
    rewrite(
        bench.office,
        [row for row in bench.rows() if row.entry["body"].get("text") != "First look: sump full of water."],
    )
    new = bench.cut("new")
    report = compare(old.path, new.path)

    assert report.facts["log_only_grew"] is False
    assert main([str(old.path), str(new.path)]) == 2
    assert capsys.readouterr().out.splitlines()[-1].startswith("Result of the comparison: faults found: ")


def test_a_record_of_the_job_that_is_no_longer_shown_is_named(bench):
    old = bench.cut("old")
    bench.issue(old)
    top, files = read_pack(bench.cut("new").path)
    shown = next(
        path for path, data in sorted(files.items()) if path.startswith(layout.ENTRIES) and b"Main bearing 3" in data
    )
    position = layout.position_of(shown)
    files.pop(shown)
    lines = files[layout.RECEIPTS].splitlines(keepends=True)
    files[layout.RECEIPTS] = b"".join(line for line in lines if json.loads(line)["position"] != position)
    relist(files)
    report = compare(old.path, write(bench.folder / "hidden.zip", top, files))

    assert [fault.found for fault in report.faults] == [f"these positions not shown: {position}"]


def test_a_log_that_was_put_back_says_so_beside_the_fault(bench):
    old = bench.cut("old")
    bench.issue(old)
    rewrite(bench.office, bench.rows()[:-2])
    with writing(bench.office.engine) as conn:
        desk.note_restored(conn, bench.office.settings, old.head_size + 1)
        desk.write(
            conn, bench.office.settings, bench.office.manager.id, "note_made", job=bench.job, body={"text": "Again."}
        )
    report = compare(old.path, bench.cut("new").path)

    assert not report.well
    assert any(f"the log was put back to {old.head_size - 1} records." in remark for remark in report.remarks)


def test_packs_in_the_wrong_order_are_not_compared_and_two_copies_of_a_workshop_differ(bench, packed):
    old = bench.cut("old")
    bench.issue(old)
    new = bench.cut("new")

    (fault,) = compare(new.path, old.path).faults
    assert fault.expected == "the earlier pack first, then the later one"
    # Both were founded as one workshop, with one key, and went on as two.
    forked = compare(old.path, packed.sealed.path)
    assert forked.facts["log_only_grew"] is False
    assert any(fault.found == "another record" for fault in forked.faults)


def test_the_verifier_in_a_pack_compares_alone(bench, tmp_path):
    old = bench.cut("old")
    bench.issue(old)
    new = bench.cut("new")
    with zipfile.ZipFile(new.path) as archive:
        name = next(name for name in archive.namelist() if name.endswith(layout.VERIFIER))
        (tmp_path / "verify.pyz").write_bytes(archive.read(name))
    done = subprocess.run(
        [sys.executable, "-I", tmp_path / "verify.pyz", old.path, new.path], capture_output=True, text=True, check=False
    )
    assert (done.returncode, done.stderr) == (0, "")
    assert "unchanged" in done.stdout.splitlines()[-1]
