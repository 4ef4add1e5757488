"""One listener: granian's watcher and the processes of the app behind it.

granian holds the connections (TLS, heads and their time, how many at once), the front everything that is slow.
"""

from __future__ import annotations

import ctypes
import resource
import signal
import socket
import sys
from functools import partial

from granian.constants import HTTPModes, Interfaces
from granian.http import HTTP1Settings
from granian.log import LogLevels
from granian.net import SocketSpec
from granian.server import Server

from witnessmark.app import create_app
from witnessmark.config import Settings
from witnessmark.operate import server_log
from witnessmark.operate.certificate import Files
from witnessmark.operate.crowd import Crowd
from witnessmark.operate.front import Front
from witnessmark.operate.limits import SHIPPED, Limits

SPARE_FILES = 256  # open files besides connections: database, originals, libraries
RUSH = 2000  # connections that may be begun between two looks of the crowd
STOP_SECONDS = 10


def listen(
    settings: Settings,
    address: str,
    port: int,
    workers: int = 1,
    issued: Files | None = None,
    limits: Limits = SHIPPED,
    stop_seconds: int = STOP_SECONDS,
) -> None:
    """Serves the app on this address until SIGTERM, over https with `issued`, in so many processes."""
    server = _Server(
        "witnessmark", address=address, port=port, interface=Interfaces.ASGINL, workers=workers,
        backpressure=_connections(limits.connections), http=HTTPModes.http1, websockets=False,
        http1_settings=HTTP1Settings(header_read_timeout=round(limits.head_seconds * 1000)),
        log_level=LogLevels.error, respawn_failed_workers=True, workers_kill_timeout=stop_seconds,
        ssl_cert=issued and issued.chain, ssl_key=issued and issued.key,
    )  # fmt: skip
    server.limits = limits
    server.serve(target_loader=partial(server.load, settings), wrap_loader=False)


def end_with_parent() -> None:
    """A child whose parent was killed outright would go on holding the port: ask the kernel for a SIGTERM then."""
    if sys.platform == "linux":
        ctypes.CDLL(None).prctl(1, signal.SIGTERM)  # PR_SET_PDEATHSIG


class _Server(Server):
    """granian with a listening socket of our making: one for all its processes, so that a connection goes to one that
    has room, and with options that every connection inherits."""

    limits = SHIPPED

    def _init_shared_socket(self) -> None:
        self._shd = SocketSpec(self.bind_addr, self.bind_port, self.backlog).build()
        self._sfd = self._shd.get_fd()
        self._sso = socket.socket(fileno=self._sfd)
        self._sso.set_inheritable(True)
        _drop_the_silent(self._sso, self.limits)
        self._sso.setblocking(False)
        self._ssp = None

    def load(self, settings: Settings) -> Front:
        """The app, in one of the processes; only now a connection is taken: nobody waits for what cannot answer yet."""
        end_with_parent()
        server_log.install()
        Crowd(2 * self.backpressure, self.limits.piece, self.limits.send_seconds).watch()
        front = Front(create_app(settings), settings.data, settings.body_bytes, self.limits)
        self._sso.listen(self.backlog)
        return front


def _drop_the_silent(listening: socket.socket, limits: Limits) -> None:
    listening.setsockopt(socket.SOL_SOCKET, socket.SO_KEEPALIVE, 1)
    values = {
        "TCP_KEEPIDLE": limits.alive_after,
        "TCP_KEEPINTVL": max(1, limits.alive_after // 3),
        "TCP_KEEPCNT": 3,
        # What was sent and not acknowledged, and what a client has made no room for.
        "TCP_USER_TIMEOUT": limits.unacknowledged * 1000,
    }
    for name, value in values.items():
        if hasattr(socket, name):
            listening.setsockopt(socket.IPPROTO_TCP, getattr(socket, name), value)


def _connections(wanted: int) -> int:
    """How many connections the open files allowed to this process are enough for; asks for more of them first."""
    soft, hard = resource.getrlimit(resource.RLIMIT_NOFILE)
    needed = 2 * wanted + RUSH + SPARE_FILES
    if soft != resource.RLIM_INFINITY and soft < needed:
        soft = needed if hard == resource.RLIM_INFINITY else min(needed, hard)
        resource.setrlimit(resource.RLIMIT_NOFILE, (soft, hard))
    return wanted if soft == resource.RLIM_INFINITY else max(64, min(wanted, (soft - SPARE_FILES) // 4))
