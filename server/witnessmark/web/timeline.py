"""The record of a job page by page, searching in all jobs, one record whole, and what came in just now."""

from __future__ import annotations

from flask import g
from sqlalchemy import Connection

from witnessmark.db import db, reading
from witnessmark.people.errors import Unknown
from witnessmark.projections import engine_types, items, pages, spoken_notes
from witnessmark.projections.filters import Filters
from witnessmark.trade.engine.locations import related
from witnessmark.trade.engine.vocabulary import also
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say
from witnessmark.web import schemas
from witnessmark.web.api import Blueprint
from witnessmark.web.auth import require_person
from witnessmark.web.jobs import no_such_job
from witnessmark.web.shown import show

blueprint = Blueprint("timeline", __name__, url_prefix="/api", description="The record")


@blueprint.get("/jobs/<uuid:job>/timeline")
@require_person()
@blueprint.arguments(schemas.TimelineQuery, location="query")
@blueprint.response(200, schemas.TimelinePage)
def timeline(query, job):
    """A page of a job's record, in the order of receipt; cursors are exhibit numbers."""
    with reading(db.engine) as conn:
        facts = items.of_ids(conn, g.workshop, {str(job)}).get(str(job))
        if facts is None:
            raise no_such_job()
        places = _split(query.get("place"))
        if query["related"]:
            places += _touching(conn, facts["engine_type"], places)
        filters = _filters(query, places, job=str(job))
        where = {name: query.get(name) for name in ("after", "before", "around")}
        page = pages.of_job(conn, g.workshop, str(job), filters, **where, limit=query["limit"])
        return _answer(conn, page, query["q"])


@blueprint.get("/search")
@require_person()
@blueprint.arguments(schemas.FilterQuery, location="query")
@blueprint.response(200, schemas.TimelinePage)
def search(query):
    """Records of all jobs, newest first; cursors are positions."""
    filters = _filters(query, _split(query.get("place")))
    with reading(db.engine) as conn:
        page = pages.of_workshop(conn, g.workshop, filters, query.get("after"), query.get("before"), query["limit"])
        return _answer(conn, page, query["q"])


@blueprint.get("/entries/<uuid:entry>")
@require_person()
@blueprint.response(200, schemas.Entry)
def entry(entry):
    """One record whole, with the bytes that were signed."""
    with reading(db.engine) as conn:
        signed = items.signed(conn, g.workshop, str(entry))
        if signed is None:
            raise Unknown("unknown_entry", "entry", say("server.records.unknown"))
        shown = show(conn, g.workshop, [signed.pop("row")])[0]
        if shown["spoken"]:
            shown["spoken"] = spoken_notes.with_words(conn, g.workshop, shown["spoken"])
        return shown | signed


@blueprint.get("/live")
@require_person()
@blueprint.arguments(schemas.LiveQuery, location="query")
@blueprint.response(200, schemas.LiveAnswer)
def live(query):
    """Records received after a position; without one, the log's present size."""
    with reading(db.engine) as conn:
        newer = pages.newer(conn, g.workshop, query["job"], query["after"])
        return {"position": newer.position, "items": show(conn, g.workshop, newer.rows) if newer.rows else []}


def _answer(conn: Connection, page: pages.Page, words: str) -> dict:
    return {
        "items": show(conn, g.workshop, page.rows),
        "next": page.next,
        "previous": page.previous,
        "total": page.total,
        "also": also(words),
    }


def _filters(query: dict, places: list[str], job: str = "") -> Filters:
    since, until = query.get("since", ""), query.get("until", "")
    if since and until and since > until:
        raise Refusal("bad_value", "from", say("server.records.days_reversed", since=str(since), until=str(until)))
    return Filters(
        places=places,
        kinds=_split(query.get("kind")),
        persons=_split(query.get("person")),
        stages=_split(query.get("stage")),
        since=since,
        until=until,
        words=query["q"],
        job=job,
    )


def _touching(conn: Connection, engine_type_id: str, places: list[str]) -> list[str]:
    engine_type = engine_types.usable(conn, g.workshop, [engine_type_id]).get(engine_type_id)
    return [other for place in places for other in related(engine_type, place)] if engine_type else []


def _split(values: str | None) -> list[str]:
    return [value for value in (values or "").split(",") if value]
