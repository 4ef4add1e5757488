"""What else a pack could be made to say, and the job told from signed bytes alone."""

from __future__ import annotations

import json
import subprocess
import sys

import pytest

from tests.broken_packs.make import read as read_pack
from tests.broken_packs.make import relist, write
from witnessmark.proof import layout
from witnessmark.proof.canonical import canonical, parse
from witnessmark.proof.verify import verify
from witnessmark.proof.verify_cli import main


def respoken(packed, tmp_path, change):
    """The sealed pack after `change` was done to its files, its lists and seal made again."""
    top, files = read_pack(packed.sealed.path)
    change(files)
    relist(files)
    return verify(write(tmp_path / "changed.zip", top, files))


def found(report, step=13):
    return [(fault.path, fault.found) for fault in report.faults if fault.step == step]


@pytest.mark.parametrize(
    "path", ["data/notes.txt", "data/record/entries.json", "data/originals/a/b.jpg", "run-me.sh", "data/report2.pdf"]
)
def test_a_file_at_a_path_that_no_pack_has_is_named(packed, tmp_path, path):
    report = respoken(packed, tmp_path, lambda files: files.update({path: b"what nobody looked into"}))
    assert (path, "one that this program does not know and has not looked into") in found(report)


def test_a_picture_given_out_as_a_document_is_named(packed, tmp_path):
    def change(files):
        lines = [parse(line) for line in files[layout.MEDIA].splitlines()]
        lines[0] |= {"role": "document", "type": "application/pdf"}
        files[layout.MEDIA] = b"".join(canonical(line) + b"\n" for line in lines)

    assert any(words == "document, application/pdf" for _, words in found(respoken(packed, tmp_path, change)))


def test_a_correction_whose_record_is_hidden_is_named(packed, tmp_path):
    def change(files):
        entries = {path: json.loads(data) for path, data in files.items() if path.startswith(layout.ENTRIES)}
        answer = next(entry for entry in entries.values() if entry["kind"] == "entry_corrected")
        hidden = next(path for path, entry in entries.items() if entry["id"] == answer["body"]["entry"])
        files.pop(hidden)
        lines = files[layout.RECEIPTS].splitlines(keepends=True)
        kept = (line for line in lines if json.loads(line)["position"] != layout.position_of(hidden))
        files[layout.RECEIPTS] = b"".join(kept)

    assert any(words == "none" for _, words in found(respoken(packed, tmp_path, change)))


def test_every_record_is_told_from_its_signed_bytes_and_nothing_of_it_is_drawn_on_the_screen(packed, capsys):
    assert main(["--tell", str(packed.sealed.path)]) == 0
    lines = capsys.readouterr().out.splitlines()
    _, files = read_pack(packed.sealed.path)
    entries = [json.loads(data) for path, data in sorted(files.items()) if path.startswith(layout.ENTRIES)]
    told = [line for line in lines if "  received 20" in line]
    assert len(told) == len(entries)
    bodies = [json.loads(line) for line in lines if line.startswith("    {")]
    assert bodies == [entry["body"] for entry in entries]
    assert all(line.isprintable() for line in lines)
    assert lines[-1] == "Result: no fault found."


def test_the_verifier_in_a_pack_tells_it_too(packed, tmp_path):
    _, files = read_pack(packed.customer.path)
    (tmp_path / "verify.pyz").write_bytes(files[layout.VERIFIER])
    done = subprocess.run(
        [sys.executable, "-I", tmp_path / "verify.pyz", packed.customer.path, "--tell"],
        capture_output=True,
        text=True,
        check=False,
    )
    assert (done.returncode, done.stderr) == (0, "")
    assert "job_opened" in done.stdout
