"""Other readings of what was heard: what the recognisers differ in, and what is mixed up easily.

Only readings are made here. Which of them was said is for the ears to tell; no value is more welcome than another.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from difflib import SequenceMatcher

from witnessmark.trade.ground.units import UNITS

# What the closed recognisers take for each other, both ways.
MIXED_UP = [
    ("two", "three"), ("three", "eight"), ("five", "nine"), ("nine", "one"), ("one", "two"), ("four", "five"),
    ("six", "sixteen"), ("six", "eight"), ("seven", "eleven"), ("two", "ten"), ("twelve", "twenty"),
    ("thirteen", "thirty"), ("fourteen", "forty"), ("fifteen", "fifty"), ("sixteen", "sixty"),
    ("seventeen", "seventy"), ("eighteen", "eighty"), ("nineteen", "ninety"), ("three", "thirty"), ("eight", "eighty"),
    ("nine", "ninety"), ("six", "sixty"), ("four", "forty"), ("five", "fifty"), ("seven", "seventy"),
    ("nine", "nineteen"), ("four", "fourteen"), ("oh", "four"), ("zero", "three"), ("one", "a"),
    ("eight", "a"), ("thou", "out"), ("thou", "pound"), ("point", "five"),
    ("point", "nine"), ("point", "four"), ("point", "one"), ("thou", "pounds"), ("thou", "four"), ("bar", "four"),
    ("burnt", "bent"), ("burnt", "blown"), ("worn", "blown"), ("renew", "refer"), ("replace", "renew"),
    ("rod", "bore"), ("inlet", "left"),
]  # fmt: skip
# Left out easily, or put in: 'two and a half', 'point oh two'.
COME_AND_GO = ("point", "oh")


def neighbours(reading: str, others: Iterable[str], units: Iterable[str]) -> Iterator[str]:
    """Readings that differ from `reading` in one place: as one of the others has it, by words that are mixed up
    easily, or with a unit where none was heard. `units`: what units are called."""
    words = reading.split()
    for other in others:
        theirs = other.split()
        for what, a, b, c, d in SequenceMatcher(None, words, theirs, autojunk=False).get_opcodes():
            if what != "equal":
                yield " ".join(words[:a] + theirs[c:d] + words[b:])
    for at, word in enumerate(words):
        for other in _mixed_up(word):
            yield " ".join([*words[:at], other, *words[at + 1 :]])
        for extra in COME_AND_GO:
            if word == extra:
                yield " ".join(words[:at] + words[at + 1 :])
            else:
                yield " ".join([*words[:at], extra, *words[at:]])
    known = list(units)
    if words and not any(reading.endswith(f" {unit}") for unit in known):
        yield from (f"{reading} {unit}" for unit in known)


def _mixed_up(word: str) -> Iterator[str]:
    for alike, other in MIXED_UP:
        if word == alike:
            yield other
        elif word == other:
            yield alike


_ONES = [
    "zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
    "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen",
]  # fmt: skip
_TENS = ["", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"]
_WRITTEN = {unit["abbreviated"]: unit["said"][0] for unit in UNITS.values() if "abbreviated" in unit}


def as_words(written: str) -> str:
    """What a free recogniser wrote, in words as they are said: 'Bore 3: 88.94 mm.' is 'bore three eighty eight point
    nine four millimetres'. What it does not know it leaves as it is."""
    text = re.sub(r"\d[\d,]*(\.\d+)?|\.\d+", lambda number: f" {_number(number.group())} ", written.lower())
    return " ".join(_WRITTEN.get(word, word) for word in re.findall(r"[a-z']+|%", text.replace("-", " ")))


def _number(digits: str) -> str:
    whole, _, rest = digits.replace(",", "").partition(".")
    words = [] if whole in ("", "0") and rest else [_whole(whole)]
    return " ".join([*words, *(["point", *(_ONES[int(digit)] for digit in rest)] if rest else [])])


def _whole(digits: str) -> str:
    value = int(digits)
    if value < 20:
        return _ONES[value]
    if value < 100:
        return f"{_TENS[value // 10]} {_ONES[value % 10] if value % 10 else ''}".strip()
    if value < 1000:
        rest = f" and {_whole(str(value % 100))}" if value % 100 else ""
        return f"{_ONES[value // 100]} hundred{rest}"
    return " ".join(_ONES[int(digit)] for digit in digits)
