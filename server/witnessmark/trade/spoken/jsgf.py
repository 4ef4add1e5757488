"""Grammars in the JSpeech Grammar Format 1.0 (https://www.w3.org/TR/jsgf/): rules gathered, written out, and walked.

Weights are whole numbers and say how often each of several ways is taken. A tag, {sort code}, says what a piece means;
it stays here, for the decoders need none. Words of more than one part, such as a workshop's own, are joined by "_",
since a decoder takes a word for one piece.
"""

from __future__ import annotations

import random
import re
from bisect import bisect
from itertools import accumulate
from typing import Any

Ways = list[tuple[int, str]]
# (weights summed up, what is said in each way: pieces of a sort)
_Ways = tuple[list[int], list[list[tuple[str, Any]]]]
NOTHING = "<NULL>"

_tag = re.compile(r"\s*\{[^}]*\}")
_weight = re.compile(r"/[0-9]+/")
_piece = re.compile(r"<[a-z_]+>|<NULL>|/[0-9]+/|\{[^}]*\}|[()|]|[^\s()|/<>{}]+")


class Rules:
    """The rules of one grammar, in the order in which they were first named."""

    def __init__(self) -> None:
        self.rules: dict[str, Ways] = {}
        self._known: dict[str, _Ways] = {}

    def add(self, name: str, ways: Ways) -> str:
        """Keeps a rule once and returns how it is named inside others: "<name>"."""
        if name not in self.rules:
            self.rules[name] = ways
        return f"<{name}>"

    def has(self, name: str) -> bool:
        return name in self.rules

    def text(self, public: str) -> str:
        """The whole grammar; `public` is the rule that a line is."""
        lines = ["#JSGF V1.0;", "grammar witnessmark;"]
        for name in [public, *(name for name in self.rules if name != public)]:
            ways = _tag.sub("", either(self.rules[name]))
            lines.append(f"{'public ' if name == public else ''}<{name}> = {ways};")
        return "\n".join(lines) + "\n"

    def walk(self, name: str, chance: random.Random) -> tuple[list[str], list[str]]:
        """One line by chance, as often as the weights say: (its words, the tags passed)."""
        words: list[str] = []
        tags: list[str] = []
        self._walk(self.ways_of(name), chance, words, tags)
        return words, tags

    def _walk(self, ways: _Ways, chance: random.Random, words: list[str], tags: list[str]) -> None:
        upto, choices = ways
        way = choices[0] if len(choices) == 1 else choices[bisect(upto, chance.random() * upto[-1])]
        for sort, piece in way:
            if sort == "word":
                words.append(piece)
            elif sort == "tag":
                tags.append(piece)
            elif sort == "rule":
                self._walk(self.ways_of(piece), chance, words, tags)
            else:
                self._walk(piece, chance, words, tags)

    def ways_of(self, name: str) -> _Ways:
        """A rule ready to be walked: its weights summed up, and the pieces of each way."""
        if name not in self._known:
            self._known[name] = _read(either(self.rules[name]))
        return self._known[name]


def either(ways: Ways) -> str:
    """Ways side by side, with their weights where they differ."""
    if len({weight for weight, _ in ways}) == 1:
        return " | ".join(text for _, text in ways)
    return " | ".join(f"/{weight}/ {text}" for weight, text in ways)


def one_of(ways: Ways) -> str:
    """As `either`, in brackets, to stand among other pieces."""
    return f"({either(ways)})" if len(ways) > 1 else ways[0][1]


def maybe(text: str, taken: int, of: int) -> str:
    """A piece that is said `taken` times of `of`; where there is nothing to be said, nothing is."""
    if not text:
        return NOTHING
    return one_of([(taken, text), (of - taken, NOTHING)])


def words_of(grammar: str) -> list[str]:
    """Every word that a grammar can say, in order of the alphabet."""
    body = grammar.split(";", 2)[2]
    bare = re.sub(r"<[^>]*>|/[0-9.]+/|\bpublic\b|[=|();*+\[\]]", " ", body)
    return sorted(set(bare.split()))


def _read(text: str) -> _Ways:
    """An expansion as ways to walk: what stands in brackets is one piece, with ways of its own."""
    weights: list[int] = []
    choices: list[list[tuple[str, Any]]] = []
    pieces: list[tuple[str, Any]] = []
    weight, depth, inner = 1, 0, ""
    for piece in [*_piece.findall(text), "|"]:
        if depth or piece == "(":
            depth += {"(": 1, ")": -1}.get(piece, 0)
            if depth == 0:
                pieces.append(("group", _read(inner[1:])))
                inner = ""
            else:
                inner += f"{piece} "
        elif piece == "|":
            weights.append(weight)
            choices.append(pieces)
            pieces, weight = [], 1
        elif _weight.fullmatch(piece):
            weight = int(piece[1:-1])
        elif piece.startswith("{"):
            pieces.append(("tag", piece[1:-1]))
        elif piece.startswith("<"):
            if piece != NOTHING:
                pieces.append(("rule", piece[1:-1]))
        else:
            pieces.append(("word", piece))
    return list(accumulate(weights)), choices
