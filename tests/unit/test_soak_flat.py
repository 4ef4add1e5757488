"""The soak's judgement, by invented samples: what grows is found, and what is only restless is not blamed."""

from __future__ import annotations

import random
import xml.etree.ElementTree as ET

import pytest

from tests.soak.drawing import draw
from tests.soak.flat import judge, slope
from tests.soak.sampling import COLUMNS

SECONDS = [5.0 * number for number in range(240)]  # twenty minutes


def noisy(values: list[float], by: float) -> list[float]:
    chance = random.Random(7)
    return [value + chance.uniform(-by, by) for value in values]


@pytest.mark.parametrize(
    ("measure", "values"),
    [
        ("https memory_mb", noisy([120.0] * 240, 5)),
        ("https memory_mb", noisy([min(60 + at / 5, 110) for at in SECONDS], 2)),  # warm after four minutes
        ("http memory_mb", [60.0 + 300 * (number % 29 == 0) for number in range(240)]),  # a pack now and then
        ("worker threads", [5.0 + number % 3 for number in range(240)]),
        ("https handles", noisy([90.0 - at / 60 for at in SECONDS], 3)),  # falling is no fault
    ],
)
def test_a_server_that_only_warms_up_or_swings_is_flat(measure, values):
    assert judge(measure, SECONDS, values).flat


@pytest.mark.parametrize(
    ("measure", "values"),
    [
        ("https memory_mb", noisy([120 + at / 60 for at in SECONDS], 5)),  # a megabyte a minute
        ("http memory_mb", [60.0 if at < 600 else 60 + (at - 600) / 50 for at in SECONDS]),
        ("worker threads", [5.0 + at // 120 for at in SECONDS]),  # one more every two minutes
        ("https handles", noisy([90 + at / 50 for at in SECONDS], 3)),
    ],
)
def test_a_server_that_goes_on_growing_is_not_flat(measure, values):
    verdict = judge(measure, SECONDS, values)
    assert not verdict.flat and str(verdict).endswith("NOT flat") and verdict.growth > verdict.allowed


def test_the_growth_is_that_of_the_second_half_in_the_measures_own_unit():
    verdict = judge("memory_mb", SECONDS, [100 + at / 10 for at in SECONDS])
    assert verdict.growth == pytest.approx(59.5) and slope([(0, 1), (10, 3)]) == pytest.approx(0.2)


def test_too_few_samples_are_no_judgement():
    with pytest.raises(ValueError, match="at least 8"):
        judge("memory_mb", SECONDS[:12], [1.0] * 12)


def test_every_measure_is_drawn_as_a_line_of_its_own():
    lines = [{name: float(number) for name in COLUMNS} | {"seconds": at} for number, at in enumerate(SECONDS)]
    drawn = ET.fromstring(draw(lines, "ten phones & the office"))
    assert len(drawn.findall(".//{*}polyline")) == len(COLUMNS) - 3
    assert "ten phones & the office" in [text.text for text in drawn.iter("{http://www.w3.org/2000/svg}text")]
