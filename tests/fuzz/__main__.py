"""`python -m tests.fuzz --requests 50000 --seed 1`: asks the API much that it allows and more that it does not.

Exits with 1 when anything went wrong, after naming each fault with a request that shows it.
"""

from __future__ import annotations

import argparse
import logging
import resource
import sys
import tempfile
from pathlib import Path

from tests.fuzz.run import Fuzz, Result
from tests.fuzz.workshop import fill
from tests.support.npm import build_faces
from tests.support.quick_hashes import QUICK
from witnessmark.people import secrets


def main() -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.fuzz")
    parser.add_argument("--requests", type=int, default=50_000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument(
        "--minutes", type=float, default=float("inf"), help="no longer than this, however many are left"
    )
    options = parser.parse_args()
    for name, cost in QUICK.items():  # the dear hashes are no matter of what is asked here
        setattr(secrets, name, cost)
    # The log is read by the run itself; nothing of it is printed beside the faults.
    logging.getLogger().addHandler(logging.NullHandler())
    build_faces()
    with tempfile.TemporaryDirectory(prefix="witnessmark-fuzz-") as folder:
        fuzz = Fuzz(fill(Path(folder)), Path(folder), options.seed)
        result = fuzz.run(options.requests, options.minutes)
    print(summary(result, options.seed))
    return 1 if result.faults else 0


def summary(result: Result, seed: int) -> str:
    """What was asked and answered, for tests/fuzz/README.md."""
    used = resource.getrusage(resource.RUSAGE_SELF)
    kinds = ", ".join(f"{count} {sort}" for sort, count in result.sorts.most_common())
    statuses = ", ".join(f"{status}: {count}" for status, count in sorted(result.statuses.items()))
    never = [label for label, count in result.answered_well.items() if not count]
    lines = [
        f"{result.requests} requests with the seed {seed}, {result.copies} copies of the workshop,"
        f" {result.seconds:.0f} s ({used.ru_utime + used.ru_stime:.0f} s of processor)",
        f"by sort: {kinds}",
        f"by answer: {statuses}",
        f"changed entries that were stored: {result.stored}",
        f"never answered well: {', '.join(never) or 'none'}",
        f"faults: {len(result.faults)}",
    ]
    lines += [f"- {fault} ({result.times[fault]} times)\n  {shown}" for fault, shown in result.faults.items()]
    return "\n".join(lines)


if __name__ == "__main__":
    sys.exit(main())
