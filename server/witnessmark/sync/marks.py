"""The marks a server keeps outside its database, so that a database restored from a backup cannot hide it.

Epoch: a random word that changes whenever the log may have grown shorter than some phone was promised; phones then
offer again what they hold. Issued: the highest log size ever promised. Durable: the log size inside the last backup
that was verified.
"""

from __future__ import annotations

import contextlib
import json
import logging
import os
import secrets
from collections.abc import Mapping
from pathlib import Path

from witnessmark.config import Settings

log = logging.getLogger(__name__)


def epoch(settings: Settings) -> str:
    """The epoch of this server. Raises FileNotFoundError before the workshop is founded."""
    return settings.epoch.read_text().strip()


def renew_epoch(settings: Settings) -> str:
    """Starts a new epoch: to be called when a database was restored. Returns it."""
    fresh = secrets.token_hex(8)
    _write(settings.epoch, fresh + "\n")
    return fresh


def issued(settings: Settings) -> int:
    """The highest log size ever promised to anybody; 0 if nothing is known."""
    try:
        return int(settings.issued.read_text())
    except (FileNotFoundError, ValueError):
        return 0


def note_issued(settings: Settings, size: int) -> None:
    """Notes a promised log size. Not forced to the disk: the database, which is, can only be ahead of it.

    A full disk has no room for a fresh file, but the old one can be written over where it lies. If that fails too the
    note is left out: what is stored is stored, and whoever only reads must not be turned away.
    """
    if size <= issued(settings):
        return
    try:
        _write(settings.issued, f"{size}\n", force=False)
    except OSError:
        try:
            _write_over(settings.issued, f"{size}\n")
        except OSError as error:
            log.error("the promised log size %d could not be noted: %s", size, error)


def durable_size(settings: Settings, device: str = "") -> int:
    """The log size inside the last verified backup of this epoch; 0 if there is none.

    For a device: up to its first entry with a file that had not arrived when the backup was made. It frees what it
    keeps by this number, and a file that came later is in no backup yet.
    """
    try:
        noted = json.loads(settings.durable.read_text())
        if noted["epoch"] != epoch(settings):
            return 0
        return min(noted["size"], noted.get("short_of", {}).get(device, noted["size"] + 1) - 1)
    except (FileNotFoundError, ValueError, KeyError):
        return 0


def note_durable(settings: Settings, size: int, short_of: Mapping[str, int] | None = None) -> None:
    """Notes that a verified backup holds the first `size` entries, and all their files but those of the devices in
    `short_of`, from the position given there on."""
    noted = {"size": size, "epoch": epoch(settings), "short_of": dict(short_of or {})}
    _write(settings.durable, json.dumps(noted))


def check_epoch(settings: Settings, size: int) -> bool:
    """Starts a new epoch if the log, now of `size` entries, is shorter than was promised, or if the epoch's own mark
    is lost: what was promised is then unknown. Returns whether it did."""
    try:
        known = bool(epoch(settings))
    except FileNotFoundError:
        known = False
    if known and size >= issued(settings):
        return False
    renew_epoch(settings)
    _write(settings.issued, f"{size}\n")
    return True


def _write_over(path: Path, text: str) -> None:
    """Writes over a short file where it lies: its block is there already. What is written is never shorter."""
    file = os.open(path, os.O_WRONLY)
    try:
        os.pwrite(file, text.encode(), 0)
    finally:
        os.close(file)


def _write(path: Path, text: str, force: bool = True) -> None:
    # A name of its own for each process: two of them may write at the same moment.
    fresh = path.with_name(f"{path.name}.{os.getpid()}.{secrets.token_hex(4)}")
    try:
        with fresh.open("w") as file:
            file.write(text)
            if force:
                file.flush()
                os.fsync(file.fileno())
        fresh.replace(path)
    except OSError:
        with contextlib.suppress(OSError):
            fresh.unlink()
        raise
    if force:
        folder = os.open(path.parent, os.O_RDONLY)
        try:
            os.fsync(folder)
        finally:
            os.close(folder)
