"""The server as a whole: a supervisor and its children, each started again if it dies.

  http    the app on 127.0.0.1, for the office on this machine (browsers treat localhost as safe)
  https   the same app for the workshop's network, with the workshop's own certificate
  door    plain http on the network, for the certificate page alone
  worker  previews, packs, transcripts and other background work

The supervisor loads the program once and forks, so that the children share it: four processes in little memory.
"""

from __future__ import annotations

import fcntl
import multiprocessing
import os
import signal
import socket
import sqlite3
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import partial
from multiprocessing.connection import wait

from sqlalchemy.exc import DBAPIError

from witnessmark.config import Settings
from witnessmark.db import make_engine
from witnessmark.operate import certificate, certificate_page, disk, door, server_log
from witnessmark.operate.limits import SHIPPED, Limits
from witnessmark.operate.listener import end_with_parent, listen
from witnessmark.people.workshops import Workshop
from witnessmark.sync.founding import open_workshop
from witnessmark.tasks import worker
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say

PHONE_WORKERS = 2  # processes behind https: the entries of two phones are checked at the same time
ALIVE_SECONDS = 30  # until all answer
LOOK_SECONDS = 60  # between looks at the certificate and the addresses
PATIENCE = 5  # deaths of one child within a minute, then the supervisor gives up
STOP_SECONDS = 15
# What SQLite calls a disk without room: full, and files beside the database that could not be made.
NO_ROOM = {sqlite3.SQLITE_FULL, sqlite3.SQLITE_IOERR, sqlite3.SQLITE_CANTOPEN}


@dataclass(frozen=True)
class Addresses:
    """Where the running server is found. `network` are the https addresses a phone can use, best first."""

    office: str
    network: list[str]
    certificate: str
    fingerprint: str
    disk_full: bool = False  # what is here can be read, and next to nothing added


@dataclass
class Child:
    name: str
    work: Callable[[], None]
    process: multiprocessing.Process | None = None
    deaths: list[float] = field(default_factory=list)
    needed: bool = True  # the server gives up without it


def run(
    settings: Settings,
    https_port: int = 8443,
    http_port: int = 8080,
    ready: Callable[[Addresses], None] = lambda addresses: None,
    reach: str = "0.0.0.0",
    limits: Limits = SHIPPED,
) -> None:
    """Serves the workshop until SIGINT or SIGTERM; must run in the main thread. Prints nothing; see `server.log`.

    `ready` is called once, when everything answers. `reach` is the address https binds to. Raises Refusal when the
    folder holds no workshop, lies on a network file system, can be read by others, is served already, or when a port
    is taken; when a full disk leaves not even room to read; and when a part keeps dying.
    """
    refuse_far_disk(settings)
    disk.make_private(settings.data)
    founded = (settings.data / disk.DATABASE).exists()
    full = founded and disk.is_full(settings.data)
    with _only_one(settings):
        _refuse_taken_ports([("127.0.0.1", http_port), (reach, https_port)])
        workshop = _open(settings, full) if founded else None
        if workshop is None:
            raise Refusal("not_founded", "data", say("server.workshop.none_here", folder=settings.data))
        disk.keep_reserve(settings.data)
        Supervisor(settings, workshop.name, https_port, http_port, reach, limits, full).run(ready)


