"""/api/desk: what is written in the office, signed by the desk like any record of a phone."""

from __future__ import annotations

import uuid

from flask import g
from sqlalchemy import Connection

from witnessmark.db import db, writing
from witnessmark.media import store
from witnessmark.projections import items, pages
from witnessmark.sync import desk
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.record.kinds import KINDS
from witnessmark.web import schemas
from witnessmark.web.api import Blueprint
from witnessmark.web.auth import require_person, settings
from witnessmark.web.jobs import no_such_job
from witnessmark.web.shown import show

blueprint = Blueprint("desk", __name__, url_prefix="/api/desk", description="Written in the office")


@blueprint.post("/entries")
@require_person()
@blueprint.arguments(schemas.DeskEntry)
@blueprint.response(201, schemas.Item)
def write(payload):
    """Adds a record as the signed-in person. Its files must have been uploaded before. Asked twice, added once."""
    id, wanted = (str(payload[name] or "") for name in ("id", "job"))
    with writing(db.engine) as conn:
        row = id and desk.written_before(
            conn, g.workshop, id, author=g.person.id, kind=payload["kind"], job=wanted or None, body=payload["body"]
        )
        if not row:
            job, stage = _job_and_stage(conn, wanted or None, payload["kind"])
            _must_be_here(conn, payload["media"])
            row = desk.write(
                conn,
                settings(),
                g.person.id,
                payload["kind"],
                job=job,
                location=payload["location"],
                body=payload["body"],
                media=payload["media"],
                stage=stage,
                id=id,
            )
        return show(conn, g.workshop, pages.rows_at(conn, g.workshop, [row.position]))[0]


def _job_and_stage(conn: Connection, job: str | None, kind: str) -> tuple[str | None, str | None]:
    """The job a record is for and the stage it is in; opening one without an id makes the id. What belongs to
    the workshop is for no job."""
    if KINDS[kind].job == "none" and job is None:
        return None, None
    known = items.of_ids(conn, g.workshop, {job} - {None}).get(job)
    if kind != "job_opened":
        if known is None:
            raise no_such_job()
        return known["id"], known["stage"] or None
    if known:
        raise Refusal("opened", "job", say("server.jobs.open_already", number=known["number"]))
    return job or str(uuid.uuid4()), None


def _must_be_here(conn: Connection, media: list[dict]) -> None:
    """Refuses what a record would say wrongly of its files for ever."""
    lengths = store.lengths(conn, [file["sha256"] for file in media])
    for number, file in enumerate(media):
        where, length = f"media.{number}", lengths.get(file["sha256"])
        if length is None:
            raise Refusal("not_here", where, say("server.media.not_here", name=file["name"]))
        if length != file["length"]:
            message = say("server.media.other_length", name=file["name"], length=length, wanted=file["length"])
            raise Refusal("other_length", f"{where}.length", message)
