"""Step (1) for a zip: its files, its list of contents and the end of it lie one after the other and fill it exactly.

Programs that open zips read only the list at the end. Bytes that no line of it leads to, or a file that says another
thing of itself than the list does, could be shown by one program and hidden by the next.
"""

from __future__ import annotations

import struct
import zipfile
from typing import BinaryIO

from witnessmark.proof.faults import Report
from witnessmark.proof.sentences import say

LOCAL, CENTRAL, END, END_64, LOCATOR, DESCRIPTOR = (
    b"PK\3\4", b"PK\1\2", b"PK\5\6", b"PK\6\6", b"PK\6\7", b"PK\7\x08"
)  # fmt: skip
_local = struct.Struct("<4s2xHH4xIIIHH")  # signature, flags, method, CRC, stored, length, length of name and of extra
_central = struct.Struct("<4s24xHHH12x")  # signature, length of name, of extra, of comment
UTF8, DESCRIBED = 0x800, 0x8
IN_EXTRA = 0xFFFFFFFF
SIZES = 0x0001
# What may stand beside a name: sizes beyond four gigabytes, and the times and owners that packing programs add.
EXTRA_KEPT = {SIZES, 0x000A, 0x5455, 0x5855, 0x7855, 0x7875}
LENGTH_OF_END, LENGTH_OF_END_64 = 22, 56 + 20


def check_tiling(archive: zipfile.ZipFile, report: Report) -> None:
    """Faults for everything in the file beside its members, its list of contents and its end, and for every member
    that says another thing of itself than the list does."""
    file, at = archive.fp, 0
    for info in sorted(archive.infolist(), key=lambda info: info.header_offset):
        name = info.orig_filename
        if info.header_offset != at:
            _misplaced(name, info.header_offset - at, report)
        at = _check_member(file, info, report)
    if archive.start_dir != at:
        _misplaced(say("proof.zip.list"), archive.start_dir - at, report)
    _check_end(file, archive, report)


def _misplaced(name: str, length: int, report: Report) -> None:
    fault = say("proof.zip.gap", length=length) if length > 0 else say("proof.zip.overlap")
    report.fault(1, name, say("proof.zip.one_after_another"), fault)


def _check_member(file: BinaryIO, info: zipfile.ZipInfo, report: Report) -> int:
    """Where the member ends, after what it says of itself was held against the list."""
    name = info.orig_filename
    header = _read(file, info.header_offset, _local.size)
    if len(header) < _local.size or header[:4] != LOCAL:
        report.fault(1, name, say("proof.zip.same"), say("proof.common.something_else"))
        return info.header_offset + _local.size + info.compress_size
    _, flags, method, crc, stored, length, name_length, extra_length = _local.unpack(header)
    rest = _read(file, info.header_offset + _local.size, name_length + extra_length)
    extra = _extra(rest[name_length:])
    own_name = rest[:name_length].decode("utf-8" if flags & UTF8 else "cp437", "replace")
    if SIZES in extra and IN_EXTRA in (stored, length):
        large = [int.from_bytes(extra[SIZES][at : at + 8], "little") for at in (0, 8)]
        length, stored = (large.pop(0) if size == IN_EXTRA else size for size in (length, stored))
    listed, stated = (info.CRC, info.compress_size, info.file_size), (crc, stored, length)
    end = info.header_offset + _local.size + name_length + extra_length + info.compress_size
    if flags & DESCRIBED:
        described = _descriptor_length(_read(file, end, 24), listed)
        end, stated = end + described, listed if described else stated
    if (own_name, method, flags & 1, *stated) != (name, info.compress_type, info.flag_bits & 1, *listed):
        report.fault(1, name, say("proof.zip.same"), say("proof.zip.differs", name=own_name, length=stated[2]))
    _check_extra(name, extra, report)
    _check_extra(name, _extra(info.extra), report)
    if info.comment:
        report.fault(1, name, say("proof.zip.no_comment"), say("proof.zip.comment", length=len(info.comment)))
    return end


def _descriptor_length(data: bytes, listed: tuple[int, int, int]) -> int:
    """How long the description after a member is that was written without knowing its length before; 0 if none is
    there. Programs write it with a signature or without, with short sizes or with long ones."""
    for form in ("<III", "<IQQ"):
        try:
            wanted = struct.pack(form, *listed)
        except struct.error:
            continue
        for start in (DESCRIPTOR, b""):
            if data.startswith(start + wanted):
                return len(start + wanted)
    return 0


def _check_end(file: BinaryIO, archive: zipfile.ZipFile, report: Report) -> None:
    """The list of contents has a line for each member, and the file ends with it."""
    at = archive.start_dir
    for info in archive.infolist():
        header = _read(file, at, _central.size)
        if len(header) < _central.size or header[:4] != CENTRAL:
            report.fault(1, info.orig_filename, say("proof.zip.line"), say("proof.common.something_else"))
            return
        at += _central.size + sum(_central.unpack(header)[1:])
    if _read(file, at, 4) == END_64:
        if struct.unpack("<Q", _read(file, at + 4, 8).ljust(8, b"\0"))[0] != 44 or _read(file, at + 56, 4) != LOCATOR:
            report.fault(1, say("proof.zip.list"), say("proof.zip.end"), say("proof.common.something_else"))
            return
        at += LENGTH_OF_END_64
    length = file.seek(0, 2)
    if _read(file, at, 4) != END:
        report.fault(1, say("proof.zip.list"), say("proof.zip.end"), say("proof.common.something_else"))
    elif (beyond := length - at - LENGTH_OF_END) != 0:
        report.fault(1, say("proof.zip.list"), say("proof.zip.end"), say("proof.zip.more", length=beyond))


def _extra(data: bytes) -> dict[int, bytes]:
    """The fields beside a name by their types; what cannot be told apart is one of a type that nobody has."""
    fields, at = {}, 0
    while at < len(data):
        sort, length = int.from_bytes(data[at : at + 2], "little"), int.from_bytes(data[at + 2 : at + 4], "little")
        if at + 4 + length > len(data) or sort in fields:
            return fields | {-1: data[at:]}
        fields[sort] = data[at + 4 : at + 4 + length]
        at += 4 + length
    return fields


def _check_extra(name: str, fields: dict[int, bytes], report: Report) -> None:
    for sort in sorted(set(fields) - EXTRA_KEPT):
        report.fault(1, name, say("proof.zip.extra"), say("proof.zip.other_extra", length=len(fields[sort])))


def _read(file: BinaryIO, at: int, length: int) -> bytes:
    file.seek(at)
    return file.read(length)
