"""/api/jobs/<id>/figures: the measurement sheets of a job, to be read, and to be taken away as CSV and JSON."""

from __future__ import annotations

import json

from flask import Response, g, jsonify

from witnessmark.db import db, now, reading
from witnessmark.people import workshops
from witnessmark.projections import figures
from witnessmark.trade.sheets.table import csv_bytes
from witnessmark.web import measuring_schemas as schemas
from witnessmark.web.api import Blueprint
from witnessmark.web.auth import require_person
from witnessmark.web.common_schemas import FILE, JSON_FILE
from witnessmark.web.jobs import no_such_job

FORMAT = "witnessmark figures 1"

blueprint = Blueprint("figures", __name__, url_prefix="/api/jobs", description="Figures of a job")


@blueprint.get("/<uuid:job>/figures")
@require_person()
@blueprint.response(200, schemas.JobFigures)
def of_job(job):
    """The figures of a job by procedure and state: readings, uncertainty, verdicts then and now, proposals, wear."""
    view = _figures_of(str(job))
    # As made: the sheets are plain already, and there may be thousands of readings in them.
    return jsonify({name: view[name] for name in ("sheets", "proposals", "wear", "rules", "distance")})


@blueprint.get("/<uuid:job>/figures.csv")
@require_person()
@blueprint.response(200, FILE, content_type="text/csv")
def as_csv(job):
    """One row for each reading, and one for each figure and limit, with the verdict then and now."""
    view = _figures_of(str(job))
    return _file(view, "csv", csv_bytes(view["sheets"], view["readings"]), "text/csv; charset=utf-8")


@blueprint.get("/<uuid:job>/figures.json")
@require_person()
@blueprint.response(200, JSON_FILE, content_type="application/json")
def as_json(job):
    """The same as data, with the standing readings they were made of."""
    view = _figures_of(str(job))
    with reading(db.engine) as conn:
        workshop = workshops.only(conn)
    document = {"format": FORMAT, "made": now(), "workshop": {"id": workshop.id, "name": workshop.name}}
    document["job"] = {
        name: view["job"][name] for name in ("id", "number", "vehicle", "registration", "engine_number", "opened")
    }
    document |= {name: value for name, value in view.items() if name != "job"}
    data = (json.dumps(document, indent=1, ensure_ascii=False) + "\n").encode()
    return _file(view, "json", data, "application/json")


def _figures_of(job: str) -> dict:
    with reading(db.engine) as conn:
        result = figures.of_job(conn, g.workshop, job)
    if result is None:
        raise no_such_job()
    return result


def _file(view: dict, ending: str, data: bytes, mimetype: str) -> Response:
    number = "".join(c if c.isascii() and c.isalnum() else "-" for c in view["job"]["number"]).strip("-") or "job"
    headers = {
        "Content-Disposition": f'attachment; filename="{number}-figures.{ending}"',
        "X-Content-Type-Options": "nosniff",
    }
    return Response(data, headers=headers, content_type=mimetype)
