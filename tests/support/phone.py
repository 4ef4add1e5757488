"""A phone, in Python: it makes its key, chains and signs its entries, and speaks to the server as the app does."""

from __future__ import annotations

import base64
import json
import uuid
from collections.abc import Callable, Sequence
from datetime import datetime

from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.asymmetric.utils import decode_dss_signature

from witnessmark.proof.canonical import canonical, sha256_hex
from witnessmark.proof.entries import links, links_of_no_job
from witnessmark.trade.ground.identifiers import uuid7
from witnessmark.trade.record.kinds import KINDS

ZERO = "0" * 64
# (method, path, json or None, headers) -> (status, json, headers)
Speak = Callable[[str, str, dict | None, dict], tuple[int, dict, dict]]


class Phone:
    """One phone. `entry` makes the next entry of its chain; `push` sends some; `outbox` is what has no receipt yet."""

    def __init__(self, speak: Speak, author: str = "") -> None:
        self._speak = speak
        self._private = ec.generate_private_key(ec.SECP256R1())
        self.author = author
        self.workshop = self.device = self.letter = self.token = ""
        self.sequence, self.previous = 0, ZERO
        self.last_of_job: dict[str, tuple[dict, str]] = {}
        self.log: dict | None = None
        self.outbox: list[dict] = []

    @property
    def public_key(self) -> str:
        spki = self._private.public_key().public_bytes(
            serialization.Encoding.DER, serialization.PublicFormat.SubjectPublicKeyInfo
        )
        return base64.b64encode(spki).decode()

    def sign(self, data: bytes) -> str:
        r, s = decode_dss_signature(self._private.sign(data, ec.ECDSA(hashes.SHA256())))
        return base64.b64encode(r.to_bytes(32, "big") + s.to_bytes(32, "big")).decode()

    def join(self, code: str, name: str = "Phone in bay 2", **more) -> tuple[int, dict]:
        payload = {"protocol": 1, "code": code, "name": name, "public_key": self.public_key, "platform": "test"} | more
        payload = {"proof": self.proof(payload)} | payload
        status, answer, _ = self._speak("POST", "/api/sync/join", payload, {})
        if status == 201:
            self.workshop, self.token = answer["workshop"]["id"], answer["token"]
            self.device, self.letter = answer["device"]["id"], answer["device"]["letter"]
            self.author = self.author or answer["people"][0]["id"]
        return status, answer

    def proof(self, payload: dict) -> str:
        """The signature that shows that this phone holds the key it asks to join with."""
        claims = {key: payload[key] for key in ("code", "name", "platform", "public_key")}
        return self.sign(canonical(claims | {"device": payload.get("device", ""), "purpose": "join"}))

    def get(self, path: str) -> tuple[int, dict]:
        status, answer, _ = self._speak("GET", path, None, self._headers())
        return status, answer

    def post(self, path: str, body: dict) -> tuple[int, dict]:
        status, answer, _ = self._speak("POST", path, body, self._headers())
        return status, answer

    def entry(self, kind: str = "note_made", job: str | None = None, **changes) -> dict:
        """The next entry of the chain, as plain values; `changes` replace fields, also wrongly."""
        body = {"text": "Crankpin 2 blued, oil hole dry."} if kind == "note_made" else {}
        entry = {
            "author": self.author,
            "body": body,
            "claimed": datetime.now().astimezone().isoformat(timespec="milliseconds"),
            "clock": {"boot": "0a1b2c3d", "monotonic_ms": 5, "offset_age_s": None, "offset_ms": None, "zone": "UTC"},
            "device": self.device,
            "id": uuid7(),
            "job": job,
            "kind": kind,
            "links": links(self.last_of_job.get(job), self.log) if job else links_of_no_job(self.log),
            "location": None,
            "media": [],
            "previous": self.previous,
            "sequence": self.sequence + 1,
            "stage": None,
            "version": KINDS[kind].latest if kind in KINDS else 1,
            "workshop": self.workshop,
        }
        return entry | changes

    def keep(self, entry: dict) -> dict:
        """Signs an entry, chains it and puts it into the outbox; returns it as it is sent."""
        data = canonical(entry)
        self.sequence, self.previous = entry["sequence"], sha256_hex(data)
        if entry.get("job") and "links" in entry:
            self.last_of_job[entry["job"]] = (entry, self.previous)
        sent = {"bytes": data.decode(), "signature": self.sign(data)}
        self.outbox.append(sent)
        return sent

    def note(self, job: str, text: str = "Crankpin 2 blued, oil hole dry.", **changes) -> dict:
        """Makes and keeps a note on a job."""
        return self.keep(self.entry("note_made", job, body={"text": text}, **changes))

    def open_job(self, number: str = "24-118", engine_type: str = "", **facts) -> str:
        """Makes and keeps the entry that opens a job; returns the job's id."""
        job = uuid7()
        body = {
            "number": number,
            "vehicle": "Harbour launch Marrow",
            "registration": "HL 41",
            "engine_type": engine_type or str(uuid.UUID(int=7, version=4)),
            "engine_number": "K-20331",
            "distance": "4180",
            "distance_unit": "h",
            "complaint": "Ran hot, then lost oil pressure",
            "received_as": "Complete engine, drained",
            "earlier_job": "",
        }
        self.keep(self.entry("job_opened", job, body=body | facts))
        return job

    def ask_push(self, entries: Sequence[dict], lost: Sequence[int] = (), **changes) -> dict:
        """The body of a push of these entries."""
        return {
            "protocol": 1,
            "device_time": datetime.now().astimezone().isoformat(timespec="milliseconds"),
            "announced": self.sequence,
            "entries": list(entries),
            "lost": [{"sequence": number} for number in lost],
        } | changes

    def push(self, entries: Sequence[dict] | None = None, lost: Sequence[int] = (), **changes) -> tuple[int, dict]:
        """Sends entries (the outbox if none are named); what has a receipt leaves the outbox, nothing else does."""
        sent = list(self.outbox if entries is None else entries)
        status, answer = self.post("/api/sync/push", self.ask_push(sent, lost, **changes))
        if status == 200:
            head = json.loads(answer["head"]["bytes"])
            self.log = {"root": head["root"], "size": head["size"]}
            done = {r["hash"] for r in answer["results"] if r["result"] in ("stored", "duplicate")}
            self.outbox = [row for row in self.outbox if sha256_hex(row["bytes"].encode()) not in done]
        return status, answer

    def _headers(self) -> dict:
        return {"Authorization": f"Bearer {self.token}"}
