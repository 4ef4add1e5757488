"""Where in a sound somebody speaks. What lies before and after it makes recognisers guess: it is cut off."""

from __future__ import annotations

from collections.abc import Sequence

FRAME_MS = 10
BEFORE_MS, AFTER_MS = 300, 400  # left standing: a word begins and ends more quietly than it is
SURE, LIKELY = 0.6, 0.3  # somebody speaks; may belong to it
SHORTEST_MS = 100  # less than this above SURE was a knock
WINDOW = 5  # frames, looked at together
LOUDER_DB = 9.0  # than what is quiet in the same sound
FAINTEST_DB = -65.0  # full scale is 0


def speech(likely: Sequence[float], length_ms: int) -> tuple[int, int] | None:
    """From and to in ms, by how likely somebody speaks in each 10 ms; None when nobody does.

    One span, pauses included: who stops to read the dial goes on afterwards.
    """
    smooth = _smoothed(likely)
    sure = [at for at, value in enumerate(smooth) if value >= SURE]
    if len(sure) * FRAME_MS < SHORTEST_MS:
        return None
    first, last = sure[0], sure[-1]
    while first > 0 and smooth[first - 1] >= LIKELY:
        first -= 1
    while last + 1 < len(smooth) and smooth[last + 1] >= LIKELY:
        last += 1
    begin, end = max(0, first * FRAME_MS - BEFORE_MS), min(length_ms, (last + 1) * FRAME_MS + AFTER_MS)
    return (begin, end) if begin < end else None


def likely_by_level(levels: Sequence[float]) -> list[float]:
    """How likely somebody speaks, by loudness alone (dB of full scale for each 10 ms): for want of anything better."""
    if not levels:
        return []
    quiet = max(FAINTEST_DB, sorted(levels)[len(levels) // 10])
    return [1.0 if level > quiet + LOUDER_DB else 0.0 for level in levels]


def _smoothed(values: Sequence[float]) -> list[float]:
    made, running = [], 0.0
    half = WINDOW // 2
    for at in range(len(values) + half):
        running += values[at] if at < len(values) else 0.0
        if at >= WINDOW:
            running -= values[at - WINDOW]
        if at >= half:
            made.append(running / WINDOW)
    return made
