"""Wear: how much a figure changed between two visits of the same engine, and per distance or hours when both are known.

The figures are taken as the two sheets show them, so whoever holds both papers can do the sum again.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any

from witnessmark.trade.ground import units
from witnessmark.trade.ground.exact import significant
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.sheets.words import written

# International mile, in kilometres: 1760 yards of 0.9144 m (international yard and pound agreement, 1959).
_MILE = Fraction(1609344, 1000000)
# unit -> (its size in km or in h, which of the two it is, per how many the change is given, in words)
_DISTANCES = {
    "km": (Fraction(1), "km", 10000, "10 000 km"),
    "mi": (_MILE, "km", 10000, "10 000 mi"),
    "h": (Fraction(1), "h", 1000, "1000 h"),
}
_typed = re.compile(r"(?P<number>[0-9][0-9 \u00a0\u202f.,']*)(?P<unit>km|mi|h)").fullmatch
_grouped = re.compile(r"[0-9]{1,3}(?:[ \u00a0\u202f.,'][0-9]{3})+").fullmatch


def wear(
    sheet_now: dict[str, Any], distance_now: str, sheet_then: dict[str, Any], distance_then: str
) -> list[dict[str, str]]:
    """The change of each figure that both sheets of one procedure have, place by place, in the order of the later one:

        {"place", "figure", "words", "change": "+0.013", "unit", "per": "0.011", "per_words": "10 000 km"}

    The words say when only one of the two was brought to 20 °C: then what the part grew counts as wear.

    Distances as in the job: "182400 km", "4180 h", "" when unknown; `per` is "" unless both are known, of one sort, and
    the later is larger.
    """
    covered = _covered(distance_now, distance_then)
    earlier = {
        (place["place"], figure["code"]): figure
        for place in sheet_then["places"]
        for figure in place["figures"]
        if figure["value"] is not None
    }
    result = []
    for place in sheet_now["places"]:
        for figure in place["figures"]:
            then = earlier.get((place["place"], figure["code"]))
            if figure["value"] is None or then is None or _kind(figure) != _kind(then):
                continue
            # Another edition may mean another thing by the same name.
            if figure["definition"] != then["definition"]:
                continue
            now, places = written(figure["value"])
            change = now - units.convert(written(then["value"])[0], then["unit"], figure["unit"])
            text = units.decimal_text(change, places or 0)
            result.append(
                {
                    "place": place["place"],
                    "figure": figure["code"],
                    "words": _words(figure, then),
                    "change": text if text.startswith("-") or not text.strip("0.") else f"+{text}",
                    "unit": figure["unit"],
                    "per": significant(change / covered[0] * covered[1], 2) if covered else "",
                    "per_words": covered[2] if covered else "",
                }
            )
    return result


def _words(now: dict[str, Any], then: dict[str, Any]) -> str:
    if now["corrected"] == then["corrected"]:
        return now["words"]
    return say("trade.sheets.one_at_20", figure=now["words"])


def _kind(figure: dict[str, Any]) -> str:
    return units.UNITS[figure["unit"]]["kind"]


def _covered(now: str, then: str) -> tuple[Fraction, int, str] | None:
    """The distance between two visits in the unit of the later, per how many of it wear is given, and that in words."""
    later, earlier = _distance(now), _distance(then)
    if later is None or earlier is None:
        return None
    size, sort, per, words = _DISTANCES[later[1]]
    size_then, sort_then, _, _ = _DISTANCES[earlier[1]]
    between = later[0] - earlier[0] * size_then / size
    return (between, per, words) if sort == sort_then and between > 0 else None


def _distance(text: str) -> tuple[Fraction, str] | None:
    typed = _typed(text.strip())
    if typed is None:
        return None
    number = typed["number"].strip()
    if _grouped(number):
        return Fraction(int(re.sub("[^0-9]", "", number))), typed["unit"]
    whole = re.fullmatch(r"([0-9]{1,9})(?:[.,]([0-9]{1,3}))?", number)
    if whole is None:
        return None
    decimals = whole[2] or ""
    return Fraction(int(whole[1] + decimals), 10 ** len(decimals)), typed["unit"]
