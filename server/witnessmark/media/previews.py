"""Small pictures of the originals, 1600, 640 and 320 points long, and what the originals say of themselves.

Two sources, kept apart: a phone may send a provisional preview before the original comes; it ends as soon as the
original is here and was looked at, and the server's own takes its place. Nothing shows that a provisional one was
made from the original: it is marked wherever it is given out, and is never put into a pack. A picture that cannot be
drawn keeps its place with the reason beside it.
"""

from __future__ import annotations

import json
import os
import secrets
import select as wait
import subprocess
import sys
import threading
import time
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import Connection, Engine, delete, insert, select, update

from witnessmark.config import Settings
from witnessmark.db import now, reading, writing
from witnessmark.media import room
from witnessmark.media.errors import MediaRefusal
from witnessmark.media.sniff import PICTURES, sniff
from witnessmark.media.store import folder, is_sha256
from witnessmark.media.tables import media, media_preview
from witnessmark.trade.ground.sentences import say

EDGES = (1600, 640, 320)  # the screen, the printed page, the list
LARGEST_PROVISIONAL = 300_000
PHONE, SERVER = "phone", "server"  # whose a preview is, in the table
SECONDS = 40  # for one picture, on the clock
PICTURES_EACH = 200  # then the process is renewed
IDLE_SECONDS = 20  # then it is sent home: an idle server is a small server


class Bench:
    """The fenced-in process that looks at pictures, started when there is work. Safe to use from several threads."""

    def __init__(self):
        self._lock = threading.Lock()
        self._process: subprocess.Popen | None = None
        self._done = 0
        self._last = 0.0

    def look(self, path: Path, into: dict[int, Path]) -> dict:
        """Facts of the picture at `path`, its previews written to `into`; a dict with `facts` and perhaps `fault`."""
        wish = {"path": str(path), "into": {str(edge): str(target) for edge, target in into.items()}}
        with self._lock:
            answer = self._ask(json.dumps(wish).encode() + b"\n")
            self._last = time.monotonic()
            self._done += 1
            if answer is None or self._done >= PICTURES_EACH:
                self._stop()
        return answer or {"facts": {}, "fault": ["too_slow", ""]}

    def rest(self) -> None:
        """Ends the process when it has had nothing to do for a while."""
        with self._lock:
            if self._process and time.monotonic() - self._last > IDLE_SECONDS:
                self._stop()

    def close(self) -> None:
        with self._lock:
            self._stop()

    def _ask(self, wish: bytes) -> dict | None:
        if self._process is None or self._process.poll() is not None:
            self._start()
        try:
            self._process.stdin.write(wish)
            self._process.stdin.flush()
            heard, until = b"", time.monotonic() + SECONDS
            while not heard.endswith(b"\n"):
                ready, _, _ = wait.select([self._process.stdout], [], [], max(0, until - time.monotonic()))
                piece = os.read(self._process.stdout.fileno(), 65536) if ready else b""
                if not piece:
                    return None
                heard += piece
            return json.loads(heard)
        except (BrokenPipeError, ValueError):
            return None

    def _start(self) -> None:
        self._stop()
        package = Path(__file__).resolve().parents[2]
        environment = {
            "PYTHONPATH": os.pathsep.join([str(package), *sys.path]), "MALLOC_ARENA_MAX": "1", "PATH": os.defpath,
        }  # fmt: skip
        self._process = subprocess.Popen(
            [sys.executable, "-m", "witnessmark.media.picture_worker"],
            stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, env=environment,
            # Ctrl-C in the terminal goes to the whole group: the picture under way would be noted as one that cannot
            # be drawn. Out of the group it ends when nobody writes to it any more.
            start_new_session=True,
        )  # fmt: skip
        self._done = 0

    def _stop(self) -> None:
        if self._process is None:
            return
        process, self._process = self._process, None
        process.kill()
        process.wait()
        process.stdin.close()
        process.stdout.close()


