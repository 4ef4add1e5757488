"""Every place of a file where a camera, a recorder or an editor may have left something that nobody sees or hears: it
does not reach the customer, and the file still shows or plays what it did; or the file is left out with the reason."""

from __future__ import annotations

import struct

import pytest

from tests.support.sound_files import (
    THE_SOUND,
    a_wav,
    a_webm,
    an_mp4,
    an_ogg,
    box,
    chunk,
    element,
    page,
)  # fmt: skip
from witnessmark.pack.redact import CannotClean, clean
from witnessmark.proof import sounds

SECRET = b"SECRET-OWNER-51.5N-0.1W-"
WORDS = element("7ba9", SECRET)

CLEANED = {
    "WebM: title": a_webm(in_info=WORDS),
    "WebM: program that wrote the container": a_webm(in_info=element("4d80", SECRET)),
    "WebM: program that wrote it": a_webm(in_info=element("5741", SECRET)),
    "WebM: date": a_webm(in_info=element("4461", SECRET)),
    "WebM: number of the recording": a_webm(in_info=element("73a4", SECRET)),
    "WebM: unknown among the facts": a_webm(in_info=element("4f4f", SECRET)),
    "WebM: tags": a_webm(in_segment=element("1254c367", SECRET)),
    "WebM: tags, in a segment without length": a_webm(in_segment=element("1254c367", SECRET), whole=False),
    "WebM: attachments": a_webm(in_segment=element("1941a469", SECRET)),
    "WebM: chapters": a_webm(in_segment=element("1043a770", SECRET)),
    "WebM: checksum": a_webm(in_segment=element("bf", SECRET)),
    "WebM: second facts": a_webm(in_segment=element("1549a966", WORDS)),
    "WebM: name of the track": a_webm(in_track=element("536e", SECRET)),
    "WebM: name of the coder": a_webm(in_track=element("258688", SECRET)),
    "WebM: second number of the track": a_webm(in_track=element("d7", SECRET)),
    "WebM: Void in the head": a_webm(in_head=element("ec", SECRET)),
    "WebM: Void in a cluster": a_webm(in_cluster=element("ec", SECRET)),
    "WebM: frames of a track that is not there": a_webm(in_cluster=element("a3", b"\x85\0\0\x80" + SECRET)),
    "WebM: frames without a track": a_webm(in_cluster=element("a3", b"\0" + SECRET)),
    "WebM: index that leads nowhere": a_webm(
        in_segment=element("114d9b74", element("4dbb", element("53ab", SECRET[:4]) + element("ec", SECRET)))
    ),
    "WebM: cue that leads nowhere": a_webm(in_segment=element("1c53bb6b", element("bb", element("ec", SECRET)))),
    "WebM: behind the end": a_webm(behind=SECRET),
    "Ogg: comments": an_ogg(vendor=SECRET),
    "Ogg: behind the end": an_ogg(behind=SECRET),
    "MP4: user data of the track": an_mp4(in_track=box(b"udta", SECRET)),
    "MP4: name of the handler": an_mp4(name=SECRET + b"\0"),
    "MP4: unknown box": an_mp4(behind=box(b"zzzz", SECRET)),
    "MP4: unknown box in the track": an_mp4(in_track=box(b"zzzz", SECRET)),
    "MP4: download information": an_mp4(behind=box(b"pdin", SECRET)),
    "MP4: brands": an_mp4(brands=SECRET),
    "MP4: second head": an_mp4(in_movie=box(b"mvhd", SECRET)),
    "MP4: when it was made": an_mp4(made=SECRET[:8]),
    "MP4: data that no sample uses": an_mp4(in_data=SECRET),
    "MP4: a box of data that no sample uses": an_mp4(behind=box(b"mdat", SECRET)),
    "WAV: list of facts": a_wav(more=chunk(b"LIST", SECRET)),
    "WAV: unknown chunk": a_wav(more=chunk(b"zzzz", SECRET)),
    "WAV: second data": a_wav(more=chunk(b"data", SECRET)),
    "WAV: false fact": a_wav(fact=chunk(b"fact", SECRET)),
    "WAV: behind the end": a_wav(behind=SECRET),
}  # fmt: skip

LEFT_OUT = {
    "PDF document": b"%PDF-1.7\n" + SECRET,
    "WebM: time unit that is none": a_webm(in_info=element("4489", SECRET)),
    "WebM: coder's head that is none": a_webm(in_track=element("63a2", SECRET)),
    "WebM: frames coded once more": a_webm(in_track=element("6d80", SECRET)),
    "WebM: second track": a_webm(second=element("ae", element("83", b"\x11") + element("536e", SECRET))),
    "WebM: second recording behind the first": a_webm(behind=a_webm(in_info=WORDS)),
    "Ogg: second stream's comments": an_ogg(behind=an_ogg(vendor=SECRET, serial=2)),
    "Ogg: same stream once more": an_ogg(behind=an_ogg(vendor=SECRET)),
    "Ogg: page of another stream": an_ogg()[:-44] + page(2, SECRET, 0, 2) + page(3, THE_SOUND, 4, 1, 960),
    "Ogg: page with a wrong checksum": an_ogg().replace(THE_SOUND, SECRET[:16]),
    "Ogg: surplus in the head": an_ogg(in_head=SECRET),
    "MP4: surplus in the table of sizes": an_mp4(sizes=SECRET),
    "MP4: behind the end": an_mp4(behind=SECRET),
    "MP4: surplus in the coder's head": an_mp4(
        coding=box(
            b"stsd", struct.pack(">II", 0, 1), box(b"Opus", bytes(7), b"\1", bytes(20), box(b"dOps", bytes(11), SECRET))
        )
    ),
    "WAV: surplus in the format": a_wav(in_format=struct.pack("<H", len(SECRET)) + SECRET),
}  # fmt: skip


@pytest.mark.parametrize("place", CLEANED)
def test_what_is_hidden_does_not_reach_the_customer(place):
    original = CLEANED[place]
    copy = clean(original)

    assert SECRET[:8] in original and SECRET[:8] not in copy.data
    assert copy.removed and clean(copy.data).data == copy.data
    assert THE_SOUND in copy.data and copy.scan_sha256 == sounds.scan_hash(original)


@pytest.mark.parametrize("place", LEFT_OUT)
def test_what_cannot_be_cleaned_is_left_out_with_the_reason(place):
    assert SECRET[:8] in LEFT_OUT[place]
    with pytest.raises(CannotClean) as refusal:
        clean(LEFT_OUT[place])
    assert str(refusal.value) and SECRET.decode()[:8] not in str(refusal.value)


@pytest.mark.parametrize("plain", [a_webm(), a_webm(whole=False), an_ogg(), an_mp4(), a_wav()])
def test_a_recording_without_words_comes_out_with_its_sound(plain):
    copy = clean(plain)
    assert THE_SOUND in copy.data and len(copy.data) == len(plain)
