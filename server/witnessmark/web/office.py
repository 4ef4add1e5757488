"""/api/office: signing in and out, and what every page of the office shows at its head."""

from __future__ import annotations

from contextlib import suppress

from flask import g, jsonify, request

from witnessmark.db import db, reading, writing
from witnessmark.people import sessions, workshops
from witnessmark.people import sign_in as signing
from witnessmark.people.errors import NotSignedIn
from witnessmark.projections import standing
from witnessmark.sync import pull
from witnessmark.web import schemas, security_log
from witnessmark.web.api import Blueprint
from witnessmark.web.auth import cookie_name, require_mark, require_person, session_token, settings

blueprint = Blueprint("office", __name__, url_prefix="/api/office", description="Signing in to the office")


@blueprint.post("/sign-in")
@blueprint.arguments(schemas.SignIn)
@blueprint.response(200, schemas.SignedIn)
def sign_in(payload):
    """Signs a person in; the session lives in a cookie no script can read."""
    require_mark()
    with reading(db.engine) as conn:
        workshop = workshops.only(conn)
    seconds = settings().session_seconds
    token, person = signing.sign_in(
        db.engine, workshop.id, payload["name"], payload["password"], request.remote_addr or "", seconds
    )
    with writing(db.engine) as conn:
        signing.sign_out(conn, session_token())  # the one this browser had before, whoever's it was
    g.person = person
    security_log.note("signed_in", by="password")
    answer = jsonify(schemas.SignedIn().dump({"person": person}))
    answer.set_cookie(cookie_name(), token, max_age=seconds, **_cookie_rules())
    return answer


@blueprint.post("/sign-out")
@blueprint.response(204)
def sign_out():
    """Ends the session, if there is one. Records that wait on phones are not touched by it."""
    require_mark()
    with writing(db.engine) as conn:
        with suppress(NotSignedIn):
            g.person = sessions.session_of(conn, session_token()).person
        signing.sign_out(conn, session_token())
    security_log.note("signed_out")
    answer = jsonify(None)
    # Pictures that were looked at: the next person here need not see them. What phones and drafts keep stays.
    answer.headers["Clear-Site-Data"] = '"cache"'
    answer.status_code = 204
    answer.delete_cookie(cookie_name(), **_cookie_rules())
    return answer


@blueprint.get("/door")
@blueprint.response(200, schemas.Door)
def door():
    """What stands on the door before anybody has signed in: whose office this is, and whether it is invented."""
    with reading(db.engine) as conn:
        return {"workshop": workshops.only(conn).name, "demo": settings().demo}


@blueprint.get("/me")
@require_person()
@blueprint.response(200, schemas.Me)
def me():
    """Who is signed in, where, and how the log stands."""
    who = pull.identity(settings())
    with reading(db.engine) as conn:
        workshop = workshops.only(conn)
        return {
            "person": g.person,
            "workshop": {"id": workshop.id, "name": workshop.name},
            "server": who.server,
            "epoch": who.epoch,
            "head": standing.head(conn, workshop.id),
            "demo": settings().demo,
        }


def _cookie_rules() -> dict:
    # Plain http happens only on localhost, where some browsers keep no cookie that is marked secure.
    secure = settings().secure_cookies or request.is_secure
    return {"httponly": True, "samesite": "Strict", "secure": secure}
