"""`python -m tests.bench.speech.weights [COUNT]`: finds the weights of speech/chain.py on the lines of half 0 and says
how they do on both halves. The numbers are then written into chain.py by hand."""

from __future__ import annotations

import os
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from scipy.optimize import minimize

from tests.bench.speech import voices
from tests.bench.speech.hearing import Listener, clips
from tests.bench.speech.meaning import proposal, right
from witnessmark import config
from witnessmark.speech import chain

PULL = 0.02  # towards the weights as they are: there are few clips


@dataclass
class Looked:
    """One clip: which half of the lines it is from, whether a reading was said at all, what was looked at, which of
    that is right, and what speaks for the choice (chain.SURE's names)."""

    half: int
    said: bool
    readings: list[chain.Rated]
    right: list[bool]
    speaks: dict[str, float]


def order_weights(looked: list[Looked]) -> np.ndarray:
    """W_ORDER, W_FIRST, W_WHOLE that make what is right most likely among what was looked at."""
    start = np.array([chain.W_ORDER, chain.W_FIRST, chain.W_WHOLE])
    usable = [one for one in looked if one.said and any(one.right) and not all(one.right)]

    def loss(weights: np.ndarray) -> float:
        total = 0.0
        for one in usable:
            scores = np.array([score(reading, weights) for reading in one.readings])
            total += np.logaddexp.reduce(scores) - np.logaddexp.reduce(scores[np.array(one.right)])
        return total / len(usable) + PULL * float(np.sum(np.square(weights - start)))

    return minimize(loss, start, method="Nelder-Mead", options={"maxiter": 400}).x


def score(reading: chain.Rated, weights: np.ndarray) -> float:
    return reading.ear + float(weights @ [reading.order, reading.first, reading.means is not None])


def sure_weights(looked: list[Looked]) -> dict[str, float]:
    """The logistic curve of chain.SURE: how likely the first reading is right. Talk is never right."""
    names = list(chain.SURE)
    rows = np.array([[one.speaks[name] for name in names] for one in looked])
    met = np.array([one.right[0] for one in looked], float)

    def loss(weights: np.ndarray) -> float:
        at = rows @ weights
        return float(np.mean(np.logaddexp(0, at) - met * at)) + PULL * float(np.sum(np.square(weights[1:]))) / 10

    found = minimize(loss, np.array(list(chain.SURE.values())), method="BFGS").x
    return dict(zip(names, found.tolist(), strict=True))


def told(looked: list[Looked]) -> str:
    """How often the first is right, how often any is, and what remains wrong from each sureness on."""
    said = [one for one in looked if one.said]
    first = sum(one.right[0] for one in said)
    text = f"{first} of {len(said)} right, {sum(any(one.right) for one in said)} among those looked at;"
    for least in (0.5, 0.7, 0.8, 0.9, 0.95):
        kept = [one for one in looked if one.readings[0].means is not None and sure(one) >= least]
        text += f" from {least}: {len(kept)} with {sum(not one.right[0] for one in kept)} wrong;"
    return text


def sure(one: Looked) -> float:
    return 1 / (1 + np.exp(-sum(chain.SURE[name] * value for name, value in one.speaks.items())))


def gathered(count: int, cache: Path) -> list[Looked]:
    listener = Listener(config.from_environment(), cache)
    there = [voice for voice in voices.VOICES if voice.natural and not voice.why_not()]
    result = []
    for clip in clips(there, count):
        listener.together.watch = lambda looked, choice, clip=clip: result.append(_looked(clip.line, looked, choice))
        listener.hear(clip)
    return result


def _looked(line, looked: list[chain.Rated], choice: chain.Choice) -> Looked:
    met = [bool(line.means) and right(proposal(one.text, line), line) for one in looked]
    return Looked(line.half, bool(line.means), looked, met, choice.speaks)


def main(count: int) -> None:
    with tempfile.TemporaryDirectory(prefix="witnessmark-bench-") as folder:
        os.environ.setdefault("WITNESSMARK_DATA", folder)
        cache = Path(os.environ.get("WITNESSMARK_BENCH_CLIPS", folder))
        looked = gathered(count, cache)
    mine = [one for one in looked if one.half == 0]
    print("W_ORDER, W_FIRST, W_WHOLE:", order_weights(mine).round(2).tolist())
    print("SURE:", {name: round(value, 2) for name, value in sure_weights(mine).items()})
    for half in (0, 1):
        print(f"half {half} with the weights as they are:", told([one for one in looked if one.half == half]))


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 100)
