"""/api/torque-tools: the register of torque tools and angle gauges, described and described anew by managers."""

from __future__ import annotations

from flask import g
from flask_smorest import Blueprint
from sqlalchemy import Connection

from witnessmark.db import db, moment_here, reading, writing
from witnessmark.people.errors import Unknown
from witnessmark.projections import measuring, runs
from witnessmark.sync import statements
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.tightening import tools as torque_tools
from witnessmark.web import tightening_statements as schemas
from witnessmark.web.auth import require_person, settings
from witnessmark.web.shown import Names, history

KIND = "torque_tool_described"

blueprint = Blueprint("torque_tools", __name__, url_prefix="/api/torque-tools", description="Torque tools")


@blueprint.get("")
@require_person()
@blueprint.response(200, schemas.Tools)
def every():
    """Every torque tool as last described, by name."""
    with reading(db.engine) as conn:
        return {"tools": register(conn)}


@blueprint.get("/<uuid:tool>")
@require_person()
@blueprint.response(200, schemas.ToolShown)
def one(tool):
    """One torque tool, and how it was described before."""
    with reading(db.engine) as conn:
        told = measuring.by_subject(measuring.said(conn, g.workshop, KIND, str(tool))).get(str(tool))
        if told is None:
            raise Unknown("unknown_tool", "tool", say("server.tools.unknown"))
        what = told[0]["what"]
        return {
            "tool": what,
            "entry": told[0]["id"],
            "history": history(told, "tool", Names(conn, g.workshop)),
        } | _standing(what, runs.counted(conn, g.workshop).get(what["id"], 0))


@blueprint.post("")
@require_person("manager")
@blueprint.arguments(schemas.ToolGiven)
@blueprint.response(201, schemas.ToolSaved)
def describe(payload):
    """Describes a torque tool, new (with the id "") or anew; what was done keeps the description it was done with."""
    with writing(db.engine) as conn:
        said = statements.describe(conn, settings(), g.workshop, g.person.id, KIND, payload["tool"])
    return {"tool": said["what"], "entry": said["id"]}


def register(conn: Connection) -> list[dict]:
    """Every torque tool as last described, by name; see `schemas.Tools` for what stands beside it."""
    told = measuring.by_subject(measuring.said(conn, g.workshop, KIND))
    counted = runs.counted(conn, g.workshop)
    found = [
        said[0]["what"]
        | {"entry": said[0]["id"], "descriptions": len(said)}
        | _standing(said[0]["what"], counted.get(tool, 0))
        for tool, said in told.items()
    ]
    return sorted(found, key=lambda tool: (tool["name"].casefold(), tool["id"]))


def _standing(tool: dict, counted: int) -> dict:
    """How a tool stands today: by its date, and in all that speaks against it."""
    today = moment_here()
    late = not tool["retired"] and torque_tools.overdue_by_date(tool, today)
    said = [] if tool["retired"] else torque_tools.overdue(tool, today, counted)
    return {"counted": counted, "overdue": late, "overdue_said": said}
