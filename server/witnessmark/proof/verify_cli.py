"""`witnessmark verify PACK` and, inside every pack, `python3 verify.pyz [PACK]`."""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path

from witnessmark.proof import layout
from witnessmark.proof.faults import Report, Unreadable
from witnessmark.proof.verify import verify

WELL, UNREADABLE, FAULTY = 0, 1, 2

SORTS = {
    layout.SEALED: "sealed: the originals, untouched",
    layout.CUSTOMER: "for the customer: copies with place, device and comments taken out, tied to the originals",
}


def main(argv: list[str] | None = None) -> int:
    """Checks one pack and says what was found. Returns 0 when all is well, 2 when there are faults, 1 when the pack
    could not be read."""
    parser = argparse.ArgumentParser(
        prog="verify",
        description="Checks a witnessmark pack: every byte, every signature, the chain of records and the log's head. "
        "Exit status 0: all is well; 2: faults; 1: the pack could not be read.",
    )
    parser.add_argument("pack", nargs="?", type=Path, help="the zip, or the folder it was unpacked into")
    parser.add_argument("--server", help="the server's name as the workshop told you; the pack must name the same")
    parser.add_argument("--json", action="store_true", help="say it in JSON, for programs")
    told = parser.parse_args(argv)
    path = told.pack or _here()
    try:
        report = verify(path)
    except Unreadable as error:
        print(f"Could not be read: {error}. Give the zip, or the folder it was unpacked into.", file=sys.stderr)
        return UNREADABLE
    if told.server and told.server != report.facts.get("server"):
        report.fault(6, layout.HEAD, f"server {told.server}, as you were told", str(report.facts.get("server")))
    print(_as_json(report) if told.json else _as_text(path, report))
    return WELL if report.well else FAULTY


def _here() -> Path:
    """Without a name: the pack that this very program lies in, else the folder one stands in."""
    beside = Path(sys.argv[0]).resolve().parent
    return beside if (beside / layout.BAGIT).is_file() else Path()


def _as_json(report: Report) -> str:
    faults = [fault._asdict() for fault in report.faults]
    told = {"well": report.well, "faults": faults, "remarks": report.remarks, "facts": report.facts}
    return json.dumps(told, indent=1)


def _as_text(path: Path, report: Report) -> str:
    facts = report.facts
    sort = str(facts.get("sort", ""))
    lines = [f"Pack {path.resolve().name}", f"  sort      {SORTS.get(sort, 'not said')}"]
    if "head_size" in facts:
        count, files, missing = (facts.get(name, "?") for name in ("entries", "files", "left_out"))
        lines += [
            f"  records   {count} of a log of {facts['head_size']}, head signed {facts['head_time']}",
            f"  files     {files}, of which {missing} not in the pack, with a reason",
            f"  server    {facts['server']}",
        ]
    lines += [f"  note      {words}" for words in report.remarks]
    if report.well:
        lines += [
            "",
            "All is well: every byte is as listed and sealed, every record is signed by the device that made it, and",
            "all of them stand in the log whose head the server signed.",
            "It rests on the server's name above: compare it with the one the workshop gave you by another way.",
        ]
    else:
        count = "1 fault" if len(report.faults) == 1 else f"{len(report.faults)} faults"
        lines += ["", f"Not well: {count}. The number is that of the check, listed in READ-ME-FIRST.txt."]
        lines += [f"  {fault}" for fault in report.faults]
    return "\n".join(lines)
