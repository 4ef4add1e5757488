"""What phones sign of the records around their own: from the pack alone it shows what was left out or rewritten."""

from __future__ import annotations

import json

import pytest

from tests.broken_packs.make import read as read_pack
from tests.broken_packs.make import relist, write
from tests.support.cutting import Bench
from tests.support.record import send
from tests.support.rewriting import rewrite
from witnessmark.db import writing
from witnessmark.proof import layout
from witnessmark.proof.canonical import canonical
from witnessmark.proof.verify import verify
from witnessmark.proof.verify_cli import main
from witnessmark.sync import desk


@pytest.fixture
def bench(office, tmp_path) -> Bench:
    return Bench(office, tmp_path)


def without(bench: Bench, text: str):
    """The pack as a workshop would make it that hides one record: its lists and its seal made again."""
    top, files = read_pack(bench.cut("whole").path)
    hidden = next(path for path, data in files.items() if path.startswith(layout.ENTRIES) and text.encode() in data)
    files.pop(hidden)
    lines = files[layout.RECEIPTS].splitlines(keepends=True)
    kept = (line for line in lines if json.loads(line)["position"] != layout.position_of(hidden))
    files[layout.RECEIPTS] = b"".join(kept)
    relist(files)
    return write(bench.folder / "hidden.zip", top, files)


def found(report, step: int) -> list[str]:
    return [fault.found for fault in report.faults if fault.step == step]


def test_a_record_hidden_from_the_middle_of_a_job_is_found_from_the_pack_alone(bench):
    bench.note("Crankpin 2 blued.")
    bench.note("Of the next bench.", bench.other)
    bench.note("Oil pump drive sheared.")
    report = verify(without(bench, "Crankpin 2 blued."))
    assert found(report, 9) == [
        "numbers 4 to 4 not shown: this pack leaves out records of the job that this phone made"
    ]


def test_records_hidden_from_the_end_of_a_job_are_found_from_the_pack_alone(bench):
    bench.note("Crankpin 2 blued.")
    report = verify(without(bench, "Crankpin 2 blued."))
    assert found(report, 10) == ["3 of them"]


def test_a_newest_record_that_is_not_the_one_the_log_fingerprint_names_is_found(bench):
    top, files = read_pack(bench.cut("whole").path)
    job = json.loads(files[layout.JOB])
    for changes in ({"last": "0" * 64}, {"count": 99}, {"place": 1}, {"path": []}, {"path": "none"}, {"place": True}):
        files[layout.JOB] = canonical(job | changes)
        relist(files)
        report = verify(write(bench.folder / "spoilt.zip", top, files))
        assert found(report, 10) == ["something else"], changes
    del files[layout.JOB]
    relist(files)
    assert found(verify(write(bench.folder / "spoilt.zip", top, files)), 10) == ["something else"]


def test_a_whole_pack_says_how_many_records_are_numbered_and_what_each_phone_knew(bench, capsys):
    bench.note("Of the next bench.", bench.other)
    built = bench.cut("whole")
    report = verify(built.path)
    assert report.well and (report.facts["numbered"], report.facts["of_job"]) == (3, 3)
    known = bench.rows()[-1].entry["links"]["log"]["size"]
    assert report.facts["known_logs"] == {"Phone A, bay 1": known - 1}
    assert main([str(built.path)]) == 0
    assert "3 of the job’s 3 records" in capsys.readouterr().out


def test_a_log_rewritten_after_a_phone_had_seen_it_and_recorded_once_more_is_found_from_the_pack_alone(bench):
    """Not one record of this job was touched: it is a record of another one that is gone."""
    bench.note("Of the next bench.", bench.other)
    bench.note("Crankpin 2 blued.")
    rewrite(bench.office, [row for row in bench.rows() if row.entry["body"].get("text") != "Of the next bench."])
    report = verify(bench.cut("rewritten").path)
    assert found(report, 10) == ["a log that does not: it was rewritten after the phone had seen it"]


def test_a_log_rewritten_before_the_phone_recorded_again_is_not_found_so(bench):
    bench.note("Of the next bench.", bench.other)
    rewrite(bench.office, bench.rows()[:-1])
    assert verify(bench.cut("rewritten").path).well


def test_a_log_put_back_from_a_backup_is_a_remark_that_names_the_record_of_it(bench):
    knew, rows = bench.phone.log, bench.rows()
    rewrite(bench.office, rows[:-1])
    with writing(bench.office.engine) as conn:
        restored = desk.note_restored(conn, bench.office.settings, knew["size"])
    bench.phone.push([{"bytes": rows[-1].bytes.decode(), "signature": rows[-1].signature}])
    bench.phone.log = knew
    bench.note("Recorded without signal, before the phone heard of it.")
    report = verify(bench.cut("put back").path)
    assert report.well
    assert any(
        f"names a log of {knew['size']} records that this one does not begin with" in remark
        and f"position {restored.position} says" in remark
        for remark in report.remarks
    )


def test_what_the_log_says_was_refused_fills_the_gap_and_is_remarked_on(bench):
    bench.phone.note(bench.job, "By nobody who works here.", author=bench.phone.device)
    bench.phone.push()
    bench.phone.outbox.clear()
    bench.note("Crankpin 2 blued.")
    report = verify(bench.cut("refused").path)
    assert report.well
    assert any("records 4 to 4 of the job are not shown" in remark for remark in report.remarks)


def test_records_from_before_there_were_links_stay_as_good_as_they_were(bench):
    entry = bench.phone.entry("note_made", bench.job, body={"text": "By an older app."})
    del entry["links"]
    bench.phone.keep(entry)
    send(bench.phone)
    bench.note("By the new one.")
    report = verify(bench.cut("older").path)
    assert report.well and (report.facts["numbered"], report.facts["of_job"]) == (4, 5)


@pytest.mark.parametrize(
    ("spoil", "wanted"),
    [
        (lambda logs: logs["logs"].clear(), "no proof in this pack that it does"),
        (lambda logs: logs["hashes"].reverse(), "it was rewritten after the phone had seen it"),
        (lambda logs: logs.update(hashes="none"), "something else"),
        (lambda logs: logs["logs"][0].update(path=[10_000]), "something else"),
    ],
)
def test_spoilt_proofs_prove_nothing(bench, spoil, wanted):
    top, files = read_pack(bench.cut("whole").path)
    logs = json.loads(files[layout.KNOWN_LOGS])
    spoil(logs)
    files[layout.KNOWN_LOGS] = canonical(logs)
    relist(files)
    report = verify(write(bench.folder / "spoilt.zip", top, files))
    assert not report.well and any(wanted in text for text in found(report, 10))
