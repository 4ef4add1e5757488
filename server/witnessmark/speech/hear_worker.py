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
from collections.abc import Callable
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
        usable = [
            {
                "id": id, "usable": True, "next": "",
                "why": "" if recogniser.sort == "free" or recogniser.denoised else NOT_DENOISED,
                "version": str(recogniser.version), "model": str(recogniser.model),
                "model_sha256": recogniser.model_sha256,
                "sort": recogniser.sort, "denoised": bool(recogniser.denoised),
            }
            for id, recogniser in self.usable.items()
        ]  # fmt: skip
        return usable + [
            {"id": id, "usable": False, "why": why.reason, "next": why.next_step} for id, why in self.others.items()
        ]

    def hear(self, request: dict, send: Callable[[dict], None]) -> None:
        """Runs the named recognisers one after the other and sends the result or the fault of each."""
        begin, end = request["speech"] or (0, 0)
        try:
            words = lexicon.lexicon(request["about"])
        except Exception as error:
            fault = say("server.speech.no_lexicon", reason=_reason(error))
            for id in request["ids"]:
                send({"id": id, "fault": fault})
            return
        samples: dict[bool, bytes] = {}
        heard_by: dict[str, Heard] = {}
        for id in request["ids"]:
            recogniser = self.usable.get(id)
            if recogniser is None:
                send({"id": id, "fault": say("server.speech.unusable_now")})
                continue
            send({"at": id})
            fence.grant_time(CPU_SECONDS + CPU_EACH_SECOND * (end - begin) / 1000)
            denoised = bool(recogniser.denoised and request["clean"])
            if denoised not in samples:
                samples[denoised] = _cut(request["clean"] if denoised else request["raw"], begin, end)
            try:
                # Where nobody speaks no recogniser is run: most would hear something.
                heard = recogniser.hear(samples[denoised], words) if samples[denoised] else Heard()
                heard_by[id] = heard
                transcript = result(recogniser, heard, words, denoised, begin, end)
                if reason := shapes.transcripts([transcript]):
                    send({"id": id, "fault": say("server.speech.bad_transcript", reason=reason)})
                else:
                    send({"result": transcript})
            except MemoryError:
                send({"id": id, "fault": say("server.speech.too_much_memory")})
            except Exception as error:  # somebody else's code; the other recognisers go on
                send({"id": id, "fault": say("server.speech.failed", reason=_reason(error))})
        if end > begin:
            self._together(request, words, heard_by, send)

    def _together(
        self, request: dict, words: Lexicon, heard_by: dict[str, Heard], send: Callable[[dict], None]
    ) -> None:
        """One result more: what all of them come to, where there are enough of them."""
        begin, end = request["speech"]
        send({"at": self.together.id})
        fence.grant_time(CPU_SECONDS + CPU_EACH_SECOND * (end - begin) / 1000)
        try:
            heard = self.together.hear(_cut(request["raw"], begin, end), words, request["about"], heard_by)
            if heard is not None:
                send({"result": result(self.together, heard, words, False, begin, end)})
        except Exception as error:  # the results of the others are sent already
            send({"id": self.together.id, "fault": say("server.speech.failed", reason=_reason(error))})


def _reason(error: Exception) -> str:
    return f"{type(error).__name__}: {str(error)[:200]}"


NOT_DENOISED = say("server.speech.no_denoiser")


def result(recogniser: Recogniser, heard: Heard, words: Lexicon, denoised: bool, begin: int, end: int) -> dict:
    """What goes into an entry: times in ms of the whole sound, confidences in whole per cent."""
    spoken, start = [], begin
    for word in heard.words[:MOST_WORDS]:
        start = min(end, max(start, begin + int(word.from_ms)))
        stop = min(end, max(start, begin + int(word.to_ms)))
        spoken.append([str(word.word)[:LONGEST_WORD], start, stop, _percent(word.confidence)])
    return {
        "engine": recogniser.id, "version": str(recogniser.version), "model": str(recogniser.model),
        "model_sha256": recogniser.model_sha256,
        "sort": recogniser.sort, "denoised": denoised, "vocabulary": words.hash, "text": str(heard.text)[:LONGEST_TEXT],
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

    def send(answer: dict) -> None:
        print(json.dumps(answer), file=out, flush=True)

    ear = None
    for line in sys.stdin:
        request = json.loads(line)
        fence.grant_time(CPU_SECONDS)
        ear = ear or Ear(settings)
        if request["do"] == "states":
            send({"states": ear.states(), "done": True})
        else:
            ear.hear(request, send)
            send({"done": True})


if __name__ == "__main__":
    main()
