"""The running numbers of all devices over a whole log: which were used twice, and which are nowhere."""

from __future__ import annotations

from bisect import bisect_left, bisect_right

from witnessmark.proof.sentences import say

# What a log made to be tiresome may cost in memory; no workshop comes near. Beyond it the check says it is unfinished.
MOST_DEVICES = 100_000
MOST_GAPS = 100_000
MOST_REFUSED = 100_000


class TooMany(Exception):
    """More devices, gaps or refused numbers than this program will hold in memory."""


class Numbers:
    """Reads a log in its order: `add` the number of each record, `refuse` what a record says was refused, then ask
    `unaccounted`. Its memory grows with devices, gaps and refused numbers, not with records."""

    def __init__(self) -> None:
        self._last: dict[str, int] = {}
        self._gaps: dict[str, list[tuple[int, int]]] = {}
        self._refused: dict[str, set[int]] = {}
        self._gap_count = self._refused_count = 0

    def add(self, device: str, number: int) -> str | None:
        """What is wrong with the next number of a device, or None. Raises TooMany."""
        last = self._last.get(device, 0)
        if number <= last:
            if self._in_a_gap(device, number):
                return say("proof.numbers.late", number=number, last=last)
            return say("proof.numbers.again", number=number)
        if number > last + 1:
            self._gap_count += 1
            self._gaps.setdefault(device, []).append((last + 1, number - 1))
        self._last[device] = number
        if len(self._last) > MOST_DEVICES or self._gap_count > MOST_GAPS:
            raise TooMany(say("proof.numbers.too_many"))
        return None

    def refuse(self, device: str, number: int) -> None:
        """A record says that this number of the device was refused or lost. Raises TooMany."""
        self._refused_count += 1
        if self._refused_count > MOST_REFUSED:
            raise TooMany(say("proof.numbers.too_many"))
        self._refused.setdefault(device, set()).add(number)

    def unaccounted(self) -> dict[str, list[tuple[int, int]]]:
        """By device the numbers, as (first, last), that no record bears though a later one of the device is there, and
        that no record says were refused."""
        left = {device: without(gaps, self._refused.get(device, set())) for device, gaps in self._gaps.items()}
        return {device: ranges for device, ranges in sorted(left.items()) if ranges}

    def _in_a_gap(self, device: str, number: int) -> bool:
        gaps = self._gaps.get(device, [])
        at = bisect_right(gaps, (number, number)) - 1
        # A gap that begins at this very number sorts behind it when it reaches further.
        return any(first <= number <= last for first, last in gaps[max(at, 0) : at + 2])


def without(gaps: list[tuple[int, int]], numbers: set[int]) -> list[tuple[int, int]]:
    """What is left of the gaps, ascending, without these numbers."""
    ordered, parts = sorted(numbers), []
    for first, last in gaps:
        start = first
        for number in ordered[bisect_left(ordered, first) : bisect_right(ordered, last)]:
            if start < number:
                parts.append((start, number - 1))
            start = number + 1
        if start <= last:
            parts.append((start, last))
    return parts
