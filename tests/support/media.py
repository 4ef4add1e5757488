"""Files a workshop sends, good and hostile, and a sender that speaks tus to the app in this process."""

from __future__ import annotations

import hashlib
import io
import os
import struct
import zlib
from base64 import b64encode
from dataclasses import dataclass
from functools import cache

from flask import Flask
from PIL import Image

from witnessmark.config import Settings
from witnessmark.media import previews

PIECE = "application/offset+octet-stream"


def sha(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def noise(length: int) -> bytes:
    """Bytes of no known kind that do not repeat."""
    return b"\x00noise" + os.urandom(length - 6) if length > 6 else os.urandom(length)


def jpeg(width: int = 640, height: int = 480, colour="steelblue", **saved) -> bytes:
    """A small photograph: a quarter of it in red, so that turning it shows."""
    picture = Image.new("RGB", (width, height), colour)
    picture.paste("red", (0, 0, width // 2, height // 2))
    out = io.BytesIO()
    picture.save(out, "JPEG", **saved)
    return out.getvalue()


def mpo_with_trailer() -> bytes:
    """Two pictures in one file, as phones write them, and a short video hidden behind both."""
    out = io.BytesIO()
    first, second = Image.new("RGB", (640, 480), "gray"), Image.new("RGB", (320, 240), "white")
    first.save(out, "MPO", save_all=True, append_images=[second])
    return out.getvalue() + struct.pack(">I", 24) + b"ftypmp42\x00\x00\x00\x00mp42isom" + b"\x00" * 32


@cache
def png_bomb(side: int = 13_000) -> bytes:
    """A PNG of side x side points in a few hundred kilobytes."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    rows = zlib.compressobj(9)
    line = b"\x00" * (side * 3 + 1)
    packed = b"".join(rows.compress(line) for _ in range(side)) + rows.flush()
    header = struct.pack(">IIBBBBB", side, side, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", packed) + chunk(b"IEND", b"")


def metadata(sha256: str) -> str:
    return f"sha256 {b64encode(sha256.encode()).decode()}"


@dataclass
class Sender:
    """Sends originals as a phone does, to the app in this process."""

    app: Flask
    token: str

    def ask(self, method: str, path: str, body: bytes = b"", **headers):
        given = {"Authorization": f"Bearer {self.token}", "Tus-Resumable": "1.0.0"}
        given |= {name.replace("_", "-"): value for name, value in headers.items()}
        return self.app.test_client().open(path, method=method, data=body, headers=given)

    def begin(self, data: bytes, sha256: str = ""):
        named = metadata(sha256 or sha(data))
        return self.ask("POST", "/api/media/uploads", Upload_Length=str(len(data)), Upload_Metadata=named)

    def piece(self, path: str, offset: int, body: bytes, **headers):
        return self.ask("PATCH", path, body, Upload_Offset=str(offset), Content_Type=PIECE, **headers)

    def stands(self, path: str):
        return self.ask("HEAD", path)

    def send(self, data: bytes) -> str:
        """Sends a whole file; returns its SHA-256."""
        begun = self.begin(data)
        assert begun.status_code == 201, begun.get_json()
        if int(begun.headers["Upload-Offset"]) < len(data):
            answer = self.piece(begun.headers["Location"], 0, data)
            assert answer.status_code == 204, answer.get_json()
        return sha(data)


def look(settings: Settings, engine, sha256: str) -> dict:
    """Has the server look at a picture now; returns its facts."""
    bench = previews.Bench()
    try:
        previews.make(settings, engine, bench, sha256)
    finally:
        bench.close()
    with engine.connect() as conn:
        return previews.facts_of(conn, sha256)
