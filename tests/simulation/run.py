"""Runs schedules one after another on one pair of processes, and shortens one that fails."""

from __future__ import annotations

import logging
import shutil
import tempfile
import traceback
from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, replace
from pathlib import Path

from tests.simulation import invariants, schedule, server
from tests.simulation.bed import Bed, Broken
from tests.simulation.bed import Phone as BedPhone
from tests.simulation.events import ScheduledBed
from tests.simulation.phones import Phones


@dataclass
class Result:
    """What a schedule came to: `fault` is '' when every promise was kept."""

    seed: int
    events: list[list]
    fault: str
    trace: list[str]

    @property
    def sort(self) -> str:
        """The fault without what differs from run to run: numbers and hashes."""
        return "".join(c for c in self.fault.partition("\n")[0] if not c.isdigit())[:60]


class Runner:
    """Makes runs. `changes` are texts in the app and what stands there instead: to break something on purpose."""

    def __init__(self, folder: Path, phones: Phones, made: server.Template) -> None:
        self.folder, self.phones, self.made = folder, phones, made
        self.count = 0

    def run(self, seed: int, events: list[list], changes: Sequence[tuple[str, str]] = ()) -> Result:
        self.count += 1
        folder = self.folder / f"run-{self.count}"
        folder.mkdir()
        bed = ScheduledBed(self.made, self.phones, folder, seed, changes)
        fault = ""
        try:
            bed.run(events)
            bed.settle()
            invariants.check(bed)
        except Broken as broken:
            fault = str(broken)
        except (Exception, server.Killed) as error:  # whatever else stops a run is a fault as well
            fault = f"{type(error).__name__}: {error}\n{traceback.format_exc()}"
        finally:
            bed.server.engine.dispose()
            shutil.rmtree(folder, ignore_errors=True)
        return Result(seed, events, fault, bed.trace)

    def shorten(self, result: Result, on_progress: Callable[[int], None] = lambda left: None) -> Result:
        """The same fault with as few events as can be found by leaving some out, many at once first."""
        size = max(1, len(result.events) // 2)
        while True:
            at = 0
            while at < len(result.events):
                fewer = result.events[:at] + result.events[at + size :]
                shorter = self.run(result.seed, fewer)
                if shorter.fault and shorter.sort == result.sort:
                    result = shorter
                    on_progress(len(result.events))
                else:
                    at += size
            if size == 1:
                return result
            size = max(1, size // 2)


@contextmanager
def running() -> Iterator[Runner]:
    """A runner with its processes and template; the server's own log is silent, as it is full of what is done to it."""
    before = logging.root.manager.disable
    logging.disable(logging.CRITICAL)
    with ExitStack() as stack:
        stack.callback(logging.disable, before)
        folder = Path(stack.enter_context(tempfile.TemporaryDirectory(prefix="simulation-")))
        phones = stack.enter_context(Phones())
        stack.enter_context(server.bed())
        made = server.template(folder)
        stack.enter_context(server.migrated())
        yield Runner(folder, phones, _with_phones(made, phones, folder))


def _with_phones(made: server.Template, phones: Phones, folder: Path) -> server.Template:
    """The template with phones that have joined: every schedule begins with copies of it and of their stores."""
    bed = Bed(made, phones, folder / "joined", 0)
    for name in schedule.PHONES:
        phone = bed.phones[name] = BedPhone(name, started=True)
        bed.join_at_once(phone)
        phones.do(server.clock.now, [["kill", name], ["keep", name]])
    bed.server.engine.dispose()
    return replace(made, folder=bed.server.settings.data, joined=schedule.PHONES)
