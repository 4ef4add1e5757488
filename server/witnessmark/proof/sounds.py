"""The places in a sound file that hold words about it (title, place, device, pictures), for the containers that
phones and browsers record: MP4, WebM, Ogg Opus, WAV.

A copy for the customer has these places overwritten with what the container's standard calls padding, byte for byte
of the same length, so that nothing else moves. The *scan hash* is SHA-256 over all other bytes: equal for an original
and its cleaned copy.

Which places these are is a matter of the rule (layout.RULES) that the copy's record names. The first, in this file,
knew the places where recorders write words; the second knows what a player needs, and all else is a place for words.
"""

from __future__ import annotations

import hashlib

from witnessmark.proof import layout, mp4, ogg, wav, webm
from witnessmark.proof.containers import Words, ogg_comments, ogg_page_end, vint, void
from witnessmark.proof.sentences import say

MP4, WEBM, OGG, WAV = "mp4", "webm", "ogg", "wav"


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


def words(data: bytes, rule: int = layout.RULE) -> list[Words]:
    """All such places by `rule`, in order. Raises ValueError for a file of another sort, with more than sound in it, or
    whose words about itself cannot be told apart from the rest."""
    first = {MP4: _mp4, WEBM: _webm, OGG: _ogg, WAV: _wav}
    second = {MP4: mp4.places, WEBM: webm.places, OGG: ogg.places, WAV: wav.places}
    find = (first if rule == 1 else second).get(sort_of(data) or "")
    if find is None:
        raise ValueError(say("proof.sound.unknown"))
    return find(data)


def scan_hash(data: bytes, rule: int = layout.RULE) -> str:
    """SHA-256 over everything but the places for words, in hexadecimal. Raises ValueError as `words` does."""
    digest, at = hashlib.sha256(), 0
    for place in words(data, rule):
        digest.update(data[at : place.start])
        at = place.end
    digest.update(data[at:])
    return digest.hexdigest()


def leftovers(data: bytes, rule: int = layout.RULE) -> list[str]:
    """The places that are not blank, in words; empty for a cleaned copy. Raises ValueError."""
    return [
        say("proof.common.with_length", name=place.name, length=place.end - place.start)
        for place in words(data, rule)
        if data[place.start : place.end] != place.blank
    ]


def blanked(data: bytes, rule: int = layout.RULE) -> bytes:
    """The file with every place for words blank, of the same length. Raises ValueError."""
    whole = bytearray(data)
    for place in words(data, rule):
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
        number, at = vint(data, at, keep_marker=True)
        size, after = vint(data, at, keep_marker=False)
        unknown = size == (1 << 7 * (after - at)) - 1
        if number in _WEBM_INTO:
            at = after
            continue
        if unknown:
            raise ValueError(say("proof.sound.no_end", at=start))
        # A recording that was broken off ends within its last element.
        at = min(after + size, len(data))
        if number in _WEBM_WORDS:
            result.append(Words(say(_WEBM_WORDS[number]), start, at, void(at - start)))
        if number == 0x83 and data[after:at] == b"\x01":
            raise ValueError(say("proof.sound.more"))
    # Elements inside a track entry are read as if they followed it, so a track's type (83) is met as well.
    return result


def _ogg(data: bytes) -> list[Words]:
    # RFC 3533 and RFC 7845: the second page of an Opus stream holds its comments, alone.
    return ogg_comments(data, ogg_page_end(data, 0))


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
