"""How words are pronounced: the dictionary of a decoder, and the workshop's own words by example.

An own word sounds like known words in a row: "Halvern" like "hal burn". Single letters are known ("h v"). Nothing is
spelled out by rules of thumb: a word with a wrong pronunciation is never heard.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable
from typing import Any

from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.ground.tables import table
from witnessmark.trade.spoken.words import plain

WORDS: dict[str, list[str]] = table("pronunciations")["words"]
# Each phrase an own word sounds like may be said in several ways; more than these are not kept.
MOST_WAYS = 4


def token_of(word: str) -> str:
    """A word of the workshop's own as one piece, whatever it is written with."""
    return "_".join(plain(word).split())


def dictionary(words: Iterable[str], own: Iterable[dict[str, Any]] = ()) -> str:
    """The lines of a decoder's dictionary, "bore B AO R" and "bore(2) B AO", one word after the other as given.

    Raises Refusal for a word that nobody has said how to pronounce.
    """
    by_example = {token_of(entry["word"]): entry for entry in own}
    lines = []
    for word in words:
        ways = WORDS.get(word) or (example(by_example[word]) if word in by_example else None)
        if not ways:
            raise Refusal("unknown", "word", say("trade.spoken.word_unknown", word=word))
        lines += [f"{word}{f'({at})' if at > 1 else ''} {way}\n" for at, way in enumerate(ways, 1)]
    return "".join(lines)


def example(entry: dict[str, Any]) -> list[str]:
    """The pronunciations of an own word, by the phrases it sounds like. Raises Refusal when one of them holds a word
    that is not known, or when there is none."""
    ways_known: dict[str, None] = {}
    for phrase in entry["sounds_like"]:
        words = plain(phrase).split()
        for word in words:
            if word not in WORDS:
                raise Refusal("unknown", "sounds_like", say("trade.spoken.word_unknown", word=word))
        if words:
            ways = itertools.product(*(WORDS[word] for word in words))
            ways_known |= dict.fromkeys(" ".join(way) for way in itertools.islice(ways, MOST_WAYS))
    if not ways_known:
        raise Refusal("missing", "sounds_like", say("trade.spoken.sounds_like_missing", word=entry["word"]))
    return list(ways_known)


def distinct(phrases: Iterable[str]) -> list[str]:
    """The phrases without those that sound like one before them: "millimeters" after "millimetres"."""
    by_sound: dict[str, str] = {}
    for phrase in phrases:
        sounds = " ".join(WORDS[word][0] if word in WORDS else word for word in phrase.split())
        by_sound.setdefault(sounds, phrase)
    return list(by_sound.values())


def pronounceable(entry: dict[str, Any]) -> bool:
    """Whether a decoder can be told how the own word sounds."""
    try:
        return bool(example(entry))
    except Refusal:
        return False
