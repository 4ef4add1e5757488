"""What several recognisers heard in one sound, brought to one answer: do they agree, and which text stands."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from witnessmark.trade.vocabulary import words


def decide(
    results: Sequence[Mapping[str, Any]],
    screen: Mapping[str, Any],
    engine_type: Mapping[str, Any] | None,
    own: Sequence[Mapping[str, Any]] = (),
) -> dict[str, Any]:
    """{"outcome": "agree" | "differ" | "nothing", "text": the transcript to show, "engine": whose it is, "proposal",
    "proposals": [[engine, proposal], …]}, from results as an entry `transcript_made` holds them.

    Nothing was heard when no result has a word. To a screen that asks for nothing (`sort` "any") people talk freely:
    then those who listen freely are believed, and a closed vocabulary only when there is nobody else.
    """
    told = [one for one in results if words(one["text"])]
    if screen["sort"] == "any":
        told = [one for one in told if one["sort"] == "free"] or told
    if not told:
        return {"outcome": "nothing", "text": "", "engine": "", "proposal": None, "proposals": []}
    same = len({" ".join(words(one["text"])) for one in told}) == 1
    outcome = "agree" if same else "differ"
    first = told[0]
    return {"outcome": outcome, "text": first["text"], "engine": first["engine"], "proposal": None, "proposals": []}
