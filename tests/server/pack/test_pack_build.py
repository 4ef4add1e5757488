"""What is in a pack, and what is not: cut from the log and the originals of a small job."""

from __future__ import annotations

import hashlib
import io
import json
import re

import pikepdf
import pytest
from PIL import Image

from tests.support.packs import SEEDS, files_of
from witnessmark.db import reading
from witnessmark.pack import errors
from witnessmark.pack.build import build, name_of
from witnessmark.proof import layout, pictures
from witnessmark.proof.record import STATEMENTS
from witnessmark.proof.verify import verify


def lines(data: bytes) -> list[dict]:
    return [json.loads(line) for line in data.splitlines()]


def by_name(files: dict[str, bytes], originals: dict[str, bytes]) -> dict[str, dict]:
    """The pack's account of each original, by the name it came with."""
    records = {record["sha256"]: record for record in lines(files[layout.MEDIA])}
    return {name: records[hashlib.sha256(data).hexdigest()] for name, data in originals.items()}


@pytest.fixture(scope="module")
def sealed(packed) -> dict[str, bytes]:
    return files_of(packed.sealed.path)


@pytest.fixture(scope="module")
def customer(packed) -> dict[str, bytes]:
    return files_of(packed.customer.path)


@pytest.mark.parametrize("sort", ["sealed", "customer"])
def test_a_fresh_pack_is_well_and_says_which_sort_it_is(packed, sort):
    built = getattr(packed, sort)
    report = verify(built.path)

    assert report.faults == []
    assert report.facts["sort"] == sort
    assert report.facts["entries"] == built.entries
    assert hashlib.sha256(files_of(built.path)[layout.TAG_MANIFEST]).hexdigest() == built.tag_manifest
    assert built.size == built.path.stat().st_size


@pytest.mark.parametrize(("sort", "title"), [("sealed", "Sealed pack"), ("customer", "Pack for the customer")])
def test_the_sort_stands_on_the_first_page_in_the_bag_and_on_the_page(packed, sort, title):
    files = files_of(getattr(packed, sort).path)

    assert f"Witnessmark-Pack-Sort: {sort}" in files[layout.BAG_INFO].decode()
    assert title in files[layout.READ_ME].decode()
    assert files[layout.VERIFY_SHEET].startswith(b"HOW TO CHECK THIS PACK")
    assert title in files[layout.PAGE].decode()
    assert title in first_page(files[layout.REPORT])


def first_page(pdf: bytes) -> str:
    """The title in the PDF's own information, which a reader shows in the window's frame."""
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        return str(opened.docinfo["/Title"]).replace("sealed pack", "Sealed pack").replace("pack for", "Pack for")


def test_the_pdf_claims_pdf_a_3a_and_pdf_ua_1_and_every_picture_has_words(sealed):
    """ISO 19005-3 and ISO 14289-1: the claims stand in the metadata, alternative text in the structure tree."""
    with pikepdf.open(io.BytesIO(sealed[layout.REPORT])) as pdf:
        answer = pdf.open_metadata()
        assert (answer["pdfaid:part"], answer["pdfaid:conformance"], answer["pdfuaid:part"]) == ("3", "A", "1")
        assert pdf.Root.Lang == "en"
        figures = [one for one in structure(pdf.Root.StructTreeRoot) if one.get("/S") == "/Figure"]
        assert len(figures) >= 3
        assert all(str(figure.get("/Alt", "")) for figure in figures)


def structure(node):
    kids = node.get("/K", [])
    for kid in kids if isinstance(kids, pikepdf.Array) else [kids]:
        if isinstance(kid, pikepdf.Dictionary):
            yield kid
            yield from structure(kid)


def test_a_sealed_pack_holds_the_very_originals(packed, sealed):
    answer = by_name(sealed, packed.originals)

    assert {name: sealed[answer[name]["path"]] for name in packed.originals} == packed.originals
    assert not [path for path in sealed if path.startswith(layout.COPIES)]


def test_nothing_of_place_device_or_owner_reaches_the_customer(customer):
    leaks = {(path, seed) for path, data in customer.items() for seed in SEEDS if seed in data}

    assert leaks == set()


def test_a_customers_picture_is_the_originals_to_the_last_point_and_tied_to_it(packed, customer):
    for name, original in packed.originals.items():
        copy = by_name(customer, packed.originals)[name]["copy"]
        if not name.endswith(".jpg"):
            continue
        with Image.open(io.BytesIO(original)) as before, Image.open(io.BytesIO(customer[copy["path"]])) as after:
            assert before.tobytes() == after.tobytes()
            assert before.getexif()[0x0112] == after.getexif()[0x0112] == 6
            assert not after.getexif().get_ifd(0x8825)
        assert copy["scan_sha256"] == pictures.scan_hash(original) == pictures.scan_hash(customer[copy["path"]])
        assert any("EXIF" in words for words in copy["removed"])
        assert any("film" in words for words in copy["removed"])


def test_what_cannot_be_cleaned_or_is_not_here_is_left_out_with_the_reason(packed, customer, sealed):
    answer = by_name(customer, packed.originals)
    absent = [record for record in lines(sealed[layout.MEDIA]) if record["left_out"]]

    assert "cannot be removed without changing it" in answer["p.heic"]["left_out"] and answer["p.heic"]["path"] is None
    assert "cannot be removed without changing it" in answer["test.pdf"]["left_out"]
    assert not [path for path in customer if path.startswith(layout.ORIGINALS)], "no untouched file for a customer"
    document = by_name(sealed, packed.originals)["test.pdf"]
    assert sealed[document["path"]] == packed.originals["test.pdf"], "the sealed pack has it"
    assert [record["sha256"] for record in absent] == [hashlib.sha256(b"never sent in").hexdigest()]
    assert "had not arrived" in absent[0]["left_out"]