@dataclass(frozen=True)
class Preview:
    """A preview that is here. `final` is False while it is only what the phone sent."""

    path: Path
    final: bool


# What the picture's process names -> the sentence that people read.
FAULTS = {
    "empty": "server.pictures.empty",
    "too_large": "server.pictures.too_large",
    "too_much_memory": "server.pictures.too_much_memory",
    "unknown": "server.pictures.unknown",
    "cut_off": "server.pictures.cut_off",
    "too_slow": "server.pictures.too_slow",
}


def in_words(fault: list[str] | None) -> str | None:
    """A fault as the picture's process names it, [what, detail], in a sentence; None for none."""
    return say(FAULTS[fault[0]], millions=fault[1], reason=fault[1]) if fault else None


def own(settings: Settings, sha256: str, edge: int) -> Path | None:
    """The preview of this size that the server made from the original; None when there is none."""
    if not is_sha256(sha256) or edge not in EDGES:
        return None
    path = _own(settings, sha256, edge)
    return path if path.is_file() else None


def find(settings: Settings, conn: Connection, sha256: str, edge: int) -> Preview | None:
    """The best preview there is of this size: the server's own, or the phone's until the original was looked at."""
    if path := own(settings, sha256, edge):
        return Preview(path, True)
    if not is_sha256(sha256) or edge not in EDGES or looked_at(conn, [sha256]):
        return None
    path = _provisional(settings, sha256)
    return Preview(path, False) if path.is_file() else None


def having_preview(conn: Connection, wanted: Iterable[str]) -> set[str]:
    """Those of `wanted` for which `find` has a preview."""
    names = [name for name in set(wanted) if is_sha256(name)]
    with_preview: set[str] = set()
    for at in range(0, len(names), 500):
        some = media_preview.c.sha256.in_(names[at : at + 500])
        by_source = {PHONE: set(), SERVER: set()}
        for sha256, source in conn.execute(select(media_preview.c.sha256, media_preview.c.source).where(some)):
            by_source[source].add(sha256)
        with_preview |= by_source[SERVER] | (by_source[PHONE] - looked_at(conn, by_source[PHONE]))
    return with_preview


def looked_at(conn: Connection, names: Iterable[str]) -> set[str]:
    """Those of at most 500 `names` whose original is here and was looked at: a phone's preview of them has ended."""
    query = select(media.c.sha256).where(media.c.sha256.in_(list(names)), media.c.looked.is_not(None))
    return set(conn.execute(query).scalars())


def keep_provisional(settings: Settings, engine: Engine, sha256: str, data: bytes) -> bool:
    """Keeps what a phone made of an original that the server has not looked at; returns whether it was needed.

    Whether that phone may speak for the picture is for the caller to know. Raises MediaRefusal 413 (too long),
    422 (no JPEG) or 507 (disk full).
    """
    if len(data) > LARGEST_PROVISIONAL:
        raise MediaRefusal(413, "too_long", say("server.media.preview_too_long", most=LARGEST_PROVISIONAL), sha256)
    if sniff(data) != "image/jpeg":
        raise MediaRefusal(422, "no_jpeg", say("server.media.preview_no_jpeg"), sha256)
    target = _provisional(settings, sha256)
    target.parent.mkdir(parents=True, exist_ok=True)
    room.check(target.parent, len(data))
    with writing(engine) as conn:
        if looked_at(conn, [sha256]) or find(settings, conn, sha256, EDGES[0]):
            return False
        # Both or neither, and before anybody notes that the original was looked at: what has a row is cleared away.
        row = {"sha256": sha256, "source": PHONE, "made": now()}
        conn.execute(insert(media_preview).prefix_with("OR IGNORE", dialect="sqlite"), row)
        _write(target, data)
    return True


