"""What people of the invented workshop say aloud: its own words, and readings spoken to the screen they belong to."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator
from datetime import datetime
from pathlib import Path
from typing import Any

Step = dict[str, Any]
SOUND, WORD = "sound_recorded", "spoken_word_set"
# Which screen a record is made on.
SCREENS = {"measured": "measure", "finding_made": "finding", "fastener_tightened": "tighten"}
# Seconds from the first word to the tap that keeps it.
_BEFORE_THE_TAP = 7
_WORD = {"means": "", "retired": False}
_NOTE = {"mode": "note", "screen": "none", "procedure": "", "reading": ""}


def sound_first(steps: Iterable[Step]) -> Iterator[Step]:
    """The steps of a job one by one, and before each that was spoken the sound it was spoken in.

    A record is spoken when its step, or its part of a run, has {"spoken": {reading or label, "" of a single record:
    {"file", "duration_ms", "heard", "vocabulary"}}}; it then names the sound by "sound".
    """
    for step in steps:
        name = step.get("reading") or step.get("label", "")
        spoken = step.get("part", step).get("spoken", {}).get(name)
        if spoken is None:
            yield step
            continue
        common = {name: step[name] for name in ("at", "phone", "who", "place", "point") if name in step}
        about = {name: step.get(name, "") for name in ("procedure", "reading")}
        yield (
            common
            | about
            | {
                "kind": SOUND,
                "file": spoken["file"],
                "duration_ms": spoken["duration_ms"],
                "after": step.get("after", 0) - _BEFORE_THE_TAP,
                "screen": SCREENS[step["kind"]],
                "ref": spoken["file"],
            }
        )
        yield step | {"sound": spoken}


def sound_body(step: Step) -> dict[str, Any]:
    """The body of a sound: a note, unless it was spoken to a screen."""
    body = {"method": "live", "duration_ms": step["duration_ms"], "interrupted": False, "caption": ""}
    to = {name: step[name] for name in ("screen", "procedure", "reading")} if "screen" in step else {}
    return body | _NOTE | ({"mode": "measure"} | to if to else {})


class Speaking:
    """Gives the workshop's own words when they are due, and for a record the sound it was spoken in."""

    def __init__(self, path: Path, moment: Callable[[str], datetime]):
        from_file = json.loads(path.read_text(encoding="utf-8"))
        self._statements, self._heard_by, self._moment = from_file["said"], from_file["heard_by"], moment

    def due(self, until: datetime) -> Iterator[tuple[datetime, list[tuple[str, dict[str, Any]]]]]:
        """What the manager stated up to a moment and is not written yet: when, and (kind, body) of each."""
        while self._statements and self._moment(self._statements[0]["at"]) <= until:
            group = self._statements.pop(0)
            yield self._moment(group["at"]), [(WORD, _WORD | word) for word in group["words"]]

    def note(self, rows: object) -> None:
        """Nothing that follows depends on them."""

    def spoken(self, step: Step, sound: str) -> dict[str, str]:
        """What a record says of the sound with this id, that it was accepted from."""
        spoken = step["sound"]
        by = f"{self._heard_by}, vocabulary {spoken['vocabulary']}"
        return {"spoken": sound, "heard": spoken["heard"], "heard_by": by}
