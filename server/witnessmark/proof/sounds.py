"""The places in a sound file that hold words about it (title, place, device, pictures), for the containers that
phones and browsers record: MP4, WebM, Ogg Opus, WAV.

A copy for the customer has these places overwritten with what the container's standard calls padding, byte for byte
of the same length, so that nothing else moves. The *scan hash* is SHA-256 over all other bytes: equal for an original
and its cleaned copy.
"""

from __future__ import annotations

import hashlib
import struct
from typing import NamedTuple

from witnessmark.proof.sentences import say

MP4, WEBM, OGG, WAV = "mp4", "webm", "ogg", "wav"


class Words(NamedTuple):
    """A place that may hold words, and what stands there when it holds none."""

    name: str
    start: int
    end: int
    blank: bytes


def sort_of(data: bytes) -> str | None:
    """Which of the containers handled here `data` is, by its first bytes; None for any other."""
    if data[4:8] == b"ftyp":
        return MP4
    if data[:4] == b"\x1aE\xdf\xa3":
        return WEBM
    if data[:4] == b"OggS":
        return OGG
    if data[:4] == b"RIFF" and data[8:12] == b"WAVE":
        return WAV
    return None


def words(data: bytes) -> list[Words]:
    """All such places, in order. Raises ValueError for a file of another sort, with more than sound in it, or whose
    words about itself cannot be told apart from the rest."""
    find = {MP4: _mp4, WEBM: _webm, OGG: _ogg, WAV: _wav}.get(sort_of(data) or "")
    if find is None:
        raise ValueError(say("proof.sound.unknown"))
    return find(data)


def scan_hash(data: bytes) -> str:
    """SHA-256 over everything but the places for words, in hexadecimal. Raises ValueError as `words` does."""
    digest, at = hashlib.sha256(), 0
    for place in words(data):
        digest.update(data[at : place.start])
        at = place.end
    digest.update(data[at:])
    return digest.hexdigest()


def leftovers(data: bytes) -> list[str]:
    """The places that are not blank, in words; empty for a cleaned copy. Raises ValueError."""
    return [
        say("proof.common.with_length", name=place.name, length=place.end - place.start)
        for place in words(data)
        if data[place.start : place.end] != place.blank
    ]


def blanked(data: bytes) -> bytes:
    """The file with every place for words blank, of the same length. Raises ValueError."""
    whole = bytearray(data)
    for place in words(data):
        whole[place.start : place.end] = place.blank
    return bytes(whole)


# ISO 14496-12: boxes with boxes in them that may hold user data, and the boxes that do.
_MP4_INTO = {b"moov", b"trak", b"mdia", b"moof", b"traf"}
_MP4_WORDS = {b"udta", b"meta", b"uuid", b"free", b"skip"}


def _mp4(data: bytes) -> list[Words]:
    result, at, tracks = [], 0, 0
    while at < len(data):
        size, name, header = int.from_bytes(data[at : at + 4], "big"), data[at + 4 : at + 8], 8
        if size == 1:
            size, header = int.from_bytes(data[at + 8 : at + 16], "big"), 16
        end = len(data) if size == 0 else at + size
        if len(name) < 4 or end > len(data) or end < at + header:
            raise ValueError(say("proof.sound.box", at=at))
        if name == b"hdlr":
            tracks += 1
            if data[at + 16 : at + 20] != b"soun":
                raise ValueError(say("proof.sound.more"))
        if name in _MP4_WORDS:
            if header == 16:
                raise ValueError(say("proof.sound.four_gigabytes"))
            result.append(Words(name.decode(), at + 4, end, b"free" + bytes(end - at - 8)))
        at = at + header if name in _MP4_INTO else end
    if not tracks:
        # HEIC and its like are made of the same boxes: their picture hangs on the very box that would be blanked.
        raise ValueError(say("proof.sound.no_sound"))
    return result


# RFC 9559 (Matroska): element numbers.
_WEBM_INTO = {0x18538067, 0x1F43B675, 0x1549A966, 0x1654AE6B, 0xAE}
_WEBM_WORDS = {
    0x1254C367: "proof.sound.tags", 0x1941A469: "proof.sound.attachments", 0xEC: "proof.sound.void",
    0x7BA9: "proof.sound.title", 0x7384: "proof.sound.file_name", 0x536E: "proof.sound.name",
}  # fmt: skip


