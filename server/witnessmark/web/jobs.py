"""/api/jobs: the list of jobs, one job's facts, and its owner."""

from __future__ import annotations

from flask import g

from witnessmark.db import db, reading, writing
from witnessmark.people import owners
from witnessmark.people.errors import Unknown
from witnessmark.projections import job_list
from witnessmark.trade.engine.stages import STAGES
from witnessmark.trade.ground.sentences import say
from witnessmark.web import schemas
from witnessmark.web.api import Blueprint
from witnessmark.web.auth import require_person
from witnessmark.web.shown import Names

blueprint = Blueprint("jobs", __name__, url_prefix="/api/jobs", description="Jobs")


@blueprint.get("")
@require_person()
@blueprint.arguments(schemas.JobsQuery, location="query")
@blueprint.response(200, schemas.Jobs)
def jobs(query):
    """Jobs, the one opened last first; by words and by stage."""
    with reading(db.engine) as conn:
        return job_list.page(
            conn, g.workshop, query["q"], query["stage"], before=query.get("before"), limit=query["limit"]
        )


@blueprint.get("/<uuid:job>")
@require_person()
@blueprint.response(200, schemas.Job)
def job(job):
    """One job: facts, people, phones, tallies by place, checklist, other visits of its engine."""
    with reading(db.engine) as conn:
        facts = job_list.with_screen(conn, g.workshop, str(job))
        if facts is None:
            raise no_such_job()
        return _named(facts, Names(conn, g.workshop))


@blueprint.get("/<uuid:job>/owner")
@require_person()
@blueprint.response(200, schemas.Owner)
def owner(job):
    """Who brought the job: stored beside the log, so that it can be erased."""
    with reading(db.engine) as conn:
        return owners.of_job(conn, g.workshop, str(job))


@blueprint.post("/<uuid:job>/owner")
@require_person()
@blueprint.arguments(schemas.OwnerGiven)
@blueprint.response(200, schemas.Owner)
def note_owner(payload, job):
    """Notes the owner in place of what was noted before."""
    with writing(db.engine) as conn:
        if job_list.by_id(conn, g.workshop, str(job)) is None:
            raise no_such_job()
        owners.note(conn, g.workshop, str(job), owners.Owner(**payload))
        return owners.of_job(conn, g.workshop, str(job))


@blueprint.delete("/<uuid:job>/owner")
@require_person("manager")
@blueprint.response(204)
def erase_owner(job):
    """Erases the owner's personal data; the record of the engine stays."""
    with writing(db.engine) as conn:
        owners.erase(conn, g.workshop, str(job))


def no_such_job() -> Unknown:
    return Unknown("unknown_job", "job", say("server.jobs.unknown"))


def _named(facts: dict, names: Names) -> dict:
    counters, ticks = facts["counters"], facts["ticks"]
    return facts | {
        "people": [names.person(id) | {"entries": n} for id, n in counters["person"].items()],
        "devices": [names.device(id) | {"clock_offset_ms": names.clock_offset_ms(id)} for id in counters["device"]],
        "kinds": counters["kind"],
        "tallies": counters["place"],
        "stages": [
            {"code": stage["code"], "name": stage["words"], "entries": counters["stage"].get(stage["code"], 0)}
            for stage in STAGES
        ],
        "checklist": [
            _item(stage["code"], item, ticks.get((stage["code"], item["item"])), names)
            for stage in STAGES
            for item in stage["checklist"]
        ],
        "visits": [visit | {"job": visit["id"]} for visit in facts["visits"] if visit["id"] != facts["id"]],
    }


def _item(stage: str, item: dict, tick: dict | None, names: Names) -> dict:
    tick_shown = {"ticked": False, "note": "", "by": "", "when": None}
    if tick:
        by = names.person(tick["author"])["name"]
        tick_shown = {"ticked": tick["ticked"], "note": tick["note"], "by": by, "when": tick["claimed"]}
    return {"stage": stage, "item": item["item"], "words": item["words"]} | tick_shown
