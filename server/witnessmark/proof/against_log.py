"""A pack against the exported log of its workshop (`verify --log LOG PACK`): whether the pack shows every record that
the log marks as one of its job.

Proven is: which leaves the log has, that the log fingerprints of pack and log are over them, and, of the records in the
pack, all that the log says of them. Of a record that is not in the pack, the log's word on its job, its device, its
number and its time is the workshop's own, signed by nobody; what stands behind its leaf can be asked for.
"""

from __future__ import annotations

from pathlib import Path
from typing import BinaryIO, NamedTuple

from witnessmark.proof import bag, entries, exported, heads, layout, record
from witnessmark.proof.compare import Read
from witnessmark.proof.exported import Line
from witnessmark.proof.faults import Report
from witnessmark.proof.merkle import Range
from witnessmark.proof.numbers import Numbers, TooMany
from witnessmark.proof.sentences import say
from witnessmark.proof.sources import open_source
from witnessmark.proof.times import moment

# Two packs against each other are 14.
STEP = 15
MOST_NAMED = 40


class UnreadableLog(Exception):
    """The exported log could not be opened or read."""


class Shown(NamedTuple):
    """What the log has to say of a record in the pack: the line, its job's mark left open for records of the job."""

    line: Line
    is_of_job: bool


def check_log(log: Path, pack: Path) -> Report:
    """Holds the pack at `pack`, checked by itself before, against the exported log. Raises Unreadable for the pack,
    UnreadableLog for the log."""
    source = open_source(pack, Report())
    try:
        held, key = Read(source), bag.server_key(source, Report())
    finally:
        source.close()
    report = Report()
    try:
        with open(log, "rb") as file:
            _LogCheck(log.name, file, held, key, report).run()
    except OSError as error:
        raise UnreadableLog(str(error)) from None
    return report


class _LogCheck:
    """One reading of a log. `file` stands at its beginning; nothing of it is held but what is found."""

    def __init__(self, name: str, file: BinaryIO, held: Read, key: bytes | None, report: Report) -> None:
        self.name, self.file, self.held, self.key, self.report = name, file, held, key, report
        self.shown = _shown(held)
        self.mark = _mark(held)
        self.names = _names(held)
        self.other_marks: dict[str | None, list[int]] = {}
        self.numbers = Numbers()
        self.tree = Range()
        self.marked = 0
        self.later: list[int] = []

    def run(self) -> None:
        if not self.held.head or self.key is None or self.mark is None:
            self.report.fault(STEP, layout.HEAD, say("proof.against.pack"), say("proof.against.no_pack"))
            return
        head = self._read_head()
        if head is None or not self._read_lines(head):
            return
        self._check_other_marks()
        for device, ranges in self.numbers.unaccounted().items():
            wanted = say("proof.against.every_number", device=self._device(device))
            self._fault(None, wanted, say("proof.against.nowhere", numbers=entries.ranges_words(ranges)))
        if self.later:
            numbers = _listed(self.later)
            self.report.remark(say("proof.against.later", size=self.held.head.size, positions=numbers))
        self.report.facts.update(log_size=head.size, pack_size=self.held.head.size, log_records_of_job=self.marked)

    def _read_head(self) -> heads.Head | None:
        """The log's own fingerprint, of the pack's workshop and key, and over no shorter log; None ends the check."""
        own = self.held.head
        try:
            data, signature = exported.read_header(next(exported.raw_lines(self.file), b""))
            head = heads.read(data)
        except ValueError as error:
            self._fault(None, say("proof.against.header"), str(error))
            return None
        try:
            heads.check(data, signature, self.key)
        except ValueError as error:
            self._fault(None, say("proof.against.signed"), str(error))
            return None
        if head.workshop != own.workshop:
            self._fault(None, say("proof.record.of_workshop", workshop=own.workshop), head.workshop)
            return None
        if head.size < own.size:
            actual = say("proof.against.shorter", size=head.size)
            self._fault(None, say("proof.against.as_long", size=own.size), actual)
            return None
        return head

    def _read_lines(self, head: heads.Head) -> bool:
        """Every position; False where the log could not be read to its end."""
        before = None
        try:
            for line in self._lines(head.size):
                received = moment(line.received)
                if before and received < before:
                    self._fault(line.position, say("proof.times.in_order"), line.received)
                before = received
                self._check_line(line)
        except ValueError as error:
            self._fault(self.tree.size + 1, say("proof.against.line"), str(error))
            return False
        except TooMany as error:
            self.report.unfinished[STEP] = str(error)
            return False
        if self.tree.size < head.size:
            actual = say("proof.against.ends", size=self.tree.size)
            self._fault(None, say("proof.against.as_signed", size=head.size), actual)
            return False
        if self.tree.root() != head.root:
            self._fault(None, say("proof.against.own_root", size=head.size), say("proof.against.other_leaves"))
        signed = moment(head.time)
        if signed is None or (before and before > signed):
            self._fault(None, say("proof.times.not_after_head"), head.time)
        return True

    def _lines(self, size: int):
        for data in exported.raw_lines(self.file):
            if self.tree.size == size:
                raise ValueError(say("proof.against.more", size=size))
            line = exported.read_line(data)
            if line.position != self.tree.size + 1:
                raise ValueError(say("proof.against.position", position=line.position))
            self.tree.append(bytes.fromhex(line.leaf))
            yield line

    def _check_line(self, line: Line) -> None:
        own = self.held.head
        if line.position == own.size and self.tree.root() != own.root:
            self._fault(None, say("proof.against.begins", size=own.size), say("proof.against.other_beginning"))
        shown = self.shown.get(line.position)
        if shown:
            self._check_shown(line, shown)
        elif line.job == self.mark:
            self._note_unshown(line)
        if line.job == self.mark:
            self.marked += 1
        if fault := self.numbers.add(line.device, line.number):
            self._fault(line.position, say("proof.against.next_number", device=self._device(line.device)), fault)
        if line.refused:
            self.numbers.refuse(*line.refused)

    def _check_shown(self, line: Line, shown: Shown) -> None:
        if shown.is_of_job and line.job != self.mark:
            self.other_marks.setdefault(line.job, []).append(line.position)
        wanted = shown.line._replace(job=line.job) if shown.is_of_job else shown.line
        for name in Line._fields:
            value, stated = getattr(wanted, name), getattr(line, name)
            if value != stated:
                self._fault(line.position, say("proof.against.field", name=name, value=value), str(stated))

    def _note_unshown(self, line: Line) -> None:
        if line.position > self.held.head.size:
            self.later.append(line.position)
            return
        unshown = say(
            "proof.against.not_shown", device=self._device(line.device), number=line.number, received=line.received
        )
        self._fault(line.position, say("proof.against.of_job"), unshown)

    def _check_other_marks(self) -> None:
        """Records of the job that the log does not mark as such: the pack lacks the job's first record, or the log says
        another job. What else bears such a mark is looked for in a second reading."""
        if not self.other_marks:
            return
        positions = sorted(position for some in self.other_marks.values() for position in some)
        self._fault(None, say("proof.against.marks", positions=_listed(positions)), say("proof.against.other_mark"))
        marks = set(self.other_marks) - {None}
        self.file.seek(0)
        lines = exported.raw_lines(self.file)
        next(lines, None)
        for data in lines:
            line = exported.read_line(data)
            if line.job in marks and line.position not in self.shown:
                self._note_unshown(line)

    def _device(self, device: str) -> str:
        return self.names.get(device, device)

    def _fault(self, position: int | None, expected: str, actual: str) -> None:
        where = self.name if position is None else say("proof.receipt.where", file=self.name, position=position)
        self.report.fault(STEP, where, expected, actual)


