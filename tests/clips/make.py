"""Makes the clips beside it anew: `python -m tests.clips.make`. Needs flite and, for one voice, piper-tts (see
tests/bench/speech/voices.py); nothing of that is needed to run the tests, the clips are committed.

Each is what a phone would send: one channel of Opus at 32 kbit/s and 48 kHz, a moment of a quiet room at both ends.
Voices and licences are in README.md.
"""

from __future__ import annotations

import json
import tempfile
from pathlib import Path

import av
import numpy as np

from tests.bench.speech.voices import RATE, VOICES, spoken

HERE = Path(__file__).resolve().parent
BEFORE, AFTER = 0.5, 0.8  # seconds
QUIET_ROOM = 10 ** (-62 / 20)
MUXERS = {".webm": "webm", ".ogg": "ogg"}


def main() -> None:
    listed = json.loads((HERE / "clips.json").read_text())["clips"]
    for voice in VOICES:
        mine = {number: clip["words"] for number, clip in enumerate(listed) if clip["voice"] == voice.name}
        if not mine:
            continue
        if reason := voice.why_not():
            raise SystemExit(f"The clips of {voice.name} cannot be made: {reason}.")
        with tempfile.TemporaryDirectory() as cache:
            for number, samples in spoken(voice, mine, Path(cache)).items():
                write(HERE / listed[number]["file"], in_a_room(samples, number))
                print(listed[number]["file"], (HERE / listed[number]["file"]).stat().st_size)


def in_a_room(samples: np.ndarray, seed: int) -> np.ndarray:
    """The saying with a quiet room before and after it, at a usual loudness."""
    whole = np.concatenate([np.zeros(int(BEFORE * RATE)), samples, np.zeros(int(AFTER * RATE))])
    loud = 0.5 * whole / max(1e-6, float(np.abs(whole).max()))
    return loud + QUIET_ROOM * np.random.default_rng(seed).standard_normal(len(whole))


def write(path: Path, samples: np.ndarray) -> None:
    whole = np.clip(np.rint(samples * 32767), -32768, 32767).astype(np.int16)
    frame = av.AudioFrame.from_ndarray(whole.reshape(1, -1), format="s16", layout="mono")
    frame.rate = RATE
    # bitexact: without a random number of the file's own. (One voice still never speaks twice alike.)
    with av.open(str(path), "w", format=MUXERS[path.suffix], options={"fflags": "+bitexact"}) as file:
        stream = file.add_stream("libopus", rate=48_000, layout="mono")
        stream.bit_rate = 32_000
        resampler = av.AudioResampler(format=stream.format.name, layout="mono", rate=48_000, frame_size=960)
        for piece in [*resampler.resample(frame), *resampler.resample(None)]:
            file.mux(stream.encode(piece))
        file.mux(stream.encode(None))


if __name__ == "__main__":
    main()
