"""The server itself, as the log needs it: its key and its epoch."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from witnessmark.config import Settings
from witnessmark.log.heads import Keeper
from witnessmark.people import server_key
from witnessmark.people.server_key import ServerKey
from witnessmark.sync import marks


def key(settings: Settings) -> ServerKey:
    """The server's key. Raises FileNotFoundError before the workshop is founded."""
    return _load(settings.server_key, settings.server_key.stat().st_mtime_ns)


def keeper(settings: Settings) -> Keeper:
    """Who signs heads now."""
    return Keeper(key(settings), marks.epoch(settings))


@lru_cache(maxsize=8)
def _load(path: Path, _changed: int) -> ServerKey:
    return server_key.load(path)
