"""The noise of a workshop, made from a seed: pink, a hum of the mains with its overtones, bursts of metal."""

from __future__ import annotations

import numpy as np

RATE = 16_000
BEFORE, AFTER = 0.4, 0.6  # seconds from pressing to speaking, and from speaking to letting go
LEVELS = {"clean": None, "20 dB": 20.0, "10 dB": 10.0, "5 dB": 5.0}


def pink(count: int, chance: np.random.Generator) -> np.ndarray:
    """Noise whose power falls with frequency, above 20 Hz."""
    spectrum = np.fft.rfft(chance.standard_normal(count))
    frequency = np.maximum(np.fft.rfftfreq(count, 1 / RATE), 20)
    return _even(np.fft.irfft(spectrum / np.sqrt(frequency), count))


def hum(count: int, chance: np.random.Generator) -> np.ndarray:
    """50 Hz with twenty overtones: a motor on the mains."""
    at = np.arange(count) / RATE
    turns = chance.uniform(0, 2 * np.pi, 21)
    return _even(sum(np.sin(2 * np.pi * 50 * k * at + turns[k - 1]) / k for k in range(1, 22)))


def bursts(count: int, chance: np.random.Generator) -> np.ndarray:
    """About three blows a second on metal: tones around 900 and 2300 Hz that ring for a tenth of a second."""
    sound = np.zeros(count)
    for start in np.flatnonzero(chance.random(count) < 3 / RATE):
        at = np.arange(min(count - start, RATE // 3)) / RATE
        for middle in (900, 2300):
            tone = middle * chance.uniform(0.85, 1.15)
            sound[start : start + len(at)] += chance.uniform(0.4, 1) * np.sin(2 * np.pi * tone * at) * np.exp(-at / 0.1)
    return _even(sound)


def workshop_noise(count: int, chance: np.random.Generator) -> np.ndarray:
    """All three at once, of power 1."""
    return _even(pink(count, chance) + 0.5 * hum(count, chance) + 0.5 * bursts(count, chance))


def recorded(speech: np.ndarray, level: float | None, seed: int) -> bytes:
    """Speech as a phone would have recorded it: room before and after, and noise `level` dB below the speech over the
    whole clip (None: no noise but a trace of hiss). Mono, RATE, little-endian 16 bits."""
    chance = np.random.default_rng(seed)
    quiet = np.concatenate([np.zeros(round(BEFORE * RATE)), speech, np.zeros(round(AFTER * RATE))])
    if level is None:
        mixed = quiet + 1e-4 * chance.standard_normal(len(quiet))
    else:
        power = float(np.mean(np.square(speech.astype(np.float64))))
        mixed = quiet + np.sqrt(power / 10 ** (level / 10)) * workshop_noise(len(quiet), chance)
    loudest = float(np.max(np.abs(mixed)))
    return np.round(mixed / max(loudest, 1e-9) * 0.7 * 32767).astype("<i2").tobytes()


def _even(sound: np.ndarray) -> np.ndarray:
    power = float(np.sqrt(np.mean(np.square(sound))))
    return sound / power if power else sound
