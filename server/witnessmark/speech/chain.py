"""The recognisers together: the closed ones propose, Whisper says how well each proposal fits the sound.

The two closed recognisers share their acoustic model and with it their mistakes (three and eight, sixteen and sixty);
Whisper hears differently, but left alone writes what it likes. So the closed ones propose, also what they had in second
place; what Whisper wrote is one proposal more, and near readings are added (speech/readings.py). How words follow each
other in the vocabulary counts a little, and so does whether the words can be a record on this engine at all: a place
that it has, a unit that goes with the quantity. An expected value counts nothing: nothing here knows one.

Belongs into the hearing process.
"""

from __future__ import annotations

import hashlib
import math
from collections.abc import Callable, Hashable, Iterable
from dataclasses import dataclass

from witnessmark.speech import plausible
from witnessmark.speech.readings import as_words, neighbours
from witnessmark.speech.recogniser import Heard, Lexicon, Recogniser, Word

ID, VERSION = "chain", "1"
# How many readings of each recogniser are looked at, how many near ones are added, and how often.
OF_EACH, NEAR, ROUNDS = 8, 16, 3
# How much each thing counts beside Whisper's logarithm: found on one half of the benchmark's lines, tried on the other
# (tests/bench/speech/weights.py).
W_ORDER, W_FIRST, W_WHOLE = 0.25, 2.0, 4.0
# How sure the choice is, from 0 to 1: a logistic curve over the features of `Choice`, found in the same way.
SURE = {"": -0.8, "share": 1.1, "firsts": 1.4, "free": 1.2, "behind": -1.2}
# So much less likely, for each word said, than what Whisper wrote of its own accord: that was talk. Right readings were
# at 3.3 and below, all but one of 14 sounds of talk above 4.2; below it, `behind` still makes a choice less sure.
TALK = 4.0

Means = Callable[[str], Hashable | None]


@dataclass
class Rated:
    """One reading and how well it fits: `ear` Whisper's logarithm, `order` that of the language model, `first` how
    many closed recognisers have it in first place, `means` what a record of it would say (None: it cannot be one)."""

    text: str
    ear: float
    order: float
    first: int
    means: Hashable | None

    @property
    def score(self) -> float:
        return self.ear + W_ORDER * self.order + W_FIRST * self.first + W_WHOLE * (self.means is not None)


@dataclass
class Choice:
    """The best reading, and what speaks for it. `share`: of all that was looked at, how likely the same meaning is.
    `firsts`: how many closed recognisers mean the same, `free`: whether Whisper does on its own. `behind`: how much
    less likely each of its words is to Whisper than what that wrote itself."""

    best: Rated
    share: float
    firsts: int
    free: bool
    behind: float

    @property
    def talk(self) -> bool:
        return self.behind > TALK

    @property
    def speaks(self) -> dict[str, float]:
        """What `sure` is made from, by the names of SURE."""
        return {
            "": 1.0, "share": self.share, "firsts": float(self.firsts), "free": float(self.free),
            "behind": min(5.0, max(-5.0, self.behind)),
        }  # fmt: skip

    @property
    def sure(self) -> float:
        return 1 / (1 + math.exp(-sum(SURE[name] * value for name, value in self.speaks.items())))


def look(
    closed: list[Heard],
    free: str,
    ear: Callable[[list[str]], list[float]],
    lexicon: Lexicon,
    means: Means,
    units: Iterable[str] = (),
) -> list[Rated]:
    """All readings that were looked at, the best first; [] when no closed recogniser understood anything.

    `free`: what Whisper wrote. `ear` rates readings of the one sound (rating.Rater.listen). `means`: see Rated.
    `units`: what units are called there.
    """
    order = plausible.model(lexicon.arpa)
    firsts = [result.text for result in closed if result.text]
    rated: dict[str, Rated] = {}

    def add(texts: Iterable[str]) -> None:
        new = [t for t in dict.fromkeys(texts) if t not in rated and t and all(map(order.knows, t.split()))]
        for text, fits in zip(new, ear(new), strict=True):
            rated[text] = Rated(text, fits, order.rate(text), firsts.count(text), means(text))

    if not firsts:
        return []
    add([*firsts, as_words(free), *(text for result in closed for text, _ in result.nbest[:OF_EACH])])
    for _ in range(ROUNDS):
        ranked = sorted(rated.values(), key=lambda reading: -reading.score)
        if not ranked:
            break
        near = neighbours(ranked[0].text, [result.text for result in ranked[1:OF_EACH]], units)
        new = {text for text in near if text not in rated}
        add(sorted(new, key=lambda text: (-order.rate(text) - (W_WHOLE if means(text) else 0), text))[:NEAR])
        if max(rated.values(), key=lambda reading: reading.score) is ranked[0]:
            break
    return sorted(rated.values(), key=lambda reading: -reading.score)


def choose(looked: list[Rated], closed: list[Heard], free: str, free_fits: float, means: Means) -> Choice:
    """The best of `looked` (not empty). `free_fits`: Whisper's logarithm of its own text."""
    best = looked[0]
    weights = [math.exp(reading.score - best.score) for reading in looked]
    same = [reading.means == best.means if best.means is not None else reading is best for reading in looked]
    share = sum(weight for weight, is_same in zip(weights, same, strict=True) if is_same) / sum(weights)
    whole = best.means is not None
    firsts = sum(1 for result in closed if whole and means(result.text) == best.means)
    words = max(1, len(best.text.split()))
    behind = (free_fits - best.ear) / words if free else 0.0
    return Choice(best, share, firsts, whole and means(free) == best.means, behind)


def model_of(parts: Iterable[Recogniser]) -> tuple[str, str]:
    """Name and SHA-256 of all models together: of the lines 'sha256  id', sorted."""
    parts = sorted(parts, key=lambda part: part.id)
    lines = "".join(f"{part.model_sha256}  {part.id}\n" for part in parts)
    return " + ".join(dict.fromkeys(part.model for part in parts)), hashlib.sha256(lines.encode()).hexdigest()


def words_of(text: str, closed: list[Heard]) -> tuple[Word, ...]:
    """The words of the choice with times, from the closed recogniser that differs least; new words share its gap."""
    from difflib import SequenceMatcher

    words = text.split()
    timed = [result for result in closed if result.words]
    if not timed:
        return ()
    nearest = max(timed, key=lambda result: SequenceMatcher(None, words, result.text.split(), autojunk=False).ratio())
    theirs = list(nearest.words)
    made: list[Word] = []
    for what, a, b, c, d in SequenceMatcher(None, words, [w.word for w in theirs], autojunk=False).get_opcodes():
        if what == "equal":
            made += theirs[c:d]
            continue
        start = theirs[c].from_ms if c < d else made[-1].to_ms if made else theirs[0].from_ms
        end = theirs[d - 1].to_ms if c < d else start
        step = (end - start) / max(1, b - a)
        made += [
            Word(word, round(start + k * step), round(start + (k + 1) * step), 0.0) for k, word in enumerate(words[a:b])
        ]
    return tuple(made)
