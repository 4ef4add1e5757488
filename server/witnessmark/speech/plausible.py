"""How plausible words are one after another, by a language model in ARPA form: the one the decoder uses as well."""

from __future__ import annotations

import math
from functools import lru_cache

_TO_NATURAL = math.log(10)
NEVER = -99.0


class Model:
    """Grams with logarithms to base ten, as in the text of the model, with what it costs to fall back."""

    def __init__(self, arpa: str):
        self._grams: dict[tuple[str, ...], tuple[float, float]] = {}
        for line in arpa.splitlines():
            cells = line.split("\t")
            if len(cells) < 2:
                continue
            self._grams[tuple(cells[1].split(" "))] = (float(cells[0]), float(cells[2]) if len(cells) > 2 else 0.0)
        self._order = max((len(gram) for gram in self._grams), default=1)

    def knows(self, word: str) -> bool:
        return (word,) in self._grams

    def rate(self, reading: str) -> float:
        """Natural logarithm of how likely these words follow each other, from the beginning to the end."""
        words = ["<s>", *reading.split(), "</s>"]
        return _TO_NATURAL * sum(
            self._word(tuple(words[max(0, at + 1 - self._order) : at + 1])) for at in range(1, len(words))
        )

    def _word(self, gram: tuple[str, ...]) -> float:
        if gram in self._grams:
            return self._grams[gram][0]
        if len(gram) == 1:
            return NEVER
        return self._grams.get(gram[:-1], (0.0, 0.0))[1] + self._word(gram[1:])


@lru_cache(maxsize=4)
def model(arpa: str) -> Model:
    return Model(arpa)
