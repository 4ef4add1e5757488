"""Whether a run was flat: how much each measure grew in its second half, held against what is allowed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from statistics import median

# Of each measure: how much it may grow in the second half of a run, in its own unit, and in parts of its middle value
# there. Whichever is more. The first half is for caches, pools and threads that come with the first requests.
ALLOWED = {"memory_mb": (6.0, 0.06), "threads": (2.0, 0.05), "handles": (8.0, 0.08)}
LEAST_SAMPLES = 8  # in the second half; fewer say nothing


@dataclass(frozen=True)
class Verdict:
    """`growth` is over the second half of the run, in the measure's unit."""

    measure: str
    middle: float
    growth: float
    allowed: float

    @property
    def flat(self) -> bool:
        return self.growth <= self.allowed

    def __str__(self) -> str:
        word = "flat" if self.flat else "NOT flat"
        grew = f"grew by {self.growth:.2f} in the second half, allowed {self.allowed:.2f}"
        return f"{self.measure}: {self.middle:.1f}, {grew}: {word}"


def judge(measure: str, seconds: Sequence[float], values: Sequence[float]) -> Verdict:
    """The verdict on one measure ("memory_mb", "threads", "handles", with a name before it: "https memory_mb").

    Raises ValueError when there are too few samples to say anything.
    """
    half = seconds[0] + (seconds[-1] - seconds[0]) / 2
    later = [(at, value) for at, value in zip(seconds, values, strict=True) if at >= half]
    if len(later) < LEAST_SAMPLES:
        raise ValueError(f"{measure}: {len(later)} samples in the second half, at least {LEAST_SAMPLES} are needed")
    growth = slope(later) * (later[-1][0] - later[0][0])
    middle = median(value for _, value in later)
    at_least, part = ALLOWED[measure.rsplit(" ", 1)[-1]]
    return Verdict(measure, middle, growth, max(at_least, part * middle))


def slope(points: Sequence[tuple[float, float]]) -> float:
    """The median of the slopes between all pairs of points (Theil and Sen): single peaks do not turn it."""
    return median((b[1] - a[1]) / (b[0] - a[0]) for a, b in combinations(points, 2) if b[0] != a[0])
