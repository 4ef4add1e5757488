"""Keeps a listening process from running out of open files, however many connections are begun.

granian counts a connection only once TLS has been agreed on: those that never get there have to be counted here. Where
there are too many, those that have sent least are closed; an honest one has sent a kilobyte within its first second.
"""

from __future__ import annotations

import logging
import os
import socket
import stat
import struct
import threading
import time
from pathlib import Path

OPEN_FILES = Path("/proc/self/fd")
LOOK_SECONDS = 0.25
RECEIVED_AT = 128  # tcpi_bytes_received in the kernel's struct tcp_info

log = logging.getLogger(__name__)


def watch(most: int) -> None:
    """Begins to hold this process to `most` connections, in a thread of its own. Does nothing without Linux's /proc."""
    if OPEN_FILES.is_dir() and hasattr(socket, "TCP_INFO"):
        threading.Thread(target=_keep_looking, args=(most,), name="crowd", daemon=True).start()


def _keep_looking(most: int) -> None:
    known: set[int] = set()
    while True:
        time.sleep(LOOK_SECONDS)
        try:
            known = look(most, known)
        except OSError as error:
            # Open files have run out, and granian takes no connection ever after: this process is begun anew.
            log.error("connections: %s", error)
            os._exit(1)


def look(most: int, known: set[int]) -> set[int]:
    """Closes connections beyond `most`, those first that have sent least; one that is not in `known` is spared.

    Returns the inodes of the connections there are, for the next look. Raises OSError when open files have run out.
    """
    numbers = os.listdir(OPEN_FILES)
    if len(numbers) <= most:
        return set()
    found = sorted(filter(None, map(_connection, numbers)))
    for _, inode, number in found[: max(0, len(found) - most)]:
        if inode in known:
            _close(number, inode)
    return {inode for _, inode, _ in found}


def _connection(number: str) -> tuple[int, int, int] | None:
    """(bytes received, inode, descriptor) of a TCP connection; None for any other open file."""
    try:
        state = os.fstat(int(number))
        if not stat.S_ISSOCK(state.st_mode):
            return None
        with socket.socket(fileno=os.dup(int(number))) as held:
            held.getpeername()
            info = held.getsockopt(socket.IPPROTO_TCP, socket.TCP_INFO, RECEIVED_AT + 8)
        return struct.unpack_from("=Q", info, RECEIVED_AT)[0], state.st_ino, int(number)
    except (OSError, struct.error):
        return None  # closed meanwhile, or a socket of another sort


def _close(number: int, inode: int) -> None:
    """Ends the connection for both sides; granian, whose descriptor it is, notices and lets go of it."""
    try:
        with socket.socket(fileno=os.dup(number)) as held:
            if os.fstat(held.fileno()).st_ino == inode:
                held.shutdown(socket.SHUT_RDWR)
    except OSError:
        return