class Supervisor:
    """Starts the children, watches them, and stops them."""

    def __init__(
        self,
        settings: Settings,
        workshop: str,
        https_port: int,
        http_port: int,
        reach: str,
        limits: Limits = SHIPPED,
        disk_full: bool = False,
    ):
        self.settings, self.workshop, self.limits, self.disk_full = settings, workshop, limits, disk_full
        self.https_port, self.http_port, self.reach = https_port, http_port, reach
        self.fork = multiprocessing.get_context("fork")
        self.children: list[Child] = []
        self.stopping = False
        self._heard, self._say = os.pipe()
        self.log = server_log.ServerLog(settings.data)

    def run(self, ready: Callable[[Addresses], None]) -> None:
        addresses = self._prepare()
        issued = certificate.files(self.settings)
        serving = partial(listen, self.settings, limits=self.limits)
        self.children = [
            Child("http", partial(serving, "127.0.0.1", self.http_port)),
            Child("https", partial(serving, self.reach, self.https_port, PHONE_WORKERS, issued)),
            Child("worker", partial(work, self.settings)),
            *self._doors(),
        ]
        before = {s: signal.signal(s, self._on_signal) for s in (signal.SIGINT, signal.SIGTERM)}
        try:
            for child in self.children:
                self._start(child)
            self._wait_until_alive()
            if not self.stopping:
                ready(addresses)
            self._watch()
        finally:
            self._stop_all()
            self.log.close()
            for number, handler in before.items():
                signal.signal(number, handler)
            os.close(self._heard)
            os.close(self._say)

    def _prepare(self) -> Addresses:
        lan = certificate.lan_addresses()
        self._ensure_certificate()
        hosts = lan or ["localhost"]
        network = [f"https://{host}:{self.https_port}" for host in [*hosts, certificate.local_name()]]
        page_url = f"http://{hosts[0]}:{self.http_port}/certificate"
        issued = certificate.files(self.settings)
        app_url = (self.settings.public_url or network[0]) + "/bay/"
        fresh = issued.page.with_suffix(".new")
        fresh.write_text(certificate_page.make(self.settings, self.workshop, page_url, app_url))
        fresh.replace(issued.page)
        fingerprint = certificate.fingerprint(self.settings)
        return Addresses(f"http://localhost:{self.http_port}", network, page_url, fingerprint, self.disk_full)

    def _ensure_certificate(self) -> bool:
        own = [self.reach] if self.reach != "0.0.0.0" else []
        return certificate.ensure(self.settings, self.workshop, [*certificate.lan_addresses(), *own])

    def _doors(self) -> list[Child]:
        """One for each address of this machine on the workshop's network."""
        issued, lan = certificate.files(self.settings), certificate.lan_addresses() if self.reach == "0.0.0.0" else []
        return [Child(f"door {at}", partial(keep_door, issued, at, self.http_port), needed=False) for at in lan]

    def _look_around(self) -> None:
        """Notices what became of the network: shows a renewed certificate, gives a new address its door. And of the
        disk: the reserve is made again once there is room."""
        disk.keep_reserve(self.settings.data)
        if self._ensure_certificate():
            next(c for c in self.children if c.name == "https").process.terminate()
        known = {child.name for child in self.children}
        for new in self._doors():
            if new.name not in known:
                self.children.append(new)
                self._start(new)

    def _start(self, child: Child) -> None:
        child.process = self.fork.Process(target=_begin, args=(self.log, child.work), name=child.name)
        child.process.start()

    def _watch(self) -> None:
        looked = time.monotonic()
        while not self.stopping:
            wait([self._heard, self.log.heard, *(c.process.sentinel for c in self.children)], timeout=LOOK_SECONDS)
            self.log.drain()
            if self.stopping:
                return
            for child in list(self.children):
                if not child.process.is_alive():
                    self._revive(child)
            if time.monotonic() - looked >= LOOK_SECONDS:
                looked = time.monotonic()
                self._look_around()

    def _revive(self, child: Child) -> None:
        now = time.monotonic()
        child.deaths = [*(d for d in child.deaths if now - d < 60), now]
        if len(child.deaths) > PATIENCE:
            if not child.needed:
                # An address that is gone, or a port somebody else has there: no reason to stop serving the others.
                self.children.remove(child)
                return
            raise Refusal(
                "keeps_dying",
                child.name,
                say("server.serve.keeps_stopping", part=child.name, log=self.log.path),
            )
        self._pause(min(0.2 * 2 ** len(child.deaths), 5))
        self._start(child)

    def _pause(self, seconds: float, *until: int) -> None:
        """Waits, for one of `until` at most, and goes on writing the log: whoever cannot speak stands still."""
        ends = time.monotonic() + seconds
        while (left := ends - time.monotonic()) > 0:
            ready = wait([self.log.heard, *until], timeout=left)
            self.log.drain()
            if any(descriptor in ready for descriptor in until):
                return

    def _wait_until_alive(self) -> None:
        until = time.monotonic() + ALIVE_SECONDS
        ports = [("127.0.0.1", self.http_port), (_own(self.reach), self.https_port)]
        while ports and not self.stopping:
            ports = [at for at in ports if not _answers(*at)]
            if ports and (time.monotonic() > until or not all(c.process.is_alive() for c in self.children if c.needed)):
                raise Refusal("not_up", "server", say("server.serve.not_up", log=self.log.path))
            self._pause(0.05)

    def _on_signal(self, _number, _frame) -> None:
        self.stopping = True
        os.write(self._say, b".")

    def _stop_all(self) -> None:
        alive = [c.process for c in self.children if c.process and c.process.is_alive()]
        for process in alive:
            process.terminate()
        until = time.monotonic() + STOP_SECONDS
        for process in alive:
            self._pause(max(0.1, until - time.monotonic()), process.sentinel)
            if process.is_alive():
                process.kill()
                process.join()


