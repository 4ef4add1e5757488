"""The exported log of a workshop shows what a pack of it leaves out, and gives away no other job's name."""

from __future__ import annotations

import hashlib
import json
import subprocess
import sys
import zipfile

import pytest

from tests.broken_packs.make import read as read_pack
from tests.broken_packs.make import write
from tests.support.record import send
from tests.support.rewriting import rewrite
from witnessmark.cli import main as command
from witnessmark.db import reading
from witnessmark.log import read
from witnessmark.operate.log_export import export
from witnessmark.pack.build import build
from witnessmark.pack.typeset import Sheet
from witnessmark.proof import exported, layout
from witnessmark.proof.against_log import check_log
from witnessmark.proof.verify import verify
from witnessmark.proof.verify_cli import main
from witnessmark.trade.ground.errors import Refusal

HIDDEN = "Main bearing 3 wiped."


class Workshop:
    """A workshop with two jobs, recorded by turns on two phones."""

    def __init__(self, office, folder):
        self.office, self.folder = office, folder
        self.phone, self.second = office.phone("bay 1"), office.phone("bay 2")
        self.job, self.other = self.phone.open_job("26-301"), self.phone.open_job("26-302")
        self.note(self.job, "First look: sump full of water.")
        self.note(self.other, "Of the next bench.")
        self.phone.note(self.job, author=self.phone.device)
        self.phone.push()
        self.phone.outbox.clear()  # refused: nobody of this name records here
        self.note(self.job, HIDDEN)
        self.note(self.job, "Crankpin 2 blued.", self.second)

    def note(self, job, text, phone=None) -> None:
        (phone or self.phone).note(job, text)
        send(phone or self.phone)

    def cut(self, name: str, job: str = ""):
        (self.folder / name).mkdir()
        with reading(self.office.engine) as conn:
            return build(conn, self.office.settings, job or self.job, "sealed", self.folder / name).path

    def export(self, name: str = "log.jsonl"):
        with reading(self.office.engine) as conn:
            export(conn, self.folder / name)
        return self.folder / name

    def rows(self):
        with reading(self.office.engine) as conn:
            return list(read.whole_log(conn, self.office.workshop.id))

    def position(self, text: str) -> int:
        return next(row.position for row in self.rows() if text_of(row) == text)


@pytest.fixture
def here(office, tmp_path, monkeypatch) -> Workshop:
    # What the report looks like is judged elsewhere; setting it is most of what a pack costs.
    monkeypatch.setattr(Sheet, "print", lambda *_: b"%PDF-1.7 not set here")
    return Workshop(office, tmp_path)


@pytest.fixture
def insider(here, monkeypatch):
    """A pack that the workshop itself cut and sealed, with one record of the job left out."""
    whole = read.job_entries
    with monkeypatch.context() as patch:
        patch.setattr(read, "job_entries", lambda *about: (row for row in whole(*about) if text_of(row) != HIDDEN))
        return here.cut("insider")


def text_of(row) -> str | None:
    return row.entry["body"].get("text")


def changed(log, position, **fields):
    """The log with fields of one line changed, whatever they are."""
    lines = log.read_bytes().splitlines(keepends=True)
    lines[position] = exported.canonical(json.loads(lines[position]) | fields) + b"\n"
    other = log.with_name("changed.jsonl")
    other.write_bytes(b"".join(lines))
    return other


