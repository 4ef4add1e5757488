"""The `witnessmark` command: reads what was typed, calls one function, says what came of it.

Each command brings in only what it needs: a stranger's `witnessmark verify` should not wait for a web server.
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say

WELL, REFUSED = 0, 2
DATA = Path("witnessmark-data")
HTTP_PORT = 8080


def main(argv: list[str] | None = None) -> int:
    """Runs one command; returns its exit status: 0 well, 2 refused with the reason (verify has its own, see there)."""
    typed = sys.argv[1:] if argv is None else argv
    if typed[:1] == ["verify"]:
        from witnessmark.proof import verify_cli

        return verify_cli.main(typed[1:])
    options = _parser().parse_args(typed)
    try:
        return options.work(options) or WELL
    except Refusal as refusal:
        print(f"witnessmark: {refusal.message}", file=sys.stderr)
        return REFUSED
    except OSError as error:
        # A full or unreadable disk is nothing to print a stack of calls for.
        print(say("server.commands.stopped", reason=error), file=sys.stderr)
        return REFUSED


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="witnessmark", description="Teardown evidence for engine-rebuild workshops.")
    commands = parser.add_subparsers(required=True, metavar="COMMAND")

    demo = _command(commands, "demo", _demo, say("server.commands.demo"), DATA / "demo")
    demo.add_argument("--reset", action="store_true", help=say("server.commands.reset"))
    _ports(demo)

    serve = _command(commands, "serve", _serve, say("server.commands.serve"), DATA / "workshop")
    serve.add_argument("--workshop", default="", help=say("server.commands.workshop"))
    serve.add_argument("--manager", default="", help=say("server.commands.manager"))
    serve.add_argument("--password-file", type=Path, help=say("server.commands.password_file"))
    serve.add_argument("--url", default="", help=say("server.commands.public_url"))
    _ports(serve)

    verify = commands.add_parser("verify", help=say("server.commands.verify"), add_help=False)
    verify.add_argument("pack", nargs="?")

    _command(commands, "rebuild", _rebuild, say("server.commands.rebuild"))
    backup = _command(commands, "backup", _backup, say("server.commands.backup"))
    backup.add_argument("target", type=Path)
    _passphrase(backup)
    restore = _command(commands, "restore", _restore, say("server.commands.restore"))
    restore.add_argument("source", type=Path)
    _passphrase(restore)
    _command(commands, "doctor", _doctor, say("server.commands.doctor"))
    log_export = _command(commands, "log-export", _log_export, say("server.commands.log_export"))
    log_export.add_argument("file", type=Path, metavar="FILE", help=say("server.commands.log_export_file"))
    speech = _command(commands, "speech", _speech, say("server.commands.speech"))
    speech.add_argument("file", nargs="?", type=Path, help=say("server.commands.speech_file"))
    return parser


def _command(commands, name: str, work, words: str, data: Path = DATA / "workshop") -> argparse.ArgumentParser:
    parser = commands.add_parser(name, help=words, description=words[0].upper() + words[1:] + ".")
    parser.set_defaults(work=work)
    parser.add_argument("--data", type=Path, default=data, help=say("server.commands.data", folder=data))
    return parser


def _ports(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--port", type=int, default=HTTP_PORT, help=say("server.commands.port", port=str(HTTP_PORT)))
    parser.add_argument("--https-port", type=int, help=say("server.commands.https_port"))


def _passphrase(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--passphrase-file", type=Path, help=say("server.commands.passphrase_file"))


def _demo(options: argparse.Namespace) -> None:
    from witnessmark.operate import demo, welcome

    settings = welcome.settings_for(options.data, options.port, _https(options), demo=True)
    demo.open_demo(settings, options.reset)
    welcome.serve(settings, options.port, _https(options), demo.sign_ins())


def _serve(options: argparse.Namespace) -> None:
    from witnessmark.operate import welcome

    settings = welcome.settings_for(options.data, options.port, _https(options), url=options.url)
    welcome.found_if_new(settings, options.workshop, options.manager, options.password_file)
    welcome.serve(settings, options.port, _https(options))


def _https(options: argparse.Namespace) -> int:
    return options.https_port or options.port + 1


def _rebuild(options: argparse.Namespace) -> None:
    from witnessmark.db import writing
    from witnessmark.operate import welcome
    from witnessmark.projections import apply as projections

    with welcome.workshop_engine(options.data) as engine, writing(engine) as conn:
        done = projections.rebuild(conn, _count(say("server.commands.replayed")))
    print("\r" + say("server.commands.rebuilt", count=done))


def _backup(options: argparse.Namespace) -> int:
    from witnessmark.config import Settings
    from witnessmark.operate import backup

    passphrase = _first_line(options.passphrase_file)
    made = backup.make(Settings(options.data), options.target, _count(say("server.commands.copied")), passphrase)
    size = {"records": made.log_size, "originals": made.originals}
    print("\r" + say("server.commands.backed_up", workshop=made.workshop, folder=options.target, **size))
    keys = backup.key_words(made.keys)
    print(
        say("server.commands.keys_encrypted", keys=keys) if passphrase else say("server.commands.keys_open", keys=keys)
    )
    for sha256 in made.missing:
        print(say("server.commands.not_here", file=_named(sha256, made.named)))
    for sha256 in made.damaged:
        print(say("server.commands.damaged", file=_named(sha256, made.named)))
    return WELL if made.is_whole else REFUSED


def _restore(options: argparse.Namespace) -> int:
    from witnessmark.config import Settings
    from witnessmark.operate import restore

    passphrase = _first_line(options.passphrase_file)
    done = restore.restore(options.source, Settings(options.data), _count(say("server.commands.copied")), passphrase)
    size = {"records": done.log_size, "originals": done.originals}
    print("\r" + say("server.commands.restored", workshop=done.workshop, folder=options.data, **size))
    print(say("server.commands.phones_offer"))
    for sha256 in done.missing:
        print(say("server.commands.not_in_backup", file=_named(sha256, done.named)))
    for sha256 in done.damaged:
        print(say("server.commands.damaged_in_backup", file=_named(sha256, done.named)))
    for fault in done.faults:
        print(say("server.commands.fault", fault=fault))
    return REFUSED if done.damaged or done.faults else WELL


def _named(sha256: str, exhibits: dict[str, str]) -> str:
    """A file by the exhibits that need it, and by its hash."""
    return say("server.commands.file_of", exhibits=exhibits[sha256], file=sha256) if sha256 in exhibits else sha256


def _first_line(file: Path | None) -> str:
    if file is None:
        return ""
    line = file.read_text(encoding="utf-8").split("\n")[0].rstrip("\r")
    if not line:
        raise Refusal("passphrase", "passphrase", say("server.commands.passphrase_empty", file=file))
    return line


def _doctor(options: argparse.Namespace) -> int:
    from witnessmark.config import Settings, speech_settings
    from witnessmark.operate import doctor

    findings = doctor.examine(Settings(options.data, **speech_settings()), _count(say("server.commands.read")))
    print("\r", end="")
    for finding in findings:
        print(f"{finding.state:6} {finding.what}: {finding.words}")
    return REFUSED if any(finding.state == doctor.WRONG for finding in findings) else WELL


def _log_export(options: argparse.Namespace) -> None:
    from witnessmark.db import reading
    from witnessmark.operate import log_export, welcome

    with welcome.workshop_engine(options.data) as engine, reading(engine) as conn:
        written = log_export.export(conn, options.file, _count(say("server.commands.exported_count")))
    print("\r" + say("server.commands.log_exported", records=written, file=options.file))


def _speech(options: argparse.Namespace) -> int:
    from witnessmark.config import Settings, speech_settings
    from witnessmark.operate import speech_report

    settings = Settings(options.data, **speech_settings())
    lines = speech_report.heard(settings, options.file) if options.file else speech_report.recognisers(settings)
    for line in lines:
        print(line)
    return WELL


def _count(words: str):
    def show(done: int, of: int = 0) -> None:
        if sys.stdout.isatty():
            counted = say("server.commands.done_of", number=done, of=of) if of else str(done)
            print(f"\r{counted} {words} ", end="", flush=True)

    return show


if __name__ == "__main__":
    sys.exit(main())
