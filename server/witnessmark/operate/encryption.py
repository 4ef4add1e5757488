"""Files encrypted under a passphrase, read and written in pieces, so that a film of two gigabytes needs no memory.

A file is HEAD, a salt of its own, and pieces of PIECE bytes, the last one shorter or empty, each encrypted with
AES-256-GCM (NIST SP 800-38D). Its key is derived from the folder's key, its salt and its name (HKDF, RFC 5869), so no
file passes for another. The number of a piece, and whether it is the last, are its nonce: none can be left out, moved
or cut off.
"""

from __future__ import annotations

import base64
import hashlib
import hmac
import json
import os
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO

from cryptography.exceptions import InvalidTag
from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.ciphers.aead import AESGCM
from cryptography.hazmat.primitives.kdf.hkdf import HKDF
from cryptography.hazmat.primitives.kdf.scrypt import Scrypt

from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say

FACTS = "encryption.json"
HEAD = b"witnessmark encrypted 1\n"
SALT_BYTES = 16
PIECE = 1 << 20
TAG_BYTES = 16
# 64 MiB and about a third of a second for each guess at a passphrase (RFC 7914).
SCRYPT = {"n": 2**16, "r": 8, "p": 1}
# A backup may be guessed at for years, on many machines: long enough for three or four words.
SHORTEST_PASSPHRASE = 12


class Damaged(Exception):
    """An encrypted file is cut off, changed, or not the one of this name."""


@dataclass(frozen=True)
class FolderKey:
    """The key of one backup folder."""

    key: bytes

    def name_of(self, name: str) -> str:
        """What stands for a name that is nobody's business, in hex: the same each time, and no way back to it."""
        return hmac.new(_derived(self.key, b"", b"names"), name.encode(), hashlib.sha256).hexdigest()

    def write(self, pieces: Iterable[bytes], out: BinaryIO, name: str) -> None:
        """Encrypts pieces of any length as the file `name`."""
        salt = os.urandom(SALT_BYTES)
        cipher = AESGCM(_derived(self.key, salt, name.encode()))
        out.write(HEAD + salt)
        number, held = 0, bytearray()
        for piece in pieces:
            held += piece
            # A full piece stays behind until it is known not to be the last.
            while len(held) > PIECE:
                out.write(cipher.encrypt(_nonce(number, last=False), bytes(held[:PIECE]), None))
                del held[:PIECE]
                number += 1
        out.write(cipher.encrypt(_nonce(number, last=True), bytes(held), None))

    def read(self, stream: BinaryIO, name: str) -> Iterator[bytes]:
        """The pieces of the file `name`. Raises Damaged; whoever has taken pieces by then must throw them away."""
        if stream.read(len(HEAD)) != HEAD:
            raise Damaged(name)
        cipher = AESGCM(_derived(self.key, stream.read(SALT_BYTES), name.encode()))
        number, encrypted = 0, stream.read(PIECE + TAG_BYTES)
        while True:
            following = stream.read(PIECE + TAG_BYTES)
            try:
                yield cipher.decrypt(_nonce(number, last=not following), encrypted, None)
            except (InvalidTag, ValueError):
                raise Damaged(name) from None
            if not following:
                return
            number, encrypted = number + 1, following


def new_key(folder: Path, passphrase: str) -> tuple[FolderKey, bytes]:
    """A key for a folder that has none yet, and the facts by which it is found again, to be kept as `FACTS` in it.

    Raises Refusal for a passphrase that is too short.
    """
    if len(passphrase) < SHORTEST_PASSPHRASE:
        raise Refusal("passphrase", "passphrase", say("server.backup.passphrase_short", least=SHORTEST_PASSPHRASE))
    salt = os.urandom(SALT_BYTES)
    key = _stretched(passphrase, salt, SCRYPT)
    facts = {"kdf": "scrypt", **SCRYPT, "salt": _text(salt), "check": _text(_derived(key, b"", b"check"))}
    return FolderKey(key), json.dumps(facts, indent=1).encode()


def known_key(folder: Path, passphrase: str) -> FolderKey:
    """The key of a folder by its passphrase. Raises Refusal for another passphrase, or facts that cannot be read."""
    try:
        facts = json.loads((folder / FACTS).read_text())
        cost = {name: int(facts[name]) for name in SCRYPT}
        salt, check = base64.b64decode(facts["salt"]), base64.b64decode(facts["check"])
        key = _stretched(passphrase, salt, cost)
    except (OSError, ValueError, KeyError, TypeError):
        raise Refusal("no_backup", "folder", say("server.backup.none", folder=folder, report=FACTS)) from None
    if not hmac.compare_digest(_derived(key, b"", b"check"), check):
        raise Refusal("passphrase", "passphrase", say("server.backup.passphrase_wrong", folder=folder))
    return FolderKey(key)


def is_encrypted(folder: Path) -> bool:
    return (folder / FACTS).is_file()


def _stretched(passphrase: str, salt: bytes, cost: dict[str, int]) -> bytes:
    return Scrypt(salt=salt, length=32, n=cost["n"], r=cost["r"], p=cost["p"]).derive(passphrase.encode())


def _derived(key: bytes, salt: bytes, purpose: bytes) -> bytes:
    return HKDF(algorithm=hashes.SHA256(), length=32, salt=salt, info=purpose).derive(key)


def _nonce(number: int, *, last: bool) -> bytes:
    return number.to_bytes(11, "big") + bytes([last])


def _text(data: bytes) -> str:
    return base64.b64encode(data).decode()
