"""The background work on sounds: each is listened to once by every recogniser, and what they heard is written down.

Nothing here decides what was said; an entry is written even when nobody understood a word, so that it is not asked
again. A sound that cannot be decoded, or that nobody here could listen to, gets no entry but a note by its original.
"""

from __future__ import annotations

import logging
import shutil
import threading
from collections import OrderedDict

from sqlalchemy import Engine

from witnessmark.config import Settings
from witnessmark.db import reading, writing
from witnessmark.media import store
from witnessmark.projections import spoken_notes
from witnessmark.speech import account, states
from witnessmark.speech.hear import Ear, Stopped
from witnessmark.sync import transcripts
from witnessmark.trade.ground.sentences import say

log = logging.getLogger(__name__)

AGAIN = "again"
TOO_LONG = say("server.sounds.too_long")
SHORT_MS = 1500  # what a phone calls the length of a recording differs a little from what can be decoded of it


class Listener:
    """Listens to one sound after another. A note of some minutes takes a while: so only one of the worker's threads is
    ever at it, the others leave their sound with that one and go on."""

    def __init__(self, settings: Settings, engine: Engine):
        self.settings, self.engine = settings, engine
        # Samples are written into the data folder, so that what a power cut leaves of them is cleared away here.
        shutil.rmtree(settings.hearing, ignore_errors=True)
        self.ear = Ear(settings, settings.hearing)
        self._lock = threading.Lock()
        self._left: OrderedDict[str, bool] = OrderedDict()
        self._failed: set[tuple[str, str]] = set()  # not tried again before the next start

    def listen(self, name: str, again: str = "") -> None:
        """Hears the sound with this entry id, or every sound whose original has this SHA-256: those without a
        transcript, or with AGAIN whatever there is already."""
        self._left[name] = self._left.get(name, False) or again == AGAIN
        while self._left and self._lock.acquire(blocking=False):
            try:
                while self._left:
                    self._listen(*self._left.popitem(last=False))
            except Stopped:
                self._left.clear()
            finally:
                self._lock.release()

    def waiting(self) -> list[str]:
        """Ids of sounds that somebody here could listen to and nobody has, oldest first; [] while nobody can, and
        while it is being done."""
        if self._lock.locked() or not states.may_hear(self.settings):
            return []
        sounds, before = self._waiting_sounds()
        if not sounds:
            return []
        usable = states.usable(self.settings)
        by = account.key(usable)
        left = [id for _, id, sha256 in sounds if before.get(sha256) != by and (id, by) not in self._failed]
        return left if usable else []

    def rest(self) -> None:
        """Sends home processes that have nothing to do."""
        self.ear.rest()

    def close(self) -> None:
        """Stops at once; what was under way is begun again next time."""
        self.ear.close()
        shutil.rmtree(self.settings.hearing, ignore_errors=True)

    def _listen(self, name: str, again: bool) -> None:
        usable = states.usable(self.settings)
        if not usable:
            return
        by = account.key(usable)
        chosen = {"sha256": name} if store.is_sha256(name) else {"id": name}
        sounds, before = self._waiting_sounds(again=again, **chosen)
        for workshop, id, sha256 in sounds:
            if again or before.get(sha256) != by:
                try:
                    self._hear(workshop, id, sha256, by)
                except Stopped:
                    raise
                except Exception:
                    self._failed.add((id, by))
                    log.exception("listening to the sound %s", id)

    def _waiting_sounds(self, **chosen) -> tuple[list[tuple[str, str, str]], dict[str, str]]:
        """Sounds whose original is here, see spoken_notes.without_transcript, and what each original was tried with."""
        with reading(self.engine) as conn:
            sounds = spoken_notes.without_transcript(conn, **chosen)
            here = store.which(conn, [sha256 for _, _, sha256 in sounds])
            return [sound for sound in sounds if sound[2] in here], account.tried(conn, here)

    def _hear(self, workshop: str, id: str, sha256: str, by: str) -> None:
        with reading(self.engine) as conn:
            sound = spoken_notes.about(conn, workshop, id)
        if sound is None:
            return
        about = {"screen": sound.screen, "engine_type": sound.engine_type, "own": sound.own}
        hearing = self.ear.hear(store.path_of(self.settings, sha256), about)
        for recogniser, fault in hearing.faults.items():
            log.warning("sound %s: %s: %s", id, recogniser, fault)
        fault = hearing.fault or _cut_off(hearing.seconds, sound.duration_ms)
        if not hearing.results and not fault:
            why = " ".join(dict.fromkeys(hearing.faults.values()))
            fault = say("server.sounds.not_heard", reason=why) if hearing.asked else TOO_LONG
        if hearing.results:
            transcripts.write(self.engine, self.settings, workshop, id, hearing.results, hearing.seconds)
        # Only now: whoever is cut off between the two finds the sound again, and the same is not written twice.
        with writing(self.engine) as conn:
            # What was heard is not noted by the file: another record of the same one needs a transcript of its own.
            account.note(conn, sha256, hearing.seconds, fault, "" if hearing.results else by)


def _cut_off(seconds: float, stated_ms: int | None) -> str:
    if not stated_ms or not seconds or stated_ms - seconds * 1000 < max(SHORT_MS, stated_ms / 10):
        return ""
    return say("server.sounds.decoded_in_part", decoded=f"{seconds:.1f}", whole=f"{stated_ms / 1000:.1f}")
