"""A number said in words comes back digit for digit, and stays as it was said: 88.90 is not 88.9.

Outside judge: num2words (PyPI, 0.5), which says numbers in English and knows nothing of us.
"""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from num2words import num2words

from tests.support.cases import all_cases
from witnessmark.trade.ground.units import read as read_value
from witnessmark.trade.spoken.numbers import read, run_end
from witnessmark.trade.spoken.text import tokens


def number(text):
    read_tokens = tokens(text)
    assert run_end(read_tokens, 0) == len(read_tokens), "all of it is one number"
    return read(read_tokens)


DECIMALS = st.decimals(min_value=0, max_value=Decimal("999999.9999"), places=4, allow_nan=False, allow_infinity=False)


@settings(max_examples=400, deadline=None)
@given(amount=DECIMALS | st.integers(0, 999_999).map(Decimal) | st.decimals(0, 200, places=2, allow_nan=False))
@example(Decimal("102.04"))
@example(Decimal("1200"))
@example(Decimal("1005.5"))
@example(Decimal("100000"))
@example(Decimal("0.02"))
def test_any_number_in_words_comes_back_digit_for_digit(amount):
    plain = format(amount.normalize(), "f")
    # It writes "one thousand, two hundred"; nobody says a comma.
    words = num2words(Decimal(plain)).replace(",", "")
    assert number(words).text == plain
    assert number("minus " + words).text == "-" + plain
    # The American way leaves the "and" out.
    assert number(words.replace(" and ", " ")).text == plain


@given(
    whole=st.integers(0, 999),
    decimals=st.text("0123456789", min_size=1, max_size=5),
    nought=st.sampled_from(["oh", "o", "nought", "naught", "zero"]),
)
def test_decimals_said_one_by_one_keep_their_noughts(whole, decimals, nought):
    digit_words = [nought if digit == "0" else num2words(int(digit)) for digit in decimals]
    assert number(f"{num2words(whole)} point {' '.join(digit_words)}").text == f"{whole}.{decimals}"


@given(digits=st.text("0123456789", min_size=1, max_size=6), decimals=st.text("0123456789", min_size=1, max_size=4))
def test_digits_one_by_one_with_a_point_are_a_number(digits, decimals):
    digit_words = " ".join(num2words(int(digit)) for digit in digits)
    after = " ".join(num2words(int(digit)) for digit in decimals)
    assert number(f"{digit_words} point {after}").text == f"{digits}.{decimals}"


@given(digits=st.text("123456789", min_size=3, max_size=6))
def test_digits_one_by_one_without_a_point_are_offered_from_three_on(digits):
    result = number(" ".join(num2words(int(digit)) for digit in digits))
    assert result.text == ""
    assert digits in result.maybe
    assert all(way.replace(".", "") == digits for way in result.maybe)


@settings(deadline=None)
@given(whole=st.integers(20, 99), rest=st.integers(10, 99))
def test_two_numbers_with_the_point_lost_between_them_are_never_one(whole, rest):
    result = number(f"{num2words(whole)} {num2words(rest)}")
    if whole % 10 == 0 and rest < 10:
        return
    assert result.text == ""
    assert f"{whole}.{rest}" in result.maybe


@all_cases(
    ("words", "value"),
    [
        ("half", "0.5"), ("a half", "0.5"), ("a quarter", "0.25"), ("three quarters", "0.75"), ("1/2", "0.5"),
        ("two and a half", "2.5"), ("a hundred and a half", "100.5"), ("twelve and three quarters", "12.75"),
        ("one third", "1/3"), ("two thirds", "2/3"), ("five sixteenths", "5/16"), ("one and five sixteenths", "1 5/16"),
        ("1 5/16", "1 5/16"), ("three eighths", "3/8"),
    ],
)  # fmt: skip
def test_halves_and_quarters_become_decimals_other_fractions_stay(words, value):
    assert number(words).text == value
    read_value(value)  # as the measurement takes it


@pytest.mark.parametrize("words", ["hundred", "and", "point", "double", "and a half of", "seventeen hundred hundred"])
def test_what_is_no_number_is_none(words):
    read_tokens = tokens(words)
    end = run_end(read_tokens, 0)
    result = read(read_tokens[:end])
    assert result is None or result.text == ""


@all_cases("words", ["five quarters", "two halves", "0/0", "3/2", "1.2.3", "1,2,3", "12/11/2026", "9999999999999999"])
def test_figures_that_cannot_be_kept_are_not_read(words):
    result = read(tokens(words))
    assert result is None or result.text == ""
