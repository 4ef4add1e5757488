"""The lines of an exported log, and the running numbers in it, whatever they hold."""

from __future__ import annotations

import io
import json

import pytest

from witnessmark.proof import exported, numbers
from witnessmark.proof.canonical import canonical
from witnessmark.proof.exported import Line, job_mark, line_bytes, raw_lines, read_header, read_line
from witnessmark.proof.numbers import Numbers, TooMany, without

LINE = Line(12, "2026-05-14T10:00:00.000Z", "a" * 64, "phone", 7, "b" * 64, ("other", 3))
ODD = (
    None,
    True,
    False,
    0,
    -1,
    1,
    "",
    "x",
    "A" * 64,
    "a" * 63,
    [],
    [1],
    {},
    {"device": "d"},
    {"device": 1, "number": 1},
)


def test_a_line_is_read_as_it_was_written():
    for line in (LINE, LINE._replace(job=None, refused=None)):
        assert read_line(line_bytes(line)[:-1]) == line
    assert read_header(exported.header_bytes(b"{}", "sig")[:-1]) == (b"{}", "sig")


def test_a_value_of_a_wrong_type_is_named_by_its_field():
    value = json.loads(line_bytes(LINE))
    fine = {"position": (1,), "number": (1,), "device": ("x", "A" * 64, "a" * 63), "job": (None,), "refused": (None,)}
    judged = 0
    for name in value:
        for odd in ODD:
            if any(odd is one or odd == one and type(odd) is type(one) for one in fine.get(name, ())):
                continue
            with pytest.raises(ValueError, match=f"^{name} must be: "):
                read_line(canonical({**value, name: odd}))
            judged += 1
    assert judged > 90


def test_lines_that_are_none_are_refused_with_a_reason():
    whole = line_bytes(LINE)[:-1]
    for data in (b"", b"[]", b"null", b"{}", b"\xff", whole + b" ", whole.replace(b'"job"', b'"jab"'), b"[" * 4000):
        with pytest.raises(ValueError, match="."):
            read_line(data)
    header = {"format": 1, "head": "{}", "signature": "x"}
    for wrong in ({"format": 2}, {"format": True}, {"head": None}, {"signature": 3}, {"more": 1}):
        with pytest.raises(ValueError, match="."):
            read_header(canonical(header | wrong))


def test_a_line_without_end_is_not_read_into_memory():
    class Endless(io.RawIOBase):
        def readline(self, most=-1):
            assert 0 < most <= exported.LONGEST_LINE + 1
            return b"x" * most

    with pytest.raises(ValueError, match="longer than 4096 bytes"):
        next(raw_lines(Endless()))
    with pytest.raises(ValueError, match="cut off"):
        list(raw_lines(io.BytesIO(b"one\ntwo")))
    assert list(raw_lines(io.BytesIO(b"one\ntwo\n"))) == [b"one", b"two"]


def test_the_mark_of_a_job_hangs_on_its_id_and_on_the_signature():
    marks = {job_mark(job, signature) for job in ("a", "b") for signature in ("s", "t")}
    assert len(marks) == 4
    # Worked out with openssl dgst -sha256 -mac HMAC -macopt key:s over "witnessmark job", a zero byte and "a".
    assert job_mark("a", "s") == "4b924220e3b4fb77dd64e36027e4c38e3c7c81277b0d158d121d3ef686884342"


def test_a_number_used_twice_and_one_that_comes_late_are_named_apart():
    seen = Numbers()
    said = [seen.add("p", number) for number in (1, 2, 6, 7, 4, 2, 7)]
    assert said == [
        None, None, None, None, "running number 4, after 7", "running number 2 a second time",
        "running number 7 a second time",
    ]  # fmt: skip
    assert [seen.add("q", number) for number in (3, 1, 2, 4)] == [
        None, "running number 1, after 3", "running number 2, after 3", None,
    ]  # fmt: skip


def test_refused_numbers_leave_no_gap_whenever_it_is_recorded():
    seen = Numbers()
    seen.refuse("p", 2)
    for number in (1, 6, 9):
        seen.add("p", number)
    seen.refuse("p", 4)
    seen.refuse("p", 40)
    seen.refuse("q", 7)
    assert seen.unaccounted() == {"p": [(3, 3), (5, 5), (7, 8)]}


def test_without_agrees_with_counting_one_by_one():
    gaps = [(1, 3), (5, 5), (8, 12)]
    for bits in range(1 << 12):
        numbers_out = {number + 1 for number in range(12) if bits >> number & 1}
        left = [n for first, last in without(gaps, numbers_out) for n in range(first, last + 1)]
        assert left == [n for first, last in gaps for n in range(first, last + 1) if n not in numbers_out]


def test_what_would_fill_the_memory_ends_the_check(monkeypatch):
    for name in ("MOST_DEVICES", "MOST_GAPS", "MOST_REFUSED"):
        monkeypatch.setattr(numbers, name, 3)
    for grow in (
        lambda seen, n: seen.add(str(n), 1),
        lambda seen, n: seen.add("p", 2 * n),
        lambda seen, n: seen.refuse("p", n),
    ):
        seen = Numbers()
        for n in (1, 2, 3):
            grow(seen, n)
        with pytest.raises(TooMany, match="more phones, gaps or refused numbers"):
            grow(seen, 4)
