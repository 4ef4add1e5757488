"""The front: ASGI towards granian, WSGI towards the app. Whoever is slow waits here, and takes no thread.

A small body is read before the app sees the request. A larger one is read only when the app asks for it: the app is
called once without it, which ends where it wants to read, and once more with the whole body. So nobody whom it turns
away by the headers makes the server keep megabytes; the app must read a body before it changes anything. Uploads alone
are handed on while they come, to threads of their own.
"""

from __future__ import annotations

import asyncio
import io
import json
import logging
from collections.abc import AsyncIterator, Callable, Iterable, Iterator
from concurrent.futures import Executor, ThreadPoolExecutor
from contextlib import asynccontextmanager
from dataclasses import dataclass
from pathlib import Path

from witnessmark.media.room import FULL
from witnessmark.operate.bodies import Awaited, BodyAwaited, Gone, Receive, Stream, TooLarge, TooSlow, read_whole
from witnessmark.operate.environ import announced_length, environ_of
from witnessmark.operate.limits import SHIPPED, Limits
from witnessmark.trade.ground.sentences import say
from witnessmark.web.media import PIECE_TYPE

log = logging.getLogger(__name__)

BUSY_SECONDS = 5
LONGEST_REST = 8 << 20  # bytes of an upload that are taken after it was refused; the phone's pieces are shorter
REST_SECONDS = 1.0  # without any of them
REFUSALS = {
    408: ("too_slow", say("server.errors.too_slow")),
    413: ("too_large", say("server.errors.too_large")),
    500: ("error", say("server.errors.failed")),
    503: ("busy", say("server.errors.busy")),
    507: ("disk_full", say("server.errors.disk_full")),
}

Send = Callable


class Busy(Exception):
    """The line is too long."""


@dataclass
class Answer:
    """What the app answered: the first bytes of its body, and `rest` where more may follow."""

    status: int
    headers: list[tuple[bytes, bytes]]
    first: bytes
    rest: Iterator[bytes] | None = None
    close: Callable[[], None] = lambda: None


