"""The two closed recognisers: PocketSphinx with a trigram model of the vocabulary, or with the grammar of a screen.

The acoustic model comes inside the package. Language model, grammar and dictionary are ours; the package's own are
of no use here. Belongs into the hearing process.
"""

from __future__ import annotations

import hashlib
import math
import tempfile
from collections import OrderedDict
from importlib import metadata
from pathlib import Path
from typing import Any

from witnessmark.config import Settings
from witnessmark.speech import denoise
from witnessmark.speech.models import hash_folder, version_of
from witnessmark.speech.recogniser import RATE, Heard, Lexicon, Unusable, Word
from witnessmark.trade.ground.sentences import say

INSTALL = "witnessmark[speech]"
KEPT = 2  # decoders, each for one grammar: that of the widest screen takes 180 MB
FRAME_MS = 10
FORCED = 0.8
MOST_READINGS, LOOKED_AT = 20, 400  # the list repeats itself a great deal


class Sphinx:
    """What both have in common. `denoised` is whether noise is taken out here: without pyrnnoise it is not."""

    sort = "closed"
    search: dict[str, Any] = {}  # how the decoder looks, where that differs from its own habit

    def __init__(self, settings: Settings):
        self.version = version_of("pocketsphinx", INSTALL)
        files = metadata.files("pocketsphinx") or []
        folder = next((Path(str(file.locate())).parent for file in files if file.name == "mdef"), None)
        if folder is None or not folder.is_dir():
            raise Unusable(
                say("server.speech.no_acoustic_model"), say("server.speech.reinstall", package="pocketsphinx")
            )
        self.acoustic = folder
        self.model = f"en-us of pocketsphinx {self.version}"
        self.model_sha256 = hash_folder(folder)
        self.denoised = denoise.library() is not None
        self._decoders: OrderedDict[str, Any] = OrderedDict()

    def hear(self, samples: bytes, lexicon: Lexicon) -> Heard:
        """See Recogniser. '' as well when the lexicon has nothing for it."""
        decoder = self._decoder(lexicon)
        if decoder is None or not samples:
            return Heard()
        decoder.reinit_feat()  # what it takes for noise is this sound's own, not the last one's
        decoder.start_utt()
        decoder.process_raw(samples, full_utt=True)
        decoder.end_utt()
        best = decoder.hyp()
        if best is None or not best.hypstr:
            return Heard()
        words = [
            Word(
                _plain(part.word),
                part.start_frame * FRAME_MS,
                (part.end_frame + 1) * FRAME_MS,
                min(1.0, max(0.0, part.prob)),
            )
            for part in decoder.seg()
            if part.word[0] not in "<[+("
        ]
        if not self.search.get("bestpath", True):
            return Heard(best.hypstr, tuple(words), self.sure(best, words))
        readings: dict[str, float] = {}
        for _, reading in zip(range(LOOKED_AT), decoder.nbest(), strict=False):
            if reading and reading.hypstr and reading.hypstr not in readings:
                readings[reading.hypstr] = math.log(max(reading.score, 1e-300))
                if len(readings) == MOST_READINGS:
                    break
        return Heard(best.hypstr, tuple(words), self.sure(best, words), tuple(readings.items()))

    def sure(self, best, words: list[Word]) -> float:
        return min(1.0, max(0.0, best.prob))

    def _decoder(self, lexicon: Lexicon):
        source = self.source(lexicon)
        if not source or not lexicon.dictionary:
            return None
        key = hashlib.sha256(f"{source}\0{lexicon.dictionary}".encode()).hexdigest()
        if key not in self._decoders:
            self._decoders[key] = self._made(source, lexicon.dictionary)
            if len(self._decoders) > KEPT:
                self._decoders.popitem(last=False)
        self._decoders.move_to_end(key)
        return self._decoders[key]

    def _made(self, source: str, dictionary: str):
        from pocketsphinx import Decoder

        with tempfile.TemporaryDirectory(prefix="witnessmark-") as folder:
            words = Path(folder) / "words.dict"
            words.write_text(dictionary.rstrip("\n") + "\n")
            # A sound is heard alike whatever was heard before it: the mean is its own as well.
            made = Decoder(
                hmm=str(self.acoustic), dict=str(words), lm=None, samprate=RATE, cmn="batch", loglevel="FATAL",
                **self.search,
            )  # fmt: skip
            self.teach(made, source, Path(folder))
        return made

    def source(self, lexicon: Lexicon) -> str:
        raise NotImplementedError

    def teach(self, decoder, source: str, folder: Path) -> None:
        raise NotImplementedError


class SphinxNgram(Sphinx):
    """The whole vocabulary, by how words follow each other."""

    id = "sphinx_ngram"

    def source(self, lexicon: Lexicon) -> str:
        return lexicon.arpa

    def teach(self, decoder, source: str, folder: Path) -> None:
        model = folder / "words.lm"
        model.write_text(source)
        decoder.add_lm_file("words", str(model))
        decoder.activate_search("words")


class SphinxGrammar(Sphinx):
    """Only what can be said on the screen that was open."""

    id = "sphinx_grammar"
    # The second search through all it looked at took five times the first one's time on the wide grammars and chose no
    # better on the clips of the tests; with it off, the figure for the whole line says nothing any more.
    # A new word costs more than the decoder's own 0.65: it put short words, "oh" and "eight", where none were said (37
    # lines said by synthesisers, quiet and at 10 dB: 28 and 21 right at 0.65, 32 and 23 at 0.01).
    search = {"bestpath": False, "beam": 1e-40, "pbeam": 1e-40, "wbeam": 1e-20, "wip": 0.01}

    def sure(self, best, words: list[Word]) -> float:
        """By its least sure word. One forced on the sound still comes to 0.7 to 0.85 of 1, one that was said to 0.85
        and more (the clips of the tests): of no use as a share until it is stretched. Never a probability."""
        return max(0.0, min((word.confidence for word in words), default=0.0) - FORCED) / (1 - FORCED)

    def source(self, lexicon: Lexicon) -> str:
        return lexicon.jsgf

    def teach(self, decoder, source: str, folder: Path) -> None:
        decoder.add_jsgf_string("line", source)
        decoder.activate_search("line")


def _plain(word: str) -> str:
    """'bore(2)', a second way to say it, is 'bore'."""
    return word.partition("(")[0]
