"""From what was heard to the figures of the table: errors, right, complete but wrong, agreed, by ear and by noise."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from tests.bench.speech import words
from tests.bench.speech.hearing import Told
from tests.bench.speech.meaning import ENGINES, complete, proposal, right
from witnessmark.trade.spoken import heard

QUIET, LOUD = ("clean", "20 dB"), ("10 dB", "5 dB")


@dataclass
class Tally:
    """Of some clips and one ear. `said` lines of those that mean something, `right` with every slot, `wrong` complete
    and yet something else. `errors` of `words`."""

    said: int = 0
    right: int = 0
    wrong: int = 0
    errors: int = 0
    words: int = 0

    @property
    def share(self) -> float:
        return self.right / self.said if self.said else 0.0

    @property
    def rate(self) -> float:
        return self.errors / self.words if self.words else 0.0


def of_text(told: Iterable[Told], text: Callable[[Told], str]) -> Tally:
    """The tally of one text for each clip: '' where there is none."""
    tally = Tally()
    for one in told:
        line, heard_text = one.clip.line, text(one)
        errors, count = words.errors(line.words, heard_text)
        tally.errors, tally.words = tally.errors + errors, tally.words + count
        if line.means:
            found = proposal(heard_text, line)
            is_right = right(found, line)
            tally.said += 1
            tally.right += is_right
            tally.wrong += complete(found, line) and not is_right
    return tally


def of_engine(engine: str) -> Callable[[Told], str]:
    return lambda told: (told.result(engine) or {"text": ""})["text"]


@dataclass
class Agreed:
    """How often the recognisers agree, how often what they agree on is wrong, and how much chatter they agree on."""

    said: int = 0
    agreed: int = 0
    wrong: int = 0
    chatter: int = 0
    taken: int = 0


def agreement(told: Iterable[Told], engines: Iterable[str] | None = None) -> Agreed:
    """By trade.heard on the results of `engines`, of all when None."""
    result, only = Agreed(), None if engines is None else set(engines)
    for one in told:
        line = one.clip.line
        results = [r for r in one.results if only is None or r["engine"] in only]
        decision = heard.decide(results, line.screen(), ENGINES[line.engine])
        agree = decision["outcome"] == "agree"
        if line.means:
            result.said += 1
            result.agreed += agree
            result.wrong += agree and not right(decision["proposal"], line)
        else:
            result.chatter += 1
            result.taken += agree
    return result
