"""The words of a recording and when each is heard: a person's text laid over a machine's times, and where texts differ.

A word that both have keeps the machine's time. Words between two of these share, in equal parts, the time of what the
machine heard there, or else the pause between their neighbours. That serves to light a word while it is heard; it
decides nothing.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

_EDGES = ".,;:!?\"'()[]“”‘’„…–-"
# Above this many pairs of words only what is equal at both ends is matched: nobody waits for a whole afternoon's talk.
_MOST_PAIRS = 4_000_000


def timed(text: str, words: Sequence[Sequence[Any]]) -> list[list[Any]]:
    """`text` as [word, from_ms, to_ms], in order; times in whole milliseconds of the recording.

    `words` is what a recogniser heard, [word, from_ms, to_ms, ...], in order. Empty when it heard nothing: then no word
    has a time.
    """
    own = text.split()
    if not words or not own:
        return []
    spans = [(int(word[1]), max(int(word[1]), int(word[2]))) for word in words]
    result: list[list[Any]] = []
    at, heard = 0, 0
    for mine, theirs in [*_matched(own, [str(word[0]) for word in words]), (len(own), len(words))]:
        result += _shared(own[at:mine], _between(spans, heard, theirs))
        if mine < len(own):
            result.append([own[mine], *spans[theirs]])
        at, heard = mine + 1, theirs + 1
    return result


def differing(text: str, against: str) -> list[list[Any]]:
    """`text` as [word, whether `against` has it too at that place]; capitals and punctuation make no difference."""
    own = text.split()
    same = {mine for mine, _ in _matched(own, against.split())}
    return [[word, number in same] for number, word in enumerate(own)]


def _between(spans: list[tuple[int, int]], first: int, end: int) -> tuple[int, int]:
    """The time of the words from `first` up to `end`; where there are none, the pause before `end`."""
    if first < end:
        return spans[first][0], max(spans[end - 1][1], spans[first][0])
    start = spans[first - 1][1] if first > 0 else 0
    stop = spans[end][0] if end < len(spans) else start
    return start, max(start, stop)


def _shared(words: list[str], span: tuple[int, int]) -> list[list[Any]]:
    start, length, count = span[0], span[1] - span[0], len(words)
    return [
        [word, start + length * place // count, start + length * (place + 1) // count]
        for place, word in enumerate(words)
    ]


def _plain(word: str) -> str:
    return word.lower().strip(_EDGES) or word


def _matched(own: list[str], other: list[str]) -> Iterator[tuple[int, int]]:
    """Places of the words that both lists have in the same order: a longest common subsequence."""
    mine, theirs = [_plain(word) for word in own], [_plain(word) for word in other]
    start, ends = 0, (len(mine), len(theirs))
    while start < min(ends) and mine[start] == theirs[start]:
        yield start, start
        start += 1
    same = 0
    while start < min(ends) - same and mine[ends[0] - 1 - same] == theirs[ends[1] - 1 - same]:
        same += 1
    rows, columns = ends[0] - same - start, ends[1] - same - start
    if rows * columns <= _MOST_PAIRS:
        inner = _common(mine[start : start + rows], theirs[start : start + columns])
        yield from ((start + a, start + b) for a, b in inner)
    yield from ((ends[0] - k, ends[1] - k) for k in range(same, 0, -1))


def _common(mine: list[str], theirs: list[str]) -> Iterator[tuple[int, int]]:
    lengths = [[0] * (len(theirs) + 1) for _ in range(len(mine) + 1)]
    for a in range(len(mine) - 1, -1, -1):
        for b in range(len(theirs) - 1, -1, -1):
            same = mine[a] == theirs[b]
            lengths[a][b] = lengths[a + 1][b + 1] + 1 if same else max(lengths[a + 1][b], lengths[a][b + 1])
    a = b = 0
    while a < len(mine) and b < len(theirs):
        if mine[a] == theirs[b]:
            yield a, b
            a, b = a + 1, b + 1
        elif lengths[a + 1][b] >= lengths[a][b + 1]:
            a += 1
        else:
            b += 1
