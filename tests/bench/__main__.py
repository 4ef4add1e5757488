"""`python -m tests.bench [NAME ...]`: measures, and prints the table that stands in DEVELOPERS.md.

Ratios are against a peer or a floor measured in the same run; absolute figures belong to the machine they came from.
"""

from __future__ import annotations

import sys
from datetime import date

from tests.bench import bay, idle, packs, push, timeline, upload
from tests.bench.common import HEADER, machine, workroom

BENCHES = {"push": push, "upload": upload, "bay": bay, "timeline": timeline, "pack": packs, "idle": idle}


def main(names: list[str]) -> int:
    unknown = set(names) - set(BENCHES)
    if unknown:
        print(f"There is no benchmark {', '.join(sorted(unknown))}. There are: {', '.join(BENCHES)}.")
        return 2
    print(f"{date.today()}, {machine()}\n\n{HEADER}", flush=True)
    for name in names or BENCHES:
        with workroom() as folder:
            for line in BENCHES[name].run(folder):
                print(line.markdown(), flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
