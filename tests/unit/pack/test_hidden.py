"""Every place of a file where a camera, a recorder or an editor may have left something that nobody sees or hears: it
does not reach the customer, and the file still shows or plays what it did; or the file is left out with the reason."""

from __future__ import annotations

import io
import struct
import zlib

import pytest
from PIL import Image, ImageCms

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
    riff,
)  # fmt: skip
from witnessmark.pack.redact import CannotClean, clean
from witnessmark.proof import layout, pictures, sounds

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


def picture(kind: str, **options) -> bytes:
    file = io.BytesIO()
    pixels = Image.radial_gradient("L").resize((40, 24))
    Image.merge("RGB", (pixels, pixels.rotate(90), pixels.rotate(180))).save(file, kind, **options)
    return file.getvalue()


JPEG, PNG, WEBP = picture("JPEG"), picture("PNG"), picture("WEBP")
PROFILE = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()


def in_jpeg(marker: int, content: bytes, at: int = 2) -> bytes:
    return JPEG[:at] + struct.pack(">BBH", 0xFF, marker, len(content) + 2) + content + JPEG[at:]


def png(name: bytes, content: bytes) -> bytes:
    return struct.pack(">I", len(content)) + name + content + struct.pack(">I", zlib.crc32(name + content))


def in_png(name: bytes, content: bytes) -> bytes:
    return PNG[:33] + png(name, content) + PNG[33:]


def in_webp(*chunks: bytes, head: bytes = b"") -> bytes:
    return riff(b"WEBP", head, WEBP[12:], *chunks)


def extended(flags: int, surplus: bytes = b"", unused: bytes = bytes(3)) -> bytes:
    return chunk(b"VP8X", bytes([flags]) + unused + b"\x27\0\0\x17\0\0" + surplus)


FRAME = JPEG.index(b"\xff\xc0")
SCAN = JPEG.index(b"\xff\xda")
IDAT = zlib.decompress(b"".join(PNG[part.content] for part in pictures.parts(PNG) if part.name == b"IDAT"))

CLEANED_PICTURES = {
    "JPEG: comment": in_jpeg(0xFE, SECRET),
    "JPEG: false colour profile": in_jpeg(0xE2, b"ICC_PROFILE\0\1\1" + SECRET),
    "JPEG: piece of a colour profile": in_jpeg(0xE2, b"ICC_PROFILE\0\2\3" + SECRET),
    "JPEG: behind a colour profile": in_jpeg(0xE2, b"ICC_PROFILE\0\1\1" + PROFILE + SECRET),
    "JPEG: surplus in the restart interval": in_jpeg(0xDD, b"\0\0" + SECRET),
    "JPEG: number of lines": in_jpeg(0xDC, SECRET),
    "JPEG: conditioning of another coder": in_jpeg(0xCC, SECRET),
    "JPEG: quantisation table that nothing uses": in_jpeg(0xDB, b"\3" + (SECRET * 3)[:64]),
    "JPEG: quantisation table that another replaces": in_jpeg(0xDB, b"\0" + (SECRET * 3)[:64]),
    "JPEG: Huffman table that nothing uses": in_jpeg(0xC4, b"\3" + bytes(15) + bytes([len(SECRET)]) + SECRET),
    "JPEG: second JFIF": in_jpeg(0xE0, b"JFIF\0\1\1\0\0\1\0\1\0\0" + SECRET, at=20),
    "JPEG: Adobe's note": in_jpeg(0xEE, b"Adobe\0\x64" + SECRET[:4] + b"\1" + SECRET),
    "JPEG: surplus in the frame's head": (
        JPEG[: FRAME + 2]
        + struct.pack(">H", 17 + len(SECRET))
        + JPEG[FRAME + 4 : FRAME + 19] + SECRET + JPEG[FRAME + 19 :]
    ),
    "JPEG: behind the end": JPEG + SECRET,
    "PNG: text": in_png(b"tEXt", b"a\0" + SECRET),
    "PNG: false colour profile": in_png(b"iCCP", b"x\0\0" + SECRET),
    "PNG: name of the colour profile": in_png(b"iCCP", SECRET + b"\0\0" + zlib.compress(PROFILE)),
    "PNG: background of another length": in_png(b"bKGD", SECRET),
    "PNG: transparency of another length": in_png(b"tRNS", SECRET),
    "PNG: palette where none is used": in_png(b"PLTE", SECRET),
    "PNG: primaries that are none": in_png(b"cHRM", SECRET + SECRET[:8]),
    "PNG: animation of no picture": in_png(b"acTL", SECRET[:8]) ,
    "PNG: second density": in_png(b"pHYs", bytes(9)).replace(PNG[33:], png(b"pHYs", SECRET[:9]) + PNG[33:]),
    "PNG: in the end": PNG[:-12] + png(b"IEND", SECRET),
    "PNG: behind the end": PNG + SECRET,
    "WebP: behind the end": WEBP + SECRET,
    "WebP: unknown chunk": in_webp(chunk(b"zzzz", SECRET)),
    "WebP: false colour profile": in_webp(chunk(b"ICCP", SECRET), head=extended(0x20)),
    "WebP: colour profile without a head": in_webp(chunk(b"ICCP", SECRET)),
    "WebP: surplus in the head": in_webp(head=extended(0, SECRET)),
    "WebP: unused bytes of the head": in_webp(head=extended(0, b"", SECRET[:3])),
}  # fmt: skip