def test_the_entries_are_the_very_bytes_and_bear_their_names(sealed):
    receipts = {receipt["position"]: receipt for receipt in lines(sealed[layout.RECEIPTS])}
    entries = {path: data for path, data in sealed.items() if path.startswith(layout.ENTRIES)}

    assert len(entries) == len(receipts)
    for path, data in entries.items():
        assert hashlib.sha256(data).hexdigest() == receipts[layout.position_of(path)]["hash"]


def test_records_of_other_jobs_stay_out_but_the_keys_to_check_this_one_are_in(packed, sealed):
    entries = [json.loads(data) for path, data in sealed.items() if path.startswith(layout.ENTRIES)]
    kinds = [entry["kind"] for entry in entries if entry["job"] is None and entry["kind"] not in STATEMENTS]

    assert {entry["job"] for entry in entries} == {packed.job, None}
    assert sorted(kinds) == ["device_enrolled", "device_enrolled", "engine_type_described", "workshop_founded"]
    assert "next bench" not in str(entries)
    missing = "Phone A, bay 1: not in this pack, by running number: 3, 31 to 34. Nothing here tells which job"
    report = verify(packed.sealed.path)

    assert any(remark.startswith(missing) for remark in report.remarks)
    assert len(report.facts["not_shown"]) == 3
    page = sealed[layout.PAGE].decode()
    assert "bay 1: 3, 31 to 34" in page and "bay 2: 1" in page


def test_a_correction_is_shown_beside_what_stood_there_and_a_withdrawal_as_one(sealed):
    page = sealed[layout.PAGE].decode()

    assert re.search(r'<p class="was">Bore 3:[^<]*89\.22 mm', page)
    assert re.search(r"<h3>Bore 3:[^<]*89\.022 mm", page)
    assert re.search(r'<p class="was">Picture: main journal 2', page)
    assert "<h3>Picture: main journal 4</h3>" in page
    assert "Slip of the thumb." in page
    assert re.search(r'class="record gone"[^§]*?withdrawn by</span> <a href="#e\d+">\d+</a> Belongs to another', page)


def test_words_of_people_cannot_become_markup_on_the_page(sealed):
    page = sealed[layout.PAGE].decode()

    assert "24/118 &lt;b&gt;" in page and "24/118 <b>" not in page
    drawn, scripts = re.sub(r"(?s)<script.*?</script>", "", page), re.findall(r"(?s)<script.*?</script>", page)
    assert "<script" not in drawn and "http://" not in drawn and "https://" not in drawn
    # What people wrote lies in one of them as data, where nothing can end it.
    (data,) = [text for text in scripts if text.startswith('<script type="application/json" id="signed">{')]
    assert len(scripts) <= 3 and "24/118 \\u003cb>" in data and data.count("<") == 2


def test_every_link_on_the_page_leads_to_a_file_of_the_pack(sealed, customer):
    for files in (sealed, customer):
        links = set(re.findall(r'(?:href|src)="([^#"][^"]*)"', files[layout.PAGE].decode()))

        assert links
        assert {f"data/{link}" for link in links} <= set(files)


def test_the_three_times_are_told_apart_and_never_merged(sealed):
    page = sealed[layout.PAGE].decode()

    assert page.count("<dt>phone time</dt>") >= page.count('class="record') > 10
    assert page.count("<dt>server time</dt>") == page.count("<dt>independent time stamp</dt>")


def test_progress_grows_to_its_end_and_never_goes_back(packed, tmp_path):
    steps: list[tuple[int, int, str]] = []
    with reading(packed.office.engine) as conn:
        build(conn, packed.office.settings, packed.job, "sealed", tmp_path, lambda *step: steps.append(step))

    done = [step[0] for step in steps]
    assert done == sorted(done) and done[-1] == steps[-1][1]
    assert all(words for _, _, words in steps) and len({total for _, total, _ in steps}) == 1


def test_a_spoilt_original_stops_the_pack_and_leaves_no_file(packed, tmp_path):
    path = packed.office.settings.media / "aa"
    target = next(p for p in packed.office.settings.media.glob("??/*") if p.read_bytes().startswith(b"\xff\xd8"))
    good = target.read_bytes()
    target.chmod(0o644)
    try:
        target.write_bytes(good[:-1] + b"?")
        for sort in layout.SORTS:
            with pytest.raises(errors.Spoilt, match="damaged"):
                packed.cut(sort, tmp_path)
    finally:
        target.write_bytes(good)
    assert list(tmp_path.iterdir()) == [] and not path.is_file()


def test_a_job_nobody_recorded_has_no_pack(packed, tmp_path):
    with reading(packed.office.engine) as conn, pytest.raises(errors.NoSuchJob):
        build(conn, packed.office.settings, "00000000-0000-4000-8000-000000000000", "sealed", tmp_path)


@pytest.mark.parametrize(
    ("number", "name"),
    [
        ("2418", "job-2418-sealed-20260514-1042"),
        ("../../etc", "job-etc-sealed-20260514-1042"),
        ("24/118 <b>", "job-24-118-b-sealed-20260514-1042"),
        ("清洗", "job-unnamed-sealed-20260514-1042"),
    ],
)
def test_the_name_of_a_pack_is_safe_whatever_the_job_is_called(number, name):
    assert name_of(number, "sealed", "2026-05-14T10:42:00.000Z") == name
