"""What several recognisers heard in one sound, decided on: do they agree on a meaning, and which words are shown.

Only what can be a record is compared: all of it has to be equal, to the last digit. Agreement is a hint for whoever
looks at it and never makes a record. Ears with the same acoustic model count as one, unless nobody else was there:
they mishear alike. Measured in DEVELOPERS.md, "Speech, measured".
"""

from __future__ import annotations

from typing import Any

from witnessmark.trade.spoken import parse as spoken

CHAIN = "chain"  # the recognisers together, see speech/chain.py
SURE = 80  # whole per cent of the chain's confidence, from which it counts as agreement
MEANING = ("place", "point", "quantity", "value", "value_to", "unit", "conditions", "disposition")
TELLING = ("place_spoken", "value", "conditions", "disposition")

Result = dict[str, Any]
Proposal = dict[str, Any]


def decide(
    results: list[Result],
    screen: dict[str, Any],
    engine_type: dict[str, Any] | None,
    own: list[dict[str, Any]] | None = None,
) -> dict[str, Any]:
    """{"outcome", "text", "engine", "proposal", "proposals"} of the results of one sound, in any order.

    `outcome`: "agree" when a complete proposal has the word of more than one ear, "differ" when there are complete
    proposals without that, "nothing" when there is none (talk, a note, silence) or one recogniser listened alone.
    `text` and `engine`: the words that stand, and whose they are; a measurement's are the agreed ones, else those of a
    free recogniser, who writes down everything, as are those of a note: it was spoken to no screen (`sort` "any"), and
    what closed recognisers make of it is less than was said. `proposal`: what was agreed on, else what `text` comes to.
    `proposals`: [engine, proposal] of each that understood something.
    """
    worded = [result for result in results if result["text"].strip()]
    read = [(result, spoken.read(result["text"], screen, engine_type, own or [])) for result in worded]
    whole = [(result, proposal) for result, proposal in read if spoken.complete(proposal, screen)]
    outcome, chosen = _agreed(whole, _rejected(results))
    note = screen.get("sort", "any") == "any" and _by_free(worded)
    if outcome == "differ" and (note or len(results) == 1):
        outcome, chosen = "nothing", None
    # All together came to something else, and not to a whole reading: then the one who writes freely is shown.
    free = outcome == "differ" and _beside_chain(chosen, worded) and _by_free(worded)
    shown = _shown(read) if note or free or chosen is None else chosen
    text, engine = (shown[0]["text"], shown[0]["engine"]) if shown else ("", "")
    nothing = spoken.read("", screen, engine_type, own or [])
    return {
        "outcome": outcome,
        "text": text,
        "engine": engine,
        "proposal": chosen[1] if chosen and outcome != "nothing" else nothing,
        "proposals": [[result["engine"], proposal] for result, proposal in read],
    }


def _by_free(worded: list[Result]) -> bool:
    return any(result["sort"] == "free" for result in worded)


def _beside_chain(chosen: tuple[Result, Proposal] | None, worded: list[Result]) -> bool:
    """Whether what stands is another recogniser's though the chain wrote something too."""
    return chosen is not None and chosen[0]["engine"] != CHAIN and any(result["engine"] == CHAIN for result in worded)


def meaning(proposal: Proposal) -> tuple[Any, ...]:
    """What has to be equal for two proposals to say the same."""
    return tuple(tuple(sorted(proposal[slot])) if slot == "conditions" else proposal[slot] for slot in MEANING)


def _rejected(results: list[Result]) -> bool:
    """The chain listened and took it for talk."""
    return any(result["engine"] == CHAIN and not result["text"].strip() for result in results)


def _agreed(whole: list[tuple[Result, Proposal]], rejected: bool) -> tuple[str, tuple[Result, Proposal] | None]:
    """The outcome, and the result that stands for it."""
    if rejected or not whole:
        return "nothing", None
    chain = next((pair for pair in whole if pair[0]["engine"] == CHAIN), None)
    if chain is not None:
        return ("agree" if chain[0]["confidence"] >= SURE else "differ"), chain
    by_meaning: dict[tuple[Any, ...], list[tuple[Result, Proposal]]] = {}
    for result, proposal in whole:
        by_meaning.setdefault(meaning(proposal), []).append((result, proposal))
    best = max(by_meaning.values(), key=lambda group: (_ears(group), len(group), _confidence(group)))
    standing = max(best, key=lambda pair: (pair[0]["sort"] == "closed", pair[0]["confidence"]))
    alone = len({_ear(result) for result, _ in whole}) == 1
    # Two recognisers of one make are better than nothing: what they agree on is right in quiet, less so in noise.
    agree = _ears(best) > 1 or (alone and len(best) > 1)
    return ("agree" if agree else "differ"), standing


def _ear(result: Result) -> str:
    return result["model_sha256"] or result["engine"]


def _ears(group: list[tuple[Result, Proposal]]) -> int:
    return len({_ear(result) for result, _ in group})


def _confidence(group: list[tuple[Result, Proposal]]) -> int:
    return max(result["confidence"] for result, _ in group)


def _shown(read: list[tuple[Result, Proposal]]) -> tuple[Result, Proposal] | None:
    """Whose words are shown when nothing was agreed on: a free recogniser's, for it can write what was said. A closed
    one makes shop talk of anything: its words are shown when some of them mean something."""
    free = [pair for pair in read if pair[0]["sort"] == "free"]
    some = [pair for pair in read if pair[0]["engine"] != CHAIN and any(pair[1][slot] for slot in TELLING)]
    return max(free or some, key=lambda pair: pair[0]["confidence"], default=None)
