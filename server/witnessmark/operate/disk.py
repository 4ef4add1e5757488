"""The data folder and the disk under it: for its owner alone, on this machine, and what to do when it is full.

Whether a folder lies on a disk of this machine. SQLite's write-ahead log needs memory shared by all its readers:
over a network file system it silently loses or damages what was written (sqlite.org/wal.html)."""

from __future__ import annotations

import os
import re
import stat
from contextlib import suppress
from pathlib import Path

from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say

FAR = {
    "nfs", "nfs4", "cifs", "smb3", "smbfs", "9p", "afs", "ceph", "glusterfs", "lustre", "gfs2", "ocfs2", "vboxsf",
}  # fmt: skip
MOUNTS = Path("/proc/self/mounts")

DATABASE = "witnessmark.db"
# Given up when the disk is full: SQLite needs some room even for reading, and a sign-in writes a little.
RESERVE = "reserve"
RESERVE_BYTES = 16 << 20


def file_system(folder: Path, mounts: Path = MOUNTS) -> str:
    """The kind of file system `folder` lies on, as the kernel names it; "" where that is not known."""
    try:
        lines = mounts.read_text().splitlines()
    except OSError:
        return ""
    place = os.path.realpath(folder)
    best, kind = "", ""
    for line in lines:
        _, point, file_system, *_ = line.split(" ")
        point = re.sub(r"\\([0-7]{3})", lambda octal: chr(int(octal[1], 8)), point)
        # The later of two mounts on one point hides the earlier.
        if len(point) >= len(best) and (place + "/").startswith(point.rstrip("/") + "/"):
            best, kind = point, file_system
    return kind


def is_far(kind: str) -> bool:
    """True for a file system whose disk may be on another machine."""
    return kind in FAR or kind == "fuse" or kind.startswith("fuse.")


def make_private(folder: Path) -> None:
    """Makes the folder, or closes one that was made beforehand to everybody but its owner.

    Raises Refusal where that cannot be done, or where the folder holds other things that may be meant for others.
    """
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    if _is_private(folder):
        return
    if (folder / DATABASE).exists() or not any(folder.iterdir()):
        with suppress(PermissionError):
            folder.chmod(0o700)
    if not _is_private(folder):
        raise Refusal("open_folder", "data", say("server.serve.open_folder", folder=folder))


def is_full(folder: Path, least: int = RESERVE_BYTES) -> bool:
    """Whether the disk has less than `least` bytes of room, for a server that starts: then the reserve is given up."""
    full = _room(folder) < least
    if full:
        (folder / RESERVE).unlink(missing_ok=True)
    return full


def keep_reserve(folder: Path) -> None:
    """Makes the reserve unless it is there, where the disk has room for it twice over."""
    reserve = folder / RESERVE
    if reserve.exists() or _room(folder) < 2 * RESERVE_BYTES:
        return
    try:
        fd = os.open(reserve, os.O_WRONLY | os.O_CREAT, 0o600)
        try:
            os.posix_fallocate(fd, 0, RESERVE_BYTES)
        finally:
            os.close(fd)
    except OSError:
        reserve.unlink(missing_ok=True)


def _room(folder: Path) -> int:
    volume = os.statvfs(folder)
    return volume.f_bavail * volume.f_frsize


def _is_private(folder: Path) -> bool:
    return not stat.S_IMODE(folder.stat().st_mode) & 0o077
