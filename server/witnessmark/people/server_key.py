"""The server's own key (ECDSA P-256): it signs heads and what the office's desk writes. Made once, at founding."""

from __future__ import annotations

import base64
import os
from pathlib import Path

from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.asymmetric.utils import decode_dss_signature

from witnessmark.proof.keys import server_id

_ECDSA = ec.ECDSA(hashes.SHA256())


class ServerKey:
    """Signs with the key. `public_key` is SPKI DER in base64, `server_id` names the server to its phones."""

    def __init__(self, private: ec.EllipticCurvePrivateKey) -> None:
        self._private = private
        spki = private.public_key().public_bytes(
            serialization.Encoding.DER, serialization.PublicFormat.SubjectPublicKeyInfo
        )
        self.public_key = base64.b64encode(spki).decode()
        self.server_id = server_id(spki)

    def sign(self, message: bytes) -> str:
        """ECDSA with SHA-256 over `message`: r and s, 32 bytes each, in standard base64."""
        r, s = decode_dss_signature(self._private.sign(message, _ECDSA))
        return base64.b64encode(r.to_bytes(32, "big") + s.to_bytes(32, "big")).decode()


def make(path: Path) -> ServerKey:
    """Makes the key and its file, readable by its owner alone. Raises FileExistsError rather than replace one."""
    path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    private = ec.generate_private_key(ec.SECP256R1())
    pem = private.private_bytes(
        serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()
    )
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(handle, "wb") as file:
        file.write(pem)
        file.flush()
        os.fsync(file.fileno())
    # The name too: a log signed by a key that a power cut took away could never be gone on with.
    folder = os.open(path.parent, os.O_RDONLY)
    try:
        os.fsync(folder)
    finally:
        os.close(folder)
    return ServerKey(private)


def load(path: Path) -> ServerKey:
    """The key in `path`. Raises FileNotFoundError if there is none, ValueError if it is not a P-256 key."""
    private = serialization.load_pem_private_key(path.read_bytes(), None)
    if not isinstance(private, ec.EllipticCurvePrivateKey) or not isinstance(private.curve, ec.SECP256R1):
        raise ValueError(f"{path} holds another sort of key; it has to be ECDSA P-256. Bring it back from a backup.")
    return ServerKey(private)
