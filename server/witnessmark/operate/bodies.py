"""The bodies of requests on their way from the network to the program, which reads them as WSGI programs do.

`read_whole` keeps a body until all of it is here. A `Stream` hands an upload on while it comes.
"""

from __future__ import annotations

import asyncio
import queue
from collections.abc import Awaitable, Callable
from pathlib import Path
from tempfile import SpooledTemporaryFile

from witnessmark.operate.limits import Limits

Receive = Callable[[], Awaitable[dict]]

UPLOAD_PIECE = 1 << 19  # handed to the program at once, or somewhat more: smaller ones cost a change of threads each
AHEAD = 2  # pieces that may wait for the program


class TooSlow(Exception):
    """The body does not come fast enough."""


class TooLarge(Exception):
    """The body is longer than any that is taken."""


class Gone(Exception):
    """The client hung up within the body."""


class BodyAwaited(BaseException):
    """The program wants the body, which is not here yet. No Exception: nobody on the way out may answer it."""


class Awaited:
    """A body of which nothing has been read. The first attempt to read it ends the call of the program."""

    def read(self, _size: int = -1) -> bytes:
        raise BodyAwaited

    readline = readlines = __iter__ = read


class Pace:
    """Holds a sender to the least rate, with `limits.body_least` bytes in each `limits.body_window` seconds.

    A context manager around the reading; raises TooSlow. `seconds` bounds the whole, None does not.
    """

    def __init__(self, limits: Limits, seconds: float | None):
        self.limits, self.seconds = limits, seconds

    async def __aenter__(self) -> Pace:
        now = asyncio.get_running_loop().time()
        self.ends = now + self.seconds if self.seconds is not None else float("inf")
        self.missing = self.limits.body_least
        self.timer = asyncio.timeout_at(min(now + self.limits.body_window, self.ends))
        await self.timer.__aenter__()
        return self

    async def __aexit__(self, *error) -> None:
        try:
            await self.timer.__aexit__(*error)
        except TimeoutError:
            raise TooSlow from None

    def came(self, count: int) -> None:
        self.missing -= count
        if self.missing <= 0:
            self.go_on()

    def rest(self) -> None:
        """Stops the clock."""
        self.timer.reschedule(None)

    def go_on(self) -> None:
        """Begins a new window."""
        self.missing = self.limits.body_least
        self.timer.reschedule(min(asyncio.get_running_loop().time() + self.limits.body_window, self.ends))


async def read_whole(receive: Receive, limits: Limits, most: int, folder: Path) -> SpooledTemporaryFile:
    """The whole body, at its beginning: in memory up to `limits.memory_body`, beyond in a nameless file of `folder`.

    Raises TooSlow, TooLarge beyond `most` bytes, Gone, and OSError when the disk is full.
    """
    body = SpooledTemporaryFile(limits.memory_body, dir=folder)  # noqa: SIM115 - the caller closes it
    try:
        length = 0
        async with Pace(limits, limits.body_seconds) as pace:
            async for piece in _pieces(receive):
                length += len(piece)
                if length > most:
                    raise TooLarge
                body.write(piece)
                pace.came(len(piece))
        body.seek(0)
        return body
    except BaseException:
        body.close()
        raise


class Stream:
    """An upload's body. `fill` runs in the loop; `read` waits in the program's thread for what came."""

    def __init__(self, receive: Receive, limits: Limits):
        self._receive, self._limits = receive, limits
        self._came: queue.SimpleQueue[bytes] = queue.SimpleQueue()
        self._room = asyncio.Semaphore(AHEAD)
        self._loop = asyncio.get_running_loop()
        self._rest, self._at, self._ended = b"", 0, False
        self._unwanted = False
        self.thrown_away = 0  # bytes

    async def fill(self) -> None:
        """Hands on what comes until the body ends, breaks off, or comes too slowly: to the program all are its end,
        and the length it was told says which."""
        waiting, length = [], 0
        try:
            async with Pace(self._limits, None) as pace:
                async for piece in _pieces(self._receive):
                    pace.came(len(piece))
                    if self._unwanted:
                        self.thrown_away += len(piece)
                        continue
                    waiting.append(piece)
                    length += len(piece)
                    if length >= UPLOAD_PIECE:
                        whole, waiting, length = b"".join(waiting), [], 0
                        await self._hand_on(whole, pace)
        except (TooSlow, Gone):
            pass
        finally:
            if waiting:
                self._came.put(b"".join(waiting))
            self.end()

    def throw_away(self) -> None:
        """What still comes is handed to nobody."""
        self._unwanted = True
        self._room.release()

    def end(self) -> None:
        """Lets a reader go that still waits."""
        self._came.put(b"")

    async def _hand_on(self, piece: bytes, pace: Pace) -> None:
        self._came.put(piece)
        # While the disk is slower than the sender, the sender is not to blame.
        pace.rest()
        await self._room.acquire()
        pace.go_on()

    def read(self, size: int = -1) -> bytes:
        """Up to `size` bytes, without a size all that is left; b"" at the end. Waits while the sender keeps pace."""
        if size < 0:
            return b"".join(iter(lambda: self.read(UPLOAD_PIECE), b""))
        if self._at == len(self._rest) and not self._ended:
            self._rest, self._at = self._came.get(), 0
            self._ended = not self._rest
            if not self._ended:
                self._loop.call_soon_threadsafe(self._room.release)
        if self._at == 0 and size >= len(self._rest):
            self._at = len(self._rest)
            return self._rest
        piece = self._rest[self._at : self._at + size]
        self._at += len(piece)
        return piece


async def _pieces(receive: Receive):
    while True:
        message = await receive()
        if message["type"] != "http.request":
            raise Gone
        if message["body"]:
            yield message["body"]
        if not message.get("more_body"):
            return
