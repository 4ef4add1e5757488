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

from witnessmark.config import Settings, speech_settings
from witnessmark.db import make_engine, reading, writing
from witnessmark.operate import certificate
from witnessmark.operate import serve as serving
from witnessmark.operate.serve import Addresses
from witnessmark.people import invitations, persons, workshops
from witnessmark.sync.found import found
from witnessmark.trade.ground.errors import Refusal

DATABASE = "witnessmark.db"
INVENTED = "The demo: workshop, people, vehicles, engines, pictures and figures are all invented."


def settings_for(data: Path, port: int, https_port: int, demo: bool = False, url: str = "") -> Settings:
    """Settings of a folder served on these ports; phones are sent to `url`, else to this machine's own address."""
    lan = certificate.lan_addresses()
    own = f"https://{lan[0]}:{https_port}" if lan else f"http://localhost:{port}"
    # The office on this machine speaks plain http to localhost, where a cookie marked secure is kept by no browser
    # but Chromium and Firefox; the sign-in itself never leaves the machine.
    public = (url or own).rstrip("/")
    return Settings(data.resolve(), public_url=public, demo=demo, secure_cookies=False, **speech_settings())


def found_if_new(settings: Settings, workshop: str, manager: str, password_file: Path | None) -> None:
    """Founds the workshop unless the folder holds one: with what was given, asking for the rest on a terminal.

    Raises Refusal when something is missing and nobody can be asked.
    """
    if _holds_workshop(settings):
        return
    print(f"A new workshop in {settings.data}.")
    workshop = workshop or _ask("--workshop", "Name of the workshop: ")
    manager = manager or _ask("--manager", "Name of the first manager: ")
    if password_file:
        password = password_file.read_text().strip("\r\n")
    else:
        password = _ask("--password-file", f"Password for {manager}: ", hidden=True)
        if _ask("--password-file", "The same once more: ", hidden=True) != password:
            raise Refusal("password", "password", "The two passwords differ. Nothing was founded: start again.")
    found(settings, workshop, manager, password)


def _holds_workshop(settings: Settings) -> bool:
    if not (settings.data / DATABASE).exists():
        return False
    engine = make_engine(settings.database)
    try:
        with reading(engine) as conn:
            return inspect(conn).has_table("workshops") and workshops.only(conn) is not None
    finally:
        engine.dispose()


def _ask(option: str, words: str, hidden: bool = False) -> str:
    if not sys.stdin.isatty():
        raise Refusal("not_founded", "data", f"There is no workshop yet and nobody to ask: give {option}.")
    return (getpass.getpass(words) if hidden else input(words)).strip()


@contextmanager
def workshop_engine(data: Path) -> Iterator[Engine]:
    """The database of a folder that holds a workshop. Raises Refusal if it does not."""
    settings = Settings(data.resolve())
    if not (settings.data / DATABASE).exists():
        raise Refusal("not_founded", "data", f"{settings.data} holds no workshop. Name the folder that does.")
    engine = make_engine(settings.database)
    try:
        yield engine
    finally:
        engine.dispose()


def serve(settings: Settings, port: int, https_port: int, sign_ins: Sequence[str] = ()) -> None:
    """Serves until stopped, and says where once everything answers. Raises Refusal as `serve.run` does."""
    print("Starting ...", flush=True)
    serving.run(settings, https_port, port, lambda addresses: _say(settings, addresses, sign_ins))
    print("Stopped. Nothing is lost.")


def _say(settings: Settings, addresses: Addresses, sign_ins: Sequence[str]) -> None:
    code = _invite(settings)
    url = f"{settings.public_url}/bay/#join={code}"
    picture = io.StringIO()
    segno.make(url, error="m", micro=False).terminal(picture, compact=True)
    lines = [
        "",
        *([INVENTED] if settings.demo else []),
        f"Office        {addresses.office}",
        *(f"Sign in       {one}" for one in sign_ins),
        f"Phone         {settings.public_url}/bay/   code {code}, good for one phone and 15 minutes",
    ]
    if settings.public_url.startswith("https://"):
        lines += [
            f"Certificate   {addresses.certificate}   let each phone trust it once, before it joins",
            f"              fingerprint {addresses.fingerprint}",
        ]
    else:
        lines += ["              No network found: only a browser on this machine can be the phone."]
    lines += [f"Data          {settings.data}", "", picture.getvalue(), "Ctrl-C stops. Fresh codes: office, Phones."]
    print("\n".join(lines), flush=True)


def _invite(settings: Settings) -> str:
    engine = make_engine(settings.database)
    try:
        with writing(engine) as conn:
            workshop = workshops.only(conn)
            manager = next(p for p in persons.everyone(conn, workshop.id) if p.role == "manager" and p.active)
            return invitations.invite(conn, workshop.id, manager.id, settings.invitation_seconds).code
    finally:
        engine.dispose()
