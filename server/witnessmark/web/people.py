"""/api/people: who works here."""

from __future__ import annotations

from flask import g

from witnessmark.db import db, reading, writing
from witnessmark.people import persons, sign_in
from witnessmark.people.errors import NotAllowed
from witnessmark.trade.ground.sentences import say
from witnessmark.web import schemas, security_log
from witnessmark.web.api import Blueprint
from witnessmark.web.auth import require_person

blueprint = Blueprint("people", __name__, url_prefix="/api/people", description="People of the workshop")

ONES_OWN = {"password", "old_password", "pin"}


@blueprint.get("")
@require_person()
@blueprint.response(200, schemas.People)
def everyone():
    """Everyone, those put away included: their records still bear their names."""
    with reading(db.engine) as conn:
        return {"people": persons.everyone(conn, g.workshop)}


@blueprint.post("")
@require_person("manager")
@blueprint.arguments(schemas.NewPerson)
@blueprint.response(201, schemas.Person)
def add(payload):
    """Adds a person."""
    with writing(db.engine) as conn:
        added = persons.add(conn, g.workshop, **payload)
    security_log.note("person_added", whom=added.id, role=added.role)
    return added


@blueprint.post("/<uuid:person>")
@require_person()
@blueprint.arguments(schemas.PersonChanges)
@blueprint.response(200, schemas.Person)
def change(payload, person):
    """Changes a person: managers everyone, everyone else their own password and PIN. One's own password is changed by
    whoever knows the old one."""
    own = str(person) == g.person.id
    if g.person.role != "manager" and not (own and payload.keys() <= ONES_OWN):
        raise NotAllowed("role", "role", say("server.people.manager_needed"))
    old_password = payload.pop("old_password", "")
    if own and "password" in payload:
        sign_in.confirm(db.engine, g.person, old_password)
    with writing(db.engine) as conn:
        changed = persons.change(conn, g.workshop, str(person), **payload)
    security_log.note(
        "person_changed", whom=changed.id, fields=sorted(payload), role=changed.role, active=changed.active
    )
    return changed
