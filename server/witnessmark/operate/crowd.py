"""Looks at a listening process's connections from below, where neither granian nor the front sees them.

granian counts a connection only once TLS has been agreed on: those that never get there are counted here. Where there
are too many, those that have sent least are closed; an honest one has sent a kilobyte within its first second. And an
answer that lies ready in the kernel has to be taken at the least rate, or its connection is closed.
"""

from __future__ import annotations

import fcntl
import logging
import os
import socket
import stat
import struct
import termios
import threading
import time
from pathlib import Path
from typing import NamedTuple

OPEN_FILES = Path("/proc/self/fd")
LOOK_SECONDS = 0.25
LOOKS = 10  # at all connections, in the time that a piece of an answer has
COUNTERS_AT = 120  # tcpi_bytes_acked and tcpi_bytes_received in the kernel's struct tcp_info

log = logging.getLogger(__name__)


class Connection(NamedTuple):
    """`outstanding` are bytes of answers that the client has not acknowledged. They sort by what was received."""

    received: int
    acknowledged: int
    outstanding: int
    inode: int
    number: int


class Crowd:
    """The connections of this process: `most` at once, each to take `least` bytes, or all there are, in `seconds`."""

    def __init__(self, most: int, least: int, seconds: float):
        self.most, self.least, self.seconds = most, least, seconds
        self._known: set[int] = set()
        self._taking: dict[int, tuple[float, int, int]] = {}
        self._next = 0.0

    def watch(self) -> None:
        """Begins to look, in a thread of its own. Does nothing without Linux's /proc."""
        if OPEN_FILES.is_dir() and hasattr(socket, "TCP_INFO"):
            threading.Thread(target=self._keep_looking, name="crowd", daemon=True).start()

    def look(self, now: float) -> None:
        """Closes what is too many or too slow. `now` in seconds. Raises OSError when open files have run out."""
        numbers = os.listdir(OPEN_FILES)
        if len(numbers) <= self.most and now < self._next:
            return
        self._next = now + self.seconds / LOOKS
        connections = sorted(filter(None, map(_connection, numbers)))
        for connection in connections[: max(0, len(connections) - self.most)]:
            # One that has only just come has not had the time to send anything.
            if connection.inode in self._known:
                _close(connection)
        self._known = {connection.inode for connection in connections}
        self._end_slow(connections, now)

    def _end_slow(self, connections: list[Connection], now: float) -> None:
        before, self._taking = self._taking, {}
        for connection in connections:
            if not connection.outstanding:
                continue
            begun = (now, connection.acknowledged, min(self.least, connection.outstanding))
            since, acknowledged, wanted = before.get(connection.inode, begun)
            taken = connection.acknowledged - acknowledged
            if now - since < self.seconds and taken >= 0:
                self._taking[connection.inode] = since, acknowledged, wanted
            elif 0 <= taken < wanted:
                _close(connection)
            else:
                self._taking[connection.inode] = begun

    def _keep_looking(self) -> None:
        while True:
            time.sleep(LOOK_SECONDS)
            try:
                self.look(time.monotonic())
            except OSError as error:
                # Open files have run out, and granian takes no connection ever after: this process is begun anew.
                log.error("connections: %s", error)
                os._exit(1)


def _connection(number: str) -> Connection | None:
    """None for an open file that is no TCP connection."""
    try:
        state = os.fstat(int(number))
        if not stat.S_ISSOCK(state.st_mode):
            return None
        with socket.socket(fileno=os.dup(int(number))) as held:
            held.getpeername()
            info = held.getsockopt(socket.IPPROTO_TCP, socket.TCP_INFO, COUNTERS_AT + 16)
            outstanding = struct.unpack("=i", fcntl.ioctl(held, termios.TIOCOUTQ, bytes(4)))[0]
        acknowledged, received = struct.unpack_from("=QQ", info, COUNTERS_AT)
        return Connection(received, acknowledged, outstanding, state.st_ino, int(number))
    except (OSError, struct.error):
        return None  # closed meanwhile, or a socket of another sort


def _close(connection: Connection) -> None:
    """Ends the connection for both sides; granian, whose descriptor it is, notices and lets go of it."""
    try:
        with socket.socket(fileno=os.dup(connection.number)) as held:
            if os.fstat(held.fileno()).st_ino == connection.inode:
                held.shutdown(socket.SHUT_RDWR)
    except OSError:
        return
