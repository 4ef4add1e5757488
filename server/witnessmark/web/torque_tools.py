"""/api/torque-tools: the register of torque tools and angle gauges, added and edited by managers."""

from __future__ import annotations

from flask import g
from sqlalchemy import Connection

from witnessmark.db import db, moment_here, reading, writing
from witnessmark.people.errors import Unknown
from witnessmark.projections import measuring, runs
from witnessmark.sync import statements
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.tightening import tools as torque_tools
from witnessmark.web import tightening_statements as schemas
from witnessmark.web.api import Blueprint
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
def show_tool(tool):
    """One torque tool, and how it was described before."""
    with reading(db.engine) as conn:
        described = measuring.by_subject(measuring.statements(conn, g.workshop, KIND, str(tool))).get(str(tool))
        if described is None:
            raise Unknown("unknown_tool", "tool", say("server.tools.unknown"))
        what = described[0]["what"]
        return {
            "tool": what,
            "entry": described[0]["id"],
            "history": history(described, "tool", Names(conn, g.workshop)),
        } | _standing(what, runs.counted(conn, g.workshop).get(what["id"], 0))


@blueprint.post("")
@require_person("manager")
@blueprint.arguments(schemas.ToolGiven)
@blueprint.response(201, schemas.ToolSaved)
def describe(payload):
    """Describes a torque tool, new (with the id "") or changed; what was done keeps the description of that day."""
    with writing(db.engine) as conn:
        statement = statements.describe(conn, settings(), g.workshop, g.person.id, KIND, payload["tool"])
    return {"tool": statement["what"], "entry": statement["id"]}


def register(conn: Connection) -> list[dict]:
    """Every torque tool as last described, by name; see `schemas.Tools` for what stands beside it."""
    by_tool = measuring.by_subject(measuring.statements(conn, g.workshop, KIND))
    counted = runs.counted(conn, g.workshop)
    tools = [
        described[0]["what"]
        | {"entry": described[0]["id"], "descriptions": len(described)}
        | _standing(described[0]["what"], counted.get(tool, 0))
        for tool, described in by_tool.items()
    ]
    return sorted(tools, key=lambda tool: (tool["name"].casefold(), tool["id"]))


def _standing(tool: dict, counted: int) -> dict:
    """How a tool stands today: by its date, and in all that speaks against it."""
    today = moment_here()
    late = not tool["retired"] and torque_tools.overdue_by_date(tool, today)
    reasons = [] if tool["retired"] else torque_tools.overdue(tool, today, counted)
    return {"counted": counted, "overdue": late, "overdue_said": reasons}
