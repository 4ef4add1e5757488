"""Roots, the circle and the two distributions in whole numbers, and rounding for showing: the same digits on the phone.

Nothing here is a binary float. Where a number has no end, it is cut at a stated digit; divisions are of numbers that
are not below zero, since Python and the phone round those alike.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from math import isqrt

# Cut off after fifty decimals.
PI = Fraction(314159265358979323846264338327950288419716939937510, 10**50)

_DIGITS = 45  # inside the distributions; what comes out is good to 18
_ONE = 10**_DIGITS
_OUT = 10**18
_FARTHEST = 10  # standard deviations; beyond it nothing is left in 18 digits


def sqrt(amount: Fraction, digits: int = 20) -> Fraction:
    """The square root, cut off after `digits` decimals. Raises ValueError below zero."""
    if amount < 0:
        raise ValueError(f"{amount} has no square root.")
    return Fraction(isqrt(amount.numerator * 100**digits // amount.denominator), 10**digits)


def normal_below(z: Fraction) -> Fraction:
    """The share of a normal distribution that lies below z standard deviations, to 18 decimals.

    The half plus the density times z + z^3/3 + z^5/(3*5) + z^7/(3*5*7) ...: no term is below zero.
    """
    size = abs(z)
    if size >= _FARTHEST:
        return Fraction(1 if z > 0 else 0)
    x = size.numerator * _ONE // size.denominator
    square = x * x // _ONE
    term, total, odd = x, 0, 1
    while term:
        total += term
        odd += 2
        term = term * square // _ONE // odd
    return _out(_density(square) * total // _ONE, z < 0)


def t_below(t: Fraction, freedom: int) -> Fraction:
    """The share of Student's distribution that lies below t, to 18 decimals. `freedom` is a whole number above zero.

    The finite sums of Abramowitz and Stegun, Handbook of Mathematical Functions, 26.7.3 and 26.7.4 (from memory).
    """
    square = t * t
    cos2 = Fraction(freedom) / (freedom + square)
    c2 = cos2.numerator * _ONE // cos2.denominator
    sine = _root(_ONE - c2)
    if freedom % 2 == 0:
        term, total = _ONE, _ONE
        for k in range(2, freedom - 1, 2):
            term = term * c2 // _ONE * (k - 1) // k
            total += term
        inside = sine * total // _ONE
    else:
        term, total = _root(c2), 0
        for k in range(3, freedom + 1, 2):
            total += term
            term = term * c2 // _ONE * (k - 1) // k
        inside = 2 * (_angle(sine, _root(c2)) + sine * total // _ONE) * _ONE // _pi()
    return _out(inside // 2, t < 0)


def _out(above_half: int, mirrored: bool) -> Fraction:
    above = Fraction(min((2 * above_half * _OUT + _ONE) // (2 * _ONE), _OUT // 2), _OUT)
    return Fraction(1, 2) - above if mirrored else Fraction(1, 2) + above


def _density(square: int) -> int:
    """exp(-square/2) / root of 2 pi."""
    half, term, total, k = square // 2, _ONE, 0, 0
    while term:
        total += term
        k += 1
        term = term * half // _ONE // k
    return _ONE * _ONE // total * _ONE // _root(2 * _pi())


@cache
def _pi() -> int:
    return PI.numerator * _ONE // PI.denominator


def _root(amount: int) -> int:
    return isqrt(amount * _ONE)


def _angle(sine: int, cosine: int) -> int:
    """The angle from 0 to a right one: halved four times, then x - x^3/3 + x^5/5 ... of its tangent."""
    x = sine * _ONE // (_ONE + cosine)
    for _ in range(3):
        x = x * _ONE // (_ONE + _root(_ONE + x * x // _ONE))
    square = x * x // _ONE
    power, odd, plus, minus = x, 1, 0, 0
    while power:
        plus += power // odd
        power, odd = power * square // _ONE, odd + 2
        minus += power // odd
        power, odd = power * square // _ONE, odd + 2
    return 16 * (plus - minus)


def significant(amount: Fraction, digits: int) -> str:
    """The amount with so many digits that count, halves away from zero: 0.0012, 120, 0.10."""
    return _shown(amount, digits, 1)


def round_up(amount: Fraction, digits: int) -> str:
    """As `significant`, away from zero: what is shown never claims less uncertainty than there is."""
    return _shown(amount, digits, 2)


def round_down(amount: Fraction, digits: int) -> str:
    """As `significant`, towards zero."""
    return _shown(amount, digits, 0)


def _shown(amount: Fraction, digits: int, mode: int) -> str:
    """`mode`: 0 cuts, 1 goes to the nearest, 2 goes up where anything was cut."""
    if amount == 0:
        return "0"
    over, under = abs(amount.numerator), amount.denominator
    power = len(str(over)) - len(str(under))
    if over * 10 ** max(-power, 0) < under * 10 ** max(power, 0):
        power -= 1
    places = digits - 1 - power
    over, under = over * 10 ** max(places, 0), under * 10 ** max(-places, 0)
    shown, rest = over // under, over % under
    if (mode == 1 and 2 * rest >= under) or (mode == 2 and rest):
        shown += 1
    if shown == 10**digits:
        shown, places = shown // 10, places - 1
    sign = "-" if amount < 0 else ""
    if places <= 0:
        return f"{sign}{shown * 10**-places}"
    text = str(shown).rjust(places + 1, "0")
    return f"{sign}{text[:-places]}.{text[-places:]}"
