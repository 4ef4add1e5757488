"""What an entry's bytes are, to the last one (RFC 8785 and the shared vectors)."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.support.cases import all_cases
from witnessmark.proof.canonical import LARGEST, canonical, parse, sha256_hex
from witnessmark.trade.ground.sentences import say

VECTORS = json.loads((Path(__file__).parents[2] / "vectors" / "canonical.json").read_text())

scalars = st.none() | st.booleans() | st.integers(-LARGEST, LARGEST) | st.text()
values = st.recursive(scalars, lambda inner: st.lists(inner) | st.dictionaries(st.text(), inner), max_leaves=20)


@all_cases("case", VECTORS["cases"], ids=lambda case: case["name"])
def test_the_shared_vectors_come_out_byte_for_byte(case):
    """Source of each case: its own field, most from the test data of RFC 8785."""
    written = canonical(case["value"])

    assert (written, sha256_hex(written)) == (case["canonical"].encode(), case["sha256"])
    assert parse(written) == case["value"]


@all_cases("refusal", VECTORS["refusals"], ids=lambda case: case["name"])
def test_what_has_no_one_form_is_refused(refusal):
    with pytest.raises(ValueError):
        canonical(json.loads(refusal["json"]))
    with pytest.raises(ValueError):
        parse(refusal["json"].encode())


@all_cases(
    ("fault", "written"),
    {
        "a key that stands twice": b'{"a":1,"a":1}',
        "keys out of order": b'{"b":1,"a":2}',
        "a space": b'{"a": 1}',
        "an escape nobody needs": b'"\\u0041"',
        "an escaped slash": b'"\\/"',
        "a minus before zero": b"-0",
        "a fraction": b"1.0",
        "an exponent": b"1e2",
        "not a number": b"NaN",
        "a line end after it": b"{}\n",
        "bytes that are no text": b'"\xff"',
        "nothing at all": b"",
        "half an entry": b'{"a":',
        "a number of many thousand digits": b"1" * 10_000,
        "a very deep nest": b"[" * 100_000 + b"]" * 100_000,
    }.items(),
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_an_entry_written_any_other_way_is_not_accepted(fault, written):
    with pytest.raises(ValueError):
        parse(written)


@pytest.mark.parametrize("value", [1.0, {1: "a"}, {"a": b"bytes"}, {"a": {1, 2}}, object(), {"n": LARGEST + 1}])
def test_what_json_cannot_hold_exactly_is_refused_by_name(value):
    with pytest.raises(ValueError):
        canonical(value)


def test_a_sentence_of_the_catalogue_is_text_like_any_other():
    sentence = say("server.sync.lost")

    assert canonical({"reason": sentence}) == canonical({"reason": str(sentence)})
    assert canonical([sentence]) == canonical([str(sentence)])


@given(values)
def test_whatever_is_written_reads_back_and_writes_the_same(value):
    written = canonical(value)

    assert parse(written) == value
    assert canonical(parse(written)) == written


@given(st.dictionaries(st.text(), st.integers(0, 9)))
def test_the_order_of_making_does_not_show(value):
    assert canonical(value) == canonical(dict(reversed(value.items())))
