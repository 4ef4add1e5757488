"""What the command `speech` prints: which recognisers can be used, or what each of them hears in a file."""

from __future__ import annotations

import time
from collections.abc import Iterator
from pathlib import Path

from witnessmark.config import Settings
from witnessmark.speech import states
from witnessmark.speech.hear import Ear, Hearing
from witnessmark.trade.ground.errors import Refusal

OFF = "Speech is off (WITNESSMARK_SPEECH is 'none'): sounds are kept and played, nothing is written down."


def recognisers(settings: Settings) -> Iterator[str]:
    """A line or two for each recogniser."""
    found = states.states(settings, fresh=True)
    if not found:
        yield OFF if states.is_off(settings) else "The recognisers could not be asked. Try again."
        return
    if reason := states.no_decoder():
        yield reason
    for state in found:
        yield f"{state.id:15} {_words(state)}"
    if not any(state.usable for state in found):
        yield "None can be used: sounds are kept and played, and written down once there is one."


def heard(settings: Settings, file: Path) -> Iterator[str]:
    """What each usable recogniser hears in one file. Nothing is kept. Raises Refusal when that cannot be done."""
    if not file.is_file():
        raise Refusal("no_file", "file", f"There is no file {file}. Name a sound file.")
    if reason := states.no_decoder():
        raise Refusal("no_decoder", "speech", reason)
    if not states.usable(settings):
        raise Refusal("no_recogniser", "speech", "No recogniser can be used. `witnessmark speech` says why.")
    ear = Ear(settings)
    began = time.monotonic()
    try:
        hearing = ear.hear(file.resolve(), {})
    finally:
        ear.close()
    yield f"{file}: {hearing.seconds:.1f} seconds of sound, heard in {time.monotonic() - began:.1f} seconds."
    yield from _of(hearing)


def _of(hearing: Hearing) -> Iterator[str]:
    if hearing.fault:
        yield hearing.fault
    if hearing.silent:
        yield "Nobody speaks in it."
        return
    for result in hearing.results:
        text = result["text"] or "(nothing understood)"
        yield f"{result['engine']:15} {text}  [{result['confidence']} % sure]"
    for id, fault in hearing.faults.items():
        yield f"{id:15} {fault}"


def _words(state: states.State) -> str:
    if not state.usable:
        return f"cannot be used. {state.why} {state.next}"
    kind = "knows the vocabulary only" if state.sort == "closed" else "writes down anything"
    model = f"{state.model}, SHA-256 {state.model_sha256[:12]}..."
    return f"can be used: {kind}; {state.version}; model {model}{' ' + state.why if state.why else ''}"
