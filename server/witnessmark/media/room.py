"""Room on the disk: what comes from outside must leave enough for the database and for those who read."""

from __future__ import annotations

import errno
import os
from pathlib import Path

from witnessmark.media.errors import MediaRefusal
from witnessmark.trade.ground.sentences import say

RESERVE = 256 << 20  # bytes left free so that the database can go on writing and people can go on reading
RETRY_AFTER = 600  # seconds, for whoever was refused
FULL = {errno.ENOSPC, errno.EDQUOT, errno.EFBIG}


def check(folder: Path, wanted: int, reserve: int | None = None) -> None:
    """Raises MediaRefusal 507 unless `wanted` bytes in `folder` leave the reserve untouched."""
    volume = os.statvfs(folder)
    if volume.f_bavail * volume.f_frsize - wanted < (RESERVE if reserve is None else reserve):
        raise full()


def full() -> MediaRefusal:
    """The answer to whoever finds the disk full: 507, to be tried again later."""
    return MediaRefusal(507, "disk_full", say("server.media.disk_full"), retry_after=RETRY_AFTER)
