"""The events of a schedule, each a method `on_<name>` of the bed that carries it out; `schedule.py` draws them."""

from __future__ import annotations

import base64
import json
import random

from sqlalchemy import select

from tests.simulation.bed import BEGIN, BETWEEN_MS, MOST_REQUESTS, Bed, Broken, Phone
from tests.simulation.server import clock, faults
from witnessmark.db import reading, writing
from witnessmark.log import tables as log_tables
from witnessmark.media.uploads import Uploads
from witnessmark.projections import apply as projections
from witnessmark.sync import marks


class ScheduledBed(Bed):
    """A bed that carries out events, one after the other."""

    def run(self, events: list[list]) -> None:
        for event in events:
            self.note(f"{clock.now - BEGIN:>9} {json.dumps(event)}")
            name, *details = event
            getattr(self, f"on_{name}")(*details)
            clock.now += BETWEEN_MS

    # Events: what people do

    def _make(self, name: str, call: str, job: int, *given) -> None:
        phone = self.phone(name)
        if not phone.alive or not phone.seen["joined"]:
            return
        if not phone.seen["jobs"]:
            self.call(phone, "openJob", f"24-{self.number}", self.server.made.engine_type)
        if phone.alive and (id := self.job_of(phone, job)):
            self.call(phone, call, id, *given)

    def on_note(self, name: str, job: int) -> None:
        self._make(name, "note", job, "bore/3", f"Bore 3 scored, look {self.number}.")

    def on_stage(self, name: str, job: int, stage: str) -> None:
        self._make(name, "stage", job, stage)

    def on_refused_note(self, name: str, job: int) -> None:
        """A record that the workshop's rules refuse: the engine has no such place."""
        self._make(name, "note", job, "bore/99", f"Nowhere, look {self.number}.")

    def on_photo(self, name: str, job: int, size: int, preview: bool) -> None:
        rng = random.Random(self.seed * 7919 + len(self.pictures))
        self.pictures.append(b"\xff\xd8\xff\xe0" + rng.randbytes(size))
        self._make(name, "photo", job, "bore/3", _bytes(self.pictures[-1]), preview)

    def on_same_photo(self, name: str, job: int) -> None:
        if self.pictures:
            self._make(name, "photo", job, "bore/1", _bytes(self.pictures[-1]), False)

    def on_document(self, name: str, job: int, size: int) -> None:
        rng = random.Random(self.seed * 104729 + self.number)
        self._make(name, "document", job, "", _bytes(b"%PDF-1.7" + rng.randbytes(size)))

    def on_job(self, name: str) -> None:
        phone = self.phone(name)
        if phone.alive and phone.seen["joined"]:
            self.call(phone, "openJob", f"24-{self.number}", self.server.made.engine_type)

    def on_answer(self, name: str, which: int, kind: str) -> None:
        phone = self.phone(name)
        if phone.alive and phone.saved:
            self.call(phone, "answer", phone.saved[which % len(phone.saved)].id, f"Look {self.number}", kind)

    def on_send(self, name: str) -> None:
        phone = self.phone(name)
        if phone.alive:
            self.call(phone, "sendNow")

    def on_free(self, name: str) -> None:
        phone = self.phone(name)
        if phone.alive:
            self.call(phone, "free")

    def on_choose(self, name: str, job: int) -> None:
        phone = self.phone(name)
        if phone.alive and (id := self.job_of(phone, job)):
            self.call(phone, "choose", id)

    def on_try_again(self, name: str) -> None:
        phone = self.phone(name)
        if phone.alive:
            self.call(phone, "tryAgain")

    def on_desk_note(self, index: int) -> None:
        c = log_tables.entries.c
        with reading(self.server.engine) as conn:
            jobs = sorted(set(conn.scalars(select(c.job).where(c.job.is_not(None)))))
        if jobs:
            self.server.desk_note(jobs[index % len(jobs)], f"From the desk, look {self.number}.")

    def on_join(self, name: str) -> None:
        """Joins with whatever goes wrong just then; a later mention tries again with the same code."""
        phone = self.phones.get(name) or self.phones.setdefault(name, Phone(name))
        if phone.started:
            return
        phone.started = True
        self.open(phone)
        if phone.alive:
            self.join(phone)

    def on_rejoin(self, name: str) -> None:
        """A fresh code typed into a phone that has joined, or whose joining went wrong."""
        phone = self.phone(name)
        if phone.alive:
            self.join(phone)

    def on_block(self, name: str) -> None:
        phone = self.phone(name)
        if phone.alive and phone.seen["device"] and self.is_known(phone.seen["device"]):
            self.server.block(phone.seen["device"])

    def on_replace(self, name: str) -> None:
        """A blocked phone is emptied, which the person knows, and joins as a new one."""
        phone = self.phone(name)
        if not phone.alive or not self.is_blocked(phone.seen["device"]):
            return
        self._do([["wipe", name]])
        self.wiped += phone.saved
        phone.saved, phone.seen = [], None
        self._requests_of_the_dead(name)
        self.join_at_once(phone)

    # Events: what goes wrong

    def on_serve(self, count: int) -> None:
        for _ in range(min(count, MOST_REQUESTS)):
            if self.pending:
                self.deliver(self.pending.pop(0))

    def _arm_network(self, sort: str, soon: int, *details) -> None:
        self.network.append([sort, soon, *details])

    def on_deliver_late(self, count: int) -> None:
        """Requests that nobody waits for any more arrive after all."""
        for _ in range(min(count, len(self.late))):
            self._arrive_late(self.late.pop(0))

    def on_wait(self, seconds: int) -> None:
        """Time passes: whoever waits for an answer gives up, and the app's own timer runs."""
        clock.now += seconds * 1000
        given_up, self.pending = self.pending, []
        self.late += given_up
        self._do([["fail", request["number"], "late"] for request in given_up])

    def _arm_phone(self, name: str, sort: str, steps: int) -> None:
        phone = self.phone(name)
        arming = ["arm", name, sort, steps]
        if phone.alive:
            self._do([arming])
        else:
            phone.armed = [arming]

    def on_kill_phone(self, name: str, steps: int) -> None:
        self._arm_phone(name, "kill", steps)

    def on_abort(self, name: str, steps: int) -> None:
        self._arm_phone(name, "abort", steps)

    def on_lost_commit(self, name: str, steps: int) -> None:
        self._arm_phone(name, "lost_commit", steps)

    def on_phone_full(self, name: str) -> None:
        self._do([["full", self.phone(name).name, True]])

    def on_phone_room(self, name: str) -> None:
        self._do([["full", self.phone(name).name, False]])

    def on_phone_clock(self, name: str, seconds: int) -> None:
        self._do([["skew", self.phone(name).name, seconds * 1000]])

    def on_server_clock(self, seconds: int) -> None:
        clock.server_skew += seconds * 1000

    def on_kill_server(self, steps: int) -> None:
        faults.kill = steps

    def on_server_error(self, steps: int) -> None:
        faults.error = steps

    def on_server_full(self) -> None:
        faults.full = True

    def on_server_room(self) -> None:
        faults.full = False

    def on_sweep(self) -> None:
        Uploads(self.server.settings, self.server.engine).sweep(-1)

    def on_rebuild(self) -> None:
        with writing(self.server.engine) as conn:
            projections.rebuild(conn)

    def on_back_up(self) -> None:
        done = self.server.back_up(keep=self.backed_up)
        self.backed_up = self.backed_up or done
        self.note(f"          backup {'made' if done else 'cut off'}")

    def on_keep_database(self) -> None:
        self.server.keep_database()
        self.copied = True

    def on_restore(self) -> None:
        if self.backed_up:
            self._put_back("backup")

    def on_restore_older(self) -> None:
        """Somebody takes the backup before the newest one."""
        if self.server.has_older_backup():
            self.older_put_back += 1
            self._put_back("backup-before")

    def on_restore_copy(self) -> None:
        # A server whose disk was full could not note what it promised, and takes an older database for its own: phones
        # say so, and send nothing until that is noted in the record. No run can settle that.
        if self.copied and marks.issued(self.server.settings) >= len(self.log_hashes()):
            self._put_back("copy.db")

    def _put_back(self, source: str) -> None:
        before = self.log_hashes()
        self.server.restore(source)
        after = self.log_hashes()
        kept = next((at for at, pair in enumerate(zip(before, after, strict=False)) if pair[0] != pair[1]), len(before))
        kept = min(kept, len(after))
        # Where a new epoch began, the log says so in one record of its own. An older backup may hold such a record of
        # another time, which was in the log once.
        if not set(after[kept:-1]) <= self.cut:
            raise Broken("the restored log is not the beginning of the one before")
        self.cuts.append(kept)
        self.cut = (self.cut | set(before[kept:])) - set(after)
        self.note(f"          the log has {kept} of {len(before)} entries left")
        # A copy from before a restore is of another log by then: put back by hand it is a fork, and phones say so.
        self.copied = False


def _bytes(data: bytes) -> dict:
    return {"base64": base64.b64encode(data).decode()}


for _sort in ("lose_request", "lose_answer", "cut_request", "cut_answer", "twice", "stranger", "hold", "late"):

    def _arming(self, *details, sort=_sort) -> None:
        self._arm_network(sort, *details)

    setattr(ScheduledBed, f"on_{_sort}", _arming)
