"""/api/gauges: the register of gauges, added and edited by managers."""

from __future__ import annotations

from flask import g

from witnessmark.db import db, moment_here, reading, writing
from witnessmark.people.errors import Unknown
from witnessmark.projections import items, measuring, readings
from witnessmark.sync import statements
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.measuring import gauges
from witnessmark.web import measuring_statements as schemas
from witnessmark.web.api import Blueprint
from witnessmark.web.auth import require_person, settings
from witnessmark.web.shown import Names, history

KIND = "gauge_described"

blueprint = Blueprint("gauges", __name__, url_prefix="/api/gauges", description="Gauges")


@blueprint.get("")
@require_person()
@blueprint.response(200, schemas.Gauges)
def every():
    """Every gauge as last described, by name."""
    with reading(db.engine) as conn:
        by_gauge = measuring.by_subject(measuring.statements(conn, g.workshop, KIND))
    newest = [
        described[0]["what"] | {"entry": described[0]["id"], "descriptions": len(described)}
        for described in by_gauge.values()
    ]
    shown = [gauge | {"overdue": _overdue(gauge)} for gauge in newest]
    return {"gauges": sorted(shown, key=lambda gauge: (gauge["name"].casefold(), gauge["id"]))}


@blueprint.get("/<uuid:gauge>")
@require_person()
@blueprint.response(200, schemas.GaugeShown)
def show_gauge(gauge):
    """One gauge, how it was described before, and what was measured with it."""
    with reading(db.engine) as conn:
        described = measuring.by_subject(measuring.statements(conn, g.workshop, KIND, str(gauge))).get(str(gauge))
        if described is None:
            raise Unknown("unknown_gauge", "gauge", say("server.gauges.unknown"))
        used = readings.by_gauge(conn, g.workshop, str(gauge))
        jobs = items.of_ids(conn, g.workshop, {use["job"] for use in used})
        procedures = measuring.known(conn, g.workshop).procedures
        what = described[0]["what"]
        return {
            "gauge": what,
            "entry": described[0]["id"],
            "overdue": _overdue(what),
            "history": history(described, "gauge", Names(conn, g.workshop)),
            "figures": [
                use
                | {
                    "number": jobs[use["job"]]["number"],
                    "name": procedures[use["procedure"]].data["name"] if use["procedure"] in procedures else "",
                }
                for use in used
            ],
        }


@blueprint.post("")
@require_person("manager")
@blueprint.arguments(schemas.GaugeGiven)
@blueprint.response(201, schemas.GaugeSaved)
def describe(payload):
    """Describes a gauge, new (with the id "") or changed; figures keep the description they were made with."""
    with writing(db.engine) as conn:
        statement = statements.describe(conn, settings(), g.workshop, g.person.id, KIND, payload["gauge"])
    return {"gauge": statement["what"], "entry": statement["id"]}


def _overdue(gauge: dict) -> bool:
    return not gauge["retired"] and gauges.overdue(gauge, moment_here())
