"""The persons of a workshop: technicians and managers."""

from __future__ import annotations

import json
import uuid
from dataclasses import dataclass

from sqlalchemy import Connection, insert, select, update

from witnessmark.people import passwords, secrets, tables
from witnessmark.people.errors import Taken, Unknown
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say

ROLES = ("technician", "manager")
LONGEST_NAME = 80


@dataclass(frozen=True)
class Person:
    workshop: str
    id: str
    name: str
    role: str
    active: bool
    pin: dict | None
    has_password: bool

    def wire(self) -> dict:
        """What phones keep of a person, so that a shared phone can tell who is working without a network."""
        return {"id": self.id, "name": self.name, "role": self.role, "active": self.active, "pin": self.pin}


def add(conn: Connection, workshop: str, name: str, role: str, password: str = "", pin: str = "") -> Person:
    """Adds a person. Raises Taken if the name is in use, Refusal for a poor name, role, password or PIN."""
    if password:
        passwords.check(password, name)
    person = str(uuid.uuid4())
    conn.execute(
        insert(tables.persons),
        {
            "workshop": workshop,
            "id": person,
            "active": True,
            **_name(conn, workshop, name, person),
            "role": _role(role),
            "password": secrets.hash_password(password) if password else None,
            "pin": secrets.pin_verifier(pin, role) if pin else None,
        },
    )
    return get(conn, workshop, person)


def change(conn: Connection, workshop: str, person: str, **changes) -> Person:
    """Changes name, role, active, password or pin (an empty pin takes it away); what is not named stays, but a PIN made
    for a technician is taken away from a new manager.

    Raises Unknown, Taken or Refusal; the last active manager cannot be put away or made technician.
    """
    before = get(conn, workshop, person)
    values: dict = {}
    if "name" in changes:
        values |= _name(conn, workshop, changes["name"], person)
    if "role" in changes:
        values["role"] = _role(changes["role"])
    if "active" in changes:
        values["active"] = bool(changes["active"])
    if "password" in changes:
        passwords.check(changes["password"], values.get("name", before.name))
        values["password"] = secrets.hash_password(changes["password"])
    if "pin" in changes:
        role = values.get("role", before.role)
        values["pin"] = secrets.pin_verifier(changes["pin"], role) if changes["pin"] else None
    elif values.get("role", before.role) == "manager" != before.role:
        values["pin"] = None  # it may be too short for a manager, and nobody can tell from what is stored
    leaves = before.role == "manager" and (values.get("role", "manager") != "manager" or not values.get("active", True))
    if leaves and not any(p.role == "manager" and p.active and p.id != person for p in everyone(conn, workshop)):
        raise Refusal("last_manager", "role", say("server.people.last_manager", name=before.name))
    if values:
        p = tables.persons.c
        conn.execute(update(tables.persons).where(p.workshop == workshop, p.id == person).values(**values))
        if "password" in values or not values.get("active", True):
            s = tables.sessions
            conn.execute(s.delete().where(s.c.workshop == workshop, s.c.person == person))
    return get(conn, workshop, person)


def get(conn: Connection, workshop: str, person: str) -> Person:
    """Raises Unknown if there is no such person."""
    p = tables.persons.c
    columns = conn.execute(select(tables.persons).where(p.workshop == workshop, p.id == person)).first()
    if not columns:
        raise Unknown("unknown_person", "person", say("server.people.unknown"))
    return _person(columns)


def everyone(conn: Connection, workshop: str) -> list[Person]:
    """All persons, those put away included: their entries still bear their names."""
    p = tables.persons.c
    return [_person(f) for f in conn.execute(select(tables.persons).where(p.workshop == workshop).order_by(p.name))]


def ids(conn: Connection, workshop: str) -> set[str]:
    p = tables.persons.c
    return set(conn.execute(select(p.id).where(p.workshop == workshop)).scalars())


def names(conn: Connection, workshop: str) -> dict[str, str]:
    """Names by id, for whoever shows entries."""
    p = tables.persons.c
    return {person: name for person, name in conn.execute(select(p.id, p.name).where(p.workshop == workshop))}


def fold(name: str) -> str:
    """A name as it is compared: case folded, spaces closed up."""
    return " ".join(name.split()).casefold()


def _name(conn: Connection, workshop: str, name: str, person: str) -> dict:
    name = " ".join(name.split())
    if not 0 < len(name) <= LONGEST_NAME:
        raise Refusal("name", "name", say("server.people.name_needed", most=LONGEST_NAME))
    p = tables.persons.c
    query = select(p.id).where(p.workshop == workshop, p.sign_in_name == fold(name), p.id != person)
    if conn.execute(query).first():
        raise Taken("name_taken", "name", say("server.people.name_taken", name=name))
    return {"name": name, "sign_in_name": fold(name)}


def _role(role: str) -> str:
    if role not in ROLES:
        raise Refusal("role", "role", say("server.people.unknown_role", role=repr(role)))
    return role


def _person(columns) -> Person:
    pin = json.loads(columns.pin) if columns.pin else None
    return Person(columns.workshop, columns.id, columns.name, columns.role, columns.active, pin, bool(columns.password))
