"""Copies for the customer: nothing of place, device or owner is left, and not one pixel is touched."""

from __future__ import annotations

import random
import struct
import zlib
from io import BytesIO

import pytest
from PIL import Image, ImageCms, PngImagePlugin, features
from PIL.TiffImagePlugin import IFDRational

from tests.support.cases import all_cases
from witnessmark.pack.redact import CannotClean, clean, orientation_of
from witnessmark.proof import pictures

SEEDS = (b"SEED-GPS", b"SEED-COMMENT", b"SEED-MAKER", b"SEED-XMP", b"SEED-OWNER", b"SEED-TRAILER", b"SEED-SERIAL")


def a_picture(size: tuple[int, int] = (120, 80)) -> Image.Image:
    """Something with corners that differ, so that a turned picture would be seen to be turned."""
    chance = random.Random(4)
    picture = Image.new("RGB", size)
    picture.putdata([(x * 2, y * 3, chance.randrange(256)) for y in range(size[1]) for x in range(size[0])])
    return picture


def an_exif(orientation: int) -> Image.Exif:
    exif = Image.Exif()
    exif[0x0112] = orientation
    exif[0x013B] = "SEED-OWNER"
    exif[0x8825] = {1: "N", 2: (IFDRational(54), IFDRational(58), IFDRational(12)), 0x1D: "SEED-GPS"}
    exif[0x8769] = {0x927C: b"SEED-MAKER" * 20, 0xA431: "SEED-SERIAL"}
    return exif


def a_jpeg(orientation: int = 1, progressive: bool = False, **more) -> bytes:
    file = BytesIO()
    a_picture().save(
        file,
        "JPEG",
        quality=90,
        progressive=progressive,
        exif=an_exif(orientation),
        comment="SEED-COMMENT",
        xmp=b"<x:xmpmeta>SEED-XMP</x:xmpmeta>",
        **more,
    )
    return file.getvalue()


def a_png(orientation: int = 1) -> bytes:
    file, text = BytesIO(), PngImagePlugin.PngInfo()
    text.add_text("Comment", "SEED-COMMENT")
    text.add_itxt("XML:com.adobe.xmp", "SEED-XMP")
    a_picture().save(file, "PNG", pnginfo=text, exif=an_exif(orientation))
    return file.getvalue()


def a_webp(orientation: int = 1, lossless: bool = False) -> bytes:
    file = BytesIO()
    a_picture().save(
        file, "WEBP", lossless=lossless, exif=an_exif(orientation), xmp=b"SEED-XMP", icc_profile=b"x" * 200
    )
    return file.getvalue()


def shown(data: bytes) -> tuple[bytes, int]:
    """The pixels, and which way up: as Pillow, an outside judge, reads them."""
    with Image.open(BytesIO(data)) as picture:
        return picture.convert("RGB").tobytes(), picture.getexif().get(0x0112, 1)


KINDS = {
    "jpeg": a_jpeg,
    "progressive jpeg": lambda orientation=1: a_jpeg(orientation, progressive=True),
    "jpeg with a film behind it": lambda orientation=1: a_jpeg(orientation) + b"\0\0\0\x18ftypmp42 SEED-TRAILER",
    "jpeg with a second picture behind it": lambda orientation=1: a_jpeg(orientation) + a_jpeg(3),
    "png": a_png,
    "png with something behind it": lambda orientation=1: a_png(orientation) + b"SEED-TRAILER",
    "webp": a_webp,
    "lossless webp": lambda orientation=1: a_webp(orientation, lossless=True),
}


@all_cases("orientation", range(1, 9))
@all_cases("kind", KINDS)
def test_the_words_go_and_every_pixel_stays_the_same_way_up(kind, orientation):
    assert features.check("webp")
    original = KINDS[kind](orientation=orientation)
    copy = clean(original)

    assert any(seed in original for seed in SEEDS)
    assert not [seed for seed in SEEDS if seed in copy.data]
    assert b"GPS" not in copy.data and len(copy.data) < len(original)
    assert shown(original) == shown(copy.data)
    assert copy.scan_sha256 == pictures.scan_hash(original) == pictures.scan_hash(copy.data)
    assert pictures.leftovers(copy.data) == []
    assert copy.removed


