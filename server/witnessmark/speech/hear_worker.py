"""The process that holds the models while there is work, fenced in. Started by speech.hear and speech.states.

One line of JSON in, one or more out:
  {"do": "states"} -> {"states": [...], "done": true}
  {"do": "hear", "ids": [...], "raw": "...", "clean": "..." or null, "speech": [ms, ms] or null, "about": {...}}
    -> {"at": id} before each recogniser, {"result": {...}} or {"id": id, "fault": "..."} after it, {"done": true};
       after them the same for all of them together, see speech.together
`about` is what speech.lexicon takes. A recogniser that brings the process down is the one last named by `at`.
"""

from __future__ import annotations

import json
import math
import os
import sys
from pathlib import Path

from witnessmark import config
from witnessmark.speech import choosing, fence, lexicon
from witnessmark.speech.models import bytes_in
from witnessmark.speech.recogniser import RATE, Heard, Lexicon, Recogniser
from witnessmark.speech.together import Together
from witnessmark.trade.ground import shapes
from witnessmark.trade.ground.sentences import say

MEMORY = 2000 << 20  # bytes of address space beside the models; of this, a few hundred are really used
TIMES_MODEL = 3  # a model may be unpacked or turned into other numbers while it is loaded
CPU_SECONDS, CPU_EACH_SECOND = 120, 30  # for one recogniser: to load its model, and for each second of sound
MOST_WORDS, LONGEST_WORD, LONGEST_TEXT = 4000, 60, 16_000


class Ear:
    """The recognisers of this process, made once."""

    def __init__(self, settings: config.Settings):
        self.usable, self.others = choosing.look(settings)
        self.together = Together(self.usable)

    def states(self) -> list[dict]:
        """Every recogniser, usable or not, as plain data; see speech.states.State."""
        told = [
            {
                "id": id, "usable": True, "why": "" if one.sort == "free" or one.denoised else NOT_DENOISED, "next": "",
                "version": str(one.version), "model": str(one.model), "model_sha256": one.model_sha256,
                "sort": one.sort, "denoised": bool(one.denoised),
            }
            for id, one in self.usable.items()
        ]  # fmt: skip
        return told + [
            {"id": id, "usable": False, "why": why.reason, "next": why.next_step} for id, why in self.others.items()
        ]

    def hear(self, wish: dict, say) -> None:
        """Asks the named recognisers one after the other and says what each heard."""
        begin, end = wish["speech"] or (0, 0)
        try:
            words = lexicon.lexicon(wish["about"])
        except Exception as reason:
            fault = say("server.speech.no_lexicon", reason=f"{type(reason).__name__}: {str(reason)[:200]}")
            for id in wish["ids"]:
                say({"id": id, "fault": fault})
            return
        samples: dict[bool, bytes] = {}
        found: dict[str, Heard] = {}
        for id in wish["ids"]:
            one = self.usable.get(id)
            if one is None:
                say({"id": id, "fault": "It cannot be used any more."})
                continue
            say({"at": id})
            fence.grant_time(CPU_SECONDS + CPU_EACH_SECOND * (end - begin) / 1000)
            denoised = bool(one.denoised and wish["clean"])
            if denoised not in samples:
                samples[denoised] = _cut(wish["clean"] if denoised else wish["raw"], begin, end)
            try:
                # Where nobody speaks, nobody is asked: most would hear something.
                heard = one.hear(samples[denoised], words) if samples[denoised] else Heard()
                found[id] = heard
                told = result(one, heard, words, denoised, begin, end)
                fault = shapes.transcripts([told])
                say({"id": id, "fault": f"What it heard cannot be kept: it {fault}."} if fault else {"result": told})
            except MemoryError:
                say({"id": id, "fault": "It takes more memory than is allowed."})
            except Exception as reason:  # somebody else's code; the other recognisers go on
                say({"id": id, "fault": f"It failed ({type(reason).__name__}: {str(reason)[:200]})."})
        if end > begin:
            self._together(wish, words, found, say)

    def _together(self, wish: dict, words: Lexicon, found: dict[str, Heard], say) -> None:
        """One result more: what all of them come to, where there are enough of them."""
        begin, end = wish["speech"]
        say({"at": self.together.id})
        fence.grant_time(CPU_SECONDS + CPU_EACH_SECOND * (end - begin) / 1000)
        try:
            heard = self.together.hear(_cut(wish["raw"], begin, end), words, wish["about"], found)
            if heard is not None:
                say({"result": result(self.together, heard, words, False, begin, end)})
        except Exception as reason:  # the others have said what they heard
            say({"id": self.together.id, "fault": f"It failed ({type(reason).__name__}: {str(reason)[:200]})."})


NOT_DENOISED = say("server.speech.no_denoiser")


def result(one: Recogniser, heard: Heard, words: Lexicon, denoised: bool, begin: int, end: int) -> dict:
    """What goes into an entry: times in ms of the whole sound, confidences in whole per cent."""
    spoken, start = [], begin
    for word in heard.words[:MOST_WORDS]:
        start = min(end, max(start, begin + int(word.from_ms)))
        stop = min(end, max(start, begin + int(word.to_ms)))
        spoken.append([str(word.word)[:LONGEST_WORD], start, stop, _percent(word.confidence)])
    return {
        "engine": one.id, "version": str(one.version), "model": str(one.model), "model_sha256": one.model_sha256,
        "sort": one.sort, "denoised": denoised, "vocabulary": words.hash, "text": str(heard.text)[:LONGEST_TEXT],
        "confidence": _percent(heard.confidence), "words": spoken,
    }  # fmt: skip


def _percent(value: float) -> int:
    return min(100, max(0, round(100 * value))) if math.isfinite(value) else 0


def _cut(path: str, begin: int, end: int) -> bytes:
    """The samples from `begin` to `end`, in ms."""
    with Path(path).open("rb") as file:
        file.seek(begin * RATE // 1000 * 2)
        return file.read((end - begin) * RATE // 1000 * 2)


def main() -> None:
    settings = config.from_environment()
    fence.close_in(MEMORY + TIMES_MODEL * (bytes_in(settings.whisper_model) + bytes_in(settings.vosk_model)))
    # A library that prints would talk into the answers.
    out = os.fdopen(os.dup(1), "w")
    os.dup2(2, 1)

    def say(told: dict) -> None:
        print(json.dumps(told), file=out, flush=True)

    ear = None
    for line in sys.stdin:
        wish = json.loads(line)
        fence.grant_time(CPU_SECONDS)
        ear = ear or Ear(settings)
        if wish["do"] == "states":
            say({"states": ear.states(), "done": True})
        else:
            ear.hear(wish, say)
            say({"done": True})


if __name__ == "__main__":
    main()
