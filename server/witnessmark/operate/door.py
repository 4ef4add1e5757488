"""A small plain-http answer on the workshop's network: the certificate page, and where else to go. Nothing else.

A phone that does not trust the server yet cannot read anything over https, so this one page comes without.
"""

from __future__ import annotations

from functools import partial
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer

from witnessmark.operate.certificate import Files


class _Door(BaseHTTPRequestHandler):
    timeout = 20
    server_version, sys_version = "witnessmark", ""

    def __init__(self, found: Files, *args):
        self.found = found
        super().__init__(*args)

    def do_GET(self) -> None:
        answers = {
            "/certificate": (self.found.page, "text/html; charset=utf-8"),
            "/certificate/workshop-ca.crt": (self.found.authority, "application/x-x509-ca-cert"),
        }
        path = self.path.split("?")[0]
        if path not in answers:
            self.send_response(302)
            self.send_header("Location", "/certificate")
            self.send_header("Content-Length", "0")
            self.end_headers()
            return
        file, kind = answers[path]
        data = file.read_bytes()
        self.send_response(200)
        self.send_header("Content-Type", kind)
        self.send_header("Content-Length", str(len(data)))
        self.send_header("X-Content-Type-Options", "nosniff")
        self.send_header("Cache-Control", "no-cache")
        self.end_headers()
        self.wfile.write(data)

    def log_message(self, *_words) -> None:
        pass


def open_door(found: Files, address: str, port: int) -> ThreadingHTTPServer:
    """Binds the door; the caller runs `serve_forever`."""
    ThreadingHTTPServer.daemon_threads = True
    return ThreadingHTTPServer((address, port), partial(_Door, found))
