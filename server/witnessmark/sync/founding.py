"""Founding a workshop: its database, its key, its first manager and the first entry of its log."""

from __future__ import annotations

import uuid

from sqlalchemy import Engine

from witnessmark.config import Settings
from witnessmark.db import make_engine, now, upgrade, writing
from witnessmark.log import heads
from witnessmark.log.heads import size_of
from witnessmark.media import store
from witnessmark.people import devices, persons, server_key, workshops
from witnessmark.people.persons import Person
from witnessmark.people.workshops import Workshop
from witnessmark.projections import apply as projections
from witnessmark.sync import desk, marks
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say


def found_workshop(settings: Settings, name: str, manager: str, password: str) -> tuple[Workshop, Person]:
    """Makes the data folder of a new workshop and its first manager.

    Raises Refusal if the folder holds a workshop already, or for a poor name or password; then nothing remains
    of the attempt but an empty database.
    """
    name = " ".join(name.split())
    if not name:
        raise Refusal("name", "name", say("server.workshop.name_needed"))
    settings.data.mkdir(parents=True, exist_ok=True, mode=0o700)
    engine = make_engine(settings.database)
    try:
        upgrade(engine)
        return _found_in(engine, settings, name, manager, password)
    finally:
        engine.dispose()


def _found_in(engine: Engine, settings: Settings, name: str, manager: str, password: str) -> tuple[Workshop, Person]:
    with writing(engine) as conn:
        if workshops.only(conn):
            raise Refusal("founded", "data", say("server.workshop.founded_already", folder=settings.data))
        workshop = Workshop(str(uuid.uuid4()), name, str(uuid.uuid4()), now())
        person = persons.add(conn, workshop.id, manager, "manager", password)
        # The key of an attempt that failed has signed nothing: it may be used.
        key = (
            server_key.load(settings.server_key)
            if settings.server_key.exists()
            else server_key.make(settings.server_key)
        )
        marks.renew_epoch(settings)
        workshops.add(conn, workshop)
        devices.add_desk(conn, workshop.id, workshop.desk, key.public_key)
        desk.write(conn, settings, person.id, "workshop_founded", body={"name": name, "server_key": key.public_key})
        return workshop, person


def open_workshop(settings: Settings, engine: Engine) -> Workshop | None:
    """To be called when a server starts: brings the database up to date, detects one restored from a backup, and finds
    originals again that its register lacks.

    Returns the workshop, or None before it is founded.
    """
    upgrade(engine)
    with writing(engine) as conn:
        workshop = workshops.only(conn)
        if workshop:
            # A newer program may read its projections differently: they are rebuilt from the log.
            projections.prepare(conn)
            issued = marks.issued(settings)
            marks.check_epoch(settings, size_of(conn, workshop.id))
            head = heads.latest(conn, workshop.id)
            # Whatever began the new epoch, and however far it came: the log itself has to say so.
            if head and head.epoch != marks.epoch(settings):
                row = desk.note_restored(conn, settings, issued)
                marks.note_issued(settings, row.position)
    if workshop:
        store.register_found(settings, engine)
    return workshop
