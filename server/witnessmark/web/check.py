"""POST /api/check: what is wrong with something that is still being typed in the office. Nothing is saved by it."""

from __future__ import annotations

import uuid
from collections.abc import Callable, Sequence
from typing import Any

from flask import g
from marshmallow import Schema, fields, validate
from sqlalchemy import Connection

from witnessmark.db import db, reading
from witnessmark.people.errors import Unknown
from witnessmark.projections import spoken_notes
from witnessmark.sync import statements
from witnessmark.trade.engine import types as engine_types
from witnessmark.trade.ground import shapes
from witnessmark.trade.ground.errors import Fault, Refusal
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.spoken import heard, parse
from witnessmark.web import common_schemas as schemas
from witnessmark.web.api import Blueprint
from witnessmark.web.auth import require_person

blueprint = Blueprint("check", __name__, url_prefix="/api/check", description="Checked while it is typed")

_KINDS = {
    "gauge": "gauge_described",
    "limit": "limit_set",
    "size": "size_set",
    "procedure": "procedure_described",
    "measuring_rules": "measuring_rules_set",
    "tightening_sheet": "tightening_sheet_described",
    "torque_tool": "torque_tool_described",
}
_COMPARISON_FIELDS = {"sound", "text", "others"}


def _engine_type(conn: Connection, value: dict[str, Any]) -> Sequence[Fault]:
    return engine_types.check(value if value.get("id") else value | {"id": str(uuid.uuid4())})


def _heard(conn: Connection, value: dict[str, Any]) -> Sequence[Fault]:
    """Of the texts in `others`, those that do not come to the very same record as `text`, spoken to the screen of
    `sound`. Talk comes to no record, so it is never the same."""
    if (
        value.keys() != _COMPARISON_FIELDS
        or shapes.texts(20, 10_000)(value["others"])
        or shapes.text(10_000)(value["text"])
    ):
        raise Refusal("bad_value", "value", say("server.sounds.texts_to_compare"))
    if type(value["sound"]) is not str or (sound := spoken_notes.about(conn, g.workshop, value["sound"])) is None:
        raise Unknown("unknown_entry", "sound", say("server.sounds.unknown_here"))

    def meaning(text: str) -> tuple[Any, ...] | None:
        proposal = parse.read(text, sound.screen, sound.engine_type, sound.own)
        has_meaning = proposal["value"] or proposal["conditions"] or proposal["disposition"]
        return heard.meaning(proposal) if has_meaning else None

    wanted = meaning(value["text"])
    return [
        Fault(f"others.{number}", say("server.sounds.other_meaning"))
        for number, text in enumerate(value["others"])
        if wanted is None or meaning(text) != wanted
    ]


_CHECKS: dict[str, Callable[[Connection, dict[str, Any]], Sequence[Fault]]] = {
    "engine_type": _engine_type,
    "heard": _heard,
}


class Checked(Schema):
    sort = fields.String(
        required=True,
        validate=validate.OneOf([*_KINDS, *_CHECKS]),
        metadata={"description": "what the value is; heard: texts of one sound, held against the one that stands"},
    )
    value = fields.Dict(keys=fields.String(), required=True)


@blueprint.post("")
@require_person()
@blueprint.arguments(Checked)
@blueprint.response(200, schemas.Faults)
def check(request):
    """All faults of what is typed, none when it would be taken; a new one comes with the id "". Saves nothing."""
    sort, value = request["sort"], request["value"]
    with reading(db.engine) as conn:
        if sort in _KINDS:
            faults = statements.faults(conn, g.workshop, _KINDS[sort], value)
        else:
            faults = _CHECKS[sort](conn, value)
    return {"faults": [fault.as_json() for fault in faults]}