def _shown(held: Read) -> dict[int, Shown]:
    """By position what the log has to say of each record in the pack whose receipt is about it."""
    shown = {}
    for position, entry in held.entries.items():
        receipt = held.receipts.get(position)
        try:
            if receipt is None or receipt["hash"] != entry.hash:
                continue
            leaf = entries.leaf(entry.hash, receipt["signature"], position, receipt["received"], receipt["offset_ms"])
        except ValueError:
            continue  # no stamp could be made of it: a fault of the pack, in its own report
        value, body = entry.value, entry.value["body"]
        refused = (body.get("device"), body.get("sequence")) if value["kind"] == "entry_refused" else None
        line = Line(position, receipt["received"], leaf.hex(), value["device"], value["sequence"], None, refused)
        shown[position] = Shown(line, value["job"] == held.job)
    return shown


def _names(held: Read) -> dict[str, str]:
    """The devices that the pack knows, by id, in words."""
    entries = list(held.entries.values())
    enrolled = (entry.value["body"].get("device") for entry in entries if entry.value["kind"] == "device_enrolled")
    devices = {entry.value["device"] for entry in entries} | {device for device in enrolled if isinstance(device, str)}
    return {device: record.device_name(device, entries) for device in devices}


def _mark(held: Read) -> str | None:
    """The job's mark by the first of its records in the pack; None where there is none to go by."""
    own = [position for position, entry in held.entries.items() if entry.value["job"] == held.job]
    signature = held.receipts.get(min(own), {}).get("signature") if own else None
    if not isinstance(held.job, str) or not isinstance(signature, str):
        return None
    return exported.job_mark(held.job, signature)


def _listed(positions: list[int]) -> str:
    numbers = ", ".join(str(position) for position in positions[:MOST_NAMED])
    if len(positions) > MOST_NAMED:
        return say("proof.times.and_more", numbers=numbers, more=len(positions) - MOST_NAMED)
    return numbers
