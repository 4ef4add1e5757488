"""`python -m tests.bench [NAME ...]`: measures, and prints the tables that stand in RESULTS.md.

`speech:60` hears the first 60 clips of speech only.
Ratios are against a peer or a floor measured in the same run; absolute figures belong to the machine they came from.
"""

from __future__ import annotations

import sys
from datetime import date

from tests.bench import bay, hearing, idle, packs, push, timeline, upload, worker
from tests.bench.common import HEADER, machine, workroom
from tests.bench.speech import run as speech

BENCHES = {
    "push": push, "upload": upload, "bay": bay, "hearing": hearing, "timeline": timeline, "pack": packs, "idle": idle,
    "worker": worker, "speech": speech,
}  # fmt: skip


def main(names: list[str]) -> int:
    unknown = {name.partition(":")[0] for name in names} - set(BENCHES)
    if unknown:
        print(f"There is no benchmark {', '.join(sorted(unknown))}. There are: {', '.join(BENCHES)}.")
        return 2
    print(f"{date.today()}, {machine()}\n\n{HEADER}", flush=True)
    for asked in names or BENCHES:
        name, _, count = asked.partition(":")
        with workroom() as folder:
            for line in BENCHES[name].run(folder, *([int(count)] if count else [])):
                print(line.markdown(), flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
