"""`witnessmark verify PACK` and, inside every pack, `python3 verify.pyz [PACK]`."""

from __future__ import annotations

import argparse
import io
import json
import os
import sys
from pathlib import Path

from witnessmark.proof import layout
from witnessmark.proof.against_log import UnreadableLog, check_log
from witnessmark.proof.compare import compare
from witnessmark.proof.faults import Report, Unreadable
from witnessmark.proof.sentences import say
from witnessmark.proof.tell import lines_of_records
from witnessmark.proof.verify import verify

WELL, UNREADABLE, FAULTY, UNFINISHED = 0, 1, 2, 3

SORTS = {
    layout.SEALED: "proof.cli.sealed",
    layout.CUSTOMER: "proof.cli.customer",
}


def main(argv: list[str] | None = None) -> int:
    """Checks one pack, or two and what they show together, each also against an exported log if one is given, and
    prints the result. Returns 0 when no fault was found, 2 when there are faults, 1 when a pack or the log could not be
    read, 3 when this program failed and found no fault as far as it came."""
    parser = argparse.ArgumentParser(prog="verify", description=say("proof.cli.about"))
    parser.add_argument("pack", nargs="?", type=Path, help=say("proof.cli.pack"))
    parser.add_argument("later", nargs="?", type=Path, help=say("proof.cli.later"))
    parser.add_argument("--log", type=Path, help=say("proof.cli.log"))
    parser.add_argument("--server", help=say("proof.cli.server"))
    parser.add_argument("--tell", action="store_true", help=say("proof.cli.tell"))
    parser.add_argument("--json", action="store_true", help=say("proof.cli.json"))
    # A reader's terminal may know fewer letters than a pack has; nothing of the result may be lost for that.
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")
    options = parser.parse_args(argv)
    paths = [options.pack or _here(), *([options.later] if options.later else [])]
    try:
        reports = [verify(path) for path in paths]
        comparison = compare(*paths) if options.later else None
        against_log = [check_log(options.log, path) for path in paths] if options.log else []
        record_lines = [lines_of_records(path) for path in paths] if options.tell and not options.json else []
    except UnreadableLog as error:
        print(printable(say("proof.cli.log_unreadable", reason=error)), file=sys.stderr)
        return UNREADABLE
    except Unreadable as error:
        print(printable(say("proof.cli.unreadable", reason=error)), file=sys.stderr)
        return UNREADABLE
    except Exception as error:  # an error of this program's own, which says nothing of the pack
        print(printable(say("proof.cli.failed", reason=f"{type(error).__name__}: {error}")), file=sys.stderr)
        return UNFINISHED
    if options.server:
        for report in reports:
            _demand_server(options.server, report)
    text = _as_result(options, paths, reports, comparison, against_log, record_lines)
    status = _status([*reports, *([comparison] if comparison else []), *against_log])
    return status if _printed(text) or status == FAULTY else UNFINISHED


def _as_result(
    options: argparse.Namespace,
    paths: list[Path],
    reports: list[Report],
    comparison: Report | None,
    against_log: list[Report],
    record_lines: list[list[str]],
) -> str:
    """All that is printed: the records if they are asked for, then each result, the last line a verdict."""
    if options.json:
        return json.dumps(_as_json(reports, comparison, against_log), indent=1)
    records = ["\n".join(map(printable, lines)) for lines in record_lines]
    held = map(_held_against, [options.log] * len(paths), paths, against_log)
    compared = [_compared(comparison)] if comparison else []
    return "\n\n".join([*records, *map(_as_text, paths, reports), *compared, *held])


def _demand_server(server: str, report: Report) -> None:
    if server != report.facts.get("server"):
        wanted = say("proof.cli.server_wanted", server=server)
        report.fault(6, layout.HEAD, wanted, str(report.facts.get("server", say("proof.common.none"))))


def _status(reports: list[Report]) -> int:
    if any(report.faults for report in reports):
        return FAULTY
    return UNFINISHED if any(report.unfinished for report in reports) else WELL


def _printed(text: str) -> bool:
    """Whether all of it could be printed: whoever reads may go away before the end (`verify PACK | head`)."""
    try:
        print(text)
        sys.stdout.flush()
    except BrokenPipeError:
        # Python flushes once more when it ends; nothing may be said of that either.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return False
    return True


