"""The clips of the benchmark, and what the recognisers that ship hear in them: the same code as in the background."""

from __future__ import annotations

import random
import tempfile
import time
import wave
import zlib
from dataclasses import dataclass, field
from pathlib import Path

from tests.bench.speech import noise, voices
from tests.bench.speech.lines import LINES, Said
from tests.bench.speech.meaning import ENGINES
from witnessmark import config
from witnessmark.speech import choosing, decode_worker, hear_worker, lexicon
from witnessmark.speech.recogniser import RATE, Heard
from witnessmark.speech.together import Together

SEED = 5
ONE_POOR_IN = 8  # of the clips


@dataclass(frozen=True)
class Clip:
    line: Said
    voice: voices.Voice
    level: str

    @property
    def seed(self) -> int:
        return zlib.crc32(repr((self.line.number, self.voice.name, self.level)).encode())


@dataclass
class Told:
    """What was heard in one clip. `results` as they go into an entry, `cpu` seconds of each recogniser ('decode': from
    the file to denoised samples), `seconds` of the whole clip."""

    clip: Clip
    seconds: float
    results: list[dict] = field(default_factory=list)
    cpu: dict[str, float] = field(default_factory=dict)

    def result(self, engine: str) -> dict | None:
        return next((result for result in self.results if result["engine"] == engine), None)


def clips(there: list[voices.Voice], count: int) -> list[Clip]:
    """A prefix of all clips in an order that is always the same; most of natural voices."""

    def shuffled(natural: bool) -> list[Clip]:
        found = [
            Clip(line, voice, level)
            for voice in there
            if voice.natural is natural
            for line in LINES
            for level in noise.LEVELS
        ]
        random.Random(SEED).shuffle(found)
        return found

    poor = count // ONE_POOR_IN
    return shuffled(True)[: count - poor] + shuffled(False)[:poor]


class Listener:
    """All recognisers of this machine, in this process."""

    def __init__(self, settings: config.Settings, cache: Path):
        self.usable, self.others = choosing.look(settings)
        self.together = Together(self.usable)
        self.cache = cache

    def hear(self, clip: Clip) -> Told:
        speech = voices.spoken(clip.voice, {clip.line.number: clip.line.words}, self.cache)[clip.line.number]
        sound = noise.recorded(speech, noise.LEVELS[clip.level], clip.seed)
        answer = Told(clip, len(sound) / 2 / RATE)
        begun = time.process_time()
        raw, clean, span = decoded(sound)
        answer.cpu["decode"] = time.process_time() - begun
        if span is None:
            return answer
        about = {"screen": clip.line.screen(), "engine_type": ENGINES[clip.line.engine], "own": []}
        words = lexicon.lexicon(about)
        heard: dict[str, Heard] = {}
        for id, one in self.usable.items():
            samples = cut(clean if one.denoised else raw, span)
            begun = time.process_time()
            heard[id] = one.hear(samples, words)
            answer.cpu[id] = time.process_time() - begun
            answer.results.append(hear_worker.result(one, heard[id], words, one.denoised, *span))
        begun = time.process_time()
        chosen = self.together.hear(cut(raw, span), words, about, heard)
        answer.cpu[self.together.id] = time.process_time() - begun
        if chosen is not None:
            answer.results.append(hear_worker.result(self.together, chosen, words, False, *span))
        return answer


def decoded(sound: bytes) -> tuple[bytes, bytes, tuple[int, int] | None]:
    """Samples as recorded, denoised, and where somebody speaks in ms."""
    with tempfile.TemporaryDirectory(prefix="witnessmark-bench-") as folder:
        path, raw, clean = (Path(folder) / name for name in ("clip.wav", "raw", "clean"))
        with wave.open(str(path), "wb") as file:
            file.setnchannels(1)
            file.setsampwidth(2)
            file.setframerate(RATE)
            file.writeframes(sound)
        answer = decode_worker.decode(str(path), str(raw), str(clean))
        if answer["fault"]:
            raise RuntimeError(answer["fault"])
        return raw.read_bytes(), clean.read_bytes() if answer["denoised"] else raw.read_bytes(), answer["speech"]


def cut(samples: bytes, span: tuple[int, int]) -> bytes:
    begin, end = (at * RATE // 1000 * 2 for at in span)
    return samples[begin:end]
