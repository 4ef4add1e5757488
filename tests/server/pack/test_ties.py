"""A customer's copy is tied to its original: by what the phone signed, and by the sealed pack for whoever has both."""

from __future__ import annotations

import json

from tests.broken_packs.make import read as read_pack
from tests.broken_packs.make import relist, write
from witnessmark.proof import layout, pictures, sounds
from witnessmark.proof.canonical import canonical, parse, sha256_hex
from witnessmark.proof.compare import compare
from witnessmark.proof.verify import verify


def swapped(packed, tmp_path, signed: bool):
    """The customer's pack with the copy of one picture in the place of another, all lists and the seal made again. Of a
    record from before phones signed the pixels the first is what a workshop could do unseen."""
    top, files = read_pack(packed.customer.path)
    lines = [parse(line) for line in files[layout.MEDIA].splitlines()]
    tied = {item["sha256"] for item in items(files) if "scan_sha256" in item}
    pictured = [line for line in lines if line["copy"] and line["type"].startswith("image/")]
    target = next(line for line in pictured if (line["sha256"] in tied) == signed)
    other = next(line for line in pictured if line is not target)
    data = files[other["copy"]["path"]]
    files[target["copy"]["path"]] = data
    target["copy"] |= {"length": len(data), "sha256": sha256_hex(data), "scan_sha256": pictures.scan_hash(data)}
    files[layout.MEDIA] = b"".join(canonical(line) + b"\n" for line in lines)
    relist(files)
    return write(tmp_path / "swapped.zip", top, files)


def items(files):
    entries = (json.loads(data) for path, data in files.items() if path.startswith(layout.ENTRIES))
    return [item for entry in entries for item in entry["media"]]


def test_a_copy_of_another_picture_is_found_from_the_customers_pack_alone(packed, tmp_path):
    faults = verify(swapped(packed, tmp_path, signed=True)).faults
    (fault,) = [fault for fault in faults if fault.step == 12]
    assert fault.expected.startswith("the picture whose pixels the phone signed")


def test_what_no_phone_signed_is_said_to_be_the_workshops_word(packed):
    report = verify(packed.customer.path)
    assert report.well
    assert any("the workshop alone says which original they show or play" in remark for remark in report.remarks)
    assert not any("workshop alone says" in remark for remark in verify(packed.sealed.path).remarks)


def test_the_sealed_pack_ties_every_copy_pixel_for_pixel(packed):
    for pair in ((packed.sealed.path, packed.customer.path), (packed.customer.path, packed.sealed.path)):
        report = compare(*pair)
        assert report.well, report.faults
        _, files = read_pack(packed.customer.path)
        copies = [parse(line) for line in files[layout.MEDIA].splitlines()]
        assert report.facts["copies_tied"] == sum(1 for line in copies if line["copy"]) > 3


def test_a_copy_of_another_picture_is_found_where_somebody_has_both_packs(packed, tmp_path):
    for signed in (True, False):
        report = compare(packed.sealed.path, swapped(packed, tmp_path, signed))
        assert any(fault.found == "a copy of something else" for fault in report.faults), signed


def cleaned_as(packs, tmp_path, rule: int, stated: dict):
    """The customer's pack with its sounds cleaned by `rule`, and `stated` of that in the records of its copies."""
    top, files = read_pack(packs.customer.path)
    _, originals = read_pack(packs.sealed.path)
    lines = [parse(line) for line in files[layout.MEDIA].splitlines()]
    held = {record["sha256"]: record["path"] for record in map(parse, originals[layout.MEDIA].splitlines())}
    for line in (line for line in lines if line["copy"]):
        copy, original = line["copy"], originals[held[line["sha256"]]]
        del copy["rule"]
        copy |= stated
        if line["type"].startswith("audio/"):
            data = files[copy["path"]] = sounds.blanked(original, rule)
            copy |= {"sha256": sha256_hex(data), "scan_sha256": sounds.scan_hash(original, rule)}
    files[layout.MEDIA] = b"".join(canonical(line) + b"\n" for line in lines)
    relist(files)
    return write(tmp_path / f"rule-{rule}-{len(stated)}.zip", top, files)


def test_a_pack_from_before_the_second_rule_is_held_to_the_first(spoken_pack, tmp_path):
    older = cleaned_as(spoken_pack, tmp_path, 1, {})
    assert {fault.step for fault in verify(older).faults} == {5}, "nothing but the seal, which the server did not make"
    assert compare(spoken_pack.sealed.path, older).well


def test_a_copy_is_held_to_the_rule_that_its_record_names(spoken_pack, tmp_path):
    faults = verify(cleaned_as(spoken_pack, tmp_path, 1, {"rule": 2})).faults
    assert any(fault.step == 12 for fault in faults), "it carries what the second rule takes out"
    for rule in (3, True, "2", None):
        faults = verify(cleaned_as(spoken_pack, tmp_path, 2, {"rule": rule})).faults
        assert any("cleaned by rule" in fault.found for fault in faults if fault.step == 11), rule


def test_a_path_that_is_no_text_is_a_fault_and_ends_no_check(spoken_pack, tmp_path):
    top, files = read_pack(spoken_pack.customer.path)
    lines = [parse(line) for line in files[layout.MEDIA].splitlines()]
    copied = next(line for line in lines if line["copy"])
    for record in (copied | {"path": []}, copied | {"copy": copied["copy"] | {"path": {}}}):
        changed = [record if line is copied else line for line in lines]
        spoilt = files | {layout.MEDIA: b"".join(canonical(line) + b"\n" for line in changed)}
        relist(spoilt)
        report = verify(write(tmp_path / "spoilt.zip", top, spoilt))
        assert any(fault.found == "a path that is no text" for fault in report.faults) and not report.unfinished
