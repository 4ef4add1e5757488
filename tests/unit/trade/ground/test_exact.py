"""Roots, distributions and rounding without binary floats. Against scipy: tests/outside."""

import json
from fractions import Fraction
from math import isqrt
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.support.cases import all_cases
from tests.support.made import text
from witnessmark.trade.ground import exact

VECTORS = json.loads((Path(__file__).parents[3] / "vectors" / "exact.json").read_text())
AMOUNTS = st.fractions(min_value=-(10**9), max_value=10**9, max_denominator=10**9)
NOT_NEGATIVE = AMOUNTS.map(abs)


@all_cases(("amount", "digits", "root"), VECTORS["roots"], ids=str)
def test_a_root(amount, digits, root):
    assert text(exact.sqrt(Fraction(amount), digits)) == root


@all_cases(("z", "share"), VECTORS["normal"], ids=str)
def test_the_normal_distribution(z, share):
    assert text(exact.normal_below(Fraction(z))) == share


@all_cases(("t", "freedom", "share"), VECTORS["student"], ids=str)
def test_students_distribution(t, freedom, share):
    assert text(exact.t_below(Fraction(t), freedom)) == share


@all_cases(("amount", "digits", "nearest", "up", "down"), VECTORS["shown"], ids=str)
def test_digits_that_count(amount, digits, nearest, up, down):
    shown = [show(Fraction(amount), digits) for show in (exact.significant, exact.round_up, exact.round_down)]
    assert shown == [nearest, up, down]


def test_nothing_below_zero_has_a_root():
    with pytest.raises(ValueError):
        exact.sqrt(Fraction(-1))


@given(amount=NOT_NEGATIVE, digits=st.integers(0, 30))
def test_a_root_is_cut_off_and_nothing_else(amount, digits):
    root, last = exact.sqrt(amount, digits), Fraction(1, 10**digits)
    assert root**2 <= amount < (root + last) ** 2


@given(n=st.integers(0, 10**40))
def test_the_root_of_a_square_is_exact(n):
    assert exact.sqrt(Fraction(n * n), 0) == n == isqrt(n * n)


@given(z=st.fractions(-12, 12, max_denominator=10**6), further=st.fractions(0, 3, max_denominator=10**6))
def test_shares_are_mirrored_and_never_fall(z, further):
    assert exact.normal_below(z) + exact.normal_below(-z) == 1
    assert 0 <= exact.normal_below(z) <= exact.normal_below(z + further) <= 1


@given(t=st.fractions(-50, 50, max_denominator=10**6), freedom=st.integers(1, 100))
def test_students_shares_are_mirrored_and_wider_than_normal(t, freedom):
    assert exact.t_below(t, freedom) + exact.t_below(-t, freedom) == 1
    normal, student = exact.normal_below(abs(t)), exact.t_below(abs(t), freedom)
    assert Fraction(1, 2) <= student <= normal + Fraction(1, 10**15)


@given(amount=AMOUNTS, digits=st.integers(1, 15))
def test_shown_digits_bracket_the_amount(amount, digits):
    up, down, nearest = (
        Fraction(show(amount, digits)) for show in (exact.round_up, exact.round_down, exact.significant)
    )
    assert abs(down) <= abs(amount) <= abs(up)
    assert nearest in (up, down) and abs(nearest - amount) * 2 <= abs(up - down)
    assert abs(up - down) <= abs(amount) / 10 ** (digits - 1)
    assert exact.significant(-amount, digits).lstrip("-") == exact.significant(amount, digits).lstrip("-")
