"""Proposed orders: properties of every one, and what both sides must propose. Published orders: tests/outside."""

import json
import math
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from tests.support.cases import all_cases
from witnessmark.trade.tightening.sequence import CONFIRM, loosening, propose

VECTORS = json.loads((Path(__file__).parents[3] / "vectors" / "sequence.json").read_text())
PLACES = st.tuples(st.integers(-5000, 5000), st.integers(-5000, 5000))


def fasteners(spots):
    return [{"label": str(n), "x_mm": x, "y_mm": y} for n, (x, y) in enumerate(spots, 1)]


def circle(count, radius, turn=0.0, clockwise=True):
    way = 1 if clockwise else -1
    angles = [turn + way * 2 * math.pi * n / count for n in range(count)]
    return [(round(radius * math.sin(angle)), round(-radius * math.cos(angle))) for angle in angles]


def squares(spots):
    """Squared distances from the centre, times the number of fasteners squared, so that they are whole."""
    count, across, down = len(spots), sum(x for x, _ in spots), sum(y for _, y in spots)
    return [(count * x - across) ** 2 + (count * y - down) ** 2 for x, y in spots]


@all_cases("case", VECTORS["cases"], ids=lambda case: case["name"])
def test_an_order_as_both_sides_propose_it(case):
    given_ = [{"label": label, "x_mm": x, "y_mm": y} for label, x, y in case["fasteners"]]
    made = propose(given_)
    assert (made["shape"], made["order"]) == (case["shape"], case["order"])
    assert made["words"].endswith(CONFIRM), "a proposal says that it is one"


@given(st.lists(PLACES, max_size=60, unique=True))
def test_a_proposed_order_names_each_fastener_once(spots):
    made = propose(fasteners(spots))
    assert sorted(made["order"]) == sorted(str(n) for n in range(1, len(spots) + 1))
    assert loosening(made["order"]) == made["order"][::-1]
    assert loosening(loosening(made["order"])) == made["order"]


@given(st.lists(PLACES, min_size=3, max_size=60, unique=True))
def test_a_long_joint_is_tightened_from_the_centre_outward(spots):
    made = propose(fasteners(spots))
    if made["shape"] == "long":
        far = squares(spots)
        in_order = [far[int(label) - 1] for label in made["order"]]
        assert in_order == sorted(in_order)


@given(st.integers(2, 12), st.integers(20, 150), st.integers(60, 200), st.booleans(), PLACES, st.randoms())
def test_a_head_of_two_rows_changes_sides(across, pitch, width, upright, at, chance):
    spots = [(at[0] % 900 + n * pitch, at[1] % 900 + side * width) for n in range(across) for side in (0, 1)]
    spots = [(y, x) if upright else (x, y) for x, y in spots]
    chance.shuffle(spots)
    made = propose(fasteners(spots))
    if made["shape"] != "long":
        return
    x0, y0 = sum(x for x, _ in spots), sum(y for _, y in spots)
    order = [spots[int(label) - 1] for label in made["order"]]
    for (x1, y1), (x2, y2) in zip(order[::2], order[1::2], strict=True):
        assert (x1 + x2) * len(spots) == 2 * x0 and (y1 + y2) * len(spots) == 2 * y0, "opposite through the centre"
    tidy = sorted(spots)
    again = [tidy[int(label) - 1] for label in propose(fasteners(tidy))["order"]]
    assert again == order, "it does not matter in which order somebody typed the places"


@given(st.integers(3, 48), st.integers(400, 3000), st.floats(0, 7), st.booleans())
def test_a_round_joint_goes_criss_cross(count, radius, turn, clockwise):
    made = propose(fasteners(circle(count, radius, turn, clockwise)))
    assert made["shape"] == "round"
    at = [int(label) - 1 for label in made["order"]]
    assert at[0] == 0, "the first of the list is the first"
    if count % 2 == 0:
        for place, other in zip(at[::2], at[1::2], strict=True):
            assert (other - place) % count == count // 2, "diametrically opposite"
    if count % 4 == 0:
        for place, third in zip(at[::4], at[2::4], strict=True):
            assert (third - place) % count in (count // 4, 3 * count // 4), "then a quarter turn on"
    if count > 4:  # with three all are neighbours, with four the second pair begins beside the first
        steps = [(two - place) % count for place, two in zip(at, at[1:], strict=False)]
        assert not {1, count - 1} & set(steps), "no neighbours in succession"


@given(st.lists(PLACES, max_size=40, unique=True), st.integers(-400, 400), st.integers(-400, 400))
def test_where_the_zero_lies_changes_nothing(spots, right, down):
    moved = [(x + right, y + down) for x, y in spots]
    assert propose(fasteners(moved)) == propose(fasteners(spots))


def test_two_hundred_fasteners_at_the_ends_of_the_scale_stay_whole():
    spots = [(x, y) for x in range(-5000, 5000, 500) for y in range(-5000, 5000, 1000)]
    order = propose(fasteners(spots))["order"]
    assert len(order) == len(set(order)) == 200
    # What the phone reckons in 53 bits: the largest whole number in it.
    assert 100 * max(squares([(-5000, -5000)] + [(5000, 5000)] * 199)) < 2**53
