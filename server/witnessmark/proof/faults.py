"""What the verifier reports: every fault with its place, what was expected and what was found."""

from __future__ import annotations

from typing import NamedTuple

from witnessmark.proof.sentences import say


class Unreadable(Exception):
    """The pack could not be opened at all, so nothing in it could be checked."""


class Fault(NamedTuple):
    """One thing that is wrong. `step` is the number of the check in verify.py, `path` the file it is about."""

    step: int
    path: str
    expected: str
    found: str

    def __str__(self) -> str:
        return say("proof.report.fault", **self._asdict())


class Report:
    """All faults and remarks of one verification. Well means: every step was finished and found no fault.

    A pack made to be tiresome can have a fault in every byte: MOST of each are kept, the rest are counted.
    """

    MOST = 1000

    def __init__(self) -> None:
        self.faults: list[Fault] = []
        self.faults_more = 0
        self.remarks: list[str] = []
        self.remarks_more = 0
        self.facts: dict[str, object] = {}
        # Steps that this program could not finish, by no proven fault of the pack: number -> what stopped it.
        self.unfinished: dict[int, str] = {}
        self._kept: set[Fault] = set()

    def fault(self, step: int, path: str, expected: str, actual: str) -> None:
        """Adds one fault. The same fault met by several checks is reported once."""
        fault = Fault(step, path, expected, actual)
        if fault in self._kept:
            return
        if len(self.faults) == self.MOST:
            self.faults_more += 1
            return
        self.faults.append(fault)
        self._kept.add(fault)

    def remark(self, text: str) -> None:
        """Adds something a reader should know that is no fault."""
        if len(self.remarks) == self.MOST:
            self.remarks_more += 1
            return
        self.remarks.append(text)

    @property
    def number(self) -> int:
        """How many faults were met; those beyond MOST are not told apart."""
        return len(self.faults) + self.faults_more

    @property
    def well(self) -> bool:
        """Whether everything was checked and is as it should be."""
        return not self.faults and not self.unfinished