def _webm(data: bytes) -> list[Words]:
    result, at = [], 0
    while at < len(data):
        start = at
        number, at = _vint(data, at, keep_marker=True)
        size, after = _vint(data, at, keep_marker=False)
        unknown = size == (1 << 7 * (after - at)) - 1
        if number in _WEBM_INTO:
            at = after
            continue
        if unknown:
            raise ValueError(say("proof.sound.no_end", at=start))
        # A recording that was broken off ends within its last element.
        at = min(after + size, len(data))
        if number in _WEBM_WORDS:
            result.append(Words(say(_WEBM_WORDS[number]), start, at, _void(at - start)))
        if number == 0x83 and data[after:at] == b"\x01":
            raise ValueError(say("proof.sound.more"))
    # Elements inside a track entry are read as if they followed it, so a track's type (83) is met as well.
    return result


def _vint(data: bytes, at: int, keep_marker: bool) -> tuple[int, int]:
    if at >= len(data) or not data[at]:
        raise ValueError(say("proof.sound.no_element", at=at))
    width = 9 - data[at].bit_length()
    value = int.from_bytes(data[at : at + width], "big")
    return (value if keep_marker else value - (1 << 7 * width)), at + width


def _void(length: int) -> bytes:
    if length < 9:
        return b"\xec" + bytes([0x80 | (length - 2)]) + bytes(length - 2)
    return b"\xec\x01" + (length - 9).to_bytes(7, "big") + bytes(length - 9)


def _ogg(data: bytes) -> list[Words]:
    # RFC 3533 and RFC 7845: the second page of an Opus stream holds its comments, alone.
    first = _ogg_page_end(data, 0)
    end = _ogg_page_end(data, first)
    lacing = data[first + 27 : first + 27 + data[first + 26]]
    start = first + 27 + len(lacing)
    if data[start : start + 8] != b"OpusTags" or lacing[-1:] == b"\xff" or any(size < 255 for size in lacing[:-1]):
        raise ValueError(say("proof.sound.mixed"))
    length = end - start
    packet = b"OpusTags" + struct.pack("<I", length - 16) + b" " * (length - 16) + bytes(4)
    page = data[first : first + 22] + bytes(4) + data[first + 26 : start] + packet
    checksum = struct.pack("<I", _ogg_checksum(page))
    return [
        Words(say("proof.sound.checksum"), first + 22, first + 26, checksum),
        Words(say("proof.sound.comments"), start, end, packet),
    ]


def _ogg_page_end(data: bytes, at: int) -> int:
    if data[at : at + 4] != b"OggS" or at + 27 > len(data):
        raise ValueError(say("proof.sound.no_page", at=at))
    count = data[at + 26]
    end = at + 27 + count + sum(data[at + 27 : at + 27 + count])
    if end > len(data):
        raise ValueError(say("proof.sound.cut"))
    return end


def _ogg_checksum(page: bytes) -> int:
    # RFC 3533: polynomial 04C11DB7, no reflection, start and end with zero.
    value = 0
    for byte in page:
        value ^= byte << 24
        for _ in range(8):
            value = ((value << 1) ^ 0x04C11DB7 if value & 0x80000000 else value << 1) & 0xFFFFFFFF
    return value


def _wav(data: bytes) -> list[Words]:
    result, at, end = [], 12, min(8 + int.from_bytes(data[4:8], "little"), len(data))
    while at + 8 <= end:
        name, size = data[at : at + 4], int.from_bytes(data[at + 4 : at + 8], "little")
        after = min(at + 8 + size, len(data))
        if name not in (b"fmt ", b"data", b"fact"):
            title = name.decode("ascii", "replace").strip()
            result.append(Words(title, at, at + 4, b"JUNK"))
            result.append(Words(title, at + 8, after, bytes(after - at - 8)))
        at = after + (size & 1)
    if at < len(data):
        result.append(Words(say("proof.sound.after_end"), at, len(data), bytes(len(data) - at)))
    return result
