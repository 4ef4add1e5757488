"""/api/engine-types/<id>/limits: limits and sizes of an engine type, set by managers, each with its source."""

from __future__ import annotations

from flask import g
from sqlalchemy import Connection

from witnessmark.db import db, reading, writing
from witnessmark.projections import measuring
from witnessmark.sync import statements
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say
from witnessmark.web import measuring_statements as schemas
from witnessmark.web.api import Blueprint
from witnessmark.web.auth import require_person, settings
from witnessmark.web.engine_types import get
from witnessmark.web.shown import Names, history

KINDS = {"limit": "limit_set", "size": "size_set"}

blueprint = Blueprint("limits", __name__, url_prefix="/api/engine-types", description="Limits and sizes")


@blueprint.get("/<uuid:engine_type>/limits")
@require_person()
@blueprint.response(200, schemas.Limits)
def every(engine_type):
    """Limits and sizes of an engine type as last set, withdrawn ones too, each with its earlier statements."""
    with reading(db.engine) as conn:
        get(conn, str(engine_type))
        names = Names(conn, g.workshop)
        return {f"{field}s": _every(conn, str(engine_type), field, names) for field in KINDS}


@blueprint.post("/<uuid:engine_type>/limits")
@require_person("manager")
@blueprint.arguments(schemas.LimitOrSize)
@blueprint.response(201, schemas.LimitSaved)
def set_one(payload, engine_type):
    """Sets a limit or a size, new (with the id "") or changed. Earlier verdicts stay beside those that count now."""
    if len(payload) != 1:
        raise Refusal("bad_value", "limit", say("server.limits.one_at_a_time"))
    [(field, what)] = payload.items()
    with writing(db.engine) as conn:
        get(conn, str(engine_type))
        what = what | {"engine_type": str(engine_type)}
        statement = statements.describe(conn, settings(), g.workshop, g.person.id, KINDS[field], what)
    return {field: statement["what"], "entry": statement["id"]}


def _every(conn: Connection, engine_type: str, field: str, names: Names) -> list[dict]:
    by_subject = measuring.by_subject(measuring.statements(conn, g.workshop, KINDS[field], engine_type=engine_type))
    return [
        described[0]["what"] | {"entry": described[0]["id"], "history": history(described, field, names)}
        for described in by_subject.values()
    ]
