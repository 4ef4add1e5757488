"""Sounds that tests make for themselves, in the containers phones write. Needs av, as the tests of speech do."""

from __future__ import annotations

import io
import wave
from pathlib import Path

import av
import numpy as np

from witnessmark.speech.decode import Decoder, Sound
from witnessmark.speech.recogniser import RATE


def in_container(samples: np.ndarray, sort: str, codec: str, rate: int = 48_000, **options: str) -> bytes:
    """Samples at RATE as a file of FFmpeg's muxer `sort`, coded by `codec`."""
    out = io.BytesIO()
    frame = av.AudioFrame.from_ndarray(samples.astype(np.int16).reshape(1, -1), format="s16", layout="mono")
    frame.rate = RATE
    with av.open(out, "w", format=sort, options=options) as file:
        stream = file.add_stream(codec, rate=rate, layout="mono")
        stream.bit_rate = 32_000
        resampler = av.AudioResampler(
            format=stream.format.name, layout="mono", rate=rate, frame_size=1024 if codec == "aac" else 960
        )
        for piece in [*resampler.resample(frame), *resampler.resample(None)]:
            file.mux(stream.encode(piece))
        file.mux(stream.encode(None))
    return out.getvalue()


def as_wav(samples: np.ndarray) -> bytes:
    out = io.BytesIO()
    with wave.open(out, "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(RATE)
        file.writeframes(samples.astype("<i2").tobytes())
    return out.getvalue()


def samples_of(data: bytes, folder: Path, decoder: Decoder) -> tuple[Sound, np.ndarray]:
    """What the fenced-in process makes of these bytes."""
    source = folder / "sound"
    source.write_bytes(data)
    sound = decoder.decode(source, folder)
    assert source.read_bytes() == data
    raw = np.frombuffer(sound.raw.read_bytes(), np.int16) if sound.raw.exists() else np.zeros(0, np.int16)
    return sound, raw
