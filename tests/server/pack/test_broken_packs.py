"""Every way to break a pack is noticed, and named with its check, its place, what was expected and what was found."""

from __future__ import annotations

import json
import shutil
import struct
import warnings
import zipfile

import pytest

from tests.broken_packs.faults import CUSTOMER_FAULTS, SEALED_FAULTS
from tests.broken_packs.make import Fault, break_one, read, relist, write
from witnessmark.proof import layout
from witnessmark.proof.faults import Report, Unreadable
from witnessmark.proof.verify import verify
from witnessmark.proof.verify_cli import main


def fault_lines(report: Report) -> str:
    return "\n".join(map(str, report.faults))


def assert_named(report: Report, fault: Fault) -> None:
    assert fault.steps <= {fault.step for fault in report.faults}, fault_lines(report)
    assert fault.path in fault_lines(report)


@pytest.mark.parametrize("fault", SEALED_FAULTS, ids=lambda fault: fault.name)
def test_a_fault_in_a_sealed_pack_is_named(packed, tmp_path, fault):
    broken = break_one(packed.sealed.path, fault, tmp_path)

    if fault.name == "bagit.txt dropped":
        with pytest.raises(Unreadable, match=layout.BAGIT):
            verify(broken)
        assert main([str(broken)]) == 1
    else:
        assert_named(verify(broken), fault)


def test_the_exit_status_says_that_there_are_faults(packed, tmp_path, capsys):
    assert main([str(break_one(packed.sealed.path, SEALED_FAULTS[0], tmp_path))]) == 2
    assert capsys.readouterr().out.splitlines()[-1].startswith("Result: faults found: ")


@pytest.mark.parametrize("fault", CUSTOMER_FAULTS, ids=lambda fault: fault.name)
def test_a_fault_in_a_customers_pack_is_named(packed, tmp_path, fault):
    assert_named(verify(break_one(packed.customer.path, fault, tmp_path)), fault)


def test_all_faults_are_gathered_not_only_the_first(packed, tmp_path):
    top, files = read(packed.sealed.path)
    for path in (layout.PAGE, layout.READ_ME, layout.HEAD):
        files[path] += b"?"
    report = verify(write(tmp_path / "three.zip", top, files))

    assert {layout.PAGE, layout.READ_ME, layout.HEAD} <= {fault.path for fault in report.faults}


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("{top}/../outside.txt", "path inside"),
        ("/etc/passwd", "path inside"),
        ("{top}/data\\report.pdf", "path inside"),
        ("C:/report.pdf", "path inside"),
        ("{top}/DATA/REPORT.PDF", "each name once"),
        ("{top}/data/report.pdf", "each name once"),
        ("beside.txt", "nothing beside"),
        ("{top}/data/a\x07bell", "path inside"),
    ],
)
def test_a_name_that_could_do_harm_is_named_and_not_followed(packed, tmp_path, name, words):
    top, files = read(packed.sealed.path)
    broken = write(tmp_path / "name.zip", top, files)
    with warnings.catch_warnings(), zipfile.ZipFile(broken, "a") as archive:
        warnings.simplefilter("ignore")  # The same name twice is what is wanted here.
        archive.writestr(name.format(top=top), b"harm")
    report = verify(broken)

    assert any(fault.step == 1 and words in fault.expected for fault in report.faults), fault_lines(report)


