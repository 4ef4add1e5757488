"""/api/engine-types/<id>/tightening: the sheets of an engine type. /api/jobs/<id>/tightening: the runs of a job."""

from __future__ import annotations

from flask import Response, g, jsonify, request
from sqlalchemy import Connection

from witnessmark.db import db, reading, writing
from witnessmark.people import persons
from witnessmark.people.errors import Unknown
from witnessmark.projections import measuring
from witnessmark.projections import tightening as projection
from witnessmark.sync import statements
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.tightening import sequence
from witnessmark.trade.tightening import sheets as trade
from witnessmark.web import tightening_statements as schemas
from witnessmark.web.api import Blueprint
from witnessmark.web.auth import require_person, settings
from witnessmark.web.common_schemas import JSON_FILE
from witnessmark.web.engine_types import get
from witnessmark.web.jobs import no_such_job
from witnessmark.web.shown import Names, history
from witnessmark.web.tightening_schemas import JobTightening
from witnessmark.web.torque_tools import register

KIND = "tightening_sheet_described"

blueprint = Blueprint("tightening", __name__, url_prefix="/api", description="Tightening")


@blueprint.get("/engine-types/<uuid:engine_type>/tightening")
@require_person()
@blueprint.response(200, schemas.TighteningSheets)
def every(engine_type):
    """Tightening sheets of an engine type as last described, withdrawn ones too, and the torque tools at hand."""
    with reading(db.engine) as conn:
        get(conn, str(engine_type))
        names = Names(conn, g.workshop)
        by_sheet = measuring.by_subject(measuring.statements(conn, g.workshop, KIND, engine_type=str(engine_type)))
        sheets = [
            described[0]["what"] | {"entry": described[0]["id"], "history": history(described, "sheet", names)}
            for described in by_sheet.values()
        ]
        return {"sheets": sheets, "tools": register(conn)}


@blueprint.post("/engine-types/<uuid:engine_type>/tightening")
@require_person("manager")
@blueprint.arguments(schemas.SheetGiven)
@blueprint.response(201, schemas.SheetSaved)
def describe(payload, engine_type):
    """Describes a sheet, new (with the id "") or changed; a run keeps the sheet that it was begun by."""
    with writing(db.engine) as conn:
        get(conn, str(engine_type))
        sheet = payload["sheet"] | {"engine_type": str(engine_type)}
        statement = statements.describe(conn, settings(), g.workshop, g.person.id, KIND, sheet)
    return {"sheet": statement["what"], "entry": statement["id"]}


@blueprint.post("/engine-types/<uuid:engine_type>/tightening/proposal")
@require_person()
@blueprint.arguments(schemas.JointGiven)
@blueprint.response(200, schemas.ProposedOrder)
def proposal(payload, engine_type):
    """The order that the positions of a joint's fasteners suggest. It counts when a person has confirmed it."""
    with reading(db.engine) as conn:
        known_type = get(conn, str(engine_type))
    joints = trade.joints_of(payload["joint"], known_type)
    fasteners = joints[0]["fasteners"] if joints else []
    if not fasteners:
        message = say("server.sheets.no_joint", name=known_type["name"], joint=repr(payload["joint"]))
        raise Refusal("unknown_joint", "joint", message)
    proposed = sequence.propose(fasteners)
    return proposed | {"loosening": sequence.loosening(proposed["order"])}


@blueprint.get("/engine-types/<uuid:engine_type>/tightening/<uuid:sheet>/file")
@require_person()
@blueprint.response(200, JSON_FILE, content_type="application/json")
def file(engine_type, sheet):
    """The sheet as a file to keep or to give away."""
    with reading(db.engine) as conn:
        described = measuring.statements(conn, g.workshop, KIND, str(sheet), engine_type=str(engine_type))
    if not described:
        raise Unknown("unknown_sheet", "sheet", say("server.sheets.unknown"))
    newest = described[-1]["what"]
    name = "".join(c if c.isascii() and c.isalnum() else "-" for c in newest["name"]).strip("-").lower() or "sheet"
    headers = {"Content-Disposition": f'attachment; filename="{name}.json"', "X-Content-Type-Options": "nosniff"}
    return Response(trade.write_file(newest), headers=headers, mimetype="application/json")


@blueprint.post("/engine-types/<uuid:engine_type>/tightening/file")
@require_person()
@blueprint.response(200, schemas.SheetRead)
def read_file(engine_type):
    """Reads a sheet exported in any workshop as a new one for this engine type, with its faults. Saves nothing."""
    given = trade.read_file(request.get_data()) | {"engine_type": str(engine_type)}
    with reading(db.engine) as conn:
        get(conn, str(engine_type))
        # It is given an identifier when it is saved; until then its own does for the check.
        faults = statements.sheet_faults(conn, g.workshop, given)
    return {"sheet": given | {"id": ""}, "faults": [fault.as_json() for fault in faults]}


@blueprint.get("/jobs/<uuid:job>/tightening")
@require_person()
@blueprint.response(200, JobTightening)
def of_job(job):
    """The runs of a job: each stage as it was done, deviations and their answers, what is missing, who and how fast."""
    with reading(db.engine) as conn:
        runs = projection.of_job(conn, g.workshop, str(job), _managers(conn))
        if runs is None:
            raise no_such_job()
        names = Names(conn, g.workshop)
        # As made: the runs are plain already.
        return jsonify({"runs": [run | {"people": [names.person(id) for id in run["people"]]} for run in runs]})


def _managers(conn: Connection) -> set[str]:
    return {person.id for person in persons.everyone(conn, g.workshop) if person.role == "manager"}
