"""How likely given readings of a sound are, by Whisper: an ear of its own beside the closed recognisers.

Whisper left alone writes down anything; made to read a given text, it says word by word how well that fits what it
hears, and it is rarely wrong in the places where the closed recognisers are. Belongs into the hearing process.
"""

from __future__ import annotations

import math

from witnessmark.speech.whisper import Whisper

# Words of the trade, so that they are no surprise; no figure, for none is to be expected.
PROMPT = "Bore, crankpin, big end, top thrust, end float, run out, reads point thou, millimetres, psi."
FRAMES_AFTER = 100  # of silence, 10 ms each, behind the sound
MOST_FRAMES = 3000  # what Whisper takes in at once: 30 s
LEAST = 1e-10  # below this a probability is only noise of 8 bit numbers


class Rater:
    """Rates readings of one sound after another. The model is the recogniser's own, loaded once for both."""

    def __init__(self, whisper: Whisper):
        self._whisper = whisper
        self._tokens = None

    def rate(self, samples: bytes, readings: list[str]) -> list[float]:
        """Natural logarithm of how likely each reading is, the end of the sentence included.

        `samples` as recorded: 16 bit, one channel, 16 kHz, up to 29 s. A reading is plain words.
        """
        return self.listen(samples)(readings)

    def listen(self, samples: bytes):
        """The same in two steps: hears the sound once, and returns what rates readings of it."""
        import numpy
        from faster_whisper.audio import pad_or_trim

        model = self._whisper.loaded()
        features = model.feature_extractor(numpy.frombuffer(samples, numpy.int16).astype(numpy.float32) / 32768)
        frames = min(features.shape[-1], MOST_FRAMES - FRAMES_AFTER)
        # A reading is given to its end, so nothing can be made up in the silence that Whisper mostly wants to 30 s.
        length = (frames + FRAMES_AFTER) // 2 * 2
        encoded = model.encode(pad_or_trim(features[..., :frames], length))
        tokens = self._tokenizer(model)
        start = [tokens.sot_prev, *tokens.encode(" " + PROMPT), *tokens.sot_sequence]

        def rate(readings: list[str]) -> list[float]:
            made = []
            for reading in readings:
                text = tokens.encode(f" {reading[:1].upper()}{reading[1:]}.")
                alignment = model.model.align(encoded, start, [text], frames)[0]
                made.append(sum(math.log(max(p, LEAST)) for p in alignment.text_token_probs))
            return made

        return rate

    def _tokenizer(self, model):
        if self._tokens is None:
            from faster_whisper.tokenizer import Tokenizer

            many = model.model.is_multilingual
            self._tokens = Tokenizer(model.hf_tokenizer, many, "transcribe" if many else None, "en" if many else None)
        return self._tokens
