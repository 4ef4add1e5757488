"""Founding from the command line, and what the terminal says once the server answers."""

from __future__ import annotations

import getpass
import io
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

import segno
from sqlalchemy import Engine, inspect
from sqlalchemy.exc import DBAPIError

from witnessmark.config import Settings, speech_settings
from witnessmark.db import make_engine, reading, writing
from witnessmark.operate import certificate, disk
from witnessmark.operate import serve as serving
from witnessmark.operate.serve import Addresses
from witnessmark.people import invitations, persons, workshops
from witnessmark.sync.founding import found_workshop
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say

INVENTED = say("server.welcome.demo")


def settings_for(data: Path, port: int, https_port: int, demo: bool = False, url: str = "") -> Settings:
    """Settings of a folder served on these ports; phones are sent to `url`, else to this machine's own address."""
    lan = certificate.lan_addresses()
    own = f"https://{lan[0]}:{https_port}" if lan else f"http://localhost:{port}"
    # The office on this machine speaks plain http to localhost, where a cookie marked secure is stored by no browser
    # but Chromium and Firefox; the sign-in itself never leaves the machine.
    public = (url or own).rstrip("/")
    return Settings(data.resolve(), public_url=public, demo=demo, secure_cookies=False, **speech_settings())


def found_if_new(settings: Settings, workshop: str, manager: str, password_file: Path | None) -> None:
    """Founds the workshop unless the folder holds one: with what was given, asking for the rest on a terminal.

    Raises Refusal when something is missing and nobody can be asked.
    """
    if _holds_workshop(settings):
        return
    disk.make_private(settings.data)
    print(say("server.welcome.new", folder=settings.data))
    workshop = workshop or _ask("--workshop", say("server.welcome.name"))
    manager = manager or _ask("--manager", say("server.welcome.manager"))
    if password_file:
        password = password_file.read_text().strip("\r\n")
    else:
        password = _ask("--password-file", say("server.welcome.password", name=manager), hidden=True)
        if _ask("--password-file", say("server.welcome.again"), hidden=True) != password:
            raise Refusal("password", "password", say("server.welcome.passwords_differ"))
    found_workshop(settings, workshop, manager, password)


def _holds_workshop(settings: Settings) -> bool:
    if not (settings.data / disk.DATABASE).exists():
        return False
    engine = make_engine(settings.database)
    try:
        with reading(engine) as conn:
            return inspect(conn).has_table("workshops") and workshops.only(conn) is not None
    finally:
        engine.dispose()


def _ask(option: str, words: str, hidden: bool = False) -> str:
    if not sys.stdin.isatty():
        raise Refusal("not_founded", "data", say("server.welcome.nobody_to_ask", option=option))
    return (getpass.getpass(words) if hidden else input(words)).strip()


@contextmanager
def workshop_engine(data: Path) -> Iterator[Engine]:
    """The database of a folder that holds a workshop. Raises Refusal if it does not."""
    settings = Settings(data.resolve())
    if not (settings.data / disk.DATABASE).exists():
        raise Refusal("not_founded", "data", say("server.doctor.no_folder", folder=settings.data))
    engine = make_engine(settings.database)
    try:
        yield engine
    finally:
        engine.dispose()


def serve(settings: Settings, port: int, https_port: int, sign_ins: Sequence[str] = ()) -> None:
    """Serves until stopped, and says where once everything answers. Raises Refusal as `serve.run` does."""
    print("Starting ...", flush=True)
    serving.run(settings, https_port, port, lambda addresses: _say(settings, addresses, sign_ins))
    print(say("server.welcome.stopped"))


def _line(label: str, text: object) -> str:
    return f"{label:<13} {text}"


def _say(settings: Settings, addresses: Addresses, sign_ins: Sequence[str]) -> None:
    code = _invite(settings, addresses.disk_full)
    picture = io.StringIO()
    if code:
        url = f"{settings.public_url}/bay/#join={code}"
        segno.make(url, error="m", micro=False).terminal(picture, compact=True)
    phone = say("server.welcome.phone", address=f"{settings.public_url}/bay/", code=code)
    certificate = say("server.welcome.certificate", address=addresses.certificate)
    lines = [
        "",
        *([INVENTED] if settings.demo else []),
        *([say("server.welcome.disk_full")] if addresses.disk_full else []),
        _line(say("server.welcome.office_label"), addresses.office),
        *(_line(say("server.welcome.sign_in_label"), sign_in) for sign_in in sign_ins),
        *([_line(say("server.welcome.phone_label"), phone)] if code else []),
    ]
    if settings.public_url.startswith("https://"):
        lines += [
            _line(say("server.welcome.certificate_label"), certificate),
            _line("", say("server.welcome.fingerprint", fingerprint=addresses.fingerprint)),
        ]
    else:
        lines += [_line("", say("server.welcome.no_network"))]
    data = _line(say("server.welcome.data_label"), settings.data)
    lines += [data, "", picture.getvalue(), say("server.welcome.ends")]
    print("\n".join(lines), flush=True)


def _invite(settings: Settings, disk_full: bool) -> str:
    """A code for a phone; "" when the disk has not even room for that."""
    engine = make_engine(settings.database)
    try:
        with writing(engine) as conn:
            workshop = workshops.only(conn)
            manager = next(p for p in persons.everyone(conn, workshop.id) if p.role == "manager" and p.active)
            return invitations.invite(conn, workshop.id, manager.id, settings.invitation_seconds).code
    except DBAPIError:
        if disk_full:
            return ""
        raise
    finally:
        engine.dispose()
