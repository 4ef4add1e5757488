"""Another free recogniser, for a workshop that has a Vosk model of its own; the package brings none.

Belongs into the hearing process.
"""

from __future__ import annotations

import json
from typing import Any

from witnessmark.config import Settings
from witnessmark.speech.models import hash_folder, own_folder, version_of
from witnessmark.speech.recogniser import RATE, Heard, Lexicon, Unusable, Word
from witnessmark.trade.ground.sentences import say

VARIABLE = "WITNESSMARK_VOSK_MODEL"


class Vosk:
    """The model in the folder the workshop named."""

    id = "vosk"
    sort = "free"
    denoised = False

    def __init__(self, settings: Settings):
        self.version = version_of("vosk", "vosk")
        if settings.vosk_model is None:
            raise Unusable(say("server.speech.no_vosk_model"), say("server.speech.set_model_folder", variable=VARIABLE))
        self.folder = own_folder(settings.vosk_model, ("am", "conf"), VARIABLE)
        self.model = self.folder.resolve().name
        self.model_sha256 = hash_folder(self.folder)
        self._loaded: Any = None

    def hear(self, samples: bytes, lexicon: Lexicon) -> Heard:
        """See Recogniser."""
        import vosk

        if self._loaded is None:
            vosk.SetLogLevel(-1)
            self._loaded = vosk.Model(str(self.folder))
        ear = vosk.KaldiRecognizer(self._loaded, RATE)
        ear.SetWords(True)
        answers = []
        for at in range(0, len(samples), 8000):
            if ear.AcceptWaveform(samples[at : at + 8000]):
                answers.append(json.loads(ear.Result()))
        answers.append(json.loads(ear.FinalResult()))
        words = [
            Word(word["word"], round(word["start"] * 1000), round(word["end"] * 1000), float(word["conf"]))
            for part in answers
            for word in part.get("result", [])
        ]
        sure = sum(word.confidence for word in words) / len(words) if words else 0.0
        return Heard(" ".join(part["text"] for part in answers if part.get("text")), tuple(words), sure)
