"""/api/engine-types: the engines this workshop knows, made and changed by managers, taken out and in as files."""

from __future__ import annotations

import uuid

from flask import Response, g, request
from sqlalchemy import Connection

from witnessmark.db import db, reading, writing
from witnessmark.people.errors import Unknown
from witnessmark.projections import engine_types
from witnessmark.sync import desk
from witnessmark.trade.engine import types as trade
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say
from witnessmark.web import engine_schemas as schemas
from witnessmark.web.api import Blueprint
from witnessmark.web.auth import require_person, settings
from witnessmark.web.common_schemas import JSON_FILE, Faults
from witnessmark.web.shown import Names

blueprint = Blueprint("engine_types", __name__, url_prefix="/api/engine-types", description="Engine types")


@blueprint.get("")
@require_person()
@blueprint.response(200, schemas.EngineTypes)
def every():
    """Every engine type as last described, by name."""
    with reading(db.engine) as conn:
        return {"engine_types": [described["data"] for described in engine_types.every(conn, g.workshop)]}


@blueprint.get("/<uuid:engine_type>")
@require_person()
@blueprint.response(200, schemas.EngineTypeShown)
def show_engine_type(engine_type):
    """One engine type, and who described it when."""
    with reading(db.engine) as conn:
        described = get(conn, str(engine_type))
        names = Names(conn, g.workshop)
        history = engine_types.history(conn, g.workshop, str(engine_type))
        shown = [line | {"author": names.person(line["author"])} for line in history]
        return {"engine_type": described, "history": shown}


@blueprint.post("")
@require_person("manager")
@blueprint.arguments(schemas.EngineTypeGiven)
@blueprint.response(201, schemas.EngineTypeSaved)
def describe(payload):
    """Describes an engine type, new (without an id) or changed; earlier descriptions stay in the log."""
    engine_type = payload["engine_type"]
    if not engine_type.get("id"):
        engine_type = engine_type | {"id": str(uuid.uuid4())}
    if faults := trade.check(engine_type):
        first, more = faults[0], len(faults) - 1
        message = say("server.registers.more_faults", first=first.message, count=more) if more else first.message
        raise Refusal("faulty_engine_type", first.where, message)
    with writing(db.engine) as conn:
        desk.write(conn, settings(), g.person.id, "engine_type_described", body={"engine_type": engine_type})
    return {"engine_type": engine_type}


@blueprint.post("/check")
@require_person()
@blueprint.arguments(schemas.EngineTypeGiven)
@blueprint.response(200, Faults)
def check(payload):
    """All faults of an engine type, none when it can be used. Saves nothing."""
    return {"faults": [fault.as_json() for fault in trade.check(payload["engine_type"])]}


@blueprint.post("/read-file")
@require_person()
@blueprint.response(200, schemas.EngineTypeRead)
def read_file():
    """Reads an engine type from a file exported in any workshop, with its faults. Saves nothing."""
    engine_type = trade.read_file(request.get_data())
    return {"engine_type": engine_type, "faults": [fault.as_json() for fault in trade.check(engine_type)]}


@blueprint.get("/<uuid:engine_type>/file")
@require_person()
@blueprint.response(200, JSON_FILE, content_type="application/json")
def file(engine_type):
    """The engine type as a file to keep or to give away."""
    with reading(db.engine) as conn:
        known_type = get(conn, str(engine_type))
    plain = "".join(c if c.isascii() and c.isalnum() else "-" for c in known_type["name"])
    name = plain.strip("-").lower() or "engine-type"
    headers = {"Content-Disposition": f'attachment; filename="{name}.json"', "X-Content-Type-Options": "nosniff"}
    return Response(trade.write_file(known_type), headers=headers, mimetype="application/json")


def get(conn: Connection, id: str) -> dict:
    """The newest description of an engine type. Raises Unknown."""
    newest = engine_types.newest(conn, g.workshop, id)
    if newest is None:
        raise Unknown("unknown_engine_type", "engine_type", say("server.engine_types.unknown"))
    return newest
