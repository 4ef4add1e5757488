"""Which recognisers can be used here, and why others cannot: asked of a process of its own, so that nothing of theirs
is loaded into whoever wants to know."""

from __future__ import annotations

import threading
import time
from dataclasses import dataclass
from importlib import metadata, util

from witnessmark import config
from witnessmark.speech.fence import Ended, Fenced
from witnessmark.speech.recogniser import GROUP
from witnessmark.trade.ground.sentences import listed, say

SECONDS = 120  # a large model is hashed to say which it is
GOOD_FOR_SECONDS = 300
OFF = "none"  # as the setting `speech`


@dataclass(frozen=True)
class State:
    """One recogniser. `why`: why it cannot be used, or what it does without; `next`: what to do about it."""

    id: str
    usable: bool
    why: str = ""
    next: str = ""
    version: str = ""
    model: str = ""
    model_sha256: str = ""
    sort: str = ""
    denoised: bool = False


_lock = threading.Lock()
_known: dict[tuple, tuple[float, list[State]]] = {}


def states(settings: config.Settings, fresh: bool = False) -> list[State]:
    """Every recogniser that is there or asked for, usable ones first; [] when speech is off. Good for some minutes,
    unless `fresh` is wanted. Takes a second or two the first time."""
    key = (settings.speech, settings.whisper_model, settings.vosk_model)
    with _lock:
        moment, states = _known.get(key, (0.0, []))
        if fresh or not moment or time.monotonic() - moment > GOOD_FOR_SECONDS:
            states = _ask(settings)
            _known[key] = (time.monotonic(), states)
        return states


def usable(settings: config.Settings) -> list[State]:
    """Those of `states` that can be used, and only where sounds can be decoded at all."""
    return [state for state in states(settings) if state.usable] if may_hear(settings) else []


def is_off(settings: config.Settings) -> bool:
    """Whether the workshop wants no speech at all."""
    return OFF in (name.strip() for name in settings.speech.split(","))


def may_hear(settings: config.Settings) -> bool:
    """Whether asking for a transcript could come to anything, without loading or starting anything."""
    if is_off(settings) or util.find_spec("av") is None or util.find_spec("numpy") is None:
        return False
    packaged = any(util.find_spec(name) for name in ("pocketsphinx", "faster_whisper", "vosk"))
    return packaged or any(True for _ in metadata.entry_points(group=GROUP))


def no_decoder() -> str:
    """Why sounds cannot be decoded here, and what to do; '' when they can."""
    missing = [name for name in ("av", "numpy") if util.find_spec(name) is None]
    if not missing:
        return ""
    return say("server.speech.cannot_decode", packages=listed(missing))


def _ask(settings: config.Settings) -> list[State]:
    process = Fenced("witnessmark.speech.hear_worker", **config.to_environment(settings))
    with process.lock:
        try:
            (answer,) = process.ask({"do": "states"}, SECONDS)
        except Ended:
            return []
        finally:
            process.stop()
    return [State(**columns) for columns in answer["states"]]
