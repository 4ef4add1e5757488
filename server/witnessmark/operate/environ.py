"""A request as ASGI gives it, in the words of WSGI (PEP 3333)."""

from __future__ import annotations

import sys
from urllib.parse import unquote_to_bytes

from werkzeug.wsgi import FileWrapper

FILE_PIECE = 256 * 1024  # Werkzeug's own pieces of 8 KiB are slow for pictures of some megabytes


def environ_of(scope: dict) -> dict:
    """The WSGI environ of an ASGI http scope, without its body."""
    host, port = scope.get("server") or ("", 0)
    environ = {
        "REQUEST_METHOD": scope["method"],
        "SCRIPT_NAME": "",
        # As bytes, each shown as one character: what is no UTF-8 is for the app to refuse.
        "PATH_INFO": unquote_to_bytes(scope["raw_path"]).decode("latin-1"),
        "QUERY_STRING": scope["query_string"].decode("latin-1"),
        "SERVER_NAME": host,
        "SERVER_PORT": str(port),
        "SERVER_PROTOCOL": f"HTTP/{scope['http_version']}",
        "REMOTE_ADDR": (scope.get("client") or ("",))[0],
        "wsgi.version": (1, 0),
        "wsgi.url_scheme": scope["scheme"],
        "wsgi.errors": sys.stderr,
        "wsgi.input_terminated": True,
        "wsgi.multithread": True,
        "wsgi.multiprocess": True,
        "wsgi.run_once": False,
        "wsgi.file_wrapper": _FileWrapper,
    }
    for name, value in scope["headers"]:
        # In WSGI an underscore could not be told from a hyphen, and a stranger could speak for our own page.
        if b"_" in name:
            continue
        key = name.decode("latin-1").upper().replace("-", "_")
        key = key if key in ("CONTENT_TYPE", "CONTENT_LENGTH") else f"HTTP_{key}"
        text = value.decode("latin-1")
        between = "; " if key == "HTTP_COOKIE" else ","
        environ[key] = f"{environ[key]}{between}{text}" if key in environ else text
    return environ


def announced_length(environ: dict) -> int | None:
    """Bytes of the body; None when it comes in chunks, or with a length that is none."""
    if "HTTP_TRANSFER_ENCODING" in environ:
        return None
    announced = environ.get("CONTENT_LENGTH") or "0"
    return int(announced) if announced.isascii() and announced.isdigit() else None


class _FileWrapper(FileWrapper):
    def __init__(self, file, _size: int = 0):
        super().__init__(file, FILE_PIECE)
