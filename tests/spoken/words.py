"""The words that can be said, for tests that try all of them."""

from __future__ import annotations

from typing import Any

from witnessmark.trade.spoken.words import NUMBERS, TABLE, all_phrases, plain


def every_word(own: list[dict[str, Any]] | None = None) -> list[str]:
    """Every word that somebody can say, number words too, in order of the alphabet."""
    words = {word for phrase, _, _ in all_phrases() for word in phrase.split()}
    for word in own or []:
        words |= set(plain(str(word["word"])).split())
    for numbers in NUMBERS.values():
        words |= set(numbers)
    words |= set(TABLE["banks"]["letters"])
    return sorted(word for word in words if not word.isdigit())
