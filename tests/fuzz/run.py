"""Asks in rounds, half by the description and half with something wrong, and gathers what went wrong."""

from __future__ import annotations

import json
import logging
import time
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from random import Random

from tests.fuzz import samples
from tests.fuzz.asking import Answer, Request, ask
from tests.fuzz.described import Described
from tests.fuzz.judging import Errors, Judge
from tests.fuzz.odd import changed, odd
from tests.fuzz.workshop import Filled

A_ROUND = 12  # requests of each sort for each operation, before the next one's turn
PUSHES = 120  # what may enter the log deserves more than an equal share
FRESH_AFTER = 1000  # requests to one copy of the workshop: it grows by them, and answers get slow
LOOK_AFTER = 40  # requests until it is looked whether the manager and the phone may still ask


@dataclass
class Result:
    """`faults` maps what is wrong, with its operation, to a request that shows it."""

    requests: int = 0
    seconds: float = 0.0
    copies: int = 0
    statuses: Counter[int] = field(default_factory=Counter)
    sorts: Counter[str] = field(default_factory=Counter)
    answered_well: Counter[str] = field(default_factory=Counter)
    stored: int = 0
    faults: dict[str, str] = field(default_factory=dict)
    times: Counter[str] = field(default_factory=Counter)


class _Enough(Exception):
    """As many requests as were wanted."""


class Fuzz:
    """`run` asks until `wanted` requests were made, or so many minutes are over. The workshop's copy is in `folder`."""

    def __init__(self, filled: Filled, folder: Path, seed: int, report: Callable[[str], None] = print) -> None:
        self.filled, self.folder, self.seed, self.report = filled, folder, seed, report
        self.result = Result()
        self.errors = Errors()
        self.office = filled.copy(folder / "copy")
        self._renew()
        description = json.loads(ask(self.office.app, Request("", "GET", "/api/openapi.json")).body)
        self.labels = samples.labels(description)
        self.judge = Judge(description)
        self.described = Described(self.office.app, filled)
        self.good = samples.samples(filled, self.labels)
        self.entries = samples.entries(filled)

    def run(self, wanted: int, minutes: float = float("inf")) -> Result:
        begun, root = time.monotonic(), logging.getLogger()
        self.until = begun + 60 * minutes
        root.addHandler(self.errors)
        self.wanted = wanted
        number = 0
        try:
            self._good_ones()
            while True:
                number += 1
                self._round(number)
        except _Enough:
            return self.result
        finally:
            self.result.seconds = time.monotonic() - begun
            root.removeHandler(self.errors)
            self.office.engine.dispose()

    def _good_ones(self) -> None:
        """Each as it is, on a workshop that nobody has changed: all of them must be answered well."""
        for request, *_ in self.good.values():
            answer = self._ask(request, "good")
            if answer.status >= 300:
                self._fault(request, f"a good request is answered {answer.status} {answer.body[:200]!r}")
            if request.method not in ("GET", "HEAD", "OPTIONS"):
                self._renew()

    def _round(self, number: int) -> None:
        random = Random(f"{self.seed} {number}")
        turns = [(label, sort) for label in self.labels for sort in ("described", "broken", "odd")]
        turns += [("POST /api/sync/push", "entry")] * PUSHES
        random.shuffle(turns)
        for label, sort in turns:
            if sort == "odd":
                for _ in range(5 * A_ROUND if self._varied(label) else A_ROUND):
                    self._ask(odd(random.choice(self.good[label]), self.filled, random), "odd")
            elif sort == "entry":
                self._push(random)
            else:
                self.described.each(
                    label, self._share(label, sort), self.seed * 1_000_003 + number, sort == "broken",
                    lambda request, sort=sort: self._ask(request, sort),
                )  # fmt: skip

    def _share(self, label: str, sort: str) -> int:
        """How many of a sort schemathesis makes in a round; breaking a body takes it far longer than making one."""
        if not self._varied(label):
            return 1
        return A_ROUND if sort == "described" else A_ROUND // 2

    def _varied(self, label: str) -> bool:
        """Whether there is more to ask than for the thing itself: a body or a query."""
        return any(good.query or good.body for good in self.good[label])

    def _push(self, random: Random) -> None:
        """An entry with something wrong in it, rightly signed and chained: it is met by the checks further in."""
        phone = self.filled.phone
        entry = random.choice(self.entries)
        head = phone.entry(entry["kind"], entry["job"])
        entry = entry | {name: head[name] for name in ("sequence", "previous", "id", "claimed")}
        if random.random() < 0.9:
            part = random.choice(("body", "body", "location", "media", "all"))
            entry = changed(entry, self.filled, random) if part == "all" else entry | {
                part: changed(entry[part], self.filled, random)
            }  # fmt: skip
        try:
            request = samples.push_of(self.filled, entry)
        except (ValueError, RecursionError):
            return
        answer = self._ask(request, "entry")
        if answer.status == 200:
            [outcome] = json.loads(answer.body)["results"]
            if outcome["result"] in ("stored", "refused"):
                phone.sequence, phone.previous = head["sequence"], request.entry_hash
            self.result.stored += outcome["result"] == "stored"

    def _ask(self, request: Request, sort: str) -> Answer:
        if self.result.requests >= self.wanted or time.monotonic() > self.until:
            raise _Enough
        self._keep_going()
        self.result.requests += 1
        self.result.sorts[sort] += 1
        try:
            answer = ask(self.office.app, request)
        except Exception as error:
            self._fault(request, f"it raised {type(error).__name__}: {str(error)[:200]}")
            return Answer(500, {}, b"")
        self.result.statuses[answer.status] += 1
        self.result.answered_well[request.label] += answer.status < 300
        for fault in [*self.errors.found, *self.judge.faults(request, answer)]:
            self._fault(request, fault)
        self.errors.found.clear()
        return answer

    def _fault(self, request: Request, fault: str) -> None:
        key = f"{request.label}: {fault}"
        self.result.times[key] += 1
        if key not in self.result.faults:
            self.result.faults[key] = request.as_line()
            self.report(f"FAULT after {self.result.requests} requests: {key}\n    {request.as_line()}")

    def _keep_going(self) -> None:
        """Another copy when this one has seen enough, or when somebody was signed out, blocked or changed."""
        self._since += 1
        if self._since >= FRESH_AFTER or (self._since % LOOK_AFTER == 0 and not self._may_ask()):
            self._renew()

    def _may_ask(self) -> bool:
        office = samples.credentials(self.filled, "GET /api/office/me")
        phone = samples.credentials(self.filled, "GET /api/sync/state")
        return all(
            ask(self.office.app, Request("", "GET", path, headers=headers)).status == 200
            for path, headers in (("/api/office/me", office), ("/api/sync/state", phone))
        )

    def _renew(self) -> None:
        self.filled.renew(self.office)
        self.result.copies += 1
        self._since = 0
