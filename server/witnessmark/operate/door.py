"""A small plain-http answer on the workshop's network: the certificate page, and where else to go. Nothing else.

A phone that does not trust the server yet cannot read anything over https, so this one page comes without.
"""

from __future__ import annotations

import asyncio
import socket
from http import HTTPStatus

from witnessmark.operate.certificate import Files

SECONDS = 10  # for asking and being answered, all in all
METHODS = ("GET", "HEAD")
HEAD_BYTES = 16 * 1024
CONNECTIONS = 200  # at once; beyond them the oldest is closed


class Door:
    """Binds its address at once. Raises OSError when that cannot be had."""

    def __init__(self, files: Files, address: str, port: int, seconds: float = SECONDS, most: int = CONNECTIONS):
        self.files, self.seconds, self.most = files, seconds, most
        self._listening = socket.create_server((address, port))
        self.server_address = self._listening.getsockname()
        self._loop = asyncio.new_event_loop()
        self._open: dict[asyncio.Task, None] = {}

    def serve_forever(self) -> None:
        """Answers until `shutdown`."""
        starting = asyncio.start_server(self._speak, sock=self._listening, limit=HEAD_BYTES)
        server = self._loop.run_until_complete(starting)
        self._loop.run_forever()
        self._loop.run_until_complete(self._close(server))
        self._loop.close()

    def shutdown(self) -> None:
        """Ends `serve_forever`, from another thread."""
        self._loop.call_soon_threadsafe(self._loop.stop)

    async def _close(self, server: asyncio.Server) -> None:
        server.close()
        for task in self._open:
            task.cancel()
        await asyncio.gather(*self._open, return_exceptions=True)

    async def _speak(self, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        task = asyncio.current_task()
        self._open[task] = None
        if len(self._open) > self.most:
            oldest = next(iter(self._open))
            del self._open[oldest]
            oldest.cancel()
        try:
            async with asyncio.timeout(self.seconds):
                head = await reader.readuntil(b"\r\n\r\n")
                writer.write(self._answer(head))
                await writer.drain()
                writer.close()
                await writer.wait_closed()
        except (TimeoutError, OSError, EOFError, asyncio.LimitOverrunError, asyncio.CancelledError):
            writer.transport.abort()
        finally:
            self._open.pop(task, None)

    def _answer(self, head: bytes) -> bytes:
        method, _, rest = head.split(b"\r\n", 1)[0].decode("latin-1").partition(" ")
        path = rest.split(" ")[0].split("?")[0]
        answers = {
            "/certificate": (self.files.page, "text/html; charset=utf-8"),
            "/certificate/workshop-ca.crt": (self.files.authority, "application/x-x509-ca-cert"),
        }
        if method not in METHODS:
            return _written(HTTPStatus.METHOD_NOT_ALLOWED, {"Allow": ",".join(METHODS)})
        if path not in answers:
            return _written(HTTPStatus.FOUND, {"Location": "/certificate"})
        file, kind = answers[path]
        headers = {"Content-Type": kind, "X-Content-Type-Options": "nosniff", "Cache-Control": "no-cache"}
        return _written(HTTPStatus.OK, headers, file.read_bytes(), method == "HEAD")


def _written(status: HTTPStatus, headers: dict[str, str], data: bytes = b"", without: bool = False) -> bytes:
    headers = {"Content-Length": str(len(data)), "Connection": "close"} | headers
    lines = [f"{name}: {value}" for name, value in headers.items()]
    return "\r\n".join([f"HTTP/1.1 {status.value} {status.phrase}", *lines, "", ""]).encode() + (
        b"" if without else data
    )
