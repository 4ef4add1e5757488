"""What the uncertainty of figures is made of, for PDF and page: its factor k, and its shares where a verdict asks."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Any

from witnessmark.trade.ground.sentences import say

# A figure that lies within its limits needs no further word.
OPEN = ("outside", "not proven")


def common_factor(read: Sequence[dict[str, Any]]) -> str:
    """The k of most figures of a sheet, "" when none has an uncertainty. `read` are its places with readings."""
    counted = Counter(figure["k"] for figure in _figures(read) if figure["k"])
    return counted.most_common(1)[0][0] if counted else ""


def factor_words(read: Sequence[dict[str, Any]], common: str) -> list[tuple[str, str]]:
    """The line of a sheet that says what its \u00b1 are."""
    if not common:
        return []
    factor = say("pack.budgets.k", k=common)
    if any(figure["k"] not in ("", common) for figure in _figures(read)):
        factor += say("pack.budgets.larger_k")
    return [("\u00b1", factor)]


def budgets(read: Sequence[dict[str, Any]]) -> list[dict[str, Any]]:
    """The budgets of figures that are outside limits or not proven, now or when they were read, each once with all
    figures that share it: {of: [names], unit, u, U, k, lines: [{source, words, u, share}]}. `u` and `share` of a line
    are "" where nothing is counted."""
    grouped: list[dict[str, Any]] = []
    for place in read:
        for figure in place["figures"]:
            judged = [*figure["now"], *(figure["then"] or ())]
            if not figure["budget"] or not any(verdict["standing"] in OPEN for verdict in judged):
                continue
            name = f"{place['name']}, {figure['words']}"
            budget = {key: figure[key] for key in ("unit", "u", "U", "k")} | {"lines": _lines(figure)}
            same = next((known for known in grouped if {key: known[key] for key in budget} == budget), None)
            if same:
                same["of"].append(name)
            else:
                grouped.append({"of": [name]} | budget)
    return grouped


def _lines(figure: dict[str, Any]) -> list[dict[str, str]]:
    return [line if line["u"] != "0" else line | {"u": "", "share": ""} for line in figure["budget"]]


def _figures(read: Sequence[dict[str, Any]]) -> list[dict[str, Any]]:
    return [figure for place in read for figure in place["figures"] if figure["value"] is not None]
