"""/api/procedures: the measuring procedures, those of the program and the workshop's own, taken out and in as files."""

from __future__ import annotations

from flask import Response, g, request

from witnessmark.db import db, reading, writing
from witnessmark.people.errors import Unknown
from witnessmark.projections import measuring
from witnessmark.sync import statements
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.measuring import procedures as trade
from witnessmark.web import measuring_statements as schemas
from witnessmark.web.api import Blueprint
from witnessmark.web.auth import require_person, settings
from witnessmark.web.common_schemas import JSON_FILE

KIND = "procedure_described"

blueprint = Blueprint("procedures", __name__, url_prefix="/api/procedures", description="Measuring procedures")


@blueprint.get("")
@require_person()
@blueprint.response(200, schemas.Procedures)
def every():
    """Every procedure in its newest edition: those of the program first, then the workshop's own."""
    with reading(db.engine) as conn:
        known = measuring.known(conn, g.workshop).procedures
        described = measuring.statements(conn, g.workshop, KIND)
    positions = {statement["subject"]: statement["position"] for statement in described}
    return {
        "procedures": [
            {
                "procedure": statement.data,
                "built_in": not statement.entry,
                "entry": statement.entry,
                "position": positions.get(code),
            }
            for code, statement in known.items()
        ]
    }


@blueprint.post("")
@require_person("manager")
@blueprint.arguments(schemas.ProcedureGiven)
@blueprint.response(201, schemas.ProcedureSaved)
def describe(payload):
    """Describes a procedure of the workshop's own, or its next edition; readings keep the edition they were made by."""
    with writing(db.engine) as conn:
        statement = statements.describe(conn, settings(), g.workshop, g.person.id, KIND, payload["procedure"])
    return {"procedure": statement["what"], "entry": statement["id"]}


@blueprint.get("/<string:code>/file")
@require_person()
@blueprint.response(200, JSON_FILE, content_type="application/json")
def file(code):
    """The procedure as a file to keep or to give away."""
    with reading(db.engine) as conn:
        statement = measuring.known(conn, g.workshop).procedures.get(code)
    if statement is None:
        raise Unknown("unknown_procedure", "procedure", say("server.procedures.unknown"))
    headers = {"Content-Disposition": f'attachment; filename="{code}.json"', "X-Content-Type-Options": "nosniff"}
    return Response(trade.write_file(statement.data), headers=headers, mimetype="application/json")


@blueprint.post("/file")
@require_person()
@blueprint.response(200, schemas.ProcedureRead)
def read_file():
    """Reads a procedure from a file exported in any workshop, with its faults. Saves nothing."""
    procedure = trade.read_file(request.get_data())
    return {"procedure": procedure, "faults": [fault.as_json() for fault in trade.check(procedure)]}
