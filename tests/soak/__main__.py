"""`python -m tests.soak --minutes 60`: the server as it ships under ten phones and an office, measured all the while.

Writes soak.csv and soak.svg into the folder `--out` (the present one), and exits with 1 when memory, threads or
handles of a long-lived part were not flat in the second half, or when anything was answered with an error.
"""

from __future__ import annotations

import argparse
import csv
import sys
import tempfile
import time
from pathlib import Path

from tests.bench.common import machine
from tests.soak.drawing import draw
from tests.soak.flat import judge
from tests.soak.load import Load
from tests.soak.sampling import COLUMNS, JUDGED, MEASURES, sample
from tests.support.npm import build_faces
from tests.support.record import a_v6
from tests.support.served import Served
from tests.support.workshop import MANAGER, PASSWORD, found_in
from witnessmark.config import Settings
from witnessmark.db import make_engine, writing
from witnessmark.people import invitations
from witnessmark.sync import desk


def main() -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.soak")
    parser.add_argument("--minutes", type=float, default=60)
    parser.add_argument("--every", type=float, default=5, help="seconds between samples")
    parser.add_argument("--phones", type=int, default=10)
    parser.add_argument("--out", type=Path, default=Path("."))
    options = parser.parse_args()
    build_faces()
    with tempfile.TemporaryDirectory(prefix="witnessmark-soak-") as folder:
        lines, load = run(Path(folder), options.minutes * 60, options.every, options.phones)
    options.out.mkdir(parents=True, exist_ok=True)
    with (options.out / "soak.csv").open("w", newline="") as file:
        table = csv.DictWriter(file, COLUMNS)
        table.writeheader()
        table.writerows({name: round(value, 3) for name, value in line.items()} for line in lines)
    minutes = lines[-1]["seconds"] / 60
    (options.out / "soak.svg").write_text(draw(lines, f"{options.phones} phones and the office, {minutes:.0f} minutes"))
    print(f"{minutes:.1f} minutes, {machine()}, {len(lines)} samples; {dict(load.counts)}")
    for fault in load.faults[:10]:
        print(f"- {fault}")
    seconds = [line["seconds"] for line in lines]
    names = [f"{role} {measure}" for role in JUDGED for measure in MEASURES]
    verdicts = [judge(name, seconds, [line[name] for line in lines]) for name in names]
    print("\n".join(map(str, verdicts)))
    return 1 if load.errors or not all(verdict.flat for verdict in verdicts) else 0


def run(folder: Path, seconds: float, every: float, phones: int) -> tuple[list[dict[str, float]], Load]:
    """Samples a server in `folder` for so long; the first sample is taken when all phones have begun."""
    settings, workshop, manager = found_in(folder / "data")
    settings = Settings(settings.data)  # as it ships
    engine = make_engine(settings.database)

    def invite() -> str:
        with writing(engine) as conn:
            return invitations.invite(conn, workshop.id, manager.id, 900).code

    with writing(engine) as conn:
        desk.write(conn, settings, manager.id, "engine_type_described", body={"engine_type": a_v6()})
    lines: list[dict[str, float]] = []
    with Served(settings) as served:
        load = Load(served.secure_url, served.url, str(served.authority), invite, phones)
        load.manager, load.password = MANAGER, PASSWORD
        load.start()
        begun = time.monotonic()
        try:
            while (now := time.monotonic() - begun) < seconds:
                counted = {"seconds": now, "requests": load.counts["requests"], "errors": load.errors}
                lines.append(sample(served.process.pid, settings.data) | counted)
                time.sleep(max(0.0, every - (time.monotonic() - begun - now)))
        finally:
            load.stop()
            engine.dispose()
    return lines, load


if __name__ == "__main__":
    sys.exit(main())
