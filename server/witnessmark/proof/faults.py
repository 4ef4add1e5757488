"""What the verifier has to say: every fault with its place, what was expected and what was found."""

from __future__ import annotations

from typing import NamedTuple


class Unreadable(Exception):
    """The pack could not be opened at all, so nothing can be said about what is in it."""


class Fault(NamedTuple):
    """One thing that is wrong. `step` is the number of the check in verify.py, `path` the file it is about."""

    step: int
    path: str
    expected: str
    found: str

    def __str__(self) -> str:
        return f"({self.step}) {self.path}: expected {self.expected}; found {self.found}"


class Report:
    """All faults and remarks of one verification. Well means: no fault."""

    def __init__(self) -> None:
        self.faults: list[Fault] = []
        self.remarks: list[str] = []
        self.facts: dict[str, object] = {}

    def fault(self, step: int, path: str, expected: str, found: str) -> None:
        """Writes down one fault and goes on. Said once, however many checks meet it."""
        fault = Fault(step, path, expected, found)
        if fault not in self.faults:
            self.faults.append(fault)

    def remark(self, text: str) -> None:
        """Writes down something a reader should know that is no fault."""
        self.remarks.append(text)

    @property
    def well(self) -> bool:
        """Whether everything that was checked is as it should be."""
        return not self.faults
