"""A phone of the invented workshop: it chains and signs its entries under the same rules as a real one."""

from __future__ import annotations

import base64
from datetime import datetime

from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.asymmetric.utils import decode_dss_signature

from witnessmark.proof.canonical import canonical, sha256_hex
from witnessmark.proof.entries import links
from witnessmark.trade.ground.identifiers import uuid7
from witnessmark.trade.record.kinds import KINDS

FIRST = "0" * 64


class DemoPhone:
    """Holds a key of its own in memory; what it signs cannot be signed again once the demo is made."""

    def __init__(self) -> None:
        self._key = ec.generate_private_key(ec.SECP256R1())
        self._previous, self._sequence = FIRST, 0
        self._last_of_job: dict[str, tuple[dict, str]] = {}
        self.workshop = self.device = ""
        # The newest head that answered it: size and root.
        self.log: dict | None = None

    @property
    def announced(self) -> int:
        """How many entries it has made."""
        return self._sequence

    @property
    def public_key(self) -> str:
        """SPKI DER, base64."""
        der = self._key.public_key().public_bytes(
            serialization.Encoding.DER, serialization.PublicFormat.SubjectPublicKeyInfo
        )
        return base64.b64encode(der).decode()

    def make(
        self,
        claimed: datetime,
        author: str,
        kind: str,
        job: str,
        stage: str | None,
        location: dict | None = None,
        body: dict | None = None,
        media: list[dict] | None = None,
    ) -> tuple[dict, dict]:
        """Its next entry: (the entry, what goes over the wire). `claimed` needs a zone."""
        self._sequence += 1
        entry = {
            "author": author,
            "body": body or {},
            "claimed": claimed.isoformat(timespec="milliseconds"),
            "clock": {
                "boot": self.device[:8],
                "monotonic_ms": self._sequence * 1000,
                "offset_age_s": 0,
                "offset_ms": 0,
                "zone": str(claimed.tzinfo),
            },
            "device": self.device,
            "id": uuid7(),
            "job": job,
            "kind": kind,
            "links": links(self._last_of_job.get(job), self.log),
            "location": location,
            "media": media or [],
            "previous": self._previous,
            "sequence": self._sequence,
            "stage": stage,
            "version": KINDS[kind].latest,
            "workshop": self.workshop,
        }
        data = canonical(entry)
        self._previous = sha256_hex(data)
        self._last_of_job[job] = (entry, self._previous)
        return entry, {"bytes": data.decode(), "signature": self.sign(data)}

    def sign(self, data: bytes) -> str:
        """ECDSA over P-256 with SHA-256: raw r and s, base64."""
        r, s = decode_dss_signature(self._key.sign(data, ec.ECDSA(hashes.SHA256())))
        return base64.b64encode(r.to_bytes(32, "big") + s.to_bytes(32, "big")).decode()
