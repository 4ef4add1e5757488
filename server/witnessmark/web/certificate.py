"""/certificate: how a phone comes to trust the workshop's server. Page and file are made by operate/ at start."""

from __future__ import annotations

from pathlib import Path

from flask import Response

from witnessmark.trade.ground.sentences import say
from witnessmark.web.api import Blueprint
from witnessmark.web.auth import settings
from witnessmark.web.common_schemas import FILE
from witnessmark.web.fence import STYLED_ONLY

PAGE, AUTHORITY = "page.html", "workshop-ca.crt"

blueprint = Blueprint("certificate", __name__, url_prefix="/certificate", description="The workshop's certificate")


@blueprint.get("")
@blueprint.response(200, FILE, content_type="text/html")
def page() -> Response:
    """The page that says what to install and how to check it."""
    return _file(PAGE, "text/html; charset=utf-8")


@blueprint.get("/workshop-ca.crt")
@blueprint.response(200, FILE, content_type="application/x-x509-ca-cert")
def authority() -> Response:
    """The certificate of the workshop's own authority, DER."""
    return _file(AUTHORITY, "application/x-x509-ca-cert")


def _file(name: str, kind: str) -> Response:
    try:
        data = (Path(settings().certificate) / name).read_bytes()
    except FileNotFoundError:
        return Response(say("server.certificate.none"), 404, mimetype="text/plain")
    headers = {
        "Cache-Control": "no-cache",
        "X-Content-Type-Options": "nosniff",
        "Content-Security-Policy": f"{STYLED_ONLY}; img-src data:",
    }
    return Response(data, headers=headers, content_type=kind)
