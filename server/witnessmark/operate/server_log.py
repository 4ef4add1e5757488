"""server.log: written by the supervisor alone, from a pipe into which all its children speak, so that it stays bounded.

All files together hold at most LOG_FILES * LOG_BYTES, and what one address causes is LINES lines a minute at most.
"""

from __future__ import annotations

import logging
import os
import threading
import time
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

from flask import has_request_context, request

from witnessmark.trade.ground.sentences import say

NAME = "server.log"
LOG_BYTES = 4 << 20
LOG_FILES = 5  # server.log and server.log.1 to .4, the oldest last: 20 MiB in all
LINES = 60  # a minute from one source; a failed request with its stack of calls is some forty
SOURCES = 1000  # counted one by one in a minute; all further ones are one
MINUTE = 60.0
READ_BYTES = 64 * 1024
READS = 16  # before the supervisor looks at its children again


class ServerLog:
    """The files, and the pipe. `heard` is what the supervisor waits for, `spoken` what its children write to."""

    def __init__(self, folder: Path, most: int = LOG_BYTES, files: int = LOG_FILES):
        self.path, self.most, self.files = folder / NAME, most, files
        self.heard, self.spoken = os.pipe()
        os.set_blocking(self.heard, False)
        self._file: int | None = None
        self._size = 0
        self.write(b"")

    def begin_child(self) -> None:
        """In a child: what it prints goes into the log, and it reads nothing."""
        nothing = os.open(os.devnull, os.O_RDONLY)
        for source, target in ((nothing, 0), (self.spoken, 1), (self.spoken, 2)):
            os.dup2(source, target)
        for number in (nothing, self.heard, self.spoken, *([self._file] if self._file is not None else [])):
            os.close(number)

    def drain(self) -> None:
        """Writes what children have said since; returns at once."""
        for _ in range(READS):
            try:
                data = os.read(self.heard, READ_BYTES)
            except BlockingIOError:
                return
            if not data:
                return
            self.write(data)

    def write(self, data: bytes) -> None:
        """Appends, and begins the next file where this one is full. What the disk has no room for is lost."""
        try:
            if self._file is None:
                self._file = os.open(self.path, os.O_WRONLY | os.O_CREAT | os.O_APPEND, 0o600)
                os.set_inheritable(self._file, False)
                self._size = os.fstat(self._file).st_size
            if self._size and self._size + len(data) > self.most:
                self._turn()
                self.write(data)
                return
            os.write(self._file, data)
            self._size += len(data)
        except OSError:
            self._shut()

    def close(self) -> None:
        self.drain()
        self._shut()
        os.close(self.heard)
        os.close(self.spoken)

    def _turn(self) -> None:
        self._shut()
        for number in range(self.files - 1, 0, -1):
            older = self._numbered(number - 1)
            if older.exists():
                older.replace(self._numbered(number))

    def _numbered(self, number: int) -> Path:
        return self.path.with_name(f"{NAME}.{number}") if number else self.path

    def _shut(self) -> None:
        if self._file is not None:
            os.close(self._file)
        self._file = None


class SourceHandler(logging.Handler):
    """Writes records with their time; of each source, an address or else a part of the program, so many lines a minute.

    `write` takes the bytes of a record, `clock` gives seconds.
    """

    def __init__(
        self,
        write: Callable[[bytes], object] = lambda data: os.write(2, data),
        lines: int = LINES,
        clock: Callable[[], float] = time.monotonic,
    ):
        super().__init__()
        self._write, self._lines, self._clock = write, lines, clock
        self._until, self._counts, self._left_out = 0.0, {}, {}
        self.setFormatter(logging.Formatter("%(asctime)s %(levelname)s %(name)s: %(message)s"))

    def emit(self, record: logging.LogRecord) -> None:
        with suppress(OSError):  # nobody is left who could be told
            self._emit(record)

    def _emit(self, record: logging.LogRecord) -> None:
        self.say_left_out()
        source = request.remote_addr if has_request_context() else record.name
        if source not in self._counts and len(self._counts) >= SOURCES:
            source = say("server.serve.other_sources")
        text = self.format(record)
        length = text.count("\n") + 1
        if self._counts.get(source, 0) >= self._lines:
            if not self._left_out:
                later = threading.Timer(self._until - self._clock(), self._at_the_end)
                later.daemon = True
                later.start()
            self._left_out[source] = self._left_out.get(source, 0) + length
            return
        self._counts[source] = self._counts.get(source, 0) + length
        self._write(f"{text}\n".encode(errors="replace"))

    def say_left_out(self) -> None:
        """Once the minute is over: one line for each source of which lines were left out."""
        now = self._clock()
        if now < self._until:
            return
        left_out, self._left_out, self._counts, self._until = self._left_out, {}, {}, now + MINUTE
        stamp = time.strftime("%Y-%m-%d %H:%M:%S")
        for source, count in left_out.items():
            self._write(f"{stamp} {say('server.serve.left_out', count=count, source=source)}\n".encode())

    def _at_the_end(self) -> None:
        with self.lock, suppress(OSError):
            self.say_left_out()


def install() -> None:
    """In a process of the server: everything that is logged goes this way, granian's own words too."""
    handler = SourceHandler()
    logging.getLogger().handlers[:] = [handler]
    logging.getLogger("_granian").handlers[:] = [handler]
