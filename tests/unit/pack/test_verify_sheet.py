"""VERIFY.txt: its worked example is followed with nothing but hashlib, and its lists of fields are the true ones."""

import hashlib
import json
import re
from pathlib import Path

import pytest

from witnessmark.pack import words
from witnessmark.proof import entries, files, heads, layout, merkle, record, verify_cli

TEXT = words.verify_sheet().decode()


def _example() -> dict[str, str]:
    part = TEXT[TEXT.index("11. ONE RECORD") :]
    objects = re.findall(r"(\{.*\})$", part, re.M)
    hashes = re.findall(r"\b[0-9a-f]{64}$", part, re.M)
    return {
        "record": objects[0],
        "data": objects[1],
        **dict(zip(("hash", "leaf", "step", "root"), hashes, strict=True)),
    }


def test_the_worked_example_holds():
    shown = _example()
    assert set(json.loads(shown["record"])) == record.ENTRY_FIELDS
    assert hashlib.sha256(shown["record"].encode()).hexdigest() == shown["hash"]
    data = json.loads(shown["data"])
    assert data["entry"] == shown["hash"]
    leaf = hashlib.sha256(b"\x00" + shown["data"].encode()).digest()
    step = bytes.fromhex(shown["step"])
    assert leaf.hex() == shown["leaf"]
    assert hashlib.sha256(b"\x01" + step + leaf).hexdigest() == shown["root"]
    # And the verifier in the pack reads it the same way.
    own = entries.leaf(data["entry"], data["signature"], data["position"], data["received"], data["offset_ms"])
    assert own == leaf
    assert merkle.verify_inclusion(own, data["position"] - 1, 2, [step], bytes.fromhex(shown["root"]))


@pytest.mark.parametrize(
    "fields", [record.ENTRY_FIELDS, record.RECEIPT_FIELDS, files.MEDIA_FIELDS], ids=["record", "receipt", "media"]
)
def test_the_lists_of_fields_are_the_verifiers(fields):
    assert f"    {' '.join(sorted(fields))}\n" in TEXT


def test_what_stands_in_a_sentence_is_the_verifiers_too():
    assert f"fields {' '.join(heads.FIELDS)}." in TEXT
    assert f"{' '.join(sorted(files.PACK_FIELDS))};" in TEXT
    *most, last = sorted(files.COPY_FIELDS)
    assert f"{', '.join(most)} and {last}." in TEXT
    for path in (layout.MANIFEST, layout.TAG_MANIFEST, layout.SEAL, layout.RECEIPTS, layout.MEDIA, layout.PACK):
        assert path in TEXT
    assert (verify_cli.WELL, verify_cli.UNREADABLE, verify_cli.FAULTY, verify_cli.UNFINISHED) == (0, 1, 2, 3)


def test_the_kinds_and_paths_it_lists_are_the_verifiers():
    words_of = set(re.findall(r"[a-z_]+", TEXT))
    assert record.OF_THE_WORKSHOP | set(record.STATEMENTS) <= words_of
    for path in layout.FILES:
        assert path.removeprefix("data/record/") in TEXT, path
    assert {"links", "job", "log", "number", "previous", "root", "size", "hashes", "logs", "path"} <= words_of
    assert " ".join(sorted(set(heads.WITH_JOBS) - set(heads.FIELDS))).replace(" ", " and ") in TEXT


def test_it_is_short_and_names_no_source_file():
    assert len(TEXT.splitlines()) < 350
    assert not re.search(r"\w+\.py\b|@[A-Z]+@", TEXT)
    assert Path(layout.VERIFY_SHEET).name == "VERIFY.txt"
