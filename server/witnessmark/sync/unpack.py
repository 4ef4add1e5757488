"""The part of receiving that needs no lock: bytes, hash, signature and envelope of each entry of a batch."""

from __future__ import annotations

import base64
import os
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field

from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.asymmetric.utils import encode_dss_signature
from cryptography.hazmat.primitives.serialization import load_der_public_key

from witnessmark.people.devices import Device
from witnessmark.proof.canonical import parse, sha256_hex
from witnessmark.trade.ground.sentences import say

_ECDSA = ec.ECDSA(hashes.SHA256())
_NAMES = frozenset({"bytes", "signature"})
WORTH_SHARING = 100
LONGEST_ID = 36  # what is longer is no id; its beginning is enough to know it again by


@dataclass
class Candidate:
    """One entry of a batch. `fault` is (code, message) if it cannot be tied to the phone's chain at all."""

    data: bytes
    signature: str
    hash: str = ""
    entry: dict = field(default_factory=dict)
    id: str = ""
    fault: tuple[str, str] | None = None


class Reader:
    """Reads the entries of one phone."""

    def __init__(self, device: Device) -> None:
        self._device = device
        self._key = load_der_public_key(base64.b64decode(device.public_key))

    def read_all(self, offered: Sequence[object]) -> list[Candidate]:
        """Every offered entry as a candidate, in order; a large batch is shared out over the processor's cores."""
        cores = os.cpu_count() or 1
        if len(offered) < WORTH_SHARING or cores == 1:
            return [self.read(pair) for pair in offered]
        # The check of a signature, a third of all the work, lets other threads run meanwhile.
        share = -(-len(offered) // cores)
        shares = [offered[at : at + share] for at in range(0, len(offered), share)]
        with ThreadPoolExecutor(cores) as pool:
            return [
                candidate
                for some in pool.map(lambda part: [self.read(pair) for pair in part], shares)
                for candidate in some
            ]

    def read(self, offered: object) -> Candidate:
        """An offered `{"bytes", "signature"}` as a candidate; whatever is wrong is noted in it, never raised."""
        text, signature = (offered.get(name) if isinstance(offered, dict) else None for name in ("bytes", "signature"))
        if not isinstance(text, str):
            return Candidate(b"", "", fault=("shape", say("server.sync.no_bytes")))
        data = text.encode("utf-8", "surrogatepass")
        candidate = Candidate(data, signature if isinstance(signature, str) else "", sha256_hex(data))
        if offered.keys() != _NAMES or not isinstance(signature, str):
            candidate.fault = ("shape", say("server.sync.not_a_pair"))
            return candidate
        try:
            entry = parse(data)
        except ValueError as error:
            candidate.fault = ("not_canonical", say("server.sync.not_canonical", reason=error))
            return candidate
        if not isinstance(entry, dict):
            candidate.fault = ("not_canonical", say("server.sync.no_object"))
            return candidate
        candidate.entry = entry
        candidate.id = entry["id"][:LONGEST_ID] if isinstance(entry.get("id"), str) else ""
        candidate.fault = self._fault(candidate)
        return candidate

    def _fault(self, candidate: Candidate) -> tuple[str, str] | None:
        entry = candidate.entry
        if entry.get("device") != self._device.id:
            return ("other_device", say("server.sync.other_phone"))
        if entry.get("workshop") != self._device.workshop:
            return ("other_workshop", say("server.sync.other_workshop"))
        if type(entry.get("sequence")) is not int or entry["sequence"] < 1 or not candidate.id:
            return ("shape", say("server.sync.no_number"))
        if not isinstance(entry.get("previous"), str):
            return ("shape", say("server.sync.no_previous"))
        if not self._signed(candidate):
            return ("signature", say("server.sync.bad_signature"))
        return None

    def _signed(self, candidate: Candidate) -> bool:
        try:
            raw = base64.b64decode(candidate.signature, validate=True)
            if len(raw) != 64 or len(candidate.signature) != 88:
                return False
            r, s = int.from_bytes(raw[:32], "big"), int.from_bytes(raw[32:], "big")
            self._key.verify(encode_dss_signature(r, s), candidate.data, _ECDSA)
        except (ValueError, InvalidSignature):
            return False
        return True
