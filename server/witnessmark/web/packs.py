"""/api/packs: asking for a pack of a job, watching it grow, taking it away."""

from __future__ import annotations

from flask import Response, g, send_file

from witnessmark.db import db, reading, writing
from witnessmark.pack import shelf
from witnessmark.people.errors import Unknown
from witnessmark.projections import job_list
from witnessmark.tasks import queue
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say
from witnessmark.web import schemas
from witnessmark.web.api import Blueprint
from witnessmark.web.auth import require_person, settings
from witnessmark.web.common_schemas import FILE
from witnessmark.web.jobs import no_such_job

blueprint = Blueprint("packs", __name__, url_prefix="/api", description="Packs")


@blueprint.post("/jobs/<uuid:job>/packs")
@require_person("manager")
@blueprint.arguments(schemas.PackRequest)
@blueprint.response(202, schemas.PackStarted)
def ask(payload, job):
    """Asks for a pack; it is cut while the reader does something else."""
    with writing(db.engine) as conn:
        facts = job_list.by_id(conn, g.workshop, str(job))
        if facts is None:
            raise no_such_job()
        pack = shelf.request(conn, g.workshop, facts["id"], payload["sort"], g.person.id)
    queue.put(settings(), "pack", pack.id)
    return {"pack": pack}


@blueprint.get("/jobs/<uuid:job>/packs")
@require_person()
@blueprint.response(200, schemas.Packs)
def of_job(job):
    """The packs of a job, newest first."""
    with reading(db.engine) as conn:
        return {"packs": shelf.of_job(conn, g.workshop, str(job))}


@blueprint.get("/packs/<uuid:pack>")
@require_person()
@blueprint.response(200, schemas.Pack)
def show_pack(pack):
    """How far a pack is."""
    return _get(str(pack))


@blueprint.get("/packs/<uuid:pack>/file")
@require_person()
@blueprint.response(200, FILE, content_type="application/zip")
@blueprint.alt_response(206, schema=FILE, content_type="application/zip", description="the part that was wanted")
@blueprint.alt_response(304, description="as it was")
def file(pack) -> Response:
    """A ready pack, to be saved."""
    stored = _get(str(pack))
    if stored.state != "ready":
        raise Refusal(
            "not_ready", "pack", say("server.packs.not_ready", state=stored.words or say("server.packs.waits"))
        )
    answer = send_file(
        shelf.file_of(settings(), stored),
        mimetype="application/zip",
        as_attachment=True,
        download_name=stored.name,
        etag=stored.sha256,
        conditional=True,
    )
    answer.headers["Cache-Control"] = "private, no-cache"
    return answer


def _get(id: str) -> shelf.Pack:
    with reading(db.engine) as conn:
        stored = shelf.get(conn, g.workshop, id)
    if stored is None:
        raise Unknown("unknown_pack", "pack", say("server.packs.unknown"))
    return stored
