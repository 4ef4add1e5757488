"""Tokens of speech gathered into items: a phrase of the vocabulary, a number, a unit, or a word that nobody knows.

Where two phrases begin, the longer one counts ("main bearing cap" is no main bearing). What a phrase with several
meanings stands for is settled later, by what stands around it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from witnessmark.trade.spoken.numbers import run_end
from witnessmark.trade.spoken.text import Token
from witnessmark.trade.spoken.words import NUMBERS, Index, Meaning


@dataclass(frozen=True)
class Item:
    """`sort`: number, ordinal, sign (number sign), unit, to, phrase or word. `meanings` are those of a phrase, of an
    ordinal its digits, of a unit its code. `breaks`: a stop stands before it."""

    sort: str
    meanings: tuple[Meaning, ...]
    tokens: tuple[Token, ...]

    @property
    def breaks(self) -> bool:
        return self.tokens[0].breaks

    @property
    def phrase(self) -> str:
        return " ".join(token.raw for token in self.tokens)

    def means(self, sort: str) -> list[str]:
        """The codes that it can mean of this sort."""
        return [code for kind, code in self.meanings if kind == sort]


_BY_KIND = {"sign": "sign", "to": "to"}


def items(tokens: Sequence[Token], index: Index) -> list[Item]:
    """All tokens as items, in order; none is lost."""
    result: list[Item] = []
    at = 0
    while at < len(tokens):
        item = _item(tokens, at, index)
        result.append(item)
        at += len(item.tokens)
    return result


def _item(tokens: Sequence[Token], at: int, index: Index) -> Item:
    token = tokens[at]
    if token.kind == "unit":
        return Item("unit", (("unit", token.text),), (token,))
    if token.kind in _BY_KIND:
        return Item(_BY_KIND[token.kind], (), (token,))
    if token.kind == "ordinal":
        return Item("ordinal", (("ordinal", token.text),), (token,))
    length, meanings = _phrase(tokens, at, index)
    number = run_end(tokens, at) - at
    # "one way" is a phrase, "one" a number; a number of several words is never cut by a phrase inside it.
    if number and not (length > 1 and length >= number):
        return Item("number", (), tuple(tokens[at : at + number]))
    if length > 1:
        return Item(_sort(meanings), meanings, tuple(tokens[at : at + length]))
    if token.text in NUMBERS["ordinals"]:
        return Item("ordinal", (("ordinal", NUMBERS["ordinals"][token.text]),), (token,))
    return Item(_sort(meanings) if length else "word", meanings, (token,))


def _sort(meanings: tuple[Meaning, ...]) -> str:
    sorts = {sort for sort, _ in meanings}
    if sorts == {"unit"}:
        return "unit"
    return "sign" if "number_sign" in sorts else "to" if "to" in sorts else "phrase"


def _phrase(tokens: Sequence[Token], at: int, index: Index) -> tuple[int, tuple[Meaning, ...]]:
    """(how many tokens the longest phrase at `at` takes, what it can mean); (0, ()) for none."""
    phrases = _phrases(tokens, at, index)
    if not phrases:
        return 0, ()
    length, meanings = phrases[0]
    for shorter, others in phrases[1:]:
        # "Crank end play" is the crank's end play and no crank end that plays; a "cylinder head gasket face" no gasket.
        following = _phrases(tokens, at + shorter, index)
        if following and following[0][0] > length - shorter:
            return shorter, others
    return length, meanings


def _phrases(tokens: Sequence[Token], at: int, index: Index) -> list[tuple[int, tuple[Meaning, ...]]]:
    """Every phrase that begins at `at`, the longest first."""
    phrases = []
    for words, meanings in index.get(tokens[at].text, ()):
        if len(words) <= len(tokens) - at and all(
            tokens[at + i].text == word
            and tokens[at + i].kind in ("word", "whole")
            and not (i and tokens[at + i].breaks)
            for i, word in enumerate(words)
        ):
            phrases.append((len(words), meanings))
    return phrases
