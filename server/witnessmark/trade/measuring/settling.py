"""What would settle a figure that is not proven: a finer gauge, one of the register, more readings, or nothing."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from witnessmark.trade.ground.sentences import say
from witnessmark.trade.measuring.finer_gauge import finer, no_finer, registered
from witnessmark.trade.measuring.more_readings import Repeats, no_readings, readings, repeats, with_readings
from witnessmark.trade.measuring.uncertainty import Share, unknowns
from witnessmark.trade.measuring.unproven import Unproven, counted, room, settled, shares

_TOGETHER = (5, 10, 20, 50)  # numbers of readings tried together with a finer gauge


def settle(unproven: Unproven, register: Iterable[Mapping[str, Any]], day: str) -> list[str]:
    """Sentences, the most useful first; none when the figure is settled, or when simple acceptance leaves nothing open.
    `register` are the gauges as described now, `day` the day on which they must be in date."""
    if unproven.rules["rule"] == "simple" or (unproven.low is None and unproven.high is None):
        return []
    if unknowns(unproven.weights, unproven.made):
        return _name_the_gauge(unproven)
    budget = shares(unproven)
    if settled(unproven, budget):
        return []
    if room(unproven) == 0:
        return [say("trade.measuring.on_the_limit")]
    taken = repeats(unproven)
    by_gauge, by_readings = finer(unproven, budget), readings(unproven, budget, taken)
    sentences = [by_gauge or no_finer(unproven, budget), *registered(unproven, register, day)]
    sentences.append(by_readings or no_readings(unproven, budget, taken))
    if not by_gauge and not by_readings:
        sentences.append(_both(unproven, budget, taken))
    return [sentence for sentence in sentences if sentence]


def _name_the_gauge(unproven: Unproven) -> list[str]:
    named = dict.fromkeys(made.gauge_name for _, _, made in counted(unproven) if made.gauge is None and made.gauge_name)
    advice: list[str] = [say("trade.measuring.describe_gauge", gauge=name) for name in named]
    return advice or [say("trade.measuring.name_a_gauge")]


def _both(unproven: Unproven, budget: list[Share], taken: list[Repeats]) -> str:
    for n in _TOGETHER:
        if more := finer(unproven, with_readings(budget, taken, n), n):
            return more
    return ""
