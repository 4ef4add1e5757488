"""A phone joins the workshop, or is blocked."""

from __future__ import annotations

import base64
import binascii
import uuid

from sqlalchemy import Connection, Engine

from witnessmark.config import Settings
from witnessmark.db import reading, writing
from witnessmark.people import devices, invitations, persons, throttle, workshops
from witnessmark.people.devices import Device
from witnessmark.people.persons import Person
from witnessmark.proof.canonical import canonical
from witnessmark.proof.keys import read_spki, verify
from witnessmark.sync import desk, office
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say


def join(
    engine: Engine,
    settings: Settings,
    *,
    code: str,
    name: str,
    public_key: str,
    platform: str,
    address: str,
    proof: str,
    earlier_id: str = "",
) -> dict:
    """Enrols a phone that brings a good invitation and its public key; returns all it needs to start.

    `proof` is its signature over `statement` of the same values: without it a public key, which anybody may read in the
    log, could be joined by somebody who does not hold it, and the token of its phone be had for a code.

    A phone whose answer got lost may join again with the same code and key, or with another code as long as it was
    never heard of since: it gets a new token, not a second letter.
    `earlier_id` is the id a phone already had when a server restored from a backup no longer knows it: it keeps that
    id, and with it everything it has recorded.
    Raises NotAllowed for a bad code, TooMany for one while the address has to wait, Refusal for a bad name, key or
    proof.
    """
    request = {"code": code, "name": name, "public_key": public_key, "platform": platform, "earlier_id": earlier_id}
    name = " ".join(name.split())
    if not 0 < len(name) <= devices.LONGEST_NAME:
        raise Refusal("name", "name", say("server.phones.name_needed", most=devices.LONGEST_NAME))
    _check_key(public_key)
    _check_proof(public_key, proof, request)
    with reading(engine) as conn:
        workshop = workshops.only(conn)
        is_guess = not invitations.is_known(conn, workshop.id, code)
    if is_guess:
        # Only wrong codes are counted: whoever guesses at the same address shuts nobody out who holds a right one.
        # That bounds nothing, and need not: a code has 37 bits and is good for a quarter of an hour, in which a
        # thousand guesses a second would find it once in 160,000 times.
        with writing(engine) as conn:
            throttle.begin(conn, f"code:{address}")
    with writing(engine) as conn:
        device, token = _enrol(
            conn,
            settings,
            workshop.id,
            code=code,
            name=name,
            public_key=public_key,
            platform=platform,
            earlier_id=earlier_id,
        )
        everyone = persons.everyone(conn, workshop.id)
    return {
        "server_key": office.key(settings).public_key,
        "workshop": {"id": workshop.id, "name": workshop.name},
        "device": {"id": device.id, "name": device.name, "letter": device.letter},
        "token": token,
        "people": [person.wire() for person in everyone],
    }


def statement(*, code: str, name: str, public_key: str, platform: str, earlier_id: str = "") -> bytes:
    """What a phone signs to join, canonical JSON: the request as it sends it. The one-time code makes it fresh, and
    `purpose` keeps it apart from every entry. Raises ValueError for text that has no canonical form."""
    return canonical(
        {
            "code": code,
            "device": earlier_id,
            "name": name,
            "platform": platform,
            "public_key": public_key,
            "purpose": "join",
        }
    )


def block(conn: Connection, settings: Settings, manager: Person, device: str, reason: str) -> Device:
    """Blocks a phone and records it in the log; blocking it twice is recorded once. Raises Unknown."""
    before = devices.get(conn, manager.workshop, device)
    if before.revoked:
        return before
    if not before.letter:
        raise Refusal("desk", "device", say("server.phones.desk"))
    after = devices.revoke(conn, manager.workshop, device, reason)
    desk.write(conn, settings, manager.id, "device_revoked", body={"device": device, "reason": reason})
    return after


def _enrol(
    conn: Connection,
    settings: Settings,
    workshop: str,
    *,
    code: str,
    name: str,
    public_key: str,
    platform: str,
    earlier_id: str,
) -> tuple[Device, str]:
    joined_before = invitations.used_with(conn, workshop, code)
    known = devices.get(conn, workshop, joined_before) if joined_before else None
    if known and known.public_key == public_key and not known.revoked:
        return devices.renew_token(conn, workshop, known.id)
    inviter = invitations.inviter(conn, workshop, code)
    if earlier_id and devices.is_known(conn, workshop, earlier_id):
        same = devices.get(conn, workshop, earlier_id)
        if same.public_key == public_key and not same.revoked:
            # It lost its token, not its key: the office's fresh code vouches for it.
            invitations.use(conn, workshop, code, same.id)
            return devices.renew_token(conn, workshop, same.id)
    unheard = devices.by_key(conn, workshop, public_key)
    if unheard and unheard.last_seen is None and not unheard.revoked:
        # The answer to its first try was lost, and that code ran out before it could ask again.
        invitations.use(conn, workshop, code, unheard.id)
        return devices.renew_token(conn, workshop, unheard.id)
    id = earlier_id if earlier_id and not devices.is_known(conn, workshop, earlier_id) else str(uuid.uuid4())
    device, token = devices.add_phone(conn, workshop, id, name, platform[:200], public_key)
    invitations.use(conn, workshop, code, device.id)
    body = {"device": device.id, "name": device.name, "letter": device.letter, "public_key": public_key}
    desk.write(conn, settings, inviter, "device_enrolled", body=body)
    return device, token


def _check_key(public_key: str) -> None:
    try:
        read_spki(base64.b64decode(public_key, validate=True))
    except (ValueError, binascii.Error) as error:
        raise Refusal("public_key", "public_key", say("server.phones.bad_key", reason=error)) from None


def _check_proof(public_key: str, proof: str, request: dict) -> None:
    if not proof:
        raise Refusal("no_proof", "proof", say("server.phones.no_proof"))
    try:
        good = verify(base64.b64decode(public_key), proof, statement(**request))
    except ValueError:
        good = False
    if not good:
        raise Refusal("proof", "proof", say("server.phones.bad_proof"))
