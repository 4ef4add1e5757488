"""What the command `speech` prints: which recognisers can be used, or what each of them hears in a file."""

from __future__ import annotations

import time
from collections.abc import Iterator
from pathlib import Path

from witnessmark.config import Settings
from witnessmark.speech import states
from witnessmark.speech.hear import Ear, Hearing
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say

OFF = say("server.speech.off")


def recognisers(settings: Settings) -> Iterator[str]:
    """A line or two for each recogniser."""
    engines = states.states(settings, fresh=True)
    if not engines:
        yield OFF if states.is_off(settings) else say("server.speech.not_asked")
        return
    if reason := states.no_decoder():
        yield reason
    for state in engines:
        yield f"{state.id:15} {_words(state)}"
    if not any(state.usable for state in engines):
        yield say("server.speech.none_usable")


def heard(settings: Settings, file: Path) -> Iterator[str]:
    """What each usable recogniser hears in one file. Nothing is stored. Raises Refusal when that cannot be done."""
    if not file.is_file():
        raise Refusal("no_file", "file", say("server.speech.no_file", file=file))
    if reason := states.no_decoder():
        raise Refusal("no_decoder", "speech", reason)
    if not states.usable(settings):
        raise Refusal("no_recogniser", "speech", say("server.speech.none_here"))
    ear = Ear(settings)
    began = time.monotonic()
    try:
        hearing = ear.hear(file.resolve(), {})
    finally:
        ear.close()
    yield say(
        "server.speech.heard_in", file=file, length=f"{hearing.seconds:.1f}", time=f"{time.monotonic() - began:.1f}"
    )
    yield from _of(hearing)


def _of(hearing: Hearing) -> Iterator[str]:
    if hearing.fault:
        yield hearing.fault
    if hearing.silent:
        yield say("server.speech.nobody")
        return
    for result in hearing.results:
        text = result["text"] or say("server.speech.nothing_understood")
        sure = say("server.speech.share_sure", percent=result["confidence"])
        yield f"{result['engine']:15} {text}  [{sure}]"
    for id, fault in hearing.faults.items():
        yield f"{id:15} {fault}"


def _words(state: states.State) -> str:
    if not state.usable:
        return say("server.speech.unusable", reason=state.why, advice=state.next)
    what = "server.speech.closed" if state.sort == "closed" else "server.speech.free"
    model = f"{state.model}, SHA-256 {state.model_sha256[:12]}..."
    return f"{say(what, version=state.version, model=model)} {state.why}".rstrip()
