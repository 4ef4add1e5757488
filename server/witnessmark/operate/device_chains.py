"""The devices' part of a log: each record signed by its device, every running number there or accounted for.

Whoever holds the server's key can take a record out of the log and sign the heads again. The phones' keys they do not
hold, and the next record of the same phone names the one that is gone. What is hidden at the end of a phone's records
cannot be seen here: the phone itself knows it.
"""

from __future__ import annotations

import base64
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field

from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.asymmetric.utils import encode_dss_signature
from cryptography.hazmat.primitives.serialization import load_der_public_key

from witnessmark.log.rows import Row
from witnessmark.proof.entries import NO_ENTRY_BEFORE, broken_link, ranges_words
from witnessmark.proof.numbers import without
from witnessmark.trade.ground.sentences import say

_ECDSA = ec.ECDSA(hashes.SHA256())


@dataclass
class Device:
    """What the log shows of one device. `named` holds, for the last number of each gap, the hash that the record after
    it names; `refused` the numbers that the desk says it refused, with their hashes."""

    key: ec.EllipticCurvePublicKey | None = None
    name: str = ""
    last: tuple[int, str] = (0, NO_ENTRY_BEFORE)
    gaps: list[tuple[int, int]] = field(default_factory=list)
    named: dict[int, str] = field(default_factory=dict)
    refused: dict[int, str] = field(default_factory=dict)


class DeviceChains:
    """Reads a log, oldest record first: `add` each, then ask `unaccounted`. Its memory grows with devices and gaps."""

    def __init__(self) -> None:
        self._devices: defaultdict[str, Device] = defaultdict(Device)

    def add(self, row: Row) -> Iterator[str]:
        """Takes the next record; gives what is wrong with it, in sentences."""
        entry, device = row.entry, self._devices[row.device]
        kind, body = entry["kind"], entry["body"]
        if kind == "workshop_founded":
            device.key, device.name = _key(body["server_key"]), say("proof.chain.desk")
        if device.key is None or not _signed(device.key, row):
            yield say("server.log_check.signature", number=row.position)
        last, sequence = device.last[0], entry["sequence"]
        if sequence > last + 1:
            device.gaps.append((last + 1, sequence - 1))
            device.named[sequence - 1] = entry["previous"]
        elif fault := broken_link(device.last if last else None, sequence, entry["previous"]):
            yield say("server.log_check.chain", number=row.position, fault=fault)
        device.last = (sequence, row.hash)
        if kind == "device_enrolled":
            enrolled = self._devices[body["device"]]
            enrolled.key = _key(body["public_key"])
            enrolled.name = say("proof.chain.phone", letter=body["letter"], name=body["name"])
        elif kind == "entry_refused":
            self._devices[body["device"]].refused[body["sequence"]] = body["entry_hash"]

    def unaccounted(self) -> Iterator[str]:
        """The numbers that no record bears though a later one of the device is here, and that nobody refused."""
        for id, device in self._devices.items():
            name = device.name or id
            if gone := without(device.gaps, set(device.refused)):
                yield say("server.log_check.gone", device=name, numbers=ranges_words(gone))
            for number, named in device.named.items():
                if device.refused.get(number, NO_ENTRY_BEFORE) not in (named, NO_ENTRY_BEFORE):
                    yield say("server.log_check.refused_other", device=name, number=number)


def _key(spki: str) -> ec.EllipticCurvePublicKey | None:
    try:
        key = load_der_public_key(base64.b64decode(spki, validate=True))
    except ValueError:
        return None
    return key if isinstance(key, ec.EllipticCurvePublicKey) else None


def _signed(key: ec.EllipticCurvePublicKey, row: Row) -> bool:
    try:
        raw = base64.b64decode(row.signature, validate=True)
        signature = encode_dss_signature(int.from_bytes(raw[:32], "big"), int.from_bytes(raw[32:], "big"))
        key.verify(signature, row.bytes, _ECDSA)
    except (ValueError, InvalidSignature):
        return False
    return len(raw) == 64
