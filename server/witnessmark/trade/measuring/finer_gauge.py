"""The permissible error that would settle a figure, and the gauges of the register that have it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from fractions import Fraction
from typing import Any

from witnessmark.trade.ground.exact import round_down, sqrt
from witnessmark.trade.ground.sentences import listed, say
from witnessmark.trade.measuring import gauges, uncertainty
from witnessmark.trade.measuring.uncertainty import INFINITE, ROWS, Made, Share, gauge_of, total
from witnessmark.trade.measuring.unproven import (
    ERROR,
    Unproven,
    called,
    counted,
    gauge_named,
    goal,
    leaves,
    room,
    settled,
    shares,
)
from witnessmark.trade.measuring.verdicts import near_squared

MOST_NAMED = 3
# By the source of the largest share that is left.
_NO_FINER = {
    "scatter": "trade.measuring.no_finer_scatter",
    "repeatability": "trade.measuring.no_finer_repeatability",
    "resolution": "trade.measuring.no_finer_resolution",
    "temperature": "trade.measuring.no_finer_temperature",
}


def finer(unproven: Unproven, budget: list[Share], readings: int | None = None) -> str:
    """The permissible error that would do in place of the coarsest gauge, or else of all; "" when none would. The other
    shares stay as they are in `found`, which are those after so many `readings`, None for the readings at hand."""
    errors = _errors(budget)
    for some in ([errors[:1]] if errors else []) + ([errors] if len(errors) > 1 else []):
        rest = [share for share in budget if share not in some]
        if not settled(unproven, rest):
            continue
        wanted = _wanted(unproven, rest, some)
        names = listed([called(gauge_named(unproven, share.gauge)) for share in some])
        if wanted:
            filled = {"count": len(some), "names": names, "errors": listed(wanted), "goal": goal(unproven)}
            if readings is None:
                return say("trade.measuring.finer", **filled)
            return say("trade.measuring.finer_with_readings", readings=readings, **filled)
    return ""


def no_finer(unproven: Unproven, budget: list[Share]) -> str:
    rest = [share for share in budget if share.source != ERROR]
    if len(rest) == len(budget) or not rest:
        return ""
    worst = max(rest, key=lambda share: share.variance)
    return say(_NO_FINER[worst.source], leaves=leaves(unproven, rest))


def _errors(budget: Iterable[Share]) -> list[Share]:
    """The shares of the permissible errors, the largest first."""
    return sorted((share for share in budget if share.source == ERROR), key=lambda share: -share.variance)


def _wanted(unproven: Unproven, rest: list[Share], errors: list[Share]) -> list[str]:
    """Permissible errors, rounded down to two digits, that do beside the rest; none when only perfect ones would."""
    room_left = most_variance(unproven, rest) - total(rest)[0]
    scale = sqrt(room_left / sum((share.variance for share in errors), Fraction(0)), 30)
    # Outside needs more than the bound itself: where rounding cuts nothing, a step less does.
    for factor in (scale, scale * Fraction(99, 100)):
        texts, made = [], []
        for share in errors:
            gauge = gauge_named(unproven, share.gauge)
            step = uncertainty.step(gauge["unit"])
            shown = round_down(factor * gauge["mpe"] / step, 2)
            texts.append(f"± {shown} {gauge['unit']}".rstrip())
            made.append(replace(share, variance=share.variance * (Fraction(shown) * step / gauge["mpe"]) ** 2))
        if all(share.variance for share in made) and settled(unproven, [*rest, *made]):
            return texts
    return []


def most_variance(unproven: Unproven, rest: list[Share]) -> Fraction:
    """The largest variance up to which every one is small enough, where all that is not in `rest` has as many degrees
    of freedom as you like.

    Degrees of freedom grow with the variance, in rows of the table; within a row the guard band grows with it too. So
    the first row whose bound is not beyond its upper end has the answer.
    """
    variance, _ = total(rest)
    spread = sum((share.variance**2 / share.freedom for share in rest if share.freedom), Fraction(0))
    if spread == 0:
        return _bound(unproven, INFINITE)
    for (_, row), (upper, _) in zip(ROWS, ROWS[1:], strict=False):
        if variance**2 < upper * spread and _bound(unproven, row) ** 2 < upper * spread:
            return _bound(unproven, row)
    return _bound(unproven, ROWS[-1][1])


def _bound(unproven: Unproven, row: Mapping[str, Fraction]) -> Fraction:
    """The largest variance whose guard band is no wider than the room, by the factors of one row."""
    room2 = room(unproven) ** 2
    if unproven.rules["rule"] == "guarded":
        return room2 / row["k"] ** 2
    most = room2 / row["one_95"] ** 2
    if unproven.low is None or unproven.high is None:
        return most
    return max(room2 / row["two_95"] ** 2, min(most, (unproven.high - unproven.low) ** 2 / near_squared(row["one_95"])))


def registered(unproven: Unproven, register: Iterable[Mapping[str, Any]], day: str) -> list[str]:
    """The gauges of the register that would do in place of one that was used, the coarsest first."""
    used = list(dict.fromkeys(gauge_of(made)["id"] for _, _, made in counted(unproven)))
    usable = [dict(gauge) for gauge in register if not gauge["retired"] and not gauges.overdue(dict(gauge), day)]
    sentences: list[str] = []
    for id in used:
        would = []
        for gauge in usable:
            put = _put(unproven, id, gauge)
            if put and settled(unproven, shares(unproven, put)):
                would.append(gauges.in_si(gauge))
        would.sort(key=lambda gauge: (-gauge["mpe"], gauge["name"]))
        if would:
            names = ", ".join(called(gauge) for gauge in would[:MOST_NAMED])
            if len(used) > 1:
                sentence = say("trade.measuring.registered_for", gauge=gauge_named(unproven, id)["name"], gauges=names)
            else:
                sentence = say("trade.measuring.registered", gauges=names)
            sentences.append(sentence)
    return sentences or [say("trade.measuring.none_registered")]


def _put(unproven: Unproven, id: str, gauge: dict[str, Any]) -> dict[str, Made] | None:
    """The readings as if taken with another gauge; None when it cannot take one of them, or is coarser."""
    numbers = gauges.in_si(gauge)
    put = dict(unproven.made)
    for _, name, made in counted(unproven):
        if gauge_of(made)["id"] == id:
            now = gauge_of(made)
            fits = gauges.stands_in(numbers, now) and gauges.in_range(gauge, uncertainty.mean(made))
            # A coarse gauge hides scatter, and with many degrees of freedom it may even seem to do better.
            as_fine = numbers["mpe"] <= now["mpe"] and numbers["resolution"] <= now["resolution"]
            if numbers["id"] == id or not fits or not as_fine:
                return None
            put[name] = replace(made, gauge=numbers, gauge_name=numbers["name"])
    return put
