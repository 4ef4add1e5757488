"""Whatever they are given, the readers of what comes from outside answer, or refuse in the one way they promise."""

from __future__ import annotations

import io
import json
import struct
import zipfile
from contextlib import suppress
from datetime import datetime

from hypothesis import example, given, settings
from hypothesis import strategies as st

from tests.support.measured import a_procedure
from tests.support.record import a_v6
from tests.support.tightening import a_sheet
from witnessmark.media import facts, hashing, sniff, uploads
from witnessmark.media.errors import MediaRefusal
from witnessmark.pack import redact
from witnessmark.proof import canonical, heads, keys, pictures, sounds
from witnessmark.proof.faults import Report, Unreadable
from witnessmark.proof.sources import open_source
from witnessmark.proof.verify import verify
from witnessmark.trade.engine import locations, types
from witnessmark.trade.ground import corrections, sentences, shapes
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.measuring import procedures
from witnessmark.trade.spoken.text import tokens
from witnessmark.trade.tightening import sheets
from witnessmark.web.media import attachment, read_metadata

SCALARS = st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=20)
ANYTHING = st.recursive(
    SCALARS,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=9), inner, max_size=3),
    max_leaves=8,
)
# The same ones each time, and no clock: a busy machine is no fault of a reader.
anything = settings(deadline=None, derandomize=True, database=None)
JPEG = b"\xff\xd8\xff\xe1\0\x0aExif\0\0II\xff\xda\0\4\1\2\xff\xd9"
PNG = b"\x89PNG\r\n\x1a\n" + struct.pack(">I", 4) + b"IHDRabcd\0\0\0\0" + struct.pack(">I", 0) + b"IEND\0\0\0\0"
WEBP = b"RIFF\x14\0\0\0WEBPVP8 \4\0\0\0abcd"
WAV = b"RIFF\x24\0\0\0WAVEfmt \x10\0\0\0\1\0\1\0\x40\x1f\0\0\x80\x3e\0\0\2\0\x10\0data\0\0\0\0"
OGG = b"OggS\0\2" + bytes(20) + b"\1\x13OpusHead\1\1\0\0\x80\xbb\0\0\0\0\0"
WEBM = b"\x1a\x45\xdf\xa3\x84\x42\x82\x81a\x18\x53\x80\x67\x84abcd"
MP4 = b"\0\0\0\x14ftypM4A \0\0\0\0M4A \0\0\0\x0cmoovabcd"
BEGINNINGS = (JPEG, PNG, WEBP, WAV, OGG, WEBM, MP4)


@st.composite
def files(draw) -> bytes:
    """The beginning of a real file with some bytes of it changed and something behind it, or no file at all."""
    data = bytearray(draw(st.sampled_from(BEGINNINGS) | st.binary(max_size=60)))
    for at, value in draw(st.lists(st.tuples(st.integers(0, 70), st.integers(0, 255)), max_size=4)):
        if at < len(data):
            data[at] = value
    return bytes(data[: draw(st.integers(0, 80))]) + draw(st.binary(max_size=12))


@anything
@given(data=files())
def test_a_file_that_is_none_is_refused_by_what_walks_through_it(data):
    for read in (
        pictures.parts,
        pictures.scan_hash,
        pictures.leftovers,
        sounds.words,
        sounds.scan_hash,
        sounds.leftovers,
    ):
        answers(read, data, ValueError)
    answers(sounds.blanked, data, ValueError)
    answers(redact.clean, data, redact.CannotClean)
    assert type(sniff.sniff(data)) is str
    assert facts.end_of_first_jpeg(data) is None or facts.end_of_first_jpeg(data) > 0
    assert redact.orientation_of(data) in (None, *range(1, 9))


@anything
@given(data=st.binary(max_size=60) | st.text(max_size=40).map(str.encode) | ANYTHING.map(json.dumps).map(str.encode))
def test_bytes_that_are_no_canonical_json_and_no_key_are_refused(data):
    for read in (canonical.parse, heads.read, keys.unbase64, keys.read_spki, keys.raw_from_der, keys.spki_from_pem):
        answers(read, data, ValueError)
    assert keys.verify(data, data, data) is False


@anything
@given(data=st.binary(max_size=60) | ANYTHING.map(json.dumps).map(str.encode))
@example(data=b"[" * 100_000)
@example(data=b"9" * 10_000)
@example(data=b"\xff\xfe{}")
def test_a_file_of_another_workshop_is_read_or_refused_in_words(data):
    for read in (types.read_file, procedures.read_file, sheets.read_file):
        answers(read, data, Refusal)


@anything
@given(value=ANYTHING, sort=st.sampled_from(("engine_type", "procedure", "sheet")), data=st.data())
def test_any_value_in_any_field_of_such_a_file_is_read_and_its_faults_are_named(value, sort, data):
    write, read, check, what = {
        "engine_type": (types.write_file, types.read_file, types.check, a_v6()),
        "procedure": (procedures.write_file, procedures.read_file, procedures.check, a_procedure()),
        "sheet": (sheets.write_file, sheets.read_file, sheets.check, a_sheet()),
    }[sort]
    field = data.draw(st.sampled_from(sorted(what)))
    plain = json.loads(json.dumps(value, allow_nan=False)) if finite(value) else None
    try:
        again = read(write(what | {field: plain}))
    except Refusal:
        return
    assert all(fault.message for fault in check(again))


