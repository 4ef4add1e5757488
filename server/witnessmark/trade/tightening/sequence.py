"""The order in which to tighten a joint, proposed from where its fasteners stand. A person confirms it, or not.

Common practice, no one source: a round joint goes criss-cross, a long one from its centre outward, and loosening is
the exact reverse. Everything is in whole numbers: a place is multiplied by the number of fasteners, which makes the
centre whole too. Lengths are compared by their squares.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cmp_to_key
from typing import Any, NamedTuple

from witnessmark.trade.ground.sentences import say

CONFIRM = say("trade.tightening.order.confirm")
WORDS = {
    "single": say("trade.tightening.order.single"),
    "pair": say("trade.tightening.order.pair"),
    "round": say("trade.tightening.order.round"),
    "long": say("trade.tightening.order.long"),
}


class Spot(NamedTuple):
    """A fastener seen from the centre, in millimetres times the number of fasteners; `square` of its distance."""

    index: int
    x: int
    y: int
    square: int


def propose(fasteners: Sequence[dict[str, Any]]) -> dict[str, Any]:
    """{"order": labels, "shape": "round", "long", "pair" or "single", "words"} for fasteners {"label", "x_mm", "y_mm"}
    at different spots, in whole millimetres."""
    spots = _from_the_centre(fasteners)
    if len(spots) < 3:
        shape, ordered = ("pair" if len(spots) == 2 else "single"), spots
    else:
        around = _clockwise(spots)
        shape, ordered = ("round", _star(around)) if _is_round(around) else ("long", _outward(spots))
    order = [fasteners[spot.index]["label"] for spot in ordered]
    return {"order": order, "shape": shape, "words": f"{WORDS[shape]} {CONFIRM}"}


def loosening(order: Sequence[str]) -> list[str]:
    """The order in which to release what was tightened in `order`."""
    return list(reversed(order))


def _from_the_centre(fasteners: Sequence[dict[str, Any]]) -> list[Spot]:
    count = len(fasteners)
    across = sum(fastener["x_mm"] for fastener in fasteners)
    down = sum(fastener["y_mm"] for fastener in fasteners)
    spots = []
    for index, fastener in enumerate(fasteners):
        x, y = count * fastener["x_mm"] - across, count * fastener["y_mm"] - down
        spots.append(Spot(index, x, y, x * x + y * y))
    return spots


def _clockwise(spots: list[Spot]) -> list[Spot]:
    """The spots round their centre as drawn (y downwards), the first of the list first."""

    def half(spot: Spot) -> int:
        return 0 if spot.y > 0 or (spot.y == 0 and spot.x > 0) else 1

    def compare(here: Spot, other: Spot) -> int:
        turned = _cross(other, here)
        return half(here) - half(other) or turned or here.square - other.square or here.index - other.index

    around = sorted(spots, key=cmp_to_key(compare))
    first = next(place for place, spot in enumerate(around) if spot.index == 0)
    return around[first:] + around[:first]


def _cross(here: Spot, other: Spot) -> int:
    return here.x * other.y - here.y * other.x


def _is_round(around: list[Spot]) -> bool:
    """True when all stand about as far from the centre (the nearest at 9/10 of the farthest, for positions are whole
    millimetres), and five or more leave no gap wider than about 120 degrees (7 by 4 instead of the root of 3)."""
    squares = [spot.square for spot in around]
    if 100 * min(squares) < 81 * max(squares):
        return False
    if len(around) < 5:
        return True
    for here, other in zip(around, around[1:] + around[:1], strict=True):
        cross, dot = _cross(here, other), here.x * other.x + here.y * other.y
        if cross <= 0 or -7 * dot > 4 * cross:
            return False
    return True


def _star(around: list[Spot]) -> list[Spot]:
    count = len(around)
    if count % 2:
        # No fastener has an opposite; the two nearest to it are half the circle away, one of them in turn.
        return [around[place * (count // 2) % count] for place in range(count)]
    pairs = count // 2
    if pairs % 2:
        firsts = [place * max(1, pairs // 2) % pairs for place in range(pairs)]
        return [around[(first + half) % count] for first in firsts for half in (0, pairs)]
    # Four at a time: opposite, then the two a quarter turn on. The fours follow each other half a quarter apart.
    quarter = pairs // 2
    stride = max(1, quarter // 2)
    firsts = [first for start in range(stride) for first in range(start, quarter, stride)]
    return [around[first + step] for first in firsts for step in (0, pairs, quarter, pairs + quarter)]


def _outward(spots: list[Spot]) -> list[Spot]:
    """By distance; of those equally far the topmost first (of these the rightmost), then the one farthest from it."""
    rings: dict[int, list[Spot]] = {}
    for spot in sorted(spots, key=lambda spot: (spot.square, spot.y, -spot.x, spot.index)):
        rings.setdefault(spot.square, []).append(spot)
    result = []
    for ring in rings.values():
        while ring:
            nearest = ring.pop(0)
            result.append(nearest)
            if ring:
                far = max(range(len(ring)), key=lambda place: (_apart(nearest, ring[place]), -place))
                result.append(ring.pop(far))
    return result


def _apart(here: Spot, other: Spot) -> int:
    return (here.x - other.x) ** 2 + (here.y - other.y) ** 2