def test_a_file_that_unfolds_to_far_more_than_it_weighs_is_not_unfolded(packed, tmp_path):
    top, files = read(packed.sealed.path)
    broken = write(tmp_path / "bomb.zip", top, files)
    with zipfile.ZipFile(broken, "a", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr(f"{top}/data/bomb", bytes(300 << 20))
    report = verify(broken)

    assert any(fault.step == 1 and "bomb" in fault.path for fault in report.faults), fault_lines(report)


def test_a_link_in_an_unpacked_pack_is_named(packed, tmp_path):
    folder = unpacked(packed, tmp_path)
    (folder / "data" / "report.pdf").unlink()
    (folder / "data" / "report.pdf").symlink_to("/etc/hostname")
    report = verify(folder)

    assert any(fault.step == 1 and fault.path == "data/report.pdf" for fault in report.faults), fault_lines(report)


def test_bytes_before_the_zip_are_named(packed, tmp_path):
    broken = tmp_path / "before.zip"
    broken.write_bytes(b"#!/bin/sh\n" + packed.sealed.path.read_bytes())

    assert any(fault.step == 1 for fault in verify(broken).faults)


def test_a_damaged_zip_entry_is_a_fault_of_that_file(packed, tmp_path):
    broken = tmp_path / "crc.zip"
    data = bytearray(packed.sealed.path.read_bytes())
    at = data.index(b"<!doctype html>")
    data[at + 40] ^= 1
    broken.write_bytes(bytes(data))

    assert any(fault.path == layout.PAGE for fault in verify(broken).faults)


@pytest.mark.parametrize(
    "data",
    [b"", b"no zip", struct.pack("<IHHHHIIH", 0x06054B50, 0, 0, 0, 0, 0, 0, 0)],
    ids=["empty", "text", "no files"],
)
def test_what_is_no_pack_cannot_be_read_and_says_so(tmp_path, data, capsys):
    path = tmp_path / "no.zip"
    path.write_bytes(data)

    assert main([str(path)]) == 1
    assert "Could not be read" in capsys.readouterr().err
    assert main([str(tmp_path / "nowhere")]) == 1
    assert main([str(tmp_path)]) == 1


def test_an_unpacked_pack_and_one_zipped_again_are_as_well_as_the_first(packed, tmp_path):
    folder = unpacked(packed, tmp_path)
    again = shutil.make_archive(str(tmp_path / "again"), "zip", folder.parent, folder.name)

    assert verify(folder).faults == []
    assert verify(folder.parent).faults == []
    assert verify(tmp_path / "again.zip").faults == [] and again


def unpacked(packed, tmp_path):
    with zipfile.ZipFile(packed.sealed.path) as archive:
        archive.extractall(tmp_path / "in")
    return next((tmp_path / "in").iterdir())


def test_the_server_one_was_told_of_must_be_the_one_in_the_pack(packed, capsys):
    own = str(verify(packed.sealed.path).facts["server"])

    assert main([str(packed.sealed.path), "--server", own]) == 0
    assert "Result: no fault found." in capsys.readouterr().out
    assert main([str(packed.sealed.path), "--server", "0" * 32, "--json"]) == 2
    assert '"well": false' in capsys.readouterr().out


def test_two_pictures_in_each_others_place_are_named_as_what_they_are(packed, tmp_path):
    top, files = read(packed.sealed.path)
    first, second = sorted(path for path in files if path.startswith(layout.ORIGINALS) and path.endswith(".jpg"))[:2]
    files[first], files[second] = files[second], files[first]
    report = verify(write(tmp_path / "swapped.zip", top, files))

    found = {fault.path: fault.found for fault in report.faults if fault.step == 3}
    assert found == {first: f"the file listed as {second}", second: f"the file listed as {first}"}


def test_a_picture_that_was_changed_is_named_by_its_record_and_place(packed, tmp_path):
    """All lists are made to fit, as somebody would who wants it to pass: the record still names the picture it had."""
    top, files = read(packed.sealed.path)
    values = {
        layout.position_of(path): json.loads(data) for path, data in files.items() if path.startswith(layout.ENTRIES)
    }
    position, photo = next(
        (position, value)
        for position, value in sorted(values.items())
        if value["kind"] == "photo_taken" and value["location"]["place"] == "bore/3"
    )
    changed = next(path for path in files if path.startswith(layout.ORIGINALS) and photo["media"][0]["sha256"] in path)
    files[changed] = files[changed][:-3] + b"x" + files[changed][-2:]
    relist(files)
    report = verify(write(tmp_path / "changed.zip", top, files))

    (expected,) = [fault.expected for fault in report.faults if (fault.step, fault.path) == (11, changed)]
    assert expected.startswith(
        f"the picture of the record at position {position} (bore/3) as it was recorded, SHA-256 "
    )


def test_a_pack_that_was_not_downloaded_whole_says_so(packed, tmp_path, capsys):
    cut = tmp_path / "cut.zip"
    cut.write_bytes(packed.sealed.path.read_bytes()[:-5000])

    assert main([str(cut)]) == 1
    assert "The download may be incomplete" in capsys.readouterr().err