def test_the_scan_hash_of_a_plain_photograph_is_that_of_its_bytes_from_scan_to_end():
    """So anyone can compute it without this program."""
    from hashlib import sha256

    original = a_jpeg()
    start = original.index(b"\xff\xda")

    assert sha256(original[start:]).hexdigest() == clean(original).scan_sha256
    assert clean(original + b"a film").data.endswith(original[start:])


def in_lab(data: bytes) -> bytes:
    """The colours that a picture shows by its own profile: as Little CMS, an outside judge, works them out."""
    with Image.open(BytesIO(data)) as picture:
        own = ImageCms.ImageCmsProfile(BytesIO(picture.info["icc_profile"]))
        shown = ImageCms.profileToProfile(picture, own, ImageCms.createProfile("LAB"), outputMode="LAB")
        return shown.tobytes()


@all_cases("kind", ["JPEG", "PNG", "WEBP"])
def test_a_colour_profile_shows_the_same_colours_and_says_nothing_of_who_made_it(kind):
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    named = profile.replace("sRGB built-in".encode("utf-16-be"), "SEED-OWNER-01".encode("utf-16-be"))
    named = named[:4] + b"SEED" + named[8:]
    file = BytesIO()
    a_picture().save(file, kind, icc_profile=named)
    copy = clean(file.getvalue())

    assert named != profile
    with Image.open(BytesIO(copy.data)) as picture:
        left = picture.info["icc_profile"]
    assert b"SEED" not in left and "SEED".encode("utf-16-be") not in left and b"sRGB" not in left
    assert in_lab(copy.data) == in_lab(file.getvalue())
    assert clean(copy.data).data == copy.data


def test_adobes_note_on_how_colours_are_coded_stays():
    file = BytesIO()
    a_picture().convert("CMYK").save(file, "JPEG", exif=an_exif(1))
    copy = clean(file.getvalue())

    with Image.open(BytesIO(file.getvalue())) as before, Image.open(BytesIO(copy.data)) as after:
        assert before.tobytes() == after.tobytes()


@all_cases(
    "options",
    [
        {"optimize": True}, {"subsampling": 0}, {"restart_marker_blocks": 3}, {"progressive": True, "optimize": True},
        {"quality": 3}, {"keep_rgb": True}, {"streamtype": 0},
    ],
    ids=str,
)  # fmt: skip
@all_cases("mode", ["L", "RGB", "CMYK"])
def test_jpegs_of_every_sort_come_out_as_they_went_in(mode, options):
    file = BytesIO()
    a_picture((121, 83)).convert(mode).save(file, "JPEG", **options)
    copy = clean(file.getvalue())

    assert shown(copy.data) == shown(file.getvalue())
    assert copy.data.endswith(file.getvalue()[-500:])


def test_several_pictures_in_one_file_leave_the_first_alone():
    """MPO, as phones write depth and gain maps: CIPA DC-007."""
    file = BytesIO()
    a_picture().save(file, "MPO", save_all=True, append_images=[a_picture((40, 40))], exif=an_exif(6))
    copy = clean(file.getvalue())

    with Image.open(BytesIO(file.getvalue())) as before, Image.open(BytesIO(copy.data)) as after:
        assert before.n_frames == 2
        assert after.format == "JPEG"
        assert before.convert("RGB").tobytes() == after.convert("RGB").tobytes()
    assert any("index of further pictures" in words for words in copy.removed)
    assert any("after the end of the picture (picture)" in words for words in copy.removed)


def test_a_comment_between_two_scans_goes_too():
    original = a_jpeg(progressive=True)
    scans = [part for part in pictures.parts(original) if part.name == pictures.SOS]
    at = scans[1].start
    comment = b"\xff\xfe" + struct.pack(">H", 14) + b"SEED-COMMENT"
    copy = clean(original[:at] + comment + original[at:])

    assert copy.data == clean(original).data
    assert copy.scan_sha256 == clean(original).scan_sha256