def _here() -> Path:
    """Without a name: the pack that this very program lies in, else the current folder."""
    beside = Path(sys.argv[0]).resolve().parent
    return beside if (beside / layout.BAGIT).is_file() else Path()


def printable(text: str) -> str:
    """`text` as one line that does nothing to a terminal: what cannot be printed stands there as its code.

    Text of a pack is written by whoever made it: an escape code could draw another result over this one, and a
    letter that turns the direction of writing could turn its sense.
    """
    return "".join(c if c.isprintable() else c.encode("unicode_escape").decode() for c in text)


def _as_json(reports: list[Report], comparison: Report | None, against_log: list[Report]) -> dict:
    """Of one pack alone its result; of more all packs, what the comparison of two found, and what the log showed of
    each pack."""
    packs = [_one_as_json(report) for report in reports]
    if comparison is None and not against_log:
        return packs[0]
    result: dict = {"packs": packs}
    if comparison:
        result["comparison"] = _one_as_json(comparison)
    if against_log:
        result["log"] = [_one_as_json(report) for report in against_log]
    return result


def _one_as_json(report: Report) -> dict:
    return {
        "well": report.well, "faults": [fault._asdict() for fault in report.faults],
        "faults_more": report.faults_more, "remarks": report.remarks, "remarks_more": report.remarks_more,
        "facts": report.facts, "unfinished": report.unfinished,
    }  # fmt: skip


def _held_against(log: Path, pack: Path, report: Report) -> str:
    """What the log shows of a pack; its verdict comes last."""
    names = {"log": printable(log.name), "name": printable(pack.resolve().name)}
    lines = [say("proof.cli.log_result", **names)]
    lines += [say("proof.cli.note", text=printable(text)) for text in report.remarks]
    lines += [f"  {printable(str(fault))}" for fault in report.faults]
    if report.faults_more:
        lines.append(f"  {say('proof.cli.more', number=report.faults_more)}")
    if report.faults:
        verdict = say("proof.cli.log_faulty", number=report.number)
    elif report.unfinished:
        verdict = say("proof.cli.log_unfinished", reason=printable("; ".join(report.unfinished.values())))
    else:
        facts = report.facts
        lines.append(say("proof.cli.log_means", size=facts["log_size"], pack_size=facts["pack_size"]))
        verdict = say("proof.cli.log_well", records=facts["log_records_of_job"])
    return "\n".join([*lines, verdict])


def _compared(report: Report) -> str:
    """What two packs show together; its verdict comes last."""
    lines = [say("proof.cli.compared")]
    lines += [say("proof.cli.note", text=printable(text)) for text in report.remarks]
    lines += [f"  {printable(str(fault))}" for fault in report.faults]
    if report.faults:
        verdict = say("proof.cli.compared_faulty", number=report.number)
    elif report.facts.get("log_only_grew"):
        verdict = say("proof.cli.only_grew", size=report.facts["old_size"])
    else:
        verdict = say("proof.cli.cannot_tell")
    return "\n".join([*lines, verdict])


def _as_text(path: Path, report: Report) -> str:
    """The verdict is the last line, whatever a pack says of itself before it."""
    facts = {name: printable(str(value)) for name, value in report.facts.items()}
    sort = SORTS.get(facts.get("sort", ""))
    name = printable(path.resolve().name)
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
    if "numbered" in facts:
        lines.append(say("proof.cli.numbered", numbered=facts["numbered"], of_job=facts["of_job"]))
    lines += [say("proof.cli.note", text=printable(text)) for text in report.remarks]
    if report.remarks_more:
        lines.append(say("proof.cli.note", text=say("proof.cli.more", number=report.remarks_more)))
    lines.append("")
    if report.well:
        means = [say("proof.cli.well_means"), say("proof.cli.sealed_only")]
        return "\n".join([*lines, *means, "", say("proof.cli.well")])
    for number, reason in report.unfinished.items():
        lines.append(say("proof.cli.unfinished", number=number, reason=printable(reason)))
    if not report.faults:
        return "\n".join([*lines, "", say("proof.cli.not_finished")])
    lines += [say("proof.cli.faults"), *(f"  {printable(str(fault))}" for fault in report.faults)]
    if report.faults_more:
        lines.append(f"  {say('proof.cli.more', number=report.faults_more)}")
    return "\n".join([*lines, "", say("proof.cli.faulty", number=report.number)])
