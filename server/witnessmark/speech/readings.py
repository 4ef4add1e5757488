"""Other readings of what was heard: what the recognisers differ in, and what is mixed up easily.

Only readings are made here. Which of them was said is for the ears to tell; no value is more welcome than another.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from difflib import SequenceMatcher

# What the closed recognisers take for each other, both ways.
MIXED_UP = [
    ("two", "three"), ("three", "eight"), ("five", "nine"), ("nine", "one"), ("one", "two"), ("four", "five"),
    ("six", "sixteen"), ("six", "eight"), ("seven", "eleven"), ("two", "ten"), ("twelve", "twenty"),
    ("thirteen", "thirty"), ("fourteen", "forty"), ("fifteen", "fifty"), ("sixteen", "sixty"),
    ("seventeen", "seventy"), ("eighteen", "eighty"), ("nineteen", "ninety"), ("three", "thirty"), ("eight", "eighty"),
    ("nine", "ninety"), ("six", "sixty"), ("four", "forty"), ("five", "fifty"), ("seven", "seventy"),
    ("nine", "nineteen"), ("four", "fourteen"), ("oh", "four"), ("zero", "three"), ("one", "a"), ("point", "five"),
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
    for one, other in MIXED_UP:
        if word == one:
            yield other
        elif word == other:
            yield one
