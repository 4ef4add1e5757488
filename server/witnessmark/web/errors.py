"""Every error becomes the same JSON, `{"code","message","where"}`, here and nowhere else."""

from __future__ import annotations

import logging
import sqlite3

from flask import Flask, Response, jsonify, request
from sqlalchemy.exc import DBAPIError
from werkzeug.exceptions import HTTPException

from witnessmark.media.errors import MediaRefusal
from witnessmark.people.errors import NotAllowed, NotSignedIn, Taken, TooMany, Unknown
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say
from witnessmark.web import security_log

log = logging.getLogger(__name__)

STATUS = {NotSignedIn: 401, NotAllowed: 403, Unknown: 404, Taken: 409, TooMany: 429}
RETRY_SECONDS = 5

WORDS = {
    400: ("bad_request", say("server.errors.bad_request")),
    404: ("not_found", say("server.errors.not_found")),
    405: ("method", say("server.errors.method")),
    413: ("too_large", say("server.errors.too_large")),
    415: ("not_json", say("server.errors.not_json")),
    422: ("bad_value", say("server.errors.bad_value")),
    500: (
        "error",
        say("server.errors.failed"),
    ),
}


def install(app: Flask) -> None:
    """Registers the handlers; to be called after the API, so that these are the ones that count."""
    app.register_error_handler(Refusal, refused)
    app.register_error_handler(MediaRefusal, media_refused)
    app.register_error_handler(DBAPIError, database_failed)
    app.register_error_handler(OSError, disk_failed)
    app.register_error_handler(UnicodeEncodeError, no_text)
    app.register_error_handler(RecursionError, too_deep)
    app.register_error_handler(HTTPException, http_failed)


def answer(status: int, code: str, message: str, where: str = "", retry: int | None = None):
    """The one shape of an error. `retry` is seconds to wait."""
    response = jsonify({"code": code, "message": message, "where": where})
    response.status_code = status
    if retry is not None:
        response.headers["Retry-After"] = str(retry)
    return response


def status_of(error: Refusal) -> int:
    """A class may say its own status; otherwise a refusal is 422: understood, and not acceptable."""
    for kind in type(error).__mro__:
        if kind in STATUS:
            return STATUS[kind]
    return getattr(error, "status", 422)


def refused(error: Refusal):
    retry = error.seconds if isinstance(error, TooMany) else getattr(error, "retry_after", None)
    status = status_of(error)
    security_log.turned_away(status, error)
    return answer(status, error.code, error.message, error.where, retry)


def media_refused(error: MediaRefusal):
    return answer(error.status, error.code, error.message, error.where, error.retry_after)


def database_failed(error: DBAPIError):
    """Busy and full are passing states: the phone keeps everything and tries again."""
    # Never the whole error: it quotes what was to be written, and owners' names and hashes of PINs are none of a log's.
    log.error("database: %s, at: %s", error.orig, error.statement)
    # The low byte: SQLite says more exactly in the others why it is busy, after a crash for example.
    kind = getattr(error.orig, "sqlite_errorcode", 0) & 0xFF
    if kind == sqlite3.SQLITE_FULL:
        return _full()
    if kind in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
        return answer(503, "busy", say("server.errors.busy"), "", RETRY_SECONDS)
    return answer(500, "database", say("server.errors.database"))


def disk_failed(error: OSError):
    log.error("disk: %s", error, exc_info=error)
    if error.errno in (28, 122):  # ENOSPC, EDQUOT
        return _full()
    return answer(500, "disk", say("server.errors.disk"))


def no_text(error: UnicodeEncodeError):
    """JSON can spell half a character (a lone surrogate), which no database and no hash can take."""
    log.warning("text: %s", error)
    return answer(422, "no_text", say("server.errors.no_text"))


def too_deep(error: RecursionError):
    log.warning("nesting: %s", error)
    return answer(400, "too_deep", say("server.errors.too_deep"))


def no_other_file(response: Response) -> Response:
    """If-Match that does not hold: werkzeug answers 412 with the whole file behind it. The refusal goes out alone."""
    if response.status_code != 412 or response.is_json:
        return response
    response.close()
    return answer(412, "other_file", say("server.errors.other_file"))


def http_failed(error: HTTPException):
    if not request.path.startswith("/api/"):
        return error
    status = error.code or 500
    code, message = WORDS.get(status, ("error", error.description or say("server.errors.failed")))
    where = ""
    if faults := (getattr(error, "data", None) or {}).get("messages"):
        where, message = first_fault(faults)
        message = say("server.errors.field", field=where or say("server.errors.request"), fault=message)
    return answer(status, code, message, where)


def first_fault(faults: object) -> tuple[str, str]:
    """The first complaint in marshmallow's nested answer, as (dotted field, sentence)."""
    path: list[str] = []
    while isinstance(faults, (dict, list)) and faults:
        if isinstance(faults, dict):
            name, faults = next(iter(faults.items()))
            path.append(str(name))
        else:
            faults = faults[0]
    # The outermost name says only where the request carried it: json, query, headers.
    return ".".join(path[1:]), str(faults)


def _full():
    return answer(
        507,
        "disk_full",
        say("server.errors.disk_full"),
        "",
        60,
    )
