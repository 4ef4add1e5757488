"""Serves the two built faces: the office at /, the bay at /bay/. Nothing here needs a sign-in: the pages hold no data.

The speech parts lie under /bay/speech/ and are fetched by a phone when somebody asks for them.
Addresses with a hash in their name never change and may be cached for ever; pages and the worker are requested again
each time, so that an update is seen.
"""

from __future__ import annotations

import gzip
import hashlib
import mimetypes
import re
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from flask import Blueprint, Response, abort, redirect, request
from werkzeug.utils import safe_join

from witnessmark.config import Settings, built_app_folder
from witnessmark.trade.ground.sentences import say
from witnessmark.web.auth import settings

blueprint = Blueprint("static_faces", __name__)

_POLICY = (
    "default-src 'self'",
    "img-src 'self' blob: data:",
    "media-src 'self' blob:",
    "connect-src 'self'",
    "worker-src 'self'",
    "object-src 'none'",
    "base-uri 'none'",
    "form-action 'self'",
    "frame-ancestors 'none'",
)
FENCE = {
    "Content-Security-Policy": "; ".join(_POLICY),
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Permissions-Policy": "camera=(self), microphone=(self), geolocation=()",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
}
# The bay compiles the programs that hear (WebAssembly), out of its own files; text is still never run as script.
FENCES = {
    "office": FENCE,
    "bay": FENCE | {"Content-Security-Policy": "; ".join((*_POLICY, "script-src 'self' 'wasm-unsafe-eval'"))},
}
FOR_EVER = "public, max-age=31536000, immutable"
ASK_AGAIN = "no-cache"
TYPES = {
    ".webmanifest": "application/manifest+json",
    ".js": "text/javascript",
    ".woff2": "font/woff2",
    ".wasm": "application/wasm",  # a browser compiles it while it comes only under this name
}
SQUEEZED = {".html", ".js", ".css", ".svg", ".webmanifest", ".json"}
# No file of ours is called otherwise; what is longer could not even be looked for.
_NAME = re.compile(r"[\w@-][\w.@-]{0,99}(/[\w@-][\w.@-]{0,99}){0,5}", re.ASCII)
_HASHED = re.compile(r"-[\w-]{8}\.\w+\Z")

NOT_BUILT = """<!doctype html>
<html lang="en">
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>witnessmark: the app is not built</title>
<h1>The app is not built</h1>
<p>The server runs, but the pages of the office and the bay have not been built beside it.</p>
<p>Build them with <code>python pwa/build_app.py</code> in the project's folder, then load this page again.
A wheel made with <code>pip install .</code> carries them already.</p>
"""


@dataclass(frozen=True)
class Served:
    """A file ready to be sent."""

    body: bytes
    squeezed: dict[str, bytes]  # by the name of the coding, the smallest first
    type: str
    etag: str


@blueprint.get("/")
@blueprint.get("/<path:name>")
def office(name: str = "") -> Response:
    """The office: its one page, and its files by name. What the API does not know, the API's own words answer."""
    if name.startswith("api/"):
        abort(404)
    return _answer("office", name)


@blueprint.get("/bay")
def bay_without_stroke() -> Response:
    return redirect("/bay/", 308)


@blueprint.get("/bay/")
@blueprint.get("/bay/<path:name>")
def bay(name: str = "") -> Response:
    """The bay: its one page, its files by name, and its worker, whose scope is this folder."""
    return _answer("bay", name)


def app_folder(settings: Settings) -> Path:
    """Where the built apps are: as the settings say, or where they come with the program."""
    return settings.app_folder or built_app_folder()


def _answer(face: str, name: str) -> Response:
    folder = app_folder(settings()) / face
    fence = FENCES[face]
    if not (folder / "index.html").is_file():
        return Response(NOT_BUILT, 503, fence | {"Cache-Control": "no-store"}, mimetype="text/html")
    name = name or "index.html"
    path = safe_join(str(folder), name) if _NAME.fullmatch(name) else None
    if not path or not Path(path).is_file():
        return Response(say("server.errors.no_page"), 404, fence, mimetype="text/plain")
    return _send(Path(path), fence)


def _send(path: Path, fence: dict[str, str]) -> Response:
    state = path.stat()
    served = _load(path, state.st_mtime_ns, state.st_size)
    headers = fence | {"ETag": served.etag, "Cache-Control": FOR_EVER if _HASHED.search(path.name) else ASK_AGAIN}
    if served.squeezed:
        headers["Vary"] = "Accept-Encoding"
    if request.headers.get("If-None-Match") == served.etag:
        return Response(status=304, headers=headers)
    for coding, body in served.squeezed.items():
        if request.accept_encodings.quality(coding) > 0:
            return Response(body, headers=headers | {"Content-Encoding": coding}, content_type=served.type)
    return Response(served.body, headers=headers, content_type=served.type)


@lru_cache(maxsize=64)
def _load(path: Path, mtime_ns: int, _size: int) -> Served:
    body = path.read_bytes()
    kind = TYPES.get(path.suffix) or mimetypes.guess_type(path.name)[0] or "application/octet-stream"
    if kind.startswith("text/") or kind.endswith("+json"):
        kind += "; charset=utf-8"
    beside = path.with_name(path.name + ".br")  # made at build time: Python's own library has no Brotli
    # One older than its file was made of an earlier build.
    made = beside.is_file() and beside.stat().st_mtime_ns >= mtime_ns
    squeezed = {"br": beside.read_bytes()} if made else {}
    if path.suffix in SQUEEZED:  # texts alone: a model of megabytes would take seconds, and its Brotli form is there
        squeezed["gzip"] = gzip.compress(body, 9, mtime=0)
    return Served(body, squeezed, kind, f'W/"{hashlib.sha256(body).hexdigest()[:32]}"')