def test_a_whole_pack_is_well_and_later_records_are_not_held_against_it(here, capsys):
    pack = here.cut("pack")
    whole = here.export()
    here.note(here.job, "Oil pump scored.")
    later = here.export("later.jsonl")

    report = check_log(whole, pack)
    assert (report.faults, report.remarks, report.unfinished) == ([], [], {})
    assert report.facts["log_records_of_job"] == 4
    assert check_log(later, pack).well
    assert f"at positions: {here.position('Oil pump scored.')}." in check_log(later, pack).remarks[0]
    assert main(["--log", str(whole), str(pack)]) == 0
    assert capsys.readouterr().out.splitlines()[-1].startswith("Result with the log: no fault found.")
    assert main(["--log", str(later), str(here.cut("of the other", here.other)), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["log"][0]["facts"]["log_records_of_job"] == 2


def test_a_record_that_an_insider_left_out_is_found(here, insider, capsys):
    log, position = here.export(), here.position(HIDDEN)
    (alone,) = verify(insider).faults
    assert alone.found == "3 of them", "the pack alone says that one is missing, and not which"

    (fault,) = check_log(log, insider).faults
    assert fault.path == f"log.jsonl position {position}"
    row = here.rows()[position - 1]
    assert fault.found == (f"not in the pack: Phone A, bay 1, running number {row.sequence}, received {row.received}")
    assert main(["--log", str(log), str(insider)]) == 2
    assert capsys.readouterr().out.splitlines()[-1] == "Result with the log: faults found: 1."


def test_the_first_record_of_the_job_left_out_is_found_too(here, monkeypatch):
    """The mark hangs on that record's signature: without it the rest of the pack still bears witness."""
    whole = read.job_entries
    log, first = here.export(), next(row for row in here.rows() if row.job == here.job)
    with monkeypatch.context() as patch:
        patch.setattr(
            "witnessmark.pack.record.read.job_entries",
            lambda *about: (row for row in whole(*about) if row.position != first.position),
        )
        patch.setattr("witnessmark.pack.build.story_of", story_with(first))
        pack = here.cut("no first")
    report = check_log(log, pack)

    assert [fault.path for fault in report.faults] == ["log.jsonl", f"log.jsonl position {first.position}"]


def story_with(first):
    from witnessmark.pack.story import story_of

    return lambda rows, *rest: story_of([first, *rows], *rest)


def test_whatever_is_changed_in_the_log_is_found(here, insider):
    log, position = here.export(), here.position(HIDDEN)
    other = here.position("Of the next bench.")

    def faults(position, **fields):
        return [str(fault) for fault in check_log(changed(log, position, **fields), pack).faults]

    pack = here.cut("pack")
    assert any("another beginning" in words for words in faults(other, leaf="0" * 64))
    assert any("another root" in words for words in faults(other, leaf="0" * 64))
    assert any(f"position {position}" in words for words in faults(position, leaf="0" * 64))
    assert any("number 2" in words for words in faults(position, number=2))
    assert any("received" in words for words in faults(position, received="2020-01-01T00:00:00.000Z"))
    assert any("another mark" in words for words in faults(position, job="0" * 64))
    assert any("another mark" in words for words in faults(position, job=None))
    assert any("device" in words for words in faults(position, device="somebody"))
    assert any("a second time" in words for words in faults(other, number=1))
    assert any("neither for: " in words for words in faults(other, number=9))
    refused = next(row.position for row in here.rows() if row.entry["kind"] == "entry_refused")
    assert any("neither for: 5" in words for words in faults(refused, refused=None))
    # What nobody but the workshop knows it can say as it likes: that is written in THREATS.md.
    assert check_log(changed(log, position, job="0" * 64), insider).well


ODD = (None, True, 0, -1, 1.5, 2**60, "", "x", "\ud800", [], [1], {}, {"device": 1, "number": 1}, "9" * 5000)


def test_a_log_of_odd_values_is_a_fault_and_never_a_failure(here):
    log, pack = here.export(), here.cut("pack")
    lines = [json.loads(line) for line in log.read_bytes().splitlines()]
    odd = log.with_name("odd.jsonl")
    for number in (0, 2):
        for name in lines[number]:
            for value in ODD:
                if (name, value) in ALLOWED:
                    continue
                other = [*lines[:number], lines[number] | {name: value}, *lines[number + 1 :]]
                odd.write_text("".join(json.dumps(line, separators=(",", ":")) + "\n" for line in other))
                report = check_log(odd, pack)
                assert report.faults and not report.unfinished, (number, name, value)
    whole = log.read_bytes()
    for data in (
        b"",
        b"\n",
        whole[:-1],
        whole[: len(whole) // 2],
        whole + b"\n",
        whole + whole,
        b"\0" * 9999,
        b"[" * 4000,
    ):
        odd.write_bytes(data)
        report = check_log(odd, pack)
        assert report.faults and not report.unfinished, data[:20]


# Without a job, without a refusal: so are most records of the workshop itself.
ALLOWED = [("job", None), ("refused", None)]


def test_a_pack_of_odd_values_is_held_against_the_log_all_the_same(here):
    log = here.export()
    top, files = read_pack(here.cut("pack"))
    line = files[layout.RECEIPTS].splitlines(keepends=True)[-1]
    receipt, about = json.loads(line), json.loads(files[layout.PACK])
    for name in receipt:
        for value in (None, True, -1, [], {}, "x"):
            changed = files[layout.RECEIPTS].replace(line, exported.canonical(receipt | {name: value}) + b"\n")
            report = check_log(log, write(here.folder / "odd.zip", top, files | {layout.RECEIPTS: changed}))
            assert not report.unfinished
    for job in (None, 5, [], {}, "another"):
        changed = exported.canonical(about | {"job": job})
        report = check_log(log, write(here.folder / "odd.zip", top, files | {layout.PACK: changed}))
        assert "cannot be checked against" in report.faults[0].found
    for gone in (layout.HEAD, layout.SERVER_KEY, layout.RECEIPTS, layout.PACK):
        report = check_log(log, write(here.folder / "odd.zip", top, {k: v for k, v in files.items() if k != gone}))
        assert "cannot be checked against" in report.faults[0].found


def test_other_jobs_are_not_recognised_by_trying_their_ids(here):
    lines = here.export().read_bytes().splitlines()[1:]
    marks = {json.loads(line)["job"] for line in lines} - {None}
    assert len(marks) == 2
    for job in (here.job, here.other):
        assert job.encode() not in here.export(f"{job}.jsonl").read_bytes()
        plain = job.encode()
        tried = {hashlib.sha256(salt + plain).hexdigest() for salt in (b"", b"witnessmark job\0")}
        tried |= {hashlib.sha256(plain + end).hexdigest() for end in (b"", b"\n")}
        # Everything else that the export and another job's pack hold, as the key.
        keys = {str(value) for line in lines for value in json.loads(line).values()}
        keys |= {row.signature for row in here.rows() if row.job not in (job,)} | {here.job, here.other, ""}
        tried |= {exported.job_mark(job, key) for key in keys}
        assert not tried & marks
        first = next(row for row in here.rows() if row.job == job)
        assert exported.job_mark(job, first.signature) in marks


def test_a_record_taken_out_of_the_whole_log_leaves_a_gap(here):
    rewrite(here.office, [row for row in here.rows() if text_of(row) != "Of the next bench."])
    (fault,) = check_log(here.export(), here.cut("pack")).faults  # and the refused number is none

    assert fault.expected.startswith("every running number of Phone A, bay 1")
    assert fault.found == "neither for: 4"


def test_an_older_log_and_that_of_another_workshop_are_not_compared(here, packed):
    old = here.export("old.jsonl")
    here.note(here.job, "Later.")
    (fault,) = check_log(old, here.cut("pack")).faults
    assert "an older log of " in fault.found
    assert not check_log(here.export(), packed.sealed.path).well


def test_the_command_writes_the_same_bytes_each_time_and_never_over_a_file(here, capsys):
    data = ["--data", str(here.office.settings.data)]
    first, second = here.folder / "first.jsonl", here.folder / "second.jsonl"
    assert command(["log-export", str(first), *data]) == command(["log-export", str(second), *data]) == 0
    assert first.read_bytes() == second.read_bytes() != b""
    assert HIDDEN.encode() not in first.read_bytes()
    assert command(["log-export", str(first), *data]) == 2
    assert "is there already" in capsys.readouterr().err


def test_a_log_that_is_not_as_it_was_signed_is_not_exported(here):
    rows = here.rows()
    rewrite(here.office, rows)
    with here.office.engine.connect() as conn, conn.begin():
        conn.exec_driver_sql("UPDATE log_entries SET received = '2030-01-01T00:00:00.000Z' WHERE position = 3")
    with pytest.raises(Refusal, match="not as it was signed"):
        here.export()
    assert list(here.folder.glob("log.jsonl*")) == []


def test_the_verifier_in_a_pack_reads_a_log_alone(here, insider):
    with zipfile.ZipFile(insider) as archive:
        name = next(name for name in archive.namelist() if name.endswith(layout.VERIFIER))
        (here.folder / "verify.pyz").write_bytes(archive.read(name))
    done = subprocess.run(
        [sys.executable, "-I", here.folder / "verify.pyz", "--log", here.export(), insider],
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert (done.returncode, done.stderr) == (2, "")
    assert "not in the pack: Phone A" in done.stdout


def test_a_log_that_is_not_there_cannot_be_read(here, capsys):
    assert main(["--log", str(here.folder / "none"), str(here.cut("pack"))]) == 1
    assert capsys.readouterr().err.startswith("The log could not be read: ")
