"""A pack's zip holds its files, their list and nothing else, and says the same of each file in both places.

The layout is that of PKWARE's APPNOTE.TXT, sections 4.3.7 to 4.3.16 and 4.5 (numbers from memory); the judge beside our
own reading is Python's zipfile, which opens each of these and notices nothing.
"""

from __future__ import annotations

import io
import struct
import zipfile

import pytest

from witnessmark.proof.faults import Report
from witnessmark.proof.zips import check_tiling

TEXT = b"Bore 3, scored. " * 20


class Unseekable(io.RawIOBase):
    """Where a zip is written without going back: sizes then stand behind each file."""

    def __init__(self) -> None:
        self.written = b""

    def writable(self) -> bool:
        return True

    def write(self, data) -> int:
        self.written += bytes(data)
        return len(data)


def zipped(out=None, method: int = zipfile.ZIP_STORED, large: bool = False, change=lambda archive: None) -> bytes:
    out = io.BytesIO() if out is None else out
    with zipfile.ZipFile(out, "w", method) as archive:
        archive.writestr("pack/", b"")
        for number in range(1, 4):
            with archive.open(f"pack/file {number}", "w", force_zip64=large) as file:
                file.write(TEXT)
        change(archive)
    return out.written if isinstance(out, Unseekable) else out.getvalue()


def faults(data: bytes) -> list[str]:
    report = Report()
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        check_tiling(archive, report)
    assert all(fault.step == 1 for fault in report.faults)
    return [f"{fault.path}: {fault.found}" for fault in report.faults]


@pytest.mark.parametrize("method", [zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED])
@pytest.mark.parametrize("large", [False, True])
@pytest.mark.parametrize("out", [io.BytesIO, Unseekable])
def test_what_packing_programs_write_holds(method, large, out):
    assert faults(zipped(out(), method, large)) == []


def test_more_files_than_the_short_list_can_count_hold():
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        for number in range(0x10000):
            archive.writestr(str(number), b"")
    assert faults(out.getvalue()) == []


def unlisted(archive: zipfile.ZipFile) -> None:
    archive.filelist = [info for info in archive.filelist if info.filename != "pack/file 2"]


def commented(archive: zipfile.ZipFile) -> None:
    archive.comment = b"call me"


def one_commented(archive: zipfile.ZipFile) -> None:
    archive.infolist()[1].comment = b"call me"


def with_extra(archive: zipfile.ZipFile) -> None:
    archive.infolist()[1].extra = struct.pack("<HH4s", 0xCAFE, 4, b"hide")


def of_broken_extra(archive: zipfile.ZipFile) -> None:
    archive.infolist()[1].extra = b"hid"


def first_in_file(old: bytes, new: bytes):
    return lambda data: data.replace(old, new, 1)


HEADER = struct.pack("<II", len(TEXT), len(TEXT))

SPOILED = {
    "a file that no line lists": (zipped(change=unlisted), "pack/file 3: bytes before it that belong to no file"),
    "a comment": (zipped(change=commented), "the zip's list of contents: more bytes (length: 7)"),
    "a comment beside a file": (zipped(change=one_commented), "pack/file 1: a comment"),
    "data beside a name": (zipped(change=with_extra), "pack/file 1: other data (length in bytes: 4)"),
    "data that is no field": (zipped(change=of_broken_extra), "pack/file 1: other data"),
    "bytes behind the end": (zipped() + b"\0", "the zip's list of contents: more bytes (length: 1)"),
    "bytes before the first": (b"#!/bin/sh\n" + zipped(), "pack/: bytes before it that belong to no file"),
    "another name before the file": (
        first_in_file(b"pack/file 2", b"pack/file 9")(zipped()), "pack/file 2: pack/file 9, length",
    ),
    "another length before the file": (
        first_in_file(HEADER, struct.pack("<II", len(TEXT), 7))(zipped()),
        "pack/file 1: pack/file 1, length in bytes: 7",
    ),
    "another checksum before the file": (
        first_in_file(struct.pack("<I", zipfile.crc32(TEXT)), b"abcd")(zipped()), "or another checksum",
    ),
    "no description behind the file": (
        first_in_file(struct.pack("<I", zipfile.crc32(TEXT)), b"abcd")(zipped(Unseekable())), "or another checksum",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", SPOILED)
def test_what_is_hidden_in_a_zip_is_named(name):
    data, words = SPOILED[name]
    assert any(words in fault for fault in faults(data)), faults(data)
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        assert archive.namelist()


def test_two_lines_that_lead_to_one_file_are_named():
    def twice(archive: zipfile.ZipFile) -> None:
        archive.filelist.append(archive.getinfo("pack/file 1"))

    assert any("an overlap" in fault for fault in faults(zipped(change=twice)))
