"""/api/measuring-rules: how the workshop decides on limits, and in which units it shows."""

from __future__ import annotations

from flask import g

from witnessmark.db import db, reading, writing
from witnessmark.projections import measuring
from witnessmark.sync import statements
from witnessmark.trade.measuring.rules import DEFAULT
from witnessmark.web import measuring_statements as schemas
from witnessmark.web.api import Blueprint
from witnessmark.web.auth import require_person, settings
from witnessmark.web.shown import Names, history

KIND = "measuring_rules_set"

blueprint = Blueprint("measuring_rules", __name__, url_prefix="/api/measuring-rules", description="Measuring rules")


@blueprint.get("")
@require_person()
@blueprint.response(200, schemas.Rules)
def rules():
    """The rules that count now (the program's while nobody set any), and those before."""
    with reading(db.engine) as conn:
        described = measuring.statements(conn, g.workshop, KIND)[::-1]
        return {
            "rules": described[0]["what"] if described else DEFAULT,
            "history": history(described, "rules", Names(conn, g.workshop)),
        }


@blueprint.post("")
@require_person("manager")
@blueprint.arguments(schemas.RulesGiven)
@blueprint.response(201, schemas.RulesGiven)
def set_rules(payload):
    """Sets the rules. Verdicts already given stay beside those that count now."""
    with writing(db.engine) as conn:
        statement = statements.describe(conn, settings(), g.workshop, g.person.id, KIND, payload["rules"])
    return {"rules": statement["what"]}
