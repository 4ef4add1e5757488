"""One request in plain values, and how it reaches the application: through WSGI, as behind the server."""

from __future__ import annotations

import io
import json
import sys
from dataclasses import dataclass, field
from typing import Any
from urllib.parse import quote

from flask import Flask
from werkzeug.test import run_wsgi_app

OWN = "http://127.0.0.1"


@dataclass
class Request:
    """`label` is the operation as the description names it, "POST /api/jobs/{job}/packs". `path` and headers hold raw
    bytes as WSGI does, one character each."""

    label: str
    method: str
    path: str
    query: str = ""
    headers: dict[str, str] = field(default_factory=dict)
    body: bytes = b""
    address: str = "192.0.2.1"
    # Of a push that was made for this phone: the hash of the entry, should the server keep it.
    entry_hash: str = ""
    described: bool = True

    def environ(self) -> dict[str, Any]:
        given = {
            "REQUEST_METHOD": self.method,
            "SCRIPT_NAME": "",
            "PATH_INFO": self.path,
            "QUERY_STRING": self.query,
            "SERVER_NAME": "127.0.0.1",
            "SERVER_PORT": "80",
            "SERVER_PROTOCOL": "HTTP/1.1",
            "REMOTE_ADDR": self.address,
            "HTTP_HOST": "127.0.0.1",
            "CONTENT_LENGTH": str(len(self.body)),
            "wsgi.version": (1, 0),
            "wsgi.url_scheme": "http",
            "wsgi.input": io.BytesIO(self.body),
            "wsgi.input_terminated": True,
            "wsgi.errors": sys.stderr,
            "wsgi.multithread": True,
            "wsgi.multiprocess": True,
            "wsgi.run_once": False,
        }
        for name, value in self.headers.items():
            key = name.upper().replace("-", "_")
            given[key if key in ("CONTENT_TYPE", "CONTENT_LENGTH") else f"HTTP_{key}"] = value
        return {name: value for name, value in given.items() if value is not None}

    def as_line(self, most: int = 1500) -> str:
        """The request to read and to repeat, cut short."""
        shown = {"method": self.method, "path": self.path, "query": self.query, "headers": self.headers}
        shown["body"] = self.body.decode("latin-1")
        text = json.dumps({name: value for name, value in shown.items() if value})
        return text if len(text) <= most else f"{text[:most]}… ({len(text)} characters)"


@dataclass
class Answer:
    status: int
    headers: dict[str, str]
    body: bytes

    @property
    def type(self) -> str:
        return self.headers.get("content-type", "").partition(";")[0].strip()


def ask(app: Flask, request: Request) -> Answer:
    """What the application answers. Whatever it raises is raised here."""
    parts, status, headers = run_wsgi_app(app, request.environ(), buffered=True)
    body = b"".join(parts)
    if close := getattr(parts, "close", None):
        close()
    return Answer(int(status[:3]), {name.lower(): value for name, value in headers}, body)


def as_json(value: Any) -> bytes:
    return json.dumps(value).encode()


def in_path(text: str) -> str:
    """A text as part of a path in WSGI: its UTF-8 bytes, one character each. Half a character keeps its own bytes."""
    return text.encode("utf-8", "surrogatepass").decode("latin-1")


def in_query(values: list[tuple[str, str]]) -> str:
    return "&".join(
        f"{quote(name.encode('utf-8', 'surrogatepass'))}={quote(value.encode('utf-8', 'surrogatepass'))}"
        for name, value in values
    )