def test_a_thumbnail_inside_jfif_goes_and_the_density_stays():
    original = a_jpeg(dpi=(300, 300))
    head = b"\xff\xe0" + struct.pack(">H", 16 + 12) + original[6:18] + b"\x02\x02" + b"thumbnail..."
    copy = clean(original[:2] + head + original[20:])

    assert b"thumbnail" not in copy.data
    with Image.open(BytesIO(copy.data)) as picture:
        assert tuple(round(side) for side in picture.info["dpi"]) == (300, 300)


@all_cases(
    "data",
    [
        b"",
        b"%PDF-1.7 a certificate",
        b"\0\0\0\x18ftypheic" + bytes(40),
        a_jpeg()[: len(a_jpeg()) * 2 // 3],
        a_jpeg()[:30],
        a_png()[:60],
        a_webp()[:-20],
        b"\xff\xd8\xff\xd9",
        b"\xff\xd8\xff\xe1\0\0",
    ],
    ids=["nothing", "pdf", "heic", "cut jpeg", "cut head", "cut png", "cut webp", "empty jpeg", "bad length"],
)
def test_what_cannot_be_cleaned_without_touching_it_is_refused_with_a_reason(data):
    with pytest.raises(CannotClean) as refusal:
        clean(data)
    assert str(refusal.value)


def test_a_directory_that_leads_nowhere_says_nothing_of_the_way_up():
    assert orientation_of(b"MM\0*\xff\xff\xff\xff") is None
    assert orientation_of(b"II*\0\x08\0\0\0\x01\0\x12\x01\x03\0\x01\0\0\0\x09\0\0\0") is None
    assert orientation_of(b"garbage") is None


@pytest.mark.parametrize("marker", [0xF0, 0xFD, 0x02, 0xBF, 0xC8])
def test_a_segment_that_no_decoder_needs_goes_whatever_its_name(marker):
    """Reserved markers of ITU-T T.81, table B.1: decoders step over them, so they could carry anything."""
    data = a_jpeg()
    hidden = struct.pack(">BBH", 0xFF, marker, 2 + len(SEEDS[2])) + SEEDS[2]
    spoilt = data[:2] + hidden + data[2:]
    copy = clean(spoilt)

    assert SEEDS[2] not in copy.data
    assert shown(copy.data) == shown(data)
    assert copy.scan_sha256 == pictures.scan_hash(spoilt) == pictures.scan_hash(copy.data)
    assert pictures.leftovers(copy.data) == []


def with_idat(data: bytes, change) -> bytes:
    """A PNG with its pixel data as `change` gives them, in one chunk."""
    whole = pictures.parts(data)
    packed = change(b"".join(data[part.content] for part in whole if part.name == b"IDAT"))
    chunk = struct.pack(">I", len(packed)) + b"IDAT" + packed + struct.pack(">I", zlib.crc32(b"IDAT" + packed))
    first = next(part for part in whole if part.name == b"IDAT")
    rest = b"".join(data[part.start : part.end] for part in whole if part.name != b"IDAT" and part.start > first.start)
    return data[: first.start] + chunk + rest


def test_bytes_behind_the_end_of_a_pngs_pixels_are_found_and_the_file_is_left_out():
    plain = with_idat(a_png(), lambda packed: packed)
    assert shown(clean(plain).data) == shown(plain)
    spoilt = with_idat(a_png(), lambda packed: packed + SEEDS[5])

    assert shown(spoilt) == shown(plain), "Pillow shows the same picture"
    with pytest.raises(CannotClean, match=r"bytes behind the end of the pixels \(length: 12\)"):
        clean(spoilt)


def test_a_png_that_unpacks_to_more_than_it_shows_is_left_out():
    more = with_idat(a_png(), lambda packed: zlib.compress(bytes(80 << 20)))
    with pytest.raises(CannotClean, match="more than a picture of its size has"):
        clean(more)


@pytest.mark.parametrize("mode", ["1", "L", "LA", "P", "RGB", "RGBA", "I;16"])
@pytest.mark.parametrize("size", [(1, 1), (120, 80), (3, 700)])
def test_pngs_of_every_sort_come_out_as_they_went_in(mode, size):
    file = BytesIO()
    picture = a_picture(size)
    (Image.new("I;16", size, 40_000) if mode == "I;16" else picture.convert(mode)).save(file, "PNG")

    assert shown(clean(file.getvalue()).data) == shown(file.getvalue())
