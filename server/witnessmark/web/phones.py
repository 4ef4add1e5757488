"""/api/phones: the phones of the workshop, inviting one and shutting one out."""

from __future__ import annotations

import segno
from flask import g, request

from witnessmark.db import db, reading, writing
from witnessmark.people import devices, invitations
from witnessmark.projections import standing
from witnessmark.sync import join
from witnessmark.web import schemas, security_log
from witnessmark.web.api import Blueprint
from witnessmark.web.auth import require_person, settings

blueprint = Blueprint("phones", __name__, url_prefix="/api/phones", description="Phones of the workshop")


@blueprint.get("")
@require_person()
@blueprint.response(200, schemas.Phones)
def every():
    """Every phone, with how much of what it announced has arrived."""
    with reading(db.engine) as conn:
        phones = devices.phones(conn, g.workshop)
        received = standing.received(conn, g.workshop, [phone.id for phone in phones])
        return {"phones": [_shown(phone, received[phone.id]) for phone in phones]}


@blueprint.post("/invite")
@require_person("manager")
@blueprint.response(201, schemas.Invitation)
def invite():
    """A one-time code for one phone, as text and as a QR code."""
    with writing(db.engine) as conn:
        made = invitations.invite(conn, g.workshop, g.person.id, settings().invitation_seconds)
    security_log.note("phone_invited")
    url = f"{(settings().public_url or request.host_url).rstrip('/')}/bay/#join={made.code}"
    qr = segno.make(url, error="m", micro=False)
    # Dark on light in the dark theme too: many phones do not read the reverse.
    drawn = qr.svg_inline(scale=5, border=4, dark="#000", light="#fff", svgclass=None, lineclass=None)
    return {"code": made.code, "url": url, "qr_svg": drawn, "expires": made.expires}


@blueprint.post("/<uuid:phone>/revoke")
@require_person("manager")
@blueprint.arguments(schemas.Revocation)
@blueprint.response(200, schemas.PhoneListed)
def revoke(payload, phone):
    """Blocks a phone; what it sent stays, and the log records that it was blocked."""
    with writing(db.engine) as conn:
        blocked = join.block(conn, settings(), g.person, str(phone), payload["reason"])
        return _shown(blocked, standing.received(conn, g.workshop, [blocked.id])[blocked.id])


def _shown(phone: devices.Device, received: int) -> dict:
    return vars(phone) | {"received": received}
