"""One run: phones, server and the network between them, how all settles, and what was promised on the way."""

from __future__ import annotations

import base64
import json
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

from sqlalchemy import select

from tests.simulation import server as simulated
from tests.simulation.phones import Phones
from tests.simulation.server import PIN, TECHNICIAN, Server, Template, clock, faults
from witnessmark.db import reading
from witnessmark.log import tables as log_tables
from witnessmark.people import devices

BEGIN = 1_778_745_600_000
MOST_ROUNDS = 9
MOST_REQUESTS = 150  # of one round: more is a loop that does not end
BETWEEN_MS = 40


class Broken(AssertionError):
    """A promise was broken; the message says which."""


@dataclass
class Saved:
    """A record that a phone called saved."""

    id: str
    hash: str
    sequence: int
    media: list[str]
    device: str


@dataclass
class Phone:
    """What the bed knows of a phone. `saved` is of its present store; `number` counts stores and lives."""

    name: str
    lives: int = 0
    started: bool = False
    seen: dict | None = None
    saved: list[Saved] = field(default_factory=list)
    armed: list[list] = field(default_factory=list)
    code: str = ""

    @property
    def alive(self) -> bool:
        return self.seen is not None


class Bed:
    """Phones, a server and the network between them. `trace` says what happened, a line each."""

    def __init__(self, made: Template, phones: Phones, folder: Path, seed: int, changes: Sequence = ()) -> None:
        clock.now, clock.server_skew = BEGIN, 0
        simulated.faults.__init__()
        self.seed = seed
        self.trace: list[str] = []
        self.server = Server(made, folder)
        self.node = phones
        self.phones: dict[str, Phone] = {}
        self.pending: list[dict] = []
        self.late: list[dict] = []
        self.network: list[list] = []
        self.calls: dict[int, tuple[Phone, str]] = {}
        self.number = 0
        self.pictures: list[bytes] = []
        self.outcomes: dict[int, dict] = {}
        # What the server promised: hash -> how often it was named as stored; SHA-256 of originals it said are here.
        self.receipts: set[str] = set()
        self.here: set[str] = set()
        # (epoch, size, root) of every head that reached a phone.
        self.heads: set[tuple[str, int, str]] = set()
        # What the log lost when a backup was put back: the size that was left each time, and the hashes that went.
        self.cuts: list[int] = []
        self.cut: set[str] = set()
        self.older_put_back = 0
        self.wiped: list[Saved] = []
        self.backed_up = self.copied = False
        self._do([["reset", list(changes)]])

    def note(self, line: str) -> None:
        self.trace.append(line)

    # Phones and their calls

    def phone(self, name: str) -> Phone:
        """The phone, running. At its first mention it has joined and nothing else, see `Runner`; D joins by itself."""
        phone = self.phones.get(name) or self.phones.setdefault(name, Phone(name))
        if not phone.started:
            phone.started = True
            if name in self.server.made.joined:
                self._do([["given", name]])
        if not phone.alive:
            self.open(phone)
        if phone.alive and phone.seen["joined"] and not phone.seen["signedIn"]:
            self.sign_in(phone)
        return phone

    def join_at_once(self, phone: Phone) -> None:
        """Joins and signs in with nothing going wrong meanwhile."""
        calm, self.network = self.network, []
        others, self.pending = self.pending, []
        harm, simulated.faults.kill = simulated.faults.kill, None
        error, simulated.faults.error = simulated.faults.error, None
        full, simulated.faults.full = simulated.faults.full, False
        self.open(phone)
        self.join(phone)
        self.serve_all()
        self.sign_in(phone)
        self.network, self.pending = calm, others
        simulated.faults.kill, simulated.faults.error, simulated.faults.full = harm, error, full

    def open(self, phone: Phone) -> None:
        phone.lives += 1
        armed, phone.armed = phone.armed, []
        self.number += 1
        self.calls[self.number] = (phone, "open")
        seed = self.seed * 1000 + ord(phone.name) * 100 + phone.lives
        opening = ["call", phone.name, self.number, "open", []]
        self._do([["open", phone.name, seed & 0xFFFFFFFF], *armed, opening])

    def call(self, phone: Phone, name: str, *given) -> int:
        """Has the page do something; what it comes to is in `outcomes` as soon as it has ended."""
        self.number += 1
        self.calls[self.number] = (phone, name)
        self._do([["call", phone.name, self.number, name, list(given)]])
        return self.number

    def join(self, phone: Phone, code: str = "") -> int:
        phone.code = code or self.server.invite()
        return self.call(phone, "join", phone.code, f"Phone {phone.name}")

    def sign_in(self, phone: Phone) -> None:
        if phone.alive:
            self.call(phone, "signIn", TECHNICIAN, PIN)

    def _do(self, actions: list[list]) -> None:
        clock.now += BETWEEN_MS
        answer = self.node.do(clock.now, actions)
        clock.now = answer["now"]
        for name, seen in answer["seen"].items():
            phone = self.phones.get(name)
            if phone is None:
                continue
            if seen is None and phone.seen is not None:
                self.note(f"          {name} is gone")
                self._requests_of_the_dead(name)
            phone.seen = seen
        for line in answer["unheard"]:
            self.note(f"          nobody waited for: {line[:120]}")
        for request in answer["outgoing"]:
            self.pending.append(request)
        for outcome in answer["outcomes"]:
            self._outcome(outcome)

    def _outcome(self, outcome: dict) -> None:
        phone, name = self.calls.pop(outcome["call"])
        self.outcomes[outcome["call"]] = outcome
        value = outcome.get("value")
        if "fault" in outcome:
            self.note(f"          {phone.name} {name}: {outcome['sort']}: {outcome['fault'][:120]}")
        if name in ("openJob", "note", "photo", "document", "answer", "stage") and value:
            device = (phone.seen or {}).get("device", "")
            phone.saved.append(Saved(value["id"], value["hash"], value["sequence"], value["media"], device))
            self.note(f"          {phone.name} saved {name} number {value['sequence']}")

    def _requests_of_the_dead(self, name: str) -> None:
        """What had left the phone may still arrive; nobody waits for the answer."""
        self.late += [request for request in self.pending if request["phone"] == name]
        self.pending = [request for request in self.pending if request["phone"] != name]

    def job_of(self, phone: Phone, index: int) -> str:
        jobs = phone.seen["jobs"]
        return jobs[index % len(jobs)] if jobs else ""

    # The network

    def serve_all(self) -> None:
        for _ in range(MOST_REQUESTS):
            if not self.pending:
                return
            self.deliver(self.pending.pop(0))
        raise Broken(f"after {MOST_REQUESTS} requests there is still another: {self.pending[0]['path']}")

    def deliver(self, request: dict) -> None:
        number, what = request["number"], f"{request['phone']} {request['method']} {request['path'][:60]}"
        sort, *details = self._fault()
        if sort == "hold" and self.pending:
            self.pending.append(request)
            self.note(f"          {what}: held back")
            return
        if sort == "lose_request":
            self.note(f"          {what}: lost")
            return self._do([["fail", number, "cut"]])
        if sort == "late":
            self.late.append(request)
            self.note(f"          {what}: late")
            return self._do([["fail", number, "late"]])
        if sort == "stranger":
            body = base64.b64encode(b"<html>Please accept our terms.</html>").decode()
            self.note(f"          {what}: a stranger answers")
            page = {"status": 200, "headers": [["Content-Type", "text/html"]], "body": body, "cut": False}
            return self._do([["answer", number, page]])
        answer = self.server.answer(request, details[0] if sort == "cut_request" else 1.0)
        self._promised(request, answer)
        if sort == "twice" and answer:
            answer = self.server.answer(request)
            self._promised(request, answer)
        self.note(f"          {what}: {sort} {answer['status'] if answer else 'the server died'}")
        if answer is None or sort in ("lose_answer", "cut_request"):
            return self._do([["fail", number, "cut"]])
        if sort == "cut_answer":
            answer |= {"cut": True}
        else:
            self._reached(answer)
        self._do([["answer", number, answer]])

    def _fault(self) -> list:
        for fault in self.network:
            fault[1] -= 1
        due = next((fault for fault in self.network if fault[1] < 0), None)
        if due is None:
            return [""]
        self.network.remove(due)
        return [due[0], *due[2:]]

    def _promised(self, request: dict, answer: dict | None) -> None:
        """What an answer promises, whether or not it reaches anybody."""
        if answer is None or answer["status"] >= 300:
            return
        path = request["path"]
        if path == "/api/sync/push":
            results = json.loads(base64.b64decode(answer["body"]))["results"]
            self.receipts |= {result["hash"] for result in results if result["result"] in ("stored", "duplicate")}
        elif path == "/api/media/have":
            self.here |= set(json.loads(base64.b64decode(answer["body"]))["here"])

    def _reached(self, answer: dict) -> None:
        if answer["status"] >= 300 or dict(map(tuple, answer["headers"])).get("Content-Type") != "application/json":
            return
        body = json.loads(base64.b64decode(answer["body"]))
        if "head" in body:
            head = json.loads(body["head"]["bytes"])
            self.heads.add((head["epoch"], head["size"], head["root"]))

    def _arrive_late(self, request: dict) -> None:
        answer = self.server.answer(request)
        self._promised(request, answer)
        self.note(f"          late: {request['method']} {request['path'][:60]}: {answer and answer['status']}")

    # What the server knows

    def log_hashes(self) -> list[str]:
        c = log_tables.entries.c
        with reading(self.server.engine) as conn:
            return list(conn.scalars(select(c.hash).order_by(c.position)))

    def is_known(self, device: str) -> bool:
        with reading(self.server.engine) as conn:
            return devices.is_known(conn, self.server.made.workshop.id, device)

    def is_blocked(self, device: str) -> bool:
        if not self.is_known(device):
            return False
        with reading(self.server.engine) as conn:
            return devices.get(conn, self.server.made.workshop.id, device).revoked is not None

    # The end

    def settle(self) -> None:
        """Nothing goes wrong any more, what is late arrives, each app is opened again, all send until all is still."""
        faults.kill = faults.error = None
        faults.full = False
        self.network = []
        self.note("          settling")
        for name in self.phones:
            self._do([["calm", name], ["full", name, False]])
            self.phones[name].armed = []
        while self.late:
            self._arrive_late(self.late.pop(0))
        self.serve_all()
        stands: dict[str, list] = {name: [] for name in self.phones}
        for number in range(MOST_ROUNDS):
            # Now and then everybody sends once more although all is done: nothing may change by it.
            again = number == 1 and self.seed % 4 == 0
            todo = [phone for phone in self.phones.values() if again or not self._is_done(phone, stands[phone.name])]
            if not todo:
                return
            for phone in todo:
                self._send_all(phone, first=number == 0)
                stands[phone.name].append(self._stand(phone))
        raise Broken(f"it does not settle in {MOST_ROUNDS} rounds")

    def _stand(self, phone: Phone) -> tuple:
        return (self.log_hashes(), phone.seen["waiting"], phone.seen["why"])

    def _is_done(self, phone: Phone, stands: list) -> bool:
        """It has sent and fetched since the log last grew; if it still has something, twice without getting further."""
        if not stands or stands[-1] != self._stand(phone):
            return False
        waiting, why = phone.seen["waiting"], phone.seen["why"]
        is_quiet = not why and waiting["records"] + waiting["pictures"] + waiting["sounds"] == 0
        return is_quiet or stands[-2:-1] == stands[-1:]

    def _send_all(self, phone: Phone, first: bool) -> None:
        """One run of sending and fetching; the first time by opening the app again, which begins with one."""
        if first:
            self._do([["kill", phone.name]])
            self.open(phone)
        elif phone.seen["joined"] and not phone.seen["shutDoor"]:
            self.call(phone, "sendNow")
        self.serve_all()
        if (not phone.seen["joined"] or phone.seen["shutDoor"]) and not self.is_blocked(phone.seen["device"]):
            self.join(phone)
            self.serve_all()
        if phone.seen["joined"] and not phone.seen["signedIn"]:
            self.sign_in(phone)

    def held(self, phone: Phone) -> dict:
        """All that a phone holds."""
        number = self.call(phone, "held")
        if number not in self.outcomes or "fault" in self.outcomes[number]:
            raise Broken(f"{phone.name} cannot be looked at: {self.outcomes.get(number)}")
        return self.outcomes[number]["value"]
