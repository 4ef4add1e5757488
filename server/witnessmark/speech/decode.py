"""A sound file as samples that recognisers take, made in a fenced-in process. The original is only read."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from witnessmark.speech.fence import Ended, Fenced
from witnessmark.trade.ground.sentences import say

SECONDS = 90  # for one sound, on the clock
TOO_MUCH = say("server.sounds.decoding_too_slow")


@dataclass(frozen=True)
class Sound:
    """A decoded sound. `raw` and `clean`: files of signed 16 bit samples, one channel, 16 kHz; `clean` has noise taken
    out, and is None where that was not possible. `seconds`: decoded length. `speech`: from and to in ms, None when
    nobody speaks. `fault`: a sentence, '' when all went well; what was decoded before it counts all the same."""

    raw: Path
    clean: Path | None
    seconds: float
    speech: tuple[int, int] | None
    fault: str


class Decoder:
    """The fenced-in process that decodes. Safe to use from several threads."""

    def __init__(self):
        self.fenced = Fenced("witnessmark.speech.decode_worker")
        self.rest, self.close = self.fenced.rest, self.fenced.close

    def decode(self, path: Path, into: Path) -> Sound:
        """The sound at `path`, its samples written into the folder `into`. Never raises for what is in the file."""
        raw, clean = into / "raw", into / "clean"
        wish = {"path": str(path), "raw": str(raw), "clean": str(clean)}
        with self.fenced.lock:
            try:
                (answer,) = self.fenced.ask(wish, SECONDS)
            except Ended:
                return Sound(raw, None, 0.0, None, TOO_MUCH)
        span = tuple(answer["speech"]) if answer["speech"] else None
        return Sound(raw, clean if answer["denoised"] else None, answer["seconds"], span, answer["fault"])