def provisional(conn: Connection, after: str, most: int) -> list[str]:
    """SHA-256 of at most `most` originals that a phone sent a preview of, above `after`, ascending."""
    names = media_preview.c.sha256
    query = select(names).where(media_preview.c.source == PHONE, names > after).order_by(names).limit(most)
    return list(conn.execute(query).scalars())


def drop_provisional(settings: Settings, conn: Connection, names: Iterable[str]) -> None:
    """Throws away what phones sent of these originals. Requires a writing connection."""
    for sha256 in names:
        _provisional(settings, sha256).unlink(missing_ok=True)
        of_phone = (media_preview.c.sha256 == sha256) & (media_preview.c.source == PHONE)
        conn.execute(delete(media_preview).where(of_phone))


def make(settings: Settings, engine: Engine, bench: Bench, sha256: str) -> str | None:
    """Looks at one original and writes its previews and facts; returns the fault in words, if any.

    The same again is harmless: previews are drawn into new files and moved over the old ones.
    """
    with reading(engine) as conn:
        kind = conn.execute(select(media.c.type).where(media.c.sha256 == sha256)).scalar()
    if kind not in PICTURES:
        return None
    into = {edge: _own(settings, sha256, edge) for edge in EDGES}
    drawn = {edge: target.with_name(f"{target.name}.{secrets.token_hex(4)}.new") for edge, target in into.items()}
    into[EDGES[0]].parent.mkdir(parents=True, exist_ok=True)
    try:
        answer = bench.look(folder(settings).path(sha256), drawn)
        fault, facts = in_words(answer.get("fault")), answer["facts"]
        width, height = facts.pop("preview", (None, None))
        if not fault:
            for edge, target in into.items():
                os.replace(drawn[edge], target)
    finally:
        for path in drawn.values():
            path.unlink(missing_ok=True)
    moment = now()
    with writing(engine) as conn:
        seen = {"looked": moment, "facts": json.dumps(facts, sort_keys=True), "fault": fault}
        conn.execute(update(media).where(media.c.sha256 == sha256), seen)
        drop_provisional(settings, conn, [sha256])
        if not fault:
            conn.execute(delete(media_preview).where(media_preview.c.sha256 == sha256))
            row = {"sha256": sha256, "source": SERVER, "width": width, "height": height, "made": moment}
            conn.execute(insert(media_preview), row)
    return fault


def waiting(engine: Engine) -> list[str]:
    """Originals nobody has looked at yet, oldest first: what a crash may have left undone."""
    with reading(engine) as conn:
        query = select(media.c.sha256).where(media.c.looked.is_(None), media.c.type.in_(PICTURES))
        return list(conn.execute(query.order_by(media.c.received)).scalars())


def forget_all(conn: Connection) -> None:
    """Has every picture looked at again: for a data folder whose previews are gone."""
    conn.execute(delete(media_preview))
    conn.execute(update(media).where(media.c.type.in_(PICTURES)), {"looked": None})


def facts_of(conn: Connection, sha256: str) -> dict:
    """What the file says of itself, with type, length, time received and the fault if any; {} if it is not here."""
    row = conn.execute(select(media).where(media.c.sha256 == sha256)).mappings().first()
    if row is None:
        return {}
    facts = json.loads(row["facts"]) if row["facts"] else {}
    facts |= {name: row[name] for name in ("type", "length", "received")}
    return facts | ({"fault": row["fault"]} if row["fault"] else {})


def _own(settings: Settings, sha256: str, edge: int) -> Path:
    return settings.previews / sha256[:2] / f"{sha256}.{edge}.jpg"


def _provisional(settings: Settings, sha256: str) -> Path:
    return settings.previews / sha256[:2] / f"{sha256}.phone.jpg"


def _write(target: Path, data: bytes) -> None:
    target.parent.mkdir(parents=True, exist_ok=True)
    temporary = target.with_name(f"{target.name}.{secrets.token_hex(4)}.new")
    temporary.write_bytes(data)
    os.replace(temporary, target)
