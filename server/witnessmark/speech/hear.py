"""From a sound file to what each recogniser heard in it: decode, find who speaks where, ask one after the other."""

from __future__ import annotations

import tempfile
from dataclasses import dataclass, field
from pathlib import Path

from witnessmark import config
from witnessmark.speech import states
from witnessmark.speech.decode import Decoder, Sound
from witnessmark.speech.fence import Ended, Fenced
from witnessmark.speech.recogniser import CLOSED_SECONDS
from witnessmark.trade.ground.sentences import say

SECONDS, EACH_SECOND = 240, 60  # on the clock, for one recogniser: to load its model, and for each second of sound
TOO_MUCH = say("server.sounds.hearing_too_slow")


class Stopped(Exception):
    """The ear was closed meanwhile: nothing came of it, and nothing is wrong with the sound."""


@dataclass(frozen=True)
class Hearing:
    """What came of one sound. `seconds`: decoded length. `results`: one for each recogniser that listened, as they go
    into an entry; with an empty text where it understood nothing or nobody speaks. `fault`: a sentence when the sound
    could not be decoded to its end, '' otherwise. `silent`: nobody speaks. `faults`: recogniser id -> why it failed.
    `asked`: the recognisers that should have listened."""

    seconds: float
    results: list[dict]
    fault: str = ""
    silent: bool = False
    faults: dict[str, str] = field(default_factory=dict)
    asked: tuple[str, ...] = ()


class Ear:
    """Decoding and hearing processes. Samples lie in `folder` meanwhile, else where the system keeps such things."""

    def __init__(self, settings: config.Settings, folder: Path | None = None):
        self.settings, self.folder = settings, folder
        self.closed = False
        self.decoder = Decoder()
        self.fenced = Fenced("witnessmark.speech.hear_worker", **config.to_environment(settings))

    def hear(self, path: Path, about: dict) -> Hearing:
        """Listens to the sound at `path`; `about` is what speech.lexicon takes. Never raises for what is in it, only
        Stopped."""
        if self.folder:
            self.folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        with tempfile.TemporaryDirectory(prefix="witnessmark-", dir=self.folder, ignore_cleanup_errors=True) as folder:
            sound = self.decoder.decode(path, Path(folder))
            if not sound.seconds:
                self._go_on()
                return Hearing(0.0, [], sound.fault)
            recognisers = [state.id for state in states.usable(self.settings) if _fits(state, sound)]
            results, faults = self._ask(sound, recognisers, about)
        return Hearing(sound.seconds, results, sound.fault, sound.speech is None, faults, tuple(recognisers))

    def rest(self) -> None:
        """Sends processes home that have nothing to do."""
        self.decoder.rest()
        self.fenced.rest()

    def close(self) -> None:
        """Ends both now; whoever is waiting for them gets Stopped."""
        self.closed = True
        self.decoder.close()
        self.fenced.close()

    def _ask(self, sound: Sound, ids: list[str], about: dict) -> tuple[list[dict], dict[str, str]]:
        """Results and faults. A recogniser that brings the process down is left out, the others get a new one."""
        results, faults, left = [], {}, list(ids)
        long = (sound.speech[1] - sound.speech[0]) / 1000 if sound.speech else 0
        while left:
            self._go_on()
            wish = {
                "do": "hear", "ids": left, "raw": str(sound.raw), "clean": sound.clean and str(sound.clean),
                "speech": sound.speech, "about": about,
            }  # fmt: skip
            at = left[0]
            with self.fenced.lock:
                try:
                    for answer in self.fenced.ask(wish, SECONDS + EACH_SECOND * long):
                        at = answer.get("at", at)
                        if "result" in answer:
                            results.append(answer["result"])
                        elif "fault" in answer:
                            faults[answer["id"]] = answer["fault"]
                    return results, faults
                except Ended:
                    self._go_on()
                    faults[at] = TOO_MUCH
            # After the last of them comes what all come to together.
            left = left[left.index(at) + 1 :] if at in left else []
        return results, faults

    def _go_on(self) -> None:
        if self.closed:
            raise Stopped


def hear(settings: config.Settings, path: Path, about: dict) -> Hearing:
    """One sound and no more: its processes are ended afterwards."""
    ear = Ear(settings)
    try:
        return ear.hear(path, about)
    finally:
        ear.close()


def _fits(state: states.State, sound: Sound) -> bool:
    spoken = (sound.speech[1] - sound.speech[0]) / 1000 if sound.speech else 0
    return state.sort == "free" or spoken <= CLOSED_SECONDS
