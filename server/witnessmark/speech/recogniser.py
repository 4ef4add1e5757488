"""What a recogniser is, here and for whoever brings another one.

A package offers one by an entry point in the group `witnessmark.recognisers`: a name, and a factory that takes the
Settings and returns a Recogniser, or raises Unusable. It is made and asked only in the process of speech.hear_worker,
one sound at a time; it may load its model at the first `hear` and keep it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cached_property
from typing import Literal, Protocol

GROUP = "witnessmark.recognisers"
RATE = 16_000  # samples a second of all that a recogniser is handed
CLOSED_SECONDS = 20  # a closed vocabulary is for short sayings; longer ones are notes


class Unusable(Exception):
    """Why a recogniser cannot be used here, and what would change that; both whole sentences."""

    def __init__(self, reason: str, next_step: str):
        super().__init__(f"{reason} {next_step}")
        self.reason = reason
        self.next_step = next_step


class Lexicon:
    """What may be said, in the forms that recognisers take. Nothing here knows an expected value.

    `jsgf`: a grammar of the screen (JSGF 1.0) · `arpa`: a trigram model of the whole vocabulary (ARPA text) ·
    `dictionary`: a line a word, 'bore B AO R' · `prompt`: trade words for a free recogniser · `hash`: SHA-256 in hex
    of the tables and own words all this was made from · `own`: the workshop's own words.
    """

    def __init__(
        self,
        jsgf: str = "",
        arpa: str | Callable[[], str] = "",
        dictionary: str | Callable[[], str] = "",
        prompt: str = "",
        hash: str = "",
        own: tuple[dict, ...] = (),
    ):
        self.jsgf, self.prompt, self.hash, self.own = jsgf, prompt, hash, own
        self._arpa, self._dictionary = arpa, dictionary

    # Made when a recogniser first wants them: the model takes seconds, and not every recogniser has a use for it.

    @cached_property
    def arpa(self) -> str:
        return self._arpa if isinstance(self._arpa, str) else self._arpa()

    @cached_property
    def dictionary(self) -> str:
        return self._dictionary if isinstance(self._dictionary, str) else self._dictionary()


@dataclass(frozen=True)
class Word:
    """One word with its place in the samples that were handed over, in ms, and how sure it is, 0 to 1."""

    word: str
    from_ms: int
    to_ms: int
    confidence: float


@dataclass(frozen=True)
class Heard:
    """What one recogniser heard: '' when it understood nothing. `nbest`: other readings, best first, with a score
    that can only be compared within this list."""

    text: str = ""
    words: tuple[Word, ...] = ()
    confidence: float = 0.0
    nbest: tuple[tuple[str, float], ...] = field(default=())


class Recogniser(Protocol):
    """One way to turn speech into words.

    `sort`: 'closed' knows only the lexicon's words, 'free' writes down anything. `denoised`: it wants samples from
    which noise was taken. `model_sha256` is of the model's bytes, in hex, so that a result names what made it.
    """

    id: str
    version: str
    model: str
    model_sha256: str
    sort: Literal["closed", "free"]
    denoised: bool

    def hear(self, samples: bytes, lexicon: Lexicon) -> Heard:
        """What is heard in `samples`: signed 16 bit, little end first, one channel, RATE a second. Never fetches."""
        ...
