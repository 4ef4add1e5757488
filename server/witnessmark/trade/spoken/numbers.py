"""Spoken numbers as digits: "eighty eight point nine oh" is 88.90, "three and a half" 3.5, "four eight" 48.

What is said is kept digit for digit. What can be read in two ways is not read: the ways are offered instead
("eighty eight nine four": 88.94 or 8894).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from witnessmark.trade.spoken.text import FIGURES, Token
from witnessmark.trade.spoken.words import NUMBERS

_DIGITS, _TEENS, _TENS = NUMBERS["digits"], NUMBERS["teens"], NUMBERS["tens"]
_FRACTIONS, _REPEAT = NUMBERS["fractions"], NUMBERS["repeat"]
# Halves and quarters are said for decimals; other fractions stay as they were said.
_AS_DECIMALS = {(1, 2): ".5", (1, 4): ".25", (3, 4): ".75"}
# No reading has more; a value that cannot be kept is not read.
MOST_FIGURES = 15
_BY_TENS = {10: 1, 100: 2}


@dataclass(frozen=True)
class Number:
    """`text` the digits, "" when there are several ways to read them: `maybe`. `parts_of`: "two tenths", which is a
    number only when it is said of what."""

    text: str
    maybe: tuple[str, ...] = ()
    parts_of: bool = False


def _is(token: Token, sort: str) -> bool:
    return token.kind == "word" and token.text in NUMBERS[sort]


def _is_plain(token: Token) -> bool:
    """A token that can stand anywhere in a number."""
    if token.kind in FIGURES:
        return True
    return any(_is(token, sort) for sort in ("digits", "teens", "tens", "hundred", "thousand", "repeat"))


def _is_fraction(token: Token) -> bool:
    return token.kind == "fraction" or _is(token, "fractions")


def run_end(tokens: Sequence[Token], at: int) -> int:
    """Where the number that begins at `at` ends, `at` itself when none does. A number does not go across a stop."""
    start = at
    if _starts_with_sign(tokens, at):
        at += 1
    end = at
    while end < len(tokens) and not (tokens[end].breaks and end > start):
        step = _step(tokens, end, first=end == at)
        if step == 0:
            break
        end += step
    return end if end > at else start


def _starts_with_sign(tokens: Sequence[Token], at: int) -> bool:
    token = tokens[at]
    signed = token.kind in ("minus", "plus") or _is(token, "minus") or _is(token, "plus")
    return signed and at + 1 < len(tokens) and not tokens[at + 1].breaks and _step(tokens, at + 1, first=True) > 0


def _step(tokens: Sequence[Token], at: int, first: bool) -> int:
    """How many tokens at `at` go on with a number: 0 for none."""
    token = tokens[at]

    def then(offset: int) -> Token | None:
        index = at + offset
        return tokens[index] if index < len(tokens) and not tokens[index].breaks else None

    if _is(token, "ordinals"):
        # "Three fifths": of the ordinals only a fraction goes on with a number; "second" is a unit of time as well.
        return int(token.text != "second" and not first and _is(token, "fractions"))
    if _is_plain(token) or _is_fraction(token):
        return 1
    next_token = then(1)
    if next_token is None:
        return 0
    if _is(token, "point"):
        return int(_is_plain(next_token))
    if _is(token, "one"):
        return int(_is_fraction(next_token) or _is(next_token, "hundred") or _is(next_token, "thousand"))
    return int(_is(token, "and") and not first and _goes_on_after_and(next_token, then(2)))


def _goes_on_after_and(token: Token, following: Token | None) -> bool:
    """Whether a number goes on behind "and": "hundred and four", "two and a half"."""
    if _is_plain(token) or _is_fraction(token):
        return True
    return following is not None and _is(token, "one") and _is_fraction(following)


def read(tokens: Sequence[Token]) -> Number | None:
    """The number that the tokens say from first to last, or None when they say none."""
    if not tokens:
        return None
    first = tokens[0]
    minus = first.kind == "minus" or _is(first, "minus")
    if minus or first.kind == "plus" or _is(first, "plus"):
        result = _unsigned(tokens[1:])
    else:
        result = _unsigned(tokens)
    if result and len(result.text) > MOST_FIGURES:
        result = Number("")
    if result is None or not minus:
        return result
    return Number(
        "-" + result.text if result.text else "", tuple("-" + digits for digits in result.maybe), result.parts_of
    )


def _unsigned(tokens: Sequence[Token]) -> Number | None:
    if not tokens:
        return None
    if len(tokens) == 1 and tokens[0].kind == "unsure":
        return _unsure_figure(tokens[0].text)
    whole, at = natural(tokens)
    if not whole and _is(tokens[0], "point"):
        return _after_point("0", tokens[1:])
    if not whole:
        return _spelled(tokens) if _all_digits(tokens) else _fraction("", tokens)
    if at == len(tokens):
        return Number(whole)
    rest = tokens[at:]
    if _is(rest[0], "point"):
        return _after_point(whole, rest[1:])
    fraction = _fraction("", tokens) if _is(rest[0], "fractions") else _fraction(whole, rest)
    if fraction is not None:
        return fraction
    if _all_digits(tokens):
        return _spelled(tokens)
    return _pieces(tokens)


def _unsure_figure(text: str) -> Number:
    bare = text.replace(",", "")
    if text.count(",") == 1 and "." not in text and "/" not in text:
        return Number("", (bare, text.replace(",", ".")))
    return Number("", (bare,) if bare.count(".") < 2 and "/" not in bare else ())


def natural(tokens: Sequence[Token]) -> tuple[str, int]:
    """(digits of the whole number said at the start, how many tokens it takes); a decimal figure is one too."""
    if not tokens:
        return "", 0
    first = tokens[0]
    if first.kind == "decimal":
        return first.text, 1
    thousands, at = _below_thousand(tokens)
    if at and at < len(tokens) and _is(tokens[at], "thousand"):
        rest, more = _after_and(tokens, at + 1, 1000)
        return str(int(thousands) * 1000 + int(rest or "0")), at + 1 + more
    return thousands, at


def _after_and(tokens: Sequence[Token], at: int, below: int) -> tuple[str, int]:
    """What follows hundred or thousand, with or without "and"."""
    skip = 1 if at < len(tokens) and _is(tokens[at], "and") else 0
    rest = tokens[at + skip :]
    if not rest or (rest[0].kind in FIGURES):
        return "", 0
    text, used = _below_thousand(rest) if below == 1000 else _below_hundred(rest)
    if not used or _is(rest[0], "one"):
        return "", 0
    # "a hundred and three quarters" is no hundred and three.
    after = rest[used] if used < len(rest) else None
    if skip and after is not None and _is_fraction(after):
        return "", 0
    # A figure below one in a place of its own, "hundred oh four", is spelled and not counted.
    if text == "0":
        return "", 0
    return text, skip + used


def _below_thousand(tokens: Sequence[Token]) -> tuple[str, int]:
    text, at = _below_hundred(tokens)
    if at and at < len(tokens) and _is(tokens[at], "hundred") and int(text) > 0:
        rest, more = _after_and(tokens, at + 1, 100)
        return str(int(text) * 100 + int(rest or "0")), at + 1 + more
    return text, at


def _below_hundred(tokens: Sequence[Token]) -> tuple[str, int]:
    first = tokens[0]
    following = tokens[1] if len(tokens) > 1 else None
    if first.kind == "whole":
        return first.text, 1
    if first.kind != "word":
        return "", 0
    if first.text in NUMBERS["one"] and following and (_is(following, "hundred") or _is(following, "thousand")):
        return "1", 1
    if first.text in _TENS:
        if following and _is(following, "digits") and _DIGITS[following.text] != "0":
            text = _TENS[first.text][0] + _DIGITS[following.text]
            if len(tokens) > 2 and _is(tokens[2], "fractions") and int(_FRACTIONS[tokens[2].text]) < int(text):
                # "Twenty three quarters" is twenty and three quarters, or nothing; "twenty five hundredths" is plain.
                return _TENS[first.text], 1
            return text, 2
        return _TENS[first.text], 1
    if first.text in _TEENS:
        return _TEENS[first.text], 1
    if first.text in _DIGITS:
        return _DIGITS[first.text], 1
    return "", 0


def _digits(tokens: Sequence[Token]) -> str | None:
    """Digits said one by one, "double four" too; None when something else is among them."""
    text, at = "", 0
    while at < len(tokens):
        token = tokens[at]
        if _is(token, "repeat"):
            following = tokens[at + 1] if at + 1 < len(tokens) else None
            if following is None or not _is(following, "digits"):
                return None
            text += _DIGITS[following.text] * int(_REPEAT[token.text])
            at += 2
        elif _is(token, "digits"):
            text += _DIGITS[token.text]
            at += 1
        elif token.kind == "whole" and len(token.text) == 1:
            text += token.text
            at += 1
        else:
            return None
    return text


def _all_digits(tokens: Sequence[Token]) -> bool:
    """Digits one by one, with a point among them or none."""
    points = [at for at, token in enumerate(tokens) if _is(token, "point")]
    if len(points) > 1:
        return False
    bare = [token for token in tokens if not _is(token, "point")]
    return _digits(bare) is not None


def _spelled(tokens: Sequence[Token]) -> Number | None:
    point = next((at for at, token in enumerate(tokens) if _is(token, "point")), None)
    if point is not None:
        return _after_point(_digits(tokens[:point]) or "0", tokens[point + 1 :])
    text = _digits(tokens) or ""
    if len(text) <= 2 and text[0] != "0":
        # "Two two" may be two, said twice; "double two" is not.
        twice = text[0] == text[-1] and len(tokens) == 2 and not _is(tokens[0], "repeat")
        return Number("", (text, text[0])) if twice else Number(text)
    # Three digits and more: a point may have been lost on the way.
    ways = [text] + [f"{text[:-n]}.{text[-n:]}" for n in (1, 2, 3) if n < len(text)]
    return Number("", tuple(dict.fromkeys(ways)))


def _after_point(whole: str, tokens: Sequence[Token]) -> Number | None:
    if not tokens or "." in whole:
        return Number("", (whole,)) if "." in whole else None
    digits = _digits(tokens)
    if digits is None:
        digits = _decimals_as_one(tokens)
    if digits is not None:
        return Number(f"{whole}.{digits}")
    # "point nine four and a half": half of the last place, as some say it.
    for at in range(1, len(tokens)):
        head = _digits(tokens[:at]) or _decimals_as_one(tokens[:at])
        tail = _fraction("", tokens[at + 1 :]) if head and _is(tokens[at], "and") else None
        if head and tail and tail.text.startswith("0."):
            return Number("", (f"{whole}.{head}{tail.text[2:]}", f"{whole}.{head}"))
    texts = _joined(tokens)
    return Number("", (f"{whole}.{texts}",) if texts else ())


def _decimals_as_one(tokens: Sequence[Token]) -> str | None:
    """Decimals said as one number, "point ninety four", noughts before it spelled; a figure as it is written."""
    zeros = ""
    at = 0
    while at < len(tokens) and _is(tokens[at], "digits") and _DIGITS[tokens[at].text] == "0":
        zeros += "0"
        at += 1
    rest = tokens[at:]
    if not rest:
        return None
    text, used = _below_hundred(rest)
    return zeros + text if used == len(rest) and text else None


def _fraction(whole: str, tokens: Sequence[Token]) -> Number | None:
    """A fraction after a whole number, or alone: "and a half", "three quarters", "1/2"."""
    at = 0
    if whole and _is(tokens[0], "and"):
        at = 1
    rest = tokens[at:]
    if not rest:
        return None
    if len(rest) == 1 and rest[0].kind == "fraction":
        over, under = (int(digits) for digits in rest[0].text.split("/"))
        return _of_fraction(whole, over, under, rest[0].text)
    if whole and at == 0 and not _is(tokens[0], "one"):
        # "eighty eight half": without "and" or "a" it may be anything.
        return None
    if "." in whole:
        return Number("", (whole,))
    over_text = "1"
    if _is(rest[0], "one"):
        rest = rest[1:]
    elif not _is(rest[0], "fractions"):
        over_text, used = _below_hundred(rest)
        rest = rest[used:] if used else ()
    if len(rest) != 1 or not _is(rest[0], "fractions"):
        return None
    under = int(_FRACTIONS[rest[0].text])
    if int(over_text) == 1 and rest[0].text.endswith("s"):
        # "Quarters": how many was not said.
        return Number("")
    return _of_fraction(whole, int(over_text), under, f"{int(over_text)}/{under}")


def _of_fraction(whole: str, over: int, under: int, written: str) -> Number | None:
    if not 0 < over < under or "." in whole:
        return Number("", ())
    if (over, under) in _AS_DECIMALS:
        return Number((whole or "0") + _AS_DECIMALS[over, under])
    if under in _BY_TENS:
        decimals = str(over).rjust(_BY_TENS[under], "0")
        return Number(f"{whole or '0'}.{decimals}", parts_of=True)
    return Number(f"{whole} {written}" if whole else written)


def _joined(tokens: Sequence[Token]) -> str:
    """All whole numbers said, digit after digit; "" when something among them is no whole number."""
    text, at = "", 0
    while at < len(tokens):
        number, used = natural(tokens[at:])
        if not used or "." in number:
            return ""
        text += number
        at += used
    return text


def _pieces(tokens: Sequence[Token]) -> Number:
    """Whole numbers one after the other and no point: the first may be what stands before it."""
    first, used = natural(tokens)
    rest = _joined(tokens[used:])
    if not rest or "." in first:
        return Number("", ())
    return Number("", (f"{first}.{rest}", first + rest))


def spelled(tokens: Sequence[Token]) -> str:
    """Two digits said one by one, as one number: "one two" is 12. "" when they are something else."""
    text = _digits(tokens) or ""
    return text if len(text) == len(tokens) == 2 and text[0] != "0" else ""


def is_fraction_word(tokens: Sequence[Token], at: int) -> bool:
    """True when the number before `at` counts the fraction that stands there: "three quarters"."""
    return at < len(tokens) and _is(tokens[at], "fractions") and tokens[at].text != "half"
