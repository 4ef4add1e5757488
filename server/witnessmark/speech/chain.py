"""The recognisers together: readings of the closed ones, judged by an ear of its own kind, Whisper's.

The two closed recognisers share their acoustic model and with it their mistakes (three and eight, sixteen and sixty);
Whisper hears differently, but writes what it likes. So here the closed ones propose, also what they had in second
place; near readings are added; and Whisper says how well each of them fits the sound. What follows what in the
vocabulary counts a little. An expected value counts nothing: nothing here knows one.

`sure` is how sure the choice is among the readings that were looked at, told apart by what they mean.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from witnessmark.speech import plausible
from witnessmark.speech.readings import neighbours
from witnessmark.speech.recogniser import Heard, Lexicon

ID, VERSION = "chain", "1"
# How many readings of each recogniser are looked at, how many near ones are added, and how often.
OF_EACH, NEAR, ROUNDS = 8, 12, 2
# Found on half of the lines of tests/bench/speech; see `python -m tests.bench.speech.weights`.
W_EAR, W_ORDER, W_WORD, W_FIRST = 1.0, 0.35, 0.0, 1.0


@dataclass
class Rated:
    """One reading and how well it fits: `ear` Whisper's logarithm, `order` that of the language model, `first` how
    many closed recognisers have it in first place."""

    text: str
    ear: float
    order: float
    first: int

    @property
    def score(self) -> float:
        return W_EAR * self.ear + W_ORDER * self.order + W_WORD * len(self.text.split()) + W_FIRST * self.first


def look(
    heard: list[Heard],
    ear: Callable[[list[str]], list[float]],
    lexicon: Lexicon,
    more: Iterable[str] = (),
    units: Iterable[str] = (),
) -> list[Rated]:
    """All readings that were looked at, the best first; [] when no closed recogniser understood anything.

    `ear` rates readings of the one sound (rating.Rater.listen). `more`: readings from elsewhere in words of the
    lexicon. `units`: what units are called there.
    """
    order = plausible.model(lexicon.arpa)
    firsts = [one.text for one in heard if one.text]
    found: dict[str, Rated] = {}

    def add(texts: Iterable[str]) -> None:
        new = [t for t in dict.fromkeys(texts) if t not in found and t and all(map(order.knows, t.split()))]
        for text, fits in zip(new, ear(new), strict=True):
            found[text] = Rated(text, fits, order.rate(text), firsts.count(text))

    add([*firsts, *more, *(text for one in heard for text, _ in one.nbest[:OF_EACH])])
    for _ in range(ROUNDS):
        if not found:
            break
        ranked = sorted(found.values(), key=lambda one: -one.score)
        near = neighbours(ranked[0].text, [one.text for one in ranked[1:OF_EACH]], units)
        likely = sorted({text for text in near if text not in found}, key=lambda text: -order.rate(text))
        add(likely[:NEAR])
        if max(found.values(), key=lambda one: one.score) is ranked[0]:
            break
    return sorted(found.values(), key=lambda one: -one.score)
