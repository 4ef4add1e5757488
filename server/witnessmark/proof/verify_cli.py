"""`witnessmark verify PACK` and, inside every pack, `python3 verify.pyz [PACK]`."""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path

from witnessmark.proof import layout
from witnessmark.proof.faults import Report, Unreadable
from witnessmark.proof.sentences import say
from witnessmark.proof.verify import verify

WELL, UNREADABLE, FAULTY = 0, 1, 2

SORTS = {
    layout.SEALED: "proof.cli.sealed",
    layout.CUSTOMER: "proof.cli.customer",
}


def main(argv: list[str] | None = None) -> int:
    """Checks one pack and prints the result. Returns 0 when no fault was found, 2 when there are faults, 1 when
    the pack could not be read."""
    parser = argparse.ArgumentParser(prog="verify", description=say("proof.cli.about"))
    parser.add_argument("pack", nargs="?", type=Path, help=say("proof.cli.pack"))
    parser.add_argument("--server", help=say("proof.cli.server"))
    parser.add_argument("--json", action="store_true", help=say("proof.cli.json"))
    options = parser.parse_args(argv)
    path = options.pack or _here()
    try:
        report = verify(path)
    except Unreadable as error:
        print(say("proof.cli.unreadable", reason=error), file=sys.stderr)
        return UNREADABLE
    if options.server and options.server != report.facts.get("server"):
        wanted = say("proof.cli.server_wanted", server=options.server)
        report.fault(6, layout.HEAD, wanted, str(report.facts.get("server", say("proof.common.none"))))
    print(_as_json(report) if options.json else _as_text(path, report))
    return WELL if report.well else FAULTY


def _here() -> Path:
    """Without a name: the pack that this very program lies in, else the current folder."""
    beside = Path(sys.argv[0]).resolve().parent
    return beside if (beside / layout.BAGIT).is_file() else Path()


def _as_json(report: Report) -> str:
    faults = [fault._asdict() for fault in report.faults]
    result = {"well": report.well, "faults": faults, "remarks": report.remarks, "facts": report.facts}
    return json.dumps(result, indent=1)


def _as_text(path: Path, report: Report) -> str:
    facts = report.facts
    sort = SORTS.get(str(facts.get("sort", "")))
    name = path.resolve().name
    lines = [say("proof.cli.result", name=name, sort=say(sort) if sort else say("proof.cli.no_sort"))]
    if "head_size" in facts:
        counts = {
            "records": facts.get("entries", "?"),
            "size": facts["head_size"],
            "time": facts["head_time"],
            "files": facts.get("files", "?"),
            "missing": facts.get("left_out", "?"),
            "server": facts["server"],
        }
        lines.append(say("proof.cli.counts", **counts))
    lines += [say("proof.cli.note", text=text) for text in report.remarks]
    if report.well:
        return "\n".join([*lines, "", say("proof.cli.well")])
    faults = [f"  {fault}" for fault in report.faults]
    return "\n".join([*lines, "", say("proof.cli.faults", number=len(faults)), *faults])
