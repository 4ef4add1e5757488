"""Which recognisers there are, which of them the workshop wants, and which can be used. In the hearing process only:
a factory from another package is code like any other."""

from __future__ import annotations

from collections.abc import Callable
from importlib import metadata

from witnessmark.config import Settings
from witnessmark.speech import sphinx, vosk, whisper
from witnessmark.speech.recogniser import GROUP, Recogniser, Unusable
from witnessmark.speech.states import is_off
from witnessmark.trade.ground.sentences import say

BUILT_IN: dict[str, Callable[[Settings], Recogniser]] = {
    "sphinx_ngram": sphinx.SphinxNgram,
    "sphinx_grammar": sphinx.SphinxGrammar,
    "whisper": whisper.Whisper,
    "vosk": vosk.Vosk,
}
LONGEST_ID = 40


def wanted(settings: Settings) -> list[str] | None:
    """The names the settings list; None for all there are, [] when speech is off."""
    named = [name.strip() for name in settings.speech.split(",") if name.strip()]
    if is_off(settings):
        return []
    return list(dict.fromkeys(named)) or None


def look(settings: Settings) -> tuple[dict[str, Recogniser], dict[str, Unusable]]:
    """Id -> recogniser that can be used, and id -> why another cannot. Never raises, whatever a factory does."""
    offered = BUILT_IN | {
        entry_point.name: _loader(entry_point)
        for entry_point in metadata.entry_points(group=GROUP)
        if entry_point.name not in BUILT_IN
    }
    names = wanted(settings)
    usable, others = {}, {}
    for name in offered if names is None else names:
        try:
            if name not in offered:
                known = ", ".join(offered)
                raise Unusable(
                    say("server.speech.not_called", name=name[:LONGEST_ID]),
                    say("server.speech.correct_setting", names=known),
                )
            made = offered[name](settings)
            if fault := _fault(made, name):
                raise Unusable(fault, say("server.speech.ask_maker"))
            usable[name] = made
        except Unusable as reason:
            others[name] = reason
        except Exception as reason:
            reason_words = say("server.speech.failed_at_start", reason=f"{type(reason).__name__}: {str(reason)[:200]}")
            others[name] = Unusable(reason_words, say("server.speech.install_again"))
    return usable, others


def _loader(entry_point: metadata.EntryPoint) -> Callable[[Settings], Recogniser]:
    return lambda settings: entry_point.load()(settings)


def _fault(made: Recogniser, name: str) -> str:
    """What keeps a recogniser from naming itself in a record; '' when nothing does."""
    if made.id != name or len(name) > LONGEST_ID:
        return say("server.speech.other_name", own=repr(str(made.id)[:LONGEST_ID]), offered=repr(name[:LONGEST_ID]))
    if made.sort not in ("closed", "free"):
        return say("server.speech.no_sort", sort=repr(str(made.sort)[:20]))
    sha256 = made.model_sha256
    if not (isinstance(sha256, str) and len(sha256) == 64 and set(sha256) <= set("0123456789abcdef")):
        return say("server.speech.no_hash")
    return ""