LEFT_OUT_PICTURES = {
    "JPEG: surplus in the scan's head": (
        JPEG[: SCAN + 2] + struct.pack(">H", 12 + len(SECRET)) + JPEG[SCAN + 4 : SCAN + 14] + SECRET + JPEG[SCAN + 14 :]
    ),
    "JPEG: second frame": in_jpeg(0xC1, SECRET),
    "JPEG: a segment that is none": in_jpeg(0x01, SECRET),
    "JPEG: hierarchy": in_jpeg(0xDE, SECRET),
    "JPEG: quantisation table cut off": in_jpeg(0xDB, SECRET),
    "JPEG: table behind the scan": in_jpeg(0xDB, b"\3" + (SECRET * 3)[:64], at=len(JPEG) - 2),
    "JPEG: restart interval behind the scan": in_jpeg(0xDD, b"\0\0" + SECRET, at=len(JPEG) - 2),
    "PNG: frames of an animation": PNG[:-12] + png(b"fdAT", SECRET) + PNG[-12:],
    "PNG: surplus in its head": PNG[:8] + png(b"IHDR", PNG[16:29] + SECRET) + PNG[33:],
    "PNG: pixels with a wrong checksum": PNG[:-16] + SECRET[:4] + PNG[-12:],
    "PNG: a line more than it shows": (
        PNG[:33] + png(b"IDAT", zlib.compress(IDAT + SECRET, 0)) + PNG[-12:]
    ),
    "WebP: stray transparency": in_webp(chunk(b"ALPH", SECRET)),
    "WebP: second picture": in_webp(chunk(b"VP8 ", SECRET)),
    "WebP: moving picture": in_webp(chunk(b"ANMF", SECRET)),
}  # fmt: skip


@pytest.mark.parametrize("place", CLEANED_PICTURES)
def test_what_is_hidden_in_a_picture_does_not_reach_the_customer(place):
    original = CLEANED_PICTURES[place]
    copy = clean(original)

    assert SECRET[:3] in original and SECRET[:3] not in copy.data
    assert copy.removed and clean(copy.data).data == copy.data
    assert copy.scan_sha256 == pictures.scan_hash(original) == pictures.scan_hash(copy.data)
    plain = {"JPEG": JPEG, "PNG": PNG, "WebP": WEBP}[place.partition(":")[0]]
    with Image.open(io.BytesIO(copy.data)) as shown, Image.open(io.BytesIO(plain)) as plain:
        assert shown.convert("RGB").tobytes() == plain.convert("RGB").tobytes()


@pytest.mark.parametrize("place", LEFT_OUT_PICTURES)
def test_a_picture_that_cannot_be_cleaned_is_left_out_with_the_reason(place):
    assert SECRET[:4] in LEFT_OUT_PICTURES[place]
    with pytest.raises(CannotClean) as refusal:
        clean(LEFT_OUT_PICTURES[place])
    assert str(refusal.value)


def test_a_copy_cleaned_by_the_first_rule_is_judged_by_it():
    """False colour profiles and unused tables stayed in: a pack from before December 2026 is no worse for it."""
    for place in ("JPEG: false colour profile", "JPEG: quantisation table that nothing uses", "PNG: in the end"):
        original = CLEANED_PICTURES[place]
        assert pictures.leftovers(original, rule=layout.RULES[0]) == []
        assert pictures.leftovers(original)