class Front:
    """The ASGI application around the WSGI application `app`.

    Bodies of more than `most` bytes, uploads aside, are refused; those too large for memory lie in nameless files of
    `folder` until they have been read.
    """

    def __init__(self, app: Callable[..., Iterable[bytes]], folder: Path, most: int, limits: Limits = SHIPPED):
        self.app, self.folder, self.most, self.limits = app, folder, most, limits
        self.workers = ThreadPoolExecutor(limits.threads, "request")
        self.uploaders = ThreadPoolExecutor(limits.uploads, "upload")
        self.upload_line = asyncio.Semaphore(limits.uploads)
        self.body_line = asyncio.Semaphore(limits.bodies)

    async def __call__(self, scope: dict, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            return
        try:
            answer = await self._answer(scope, receive)
        except Gone:
            return
        try:
            await self._send(answer, send)
        except TimeoutError:
            # Whoever does not take an answer gets no other: granian closes what was left unfinished.
            return
        finally:
            answer.close()

    async def _answer(self, scope: dict, receive: Receive) -> Answer:
        environ = environ_of(scope)
        try:
            if environ.get("CONTENT_TYPE") == PIECE_TYPE:
                return await self._upload(environ, receive)
            length = announced_length(environ)
            if length == 0:
                return await self._call(environ, io.BytesIO())
            if length is not None and length <= self.limits.small_body:
                return await self._call_with_body(environ, receive)
            return await self._call(environ, Awaited()) or await self._large(environ, receive)
        except TooSlow:
            return _refusal(408)
        except TooLarge:
            return _refusal(413)
        except Busy:
            return _refusal(503)
        except OSError as error:
            log.error("body: %s", error)
            return _refusal(507 if error.errno in FULL else 500)

    async def _large(self, environ: dict, receive: Receive) -> Answer:
        async with self._in_line(self.body_line):
            return await self._call_with_body(environ, receive)

    async def _call_with_body(self, environ: dict, receive: Receive) -> Answer:
        with await read_whole(receive, self.limits, self.most, self.folder) as body:
            return await self._call(environ, body)

    async def _upload(self, environ: dict, receive: Receive) -> Answer:
        stream = Stream(receive, self.limits)
        async with self._in_line(self.upload_line):
            filling = asyncio.create_task(stream.fill())
            try:
                answer = await self._call(environ, stream, self.uploaders)
            except BaseException:
                filling.cancel()
                raise
            finally:
                stream.end()
        await self._let_finish(stream, filling)
        return answer

    async def _let_finish(self, stream: Stream, filling: asyncio.Task) -> None:
        """Most senders listen for an answer only when they have sent all: the rest of a body that was not wanted is
        thrown away, as far as it is short and keeps coming."""
        stream.throw_away()
        before = -1
        while not filling.done() and before < stream.thrown_away <= LONGEST_REST:
            before = stream.thrown_away
            await asyncio.wait({filling}, timeout=REST_SECONDS)
        filling.cancel()

    @asynccontextmanager
    async def _in_line(self, line: asyncio.Semaphore) -> AsyncIterator[None]:
        try:
            async with asyncio.timeout(self.limits.line_seconds):
                await line.acquire()
        except TimeoutError:
            raise Busy from None
        try:
            yield
        finally:
            line.release()

    async def _call(self, environ: dict, body: object, threads: Executor | None = None) -> Answer | None:
        """The app's answer; None when it wants a body that is still awaited."""
        wanted = environ | {"wsgi.input": body}
        return await asyncio.get_running_loop().run_in_executor(threads or self.workers, self._work, wanted)

    def _work(self, environ: dict) -> Answer | None:
        begun: list = []

        def start_response(status: str, headers: list[tuple[str, str]], _error=None) -> None:
            pairs = [(name.lower().encode("latin-1"), value.encode("latin-1")) for name, value in headers]
            begun[:] = int(status.split(" ", 1)[0]), pairs

        try:
            answered = self.app(environ, start_response)
            close = getattr(answered, "close", lambda: None)
            try:
                pieces = iter(answered)
                first, ended = _gather(pieces, self.limits.piece)
            except BaseException:
                close()
                raise
            return Answer(*begun, first, None if ended else pieces, close)
        except BodyAwaited:
            return None
        except Exception:
            log.exception("%s %s", environ["REQUEST_METHOD"], environ["PATH_INFO"])
            return _refusal(500)

    async def _send(self, answer: Answer, send: Send) -> None:
        size, rest = self.limits.piece, answer.rest
        await send({"type": "http.response.start", "status": answer.status, "headers": answer.headers})
        if rest is None and len(answer.first) <= size:
            await send({"type": "http.response.body", "body": answer.first})
            return
        ready, ended = answer.first, rest is None
        while True:
            view = memoryview(ready)
            for at in range(0, len(ready), size):
                async with asyncio.timeout(self.limits.send_seconds):
                    await send({"type": "http.response.body", "body": bytes(view[at : at + size]), "more_body": True})
            if ended:
                break
            ready, ended = await asyncio.get_running_loop().run_in_executor(self.workers, _gather, rest, size)
        await send({"type": "http.response.body", "body": b""})


def _gather(pieces: Iterator[bytes], size: int) -> tuple[bytes, bool]:
    """The next pieces, together at least `size` bytes unless they end; and whether they have ended."""
    ready, length = [], 0
    for piece in pieces:
        ready.append(piece)
        length += len(piece)
        if length >= size:
            return (ready[0] if len(ready) == 1 else b"".join(ready)), False
    return b"".join(ready), True


def _refusal(status: int) -> Answer:
    code, message = REFUSALS[status]
    body = json.dumps({"code": code, "message": message, "where": ""}).encode()
    headers = [
        (b"content-type", b"application/json"),
        (b"content-length", str(len(body)).encode()),
        (b"cache-control", b"no-store"),
        # What is left of the body is not waited for.
        (b"connection", b"close"),
    ]
    if status == 503:
        headers.append((b"retry-after", str(BUSY_SECONDS).encode()))
    return Answer(status, headers, body)