@anything
@given(header=st.text(st.characters(max_codepoint=255), max_size=40))
@example(header="sha256 \xff")
@example(header="sha1 YQ==\xa0")
def test_the_headers_of_an_upload_are_read_or_refused(header):
    answers(read_metadata, header, MediaRefusal)
    answers(hashing.parse_checksum, header, MediaRefusal)
    answers(uploads.named, header, MediaRefusal)


@anything
@given(name=st.text(max_size=200))
def test_a_file_is_saved_under_a_name_that_fits_a_header(name):
    header = attachment(name)
    assert header.isascii() and header.isprintable() and "/" not in header.partition("filename*")[0]


@anything
@given(value=ANYTHING)
def test_every_shape_of_a_field_answers_for_any_value(value):
    checks = [
        shapes.uuid,
        shapes.uuid7,
        shapes.hash64,
        shapes.decimal,
        shapes.key,
        shapes.letter,
        shapes.place,
        shapes.time,
    ]
    checks += [shapes.yes_no, shapes.location, shapes.plain, shapes.changes, shapes.transcripts, shapes.means]
    checks += [shapes.text(5), shapes.whole(), shapes.texts(2, 5), shapes.amount(9), shapes.choice({"a": "b"})]
    for check in checks:
        fault = check(value)
        assert fault is None or (isinstance(fault, str) and fault)


@anything
@given(stamp=st.text("0123456789:-+TZ. ", max_size=32) | ANYTHING, fraction=ANYTHING, offset=ANYTHING)
@example(stamp="2026-13-01T00:00:00.000Z", fraction=None, offset=None)
def test_a_time_is_one_or_is_none(stamp, fraction, offset):
    if shapes.time(stamp) is None:
        assert datetime.fromisoformat(stamp).tzinfo is not None
    assert facts.exif_time(stamp, fraction, offset) is None or "T" in facts.exif_time(stamp, fraction, offset)


V6 = a_v6()
PLACES = st.text(max_size=20) | st.sampled_from(
    ["bore/3", "bore/-1", "bore/" + "9" * 5000, "head_bolt/A/", "lobe//inlet", "/", "main/4/5"]
)


@anything
@given(code=PLACES)
def test_any_code_of_a_place_has_a_name_and_neighbours(code):
    for engine in (None, V6):
        assert isinstance(locations.place_name(engine, code), str)
    assert code not in locations.related(V6, code)


@anything
@given(
    st.lists(
        st.tuples(st.sampled_from(["note_made", "entry_corrected", "entry_withdrawn"]), st.integers(0, 6)), max_size=7
    )
)
def test_corrections_of_anything_leave_every_record_in_its_place(made):
    """Of later ones, of themselves, of each other and of none."""
    entries = [
        {
            "id": str(number), "kind": kind, "location": None,
            "body": {"entry": str(aim), "changes": {"text": str(number)}, "location": None, "text": "as made"},
        }
        for number, (kind, aim) in enumerate(made)
    ]  # fmt: skip
    standings = corrections.fold(entries)
    assert [standing.entry["id"] for standing in standings] == [entry["id"] for entry in entries]
    assert all(
        int(standing.withdrawn_by["id"]) > int(standing.entry["id"]) for standing in standings if standing.withdrawn_by
    )


@anything
@given(text=st.text(max_size=60))
def test_any_text_falls_into_words(text):
    assert all(token for token in tokens(text))


@anything
@given(count=st.integers() | st.integers(10**27, 10**400) | st.integers(-(10**400), -(10**27)))
@example(count=10**28)
def test_a_number_of_any_length_can_be_spoken_of(count):
    """A fault of an engine type names the cylinder that somebody sent, however long its number is."""
    assert "".join(c for c in sentences.count_text(count) if c.isdigit()) == str(abs(count))


@anything
@given(changes=st.lists(st.tuples(st.integers(0, 400), st.integers(0, 255)), max_size=5), end=st.integers(0, 400))
def test_a_damaged_zip_is_no_pack_or_a_pack_with_faults(tmp_path_factory, changes, end):
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("pack/bagit.txt", "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n")
        archive.writestr("pack/manifest-sha256.txt", "")
    data = bytearray(file.getvalue())
    for at, value in changes:
        if at < len(data):
            data[at] = value
    path = tmp_path_factory.getbasetemp() / "damaged.zip"
    path.write_bytes(bytes(data[: len(data) - end // 4]))
    answers(lambda path: open_source(path, Report()).close(), path, Unreadable)
    with suppress(Unreadable):
        assert verify(path).faults


def answers(read, given_to, refusal: type[Exception]) -> None:
    try:
        read(given_to)
    except refusal as error:
        assert str(error) or error.args


def finite(value) -> bool:
    try:
        json.dumps(value, allow_nan=False)
    except ValueError:
        return False
    return True
