"""/api/spoken: sounds with what machines heard and people confirmed, how far hearing them is, and the workshop's words.

What a person confirms and a word of the workshop are written as any record of the office: POST /api/desk/entries.
"""

from __future__ import annotations

from flask import g, jsonify
from marshmallow import Schema, fields

from witnessmark.db import db, reading
from witnessmark.media import store
from witnessmark.people.errors import Unknown
from witnessmark.projections import spoken_notes
from witnessmark.speech import states
from witnessmark.tasks import queue
from witnessmark.trade.ground.sentences import say
from witnessmark.web import schemas
from witnessmark.web.api import Blueprint
from witnessmark.web.auth import require_person, settings
from witnessmark.web.common_schemas import NOTHING
from witnessmark.web.shown import Names, history, show
from witnessmark.web.spoken_schemas import OwnWords, SpokenQuery, SpokenTally

blueprint = Blueprint("spoken", __name__, url_prefix="/api/spoken", description="What was spoken")


class SpokenPage(Schema):
    items = fields.List(fields.Nested(schemas.Item), required=True)
    next = fields.String(required=True, allow_none=True, metadata={"description": "to ask `after`"})


@blueprint.get("")
@require_person()
@blueprint.arguments(SpokenQuery, location="query")
@blueprint.response(200, SpokenPage)
def spoken(query):
    """Sounds, those with an open query first, then the newest; by state and by job."""
    with reading(db.engine) as conn:
        job = str(query["job"] or "")
        page = spoken_notes.page(conn, g.workshop, query["state"], job, query["after"], query["limit"])
        return {"items": show(conn, g.workshop, page.rows), "next": page.next or None}


@blueprint.get("/tally")
@require_person()
@blueprint.response(200, SpokenTally)
def tally():
    """How far hearing the sounds is, and by whom they can be heard here."""
    with reading(db.engine) as conn:
        counts = spoken_notes.counts(conn, g.workshop)
        unheard = [sha256 for workshop, _, sha256 in spoken_notes.without_transcript(conn) if workshop == g.workshop]
        here, faults = store.which(conn, unheard), store.faults(conn, unheard)
    undecodable = sum(sha256 in faults for sha256 in unheard)
    arrived = sum(sha256 in here for sha256 in unheard)
    return {
        "waiting": arrived - undecodable,
        "coming": len(unheard) - arrived,
        "undecodable": undecodable,
        "transcribed": counts["heard"],
        "confirmed": counts.get("confirmed", 0),
        "queries": counts[spoken_notes.QUERY],
        "recognisers": [
            {name: getattr(state, name) for name in ("id", "usable", "why", "next")}
            for state in states.states(settings())
        ],
    }


@blueprint.post("/<uuid:sound>/again")
@require_person()
@blueprint.response(202, NOTHING)
def again(sound):
    """Runs today's recognisers on a sound once more. Earlier transcripts stay in the record."""
    with reading(db.engine) as conn:
        sound_read = spoken_notes.about(conn, g.workshop, str(sound))
    if sound_read is None:
        raise Unknown("unknown_entry", "sound", say("server.sounds.unknown_here"))
    queue.put(settings(), "sound", sound_read.id, "again")
    answer = jsonify(None)
    answer.status_code = 202
    return answer


@blueprint.get("/words")
@require_person()
@blueprint.response(200, OwnWords)
def words():
    """The workshop's own words, each as last stated; retired ones too."""
    with reading(db.engine) as conn:
        own_words = spoken_notes.words(conn, g.workshop)
        return {"words": history(own_words, "word", Names(conn, g.workshop))}
