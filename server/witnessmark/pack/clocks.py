"""What report and page say of times: claims of phones, stamps of the server, and how far apart their clocks were."""

from __future__ import annotations

from datetime import datetime, timedelta

from witnessmark.pack import words
from witnessmark.pack.story import Exhibit, Story
from witnessmark.proof.entries import ranges_words
from witnessmark.trade.ground.sentences import say

# A phone's clock is never exact: up to here its time is left as it is.
SLIGHT_MS = 60_000


def clock_words(story: Story) -> str:
    """How far the clocks of the devices were off when last measured, in one sentence."""
    offsets: dict[str, set[int]] = {}
    for exhibit in story.exhibits:
        if exhibit.offset_ms is not None and exhibit.device != say("pack.desk"):
            offsets.setdefault(exhibit.device, set()).add(round(exhibit.offset_ms / 1000))
    if not offsets:
        return say("pack.report.clocks_unknown")
    clocks = [f"{device}: {_span(seconds)}" for device, seconds in sorted(offsets.items())]
    return say("pack.report.clocks", clocks="; ".join(clocks))


def missing_words(missing: dict[str, list[tuple[int, int]]]) -> str:
    """Which running numbers of each device are not in the pack, in one sentence; empty if none is missing."""
    if not missing:
        return ""
    devices = [
        say("pack.report.missing_of", device=device, numbers=ranges_words(gaps)) for device, gaps in missing.items()
    ]
    return say("pack.report.missing", devices="; ".join(devices))


def _span(seconds: set[int]) -> str:
    low, high = min(seconds), max(seconds)
    return f"{low:+d} s" if low == high else say("pack.report.clock_span", low=f"{low:+d}", high=f"{high:+d}")


def late_words(exhibit: Exhibit) -> str:
    """How much later than claimed a record came in, if that is an hour or more."""
    claimed, received = datetime.fromisoformat(exhibit.claimed), datetime.fromisoformat(exhibit.received)
    hours = ((received - claimed).total_seconds() + (exhibit.offset_ms or 0) / -1000) / 3600
    if hours >= 48:
        return say("pack.report.late_days", days=int(hours // 24))
    if hours >= 1:
        return say("pack.report.late_hours", hours=int(hours))
    return say("pack.report.early") if hours < -1 / 60 else ""


def set_right_words(exhibit: Exhibit) -> str:
    """The phone's time set right by the server's clock, where the two were measured to differ by more than a minute."""
    if exhibit.offset_ms is None or abs(exhibit.offset_ms) <= SLIGHT_MS:
        return ""
    corrected = datetime.fromisoformat(exhibit.claimed) + timedelta(milliseconds=exhibit.offset_ms)
    return say("pack.report.set_right", time=words.claimed_words(corrected.isoformat(timespec="milliseconds")))


def time_remarks(exhibit: Exhibit) -> list[str]:
    """What is to be said of the time that a record claims."""
    return [remark for remark in (set_right_words(exhibit), late_words(exhibit)) if remark]


def received_words(received: str) -> str:
    """`2026-05-14T09:42:51.310Z` as `2026-05-14 09:42:51 UTC`."""
    return f"{received[:10]} {received[11:19]} UTC"
