"""Proposed orders against what is published. The properties are what counts; the literal orders are from memory.

ASME PCC-1 (the legacy cross-pattern table for bolts numbered clockwise), from memory, not seen; so each order is first
held against the properties that such a table has, then our rule against the order. Centre outward for heads, and
loosening in the reverse: common practice, no one source.
"""

from __future__ import annotations

import math

import pytest

from witnessmark.trade.ground.tables import table
from witnessmark.trade.tightening.sequence import loosening, propose

# ASME PCC-1, cross-pattern sequences, from memory. Groups as printed; the comma ends a group of four.
FROM_MEMORY = {
    4: "1-3-2-4",
    8: "1-5-3-7, 2-6-4-8",
    12: "1-7-4-10, 2-8-5-11, 3-9-6-12",
    16: "1-9-5-13, 3-11-7-15, 2-10-6-14, 4-12-8-16",
    20: "1-11-6-16, 3-13-8-18, 5-15-10-20, 2-12-7-17, 4-14-9-19",
    24: "1-13-7-19, 4-16-10-22, 2-14-8-20, 5-17-11-23, 3-15-9-21, 6-18-12-24",
}


def numbers(text: str) -> list[int]:
    return [int(number) for number in text.replace(", ", "-").split("-")]


def flange(count: int) -> list[dict]:
    """Bolts on a circle of 400 mm, numbered clockwise from the top."""
    angles = [2 * math.pi * n / count for n in range(count)]
    return [
        {"label": str(n), "x_mm": round(400 * math.sin(a)), "y_mm": round(-400 * math.cos(a))}
        for n, a in enumerate(angles, 1)
    ]


def assert_star(order: list[int]) -> None:
    count = len(order)
    assert sorted(order) == list(range(1, count + 1)), "each bolt once"
    for place, other in zip(order[::2], order[1::2], strict=True):
        assert (other - place) % count == count // 2, "pairs stand diametrically opposite"
    near = [pair for pair in zip(order, order[1:], strict=False) if (pair[1] - pair[0]) % count in (1, count - 1)]
    assert near == ([(3, 2)] if count == 4 else []), "no neighbours in succession, but for 3 to 2 of four"


@pytest.mark.parametrize("count", FROM_MEMORY)
def test_the_published_star_has_the_properties_and_so_has_ours(count):
    assert_star(numbers(FROM_MEMORY[count]))
    made = propose(flange(count))
    assert made["shape"] == "round"
    assert_star([int(label) for label in made["order"]])


@pytest.mark.parametrize("count", FROM_MEMORY)
def test_our_rule_gives_the_literal_order_as_remembered(count):
    """From memory: a difference here is a reason to look the table up, not to bend the rule."""
    assert [int(label) for label in propose(flange(count))["order"]] == numbers(FROM_MEMORY[count])


# Common practice, no source: the five-bolt wheel is tightened as a five-pointed star is drawn.
def test_five_bolts_make_the_five_pointed_star():
    assert propose(flange(5))["order"] == ["1", "3", "5", "2", "4"]


# Common practice, no source: a head is tightened from the middle outward, alternating sides, and let go in the reverse.
@pytest.mark.parametrize(
    "engine",
    # The head of a single cylinder is round: it has no middle to go outward from.
    [engine for engine in table("invented_engine_types")["engine_types"] if engine["cylinders"] > 1],
    ids=lambda engine: engine["name"],
)
def test_heads_go_from_the_middle_outward_and_back(engine):
    judged = 0
    for joint in engine["joints"]:
        spots = {fastener["label"]: (fastener["x_mm"], fastener["y_mm"]) for fastener in joint["fasteners"]}
        made = propose(joint["fasteners"])
        if not joint["code"].startswith("head_bolt") or made["shape"] != "long":
            continue
        x0 = sum(x for x, _ in spots.values()) / len(spots)
        y0 = sum(y for _, y in spots.values()) / len(spots)
        far = [math.dist(spots[label], (x0, y0)) for label in made["order"]]
        assert all(place <= other + 1e-9 for place, other in zip(far, far[1:], strict=False))
        sides = [spots[label][1] > y0 for label in made["order"]]
        assert all(place != other for place, other in zip(sides, sides[1:], strict=False)), "sides in turn"
        back = [far[made["order"].index(label)] for label in loosening(made["order"])]
        assert back == far[::-1], "loosened from the ends inward"
        judged += 1
    assert judged == len(engine["banks"]), "each bank has its head"
