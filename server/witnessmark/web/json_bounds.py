"""How much structure a request may have, counted on its bytes before any of it becomes objects.

A few megabytes of tiny objects are gigabytes in memory and minutes of work. Every value but the first of its list or
object has a comma before it, and every list or object a bracket: counting these costs next to nothing.
"""

from __future__ import annotations

from itertools import accumulate

from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say

PUSH = "/api/sync/push"
# In a push: 1000 records of 3 values each and 1000 lost numbers come to 5,000; elsewhere an engine type is the largest.
MOST_VALUES, MOST_VALUES_OF_PUSH = 50_000, 10_000
# In all of a push, what stands inside its records and their words counted too: a reading has 50, a batch of 200
# readings 10,000. A batch of long texts full of commas that has more is halved by the phone until it has not.
MOST_VALUES_IN_RECORDS = 200_000
DEEPEST = 100  # a record nests to 64

_STEP = {"[": 1, "{": 1, "]": -1, "}": -1}
_NO_BRACKETS = bytes(set(range(256)) - set(b"[]{}"))


class TooMuch(Refusal):
    """A request with more values than it may have."""

    status = 413


class TooDeep(Refusal):
    """A request with values nested deeper than they may be."""

    status = 400


def check(data: bytes, path: str) -> None:
    """Raises TooMuch or TooDeep unless the JSON in `data`, sent to `path`, has a bounded structure. Whether it is JSON
    at all is not looked at."""
    push = path == PUSH
    if push and _values(data) > MOST_VALUES_IN_RECORDS:
        raise _too_much(MOST_VALUES_IN_RECORDS)
    most = MOST_VALUES_OF_PUSH if push else MOST_VALUES
    outside = outside_of_texts(data, most)
    if outside is None:
        raise _too_much(most)
    if depth(outside, most) > DEEPEST:
        raise TooDeep("too_deep", "", say("server.errors.too_deep"))
    if _values(outside) > most:
        raise _too_much(most)


def outside_of_texts(data: bytes, most: int) -> bytes | None:
    """What of the JSON in `data` is no text; None when it has more texts than `most` values can be."""
    # Inside a text a backslash stands before each quote, and before each backslash.
    plain = data.replace(rb"\\", b"").replace(rb"\"", b"")
    # A value of an object is two texts at most, its name and itself, of two quotes each.
    if plain.count(b'"') > 4 * (most + 1):
        return None
    return b"".join(plain.split(b'"')[::2])


def depth(outside: bytes, most: int) -> int:
    """How deep the first `most` lists and objects are nested in what `outside_of_texts` gives."""
    brackets = outside.translate(None, _NO_BRACKETS)[: 2 * most].decode()
    return max(accumulate(map(_STEP.__getitem__, brackets)), default=0)


def _values(data: bytes) -> int:
    return data.count(b",") + data.count(b"[") + data.count(b"{")


def _too_much(most: int) -> TooMuch:
    return TooMuch("too_many_values", "", say("server.errors.too_many_values", most=most))
