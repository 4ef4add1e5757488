"""The workshop's phones, and the desk of the office."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import Connection, insert, select, update

from witnessmark.db import now
from witnessmark.people import secrets, tables
from witnessmark.people.errors import NotSignedIn, Taken, Unknown
from witnessmark.trade.ground.sentences import say

LONGEST_NAME = 60


@dataclass(frozen=True)
class Device:
    """`revoked` is the time it was blocked, or None. `public_key` is SPKI DER in base64."""

    workshop: str
    id: str
    name: str
    letter: str
    platform: str
    public_key: str
    enrolled: str
    revoked: str | None
    revoked_reason: str
    last_seen: str | None
    announced: int
    clock_offset_ms: int | None


_COLUMNS = [tables.devices.c[name] for name in Device.__dataclass_fields__]


def add_desk(conn: Connection, workshop: str, device: str, public_key: str) -> None:
    """The office's own device: no letter, no token."""
    _add(conn, workshop, device, say("server.people.desk_name"), "", "", public_key, None)


def add_phone(
    conn: Connection, workshop: str, device: str, name: str, platform: str, public_key: str
) -> tuple[Device, str]:
    """Adds a phone under the next free letter; returns it and its token, which is given only this once.

    Requires a name and a checked public key. Raises Taken if the key is known: one key, one phone.
    """
    d = tables.devices.c
    if conn.execute(select(d.id).where(d.workshop == workshop, d.public_key == public_key)).first():
        raise Taken("key_known", "public_key", say("server.phones.joined_already"))
    count = len(conn.execute(select(d.letter).where(d.workshop == workshop, d.letter != "")).all())
    token = secrets.new_token()
    _add(conn, workshop, device, name, letter_of(count), platform, public_key, secrets.keep_token(token))
    return get(conn, workshop, device), token


def renew_token(conn: Connection, workshop: str, device: str) -> tuple[Device, str]:
    """A new token in place of the old one, for a phone that never got its first."""
    token = secrets.new_token()
    d = tables.devices.c
    conn.execute(
        update(tables.devices)
        .where(d.workshop == workshop, d.id == device, d.revoked.is_(None))
        .values(token=secrets.keep_token(token))
    )
    return get(conn, workshop, device), token


def letter_of(count: int) -> str:
    """A for the first phone (0), Z for the 26th, then AA, AB ...; letters are never given out twice."""
    letters = ""
    count += 1
    while count:
        count, rest = divmod(count - 1, 26)
        letters = chr(65 + rest) + letters
    return letters


def get(conn: Connection, workshop: str, device: str) -> Device:
    """Raises Unknown if there is no such device."""
    d = tables.devices.c
    columns = conn.execute(select(*_COLUMNS).where(d.workshop == workshop, d.id == device)).first()
    if not columns:
        raise Unknown("unknown_device", "device", say("server.phones.unknown"))
    return Device(*columns)


def is_known(conn: Connection, workshop: str, device: str) -> bool:
    d = tables.devices.c
    return conn.execute(select(d.id).where(d.workshop == workshop, d.id == device)).first() is not None


def by_key(conn: Connection, workshop: str, public_key: str) -> Device | None:
    """The device with this public key; None if nobody has joined with it."""
    d = tables.devices.c
    columns = conn.execute(select(*_COLUMNS).where(d.workshop == workshop, d.public_key == public_key)).first()
    return Device(*columns) if columns else None


def by_token(conn: Connection, token: str) -> Device:
    """The phone that holds this token, blocked or not. Raises NotSignedIn."""
    d = tables.devices.c
    query = select(*_COLUMNS).where(d.token == secrets.keep_token(token))
    columns = conn.execute(query).first() if token else None
    if not columns:
        raise NotSignedIn(
            "unknown_device",
            "Authorization",
            say("server.phones.not_known"),
        )
    return Device(*columns)


def all_of(conn: Connection, workshop: str) -> list[Device]:
    """Every phone and the desk, in order of enrolment."""
    d = tables.devices.c
    query = select(*_COLUMNS).where(d.workshop == workshop).order_by(d.enrolled, d.id)
    return [Device(*columns) for columns in conn.execute(query)]


def phones(conn: Connection, workshop: str) -> list[Device]:
    """Every phone, without the desk."""
    return [device for device in all_of(conn, workshop) if device.letter]


def revoke(conn: Connection, workshop: str, device: str, reason: str) -> Device:
    """Blocks a phone. What it has sent stays; what it still holds stays on the phone."""
    get(conn, workshop, device)
    d = tables.devices.c
    conn.execute(
        update(tables.devices)
        .where(d.workshop == workshop, d.id == device, d.revoked.is_(None))
        .values(revoked=now(), revoked_reason=reason)
    )
    return get(conn, workshop, device)


def seen(
    conn: Connection, device: Device, moment: str, announced: int | None = None, offset_ms: int | None = None
) -> None:
    """Notes when a phone was last heard, the highest number it spoke of, and how far its clock is off."""
    d = tables.devices.c
    values: dict = {"last_seen": moment, "announced": max(device.announced, announced or 0)}
    if offset_ms is not None:
        values["clock_offset_ms"] = offset_ms
    conn.execute(update(tables.devices).where(d.workshop == device.workshop, d.id == device.id).values(**values))


def _add(conn, workshop, device, name, letter, platform, public_key, token) -> None:
    conn.execute(
        insert(tables.devices),
        {
            "workshop": workshop,
            "id": device,
            "name": name,
            "letter": letter,
            "platform": platform,
            "public_key": public_key,
            "token": token,
            "enrolled": now(),
            "revoked": None,
            "revoked_reason": "",
            "last_seen": None,
            "announced": 0,
            "clock_offset_ms": None,
        },
    )
