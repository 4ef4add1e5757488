"""Heads and chains: what a server signs, and how a phone's entries hang together."""

from __future__ import annotations

import base64

import pytest
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec

from tests.support.cases import all_cases
from witnessmark.proof import entries, heads, keys, merkle

KEY = ec.derive_private_key(11, ec.SECP256R1())
SPKI = KEY.public_key().public_bytes(serialization.Encoding.DER, serialization.PublicFormat.SubjectPublicKeyInfo)
ROOT = merkle.root([merkle.leaf_hash(b"one")])
MADE = heads.make("epoch 1", ROOT, keys.server_id(SPKI), 1, "2026-05-14T10:00:00.000Z", "w")


def signed(data: bytes) -> str:
    return base64.b64encode(keys.raw_from_der(KEY.sign(data, ec.ECDSA(hashes.SHA256())))).decode()


def test_a_signed_head_says_what_was_put_into_it():
    head = heads.check(MADE, signed(MADE), SPKI)

    assert (head.epoch, head.root, head.size, head.workshop) == ("epoch 1", ROOT, 1, "w")


@all_cases(
    "data",
    [
        MADE + b"\n",
        MADE.replace(b'"size":1', b'"size":"1"'),
        MADE.replace(b'"size":1', b'"size":-1'),
        MADE.replace(b'"size":1', b'"size":true'),
        MADE.replace(b'"epoch":"epoch 1",', b""),
        MADE.replace(b'{"epoch"', b'{"and":1,"epoch"'),
        MADE.replace(b'"workshop":"w"', b'"workshop":1'),
        MADE.replace(ROOT.hex().encode(), b"z" * 64),
        MADE.replace(ROOT.hex().encode(), b"00"),
        b"[]",
    ],
)
def test_a_head_in_any_other_shape_is_refused_even_when_signed(data):
    with pytest.raises(ValueError):
        heads.check(data, signed(data), SPKI)


def test_a_head_of_another_server_or_under_another_signature_is_refused():
    another = heads.make("epoch 1", ROOT, "0" * 32, 1, "2026-05-14T10:00:00.000Z", "w")

    with pytest.raises(ValueError, match="names server"):
        heads.check(another, signed(another), SPKI)
    with pytest.raises(ValueError, match="signature"):
        heads.check(MADE, signed(MADE + b" "), SPKI)


FIRST, SECOND = "a" * 64, "b" * 64


@all_cases(
    ("before", "sequence", "previous", "fault"),
    [
        (None, 1, entries.NO_ENTRY_BEFORE, None),
        (None, 1, FIRST, "first record names one before it"),
        (None, 7, SECOND, None),
        ((1, FIRST), 2, FIRST, None),
        ((1, FIRST), 2, SECOND, "that is not number 1"),
        ((1, FIRST), 5, SECOND, None),
        ((5, FIRST), 5, FIRST, "comes after 5"),
        ((5, FIRST), 4, FIRST, "comes after 5"),
    ],
)
def test_a_device_counts_its_entries_and_each_names_the_one_before(before, sequence, previous, fault):
    found = entries.broken_link(before, sequence, previous)

    assert found is None if fault is None else fault in found


@pytest.mark.parametrize(
    ("shown", "missing", "words"),
    [
        ([], [], ""),
        ([1, 2, 3], [], ""),
        ([4], [(1, 3)], "1 to 3"),
        ([9, 1, 4, 5, 4], [(2, 3), (6, 8)], "2 to 3, 6 to 8"),
        ([1, 3, 2**53], [(2, 2), (4, 2**53 - 1)], "2, 4 to 9007199254740991"),
    ],
)
def test_numbers_that_are_not_shown_are_ranges(shown, missing, words):
    assert entries.missing_numbers(shown) == missing
    assert entries.ranges_words(missing) == words