def work(settings: Settings) -> None:
    """The background worker, until it has to stop."""
    server_log.install()
    stop = threading.Event()
    for number in (signal.SIGINT, signal.SIGTERM):
        signal.signal(number, lambda *_: stop.set())
    worker.run(settings, stop)


def keep_door(issued: certificate.Files, address: str, port: int) -> None:
    """The certificate page on the network, without https."""
    for number in (signal.SIGINT, signal.SIGTERM):
        signal.signal(number, lambda *_: os._exit(0))
    door.Door(issued, address, port).serve_forever()


def _open(settings: Settings, full: bool) -> Workshop | None:
    engine = make_engine(settings.database)
    try:
        return open_workshop(settings, engine)
    except DBAPIError as error:
        if not full or getattr(error.orig, "sqlite_errorcode", 0) & 0xFF not in NO_ROOM:
            raise
        raise Refusal("disk_full", "data", say("server.serve.disk_full", folder=settings.data)) from error
    finally:
        engine.dispose()


def refuse_far_disk(settings: Settings, mounts=disk.MOUNTS) -> None:
    """Raises Refusal when the data folder lies on a network file system: SQLite loses data there."""
    kind = disk.file_system(settings.data, mounts)
    if disk.is_far(kind):
        raise Refusal(
            "far_disk", "data",
            say("server.serve.far_disk", folder=settings.data, sort=kind),
        )  # fmt: skip


def _begin(log: server_log.ServerLog, work: Callable[[], None]) -> None:
    end_with_parent()
    for number in (signal.SIGINT, signal.SIGTERM):
        signal.signal(number, signal.SIG_DFL)
    log.begin_child()
    work()


class _only_one:
    """Holds the data folder for this server; the kernel lets go when the last of its processes is gone."""

    def __init__(self, settings: Settings):
        self.settings = settings

    def __enter__(self) -> None:
        self.file = (self.settings.data / "server.lock").open("a")
        try:
            fcntl.flock(self.file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            self.file.close()
            raise Refusal(
                "served_already", "data",
                say("server.serve.served_already", folder=self.settings.data),
            ) from None  # fmt: skip

    def __exit__(self, *_error) -> None:
        self.file.close()


def _refuse_taken_ports(wanted: list[tuple[str, int]]) -> None:
    for address, port in wanted:
        with socket.socket() as probe:
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            try:
                probe.bind((address, port))
            except OSError as reason:
                raise Refusal(
                    "port_taken",
                    "port",
                    say("server.serve.port_taken", port=str(port), address=address, reason=reason.strerror),
                ) from reason


def _answers(address: str, port: int) -> bool:
    try:
        with socket.create_connection((address, port), timeout=1):
            return True
    except OSError:
        return False


def _own(reach: str) -> str:
    return "127.0.0.1" if reach == "0.0.0.0" else reach
