"""The chain as it runs in the hearing process: from what each recogniser heard to one more result, or none."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from typing import Any

from witnessmark.speech import chain
from witnessmark.speech.lexicon import ANYTHING
from witnessmark.speech.rating import Rater
from witnessmark.speech.recogniser import RATE, Heard, Lexicon, Recogniser
from witnessmark.speech.whisper import Whisper
from witnessmark.trade.ground.units import UNITS
from witnessmark.trade.spoken import heard as agreement
from witnessmark.trade.spoken import parse as spoken

LONGEST = 20 * RATE * 2  # bytes: what closed recognisers are for; longer ones are notes


class Together:
    """Brings together what `usable` recognisers heard. As a Recogniser it has a name, a version and a model."""

    id, version, sort, denoised = chain.ID, chain.VERSION, "closed", False

    def __init__(self, usable: dict[str, Recogniser]):
        whisper = usable.get("whisper")
        self._rater = Rater(whisper) if isinstance(whisper, Whisper) else None
        parts = [
            recogniser for recogniser in usable.values() if recogniser is whisper or recogniser.id.startswith("sphinx_")
        ]
        self.model, self.model_sha256 = chain.model_of(parts)
        # For whoever sets the weights: is shown all that was looked at, and the choice.
        self.watch: Callable[[list[chain.Rated], chain.Choice], None] | None = None

    def hear(self, samples: bytes, lexicon: Lexicon, about: dict, heard: dict[str, Heard]) -> Heard | None:
        """`samples` as recorded, not denoised; `heard`: recogniser id -> what it heard of them. '' when it is talk.

        None without Whisper or without a closed recogniser, and for a sound that is too long to be a reading.
        """
        closed = [result for id, result in heard.items() if id.startswith("sphinx_") and result.text]
        if self._rater is None or not closed or len(samples) > LONGEST:
            return None
        free = heard["whisper"].text if "whisper" in heard else ""
        means = meanings(about)
        ear = self._rater.listen(samples)
        looked = chain.look(closed, free, ear, lexicon, means, units())
        if not looked:
            return None
        choice = chain.choose(looked, closed, free, ear([free])[0] if free else 0.0, means)
        if self.watch is not None:
            self.watch(looked, choice)
        if choice.talk:
            return Heard()
        text = choice.best.text
        return Heard(
            text, chain.words_of(text, closed), choice.sure, tuple((reading.text, reading.score) for reading in looked)
        )


def meanings(about: dict) -> chain.Means:
    """What a reading would say as a record on this screen and engine; None when it cannot be one."""
    screen: dict[str, Any] = about.get("screen") or ANYTHING
    engine_type, own = about.get("engine_type"), about.get("own") or []

    @lru_cache(maxsize=4096)
    def means(text: str):
        proposal = spoken.read(text, screen, engine_type, own)
        return agreement.meaning(proposal) if spoken.complete(proposal, screen) else None

    return means


def units() -> list[str]:
    """Units that are added where none was heard, as they are mostly called."""
    return [unit["said"][0] for unit in UNITS.values() if unit["heard"] == "often"]
