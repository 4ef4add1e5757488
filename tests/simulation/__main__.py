"""`python -m tests.simulation`: many schedules, or one with its trace. Ends with 1 when a promise was broken."""

from __future__ import annotations

import argparse
import json
import resource
import sys
import time
from collections import Counter

from tests.simulation import schedule
from tests.simulation.run import Result, Runner, running


def main(given: list[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.simulation", description=__doc__)
    parser.add_argument("--count", type=int, default=1000, help="how many schedules (1000)")
    parser.add_argument("--first", type=int, default=0, help="the first seed (0)")
    parser.add_argument("--seed", type=int, help="this seed alone, with its trace")
    parser.add_argument("--events", help="these events instead of the seed's, as they were printed")
    parser.add_argument("--go-on", action="store_true", help="do not stop at the first that fails")
    parser.add_argument("--no-shorten", action="store_true", help="print what fails as it is")
    options = parser.parse_args(given)
    with running() as runner:
        if options.seed is not None:
            events = json.loads(options.events) if options.events else schedule.make(options.seed)
            return _run_seed(runner, options.seed, events, not options.no_shorten)
        return _many(runner, options)


def _run_seed(runner: Runner, seed: int, events: list[list], shorten: bool) -> int:
    result = runner.run(seed, events)
    print("\n".join(result.trace))
    return _say(runner, result, shorten)


def _many(runner: Runner, options: argparse.Namespace) -> int:
    began, sorts = time.monotonic(), Counter()
    for number in range(options.count):
        seed = options.first + number
        result = runner.run(seed, schedule.make(seed))
        if result.fault:
            sorts[result.sort] += 1
            if sorts[result.sort] == 1:
                _say(runner, result, not options.no_shorten)
            else:
                print(f"seed {seed}: the same: {result.fault.partition(chr(10))[0]}", flush=True)
            if not options.go_on:
                return 1
        if (number + 1) % 500 == 0:
            print(f"{number + 1} schedules, {sum(sorts.values())} failed, {time.monotonic() - began:.0f} s", flush=True)
    own = resource.getrusage(resource.RUSAGE_SELF)
    spent = f"{own.ru_utime + own.ru_stime:.0f} s of this process, {runner.phones.seconds():.0f} s of the phones"
    failed, took = sum(sorts.values()), time.monotonic() - began
    print(f"{options.count} schedules from seed {options.first}, {failed} failed, {took:.0f} s; processor: {spent}")
    for sort, count in sorts.most_common():
        print(f"{count:6} {sort}")
    return 1 if sorts else 0


def _say(runner: Runner, result: Result, shorten: bool) -> int:
    if not result.fault:
        print(f"seed {result.seed}: every promise was kept")
        return 0
    print(f"seed {result.seed}: {result.fault}", flush=True)
    if shorten:
        result = runner.shorten(result, lambda left: print(f"  {left} events", file=sys.stderr))
        print(f"shortened: {result.fault}")
        print("\n".join(result.trace))
    print(json.dumps({"seed": result.seed, "events": result.events}), flush=True)
    return 1


if __name__ == "__main__":
    sys.exit(main())
