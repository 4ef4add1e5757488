"""Whether a folder lies on a disk of this machine. SQLite's write-ahead log needs memory shared by all its readers:
over a network file system it silently loses or damages what was written (sqlite.org/wal.html)."""

from __future__ import annotations

import os
import re
from pathlib import Path

FAR = {
    "nfs", "nfs4", "cifs", "smb3", "smbfs", "9p", "afs", "ceph", "glusterfs", "lustre", "gfs2", "ocfs2", "vboxsf",
}  # fmt: skip
MOUNTS = Path("/proc/self/mounts")


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
