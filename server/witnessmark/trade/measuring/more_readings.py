"""How many readings would settle a figure. How future ones scatter is not known: they are taken to scatter as those at
hand, or as the gauge does where that has been studied."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from witnessmark.trade.ground.sentences import listed, say
from witnessmark.trade.measuring import uncertainty
from witnessmark.trade.measuring.uncertainty import Made, Share, gauge_of, width_text
from witnessmark.trade.measuring.unproven import ERROR, Unproven, counted, goal, leaves, room, settled, short

MOST_READINGS = 100
MOST_NAMED = 3


@dataclass(frozen=True)
class Repeats:
    """The repeats of one reading: what one taking scatters and what the resolution leaves, as variances in the
    figure."""

    made: Made
    scatter: Fraction
    floor: Fraction

    @property
    def count(self) -> int:
        return len(self.made.amounts)


def repeats(unproven: Unproven) -> list[Repeats]:
    repeats_taken = []
    for weight, _, made in counted(unproven):
        gauge = gauge_of(made)
        studied = (gauge["repeatability"] or Fraction(0)) ** 2
        s2 = uncertainty.scatter(made) if len(made.amounts) > 1 else studied
        floor = weight**2 * gauge["resolution"] ** 2 / 12
        repeats_taken.append(Repeats(made, short(weight**2 * s2), short(floor)))
    return repeats_taken


def readings(unproven: Unproven, budget: list[Share], taken: list[Repeats]) -> str:
    """The least number of readings that would do, "" when no number up to the most does."""
    scattering = _scattering(taken)
    if not scattering or not settled(unproven, with_readings(budget, taken, None)):
        return ""
    for n in range(min(each.count for each in scattering) + 1, MOST_READINGS + 1):
        if settled(unproven, with_readings(budget, taken, n)):
            words = _points(scattering)
            if len(words) == 1:
                return say("trade.measuring.readings_at", readings=n, point=words[0], goal=goal(unproven))
            if len(words) <= MOST_NAMED:
                return say("trade.measuring.readings_at_each", readings=n, points="; ".join(words), goal=goal(unproven))
            return say("trade.measuring.readings_at_points", readings=n, points=len(words), goal=goal(unproven))
    return ""


def no_readings(unproven: Unproven, budget: list[Share], taken: list[Repeats]) -> str:
    ideal = with_readings(budget, taken, None)
    if settled(unproven, ideal):
        words = _points(_scattering(taken))
        if len(words) == 1:
            return say("trade.measuring.too_many_at", most=MOST_READINGS, point=words[0])
        if len(words) <= MOST_NAMED:
            return say("trade.measuring.too_many_at_each", most=MOST_READINGS, points="; ".join(words))
        return say("trade.measuring.too_many_at_points", most=MOST_READINGS, points=len(words))
    names = list(dict.fromkeys(gauge_of(each.made)["name"] for each in taken))
    if any(share.source == "temperature" and share.variance for share in budget):
        names.append(say("trade.measuring.temperature"))
    away = width_text(abs(room(unproven)), unproven.unit)
    left = leaves(unproven, ideal)
    return say("trade.measuring.no_readings", count=len(names), names=listed(names), leaves=left, away=away)


def with_readings(budget: Iterable[Share], taken: Iterable[Repeats], n: int | None) -> list[Share]:
    """The shares with at least n readings of everything, None for as many as you like."""
    shares = [share for share in budget if share.source in (ERROR, "temperature")]
    for each in taken:
        count = None if n is None else max(n, each.count)
        if count and each.scatter / count > each.floor:
            shares.append(Share("scatter", "", each.scatter / count, count - 1 if count > 1 else None))
        else:
            shares.append(Share("resolution", "", each.floor))
    return shares


def _scattering(taken: Iterable[Repeats]) -> list[Repeats]:
    return [each for each in taken if each.scatter / each.count > each.floor]


def _points(scattering: list[Repeats]) -> list[str]:
    return [uncertainty.reading_words(each.made) for each in scattering]
