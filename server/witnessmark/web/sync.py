"""/api/sync: phones join, push, pull, and check that the log only grew."""

from __future__ import annotations

from flask import g, jsonify, request

from witnessmark.db import db, now, reading
from witnessmark.sync import join as joining
from witnessmark.sync import pull as pulling
from witnessmark.sync import receive as receiving
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say
from witnessmark.web import security_log
from witnessmark.web import sync_shapes as shapes
from witnessmark.web.api import Blueprint
from witnessmark.web.auth import require_device, settings

blueprint = Blueprint("sync", __name__, url_prefix="/api/sync", description="Phones: join, push, pull")


@blueprint.post("/join")
@blueprint.arguments(shapes.Join)
@blueprint.response(201, shapes.Joined)
def join(payload):
    """A phone joins with a one-time code and its public key."""
    _check_protocol(payload["protocol"])
    joined = joining.join(
        db.engine,
        settings(),
        code=payload["code"],
        name=payload["name"],
        public_key=payload["public_key"],
        platform=payload["platform"],
        address=request.remote_addr or "",
        proof=payload["proof"],
        earlier_id=str(payload["device"] or ""),
    )
    security_log.note("phone_joined", phone=joined["device"]["id"])
    return identified(joined, 201)


@blueprint.get("/state")
@require_device(blocked_too=True)
@blueprint.response(200, shapes.SyncState)
def state():
    """How things stand for this phone."""
    pulling.note_seen(db.engine, g.device)
    with reading(db.engine) as conn:
        return identified(pulling.state(conn, settings(), g.device))


@blueprint.post("/push")
@require_device()
@blueprint.arguments(shapes.Push)
@blueprint.response(200, shapes.Pushed)
def push(payload):
    """Receives a batch of entries; each gets its own result."""
    _check_protocol(payload["protocol"])
    most = settings().entries_per_push
    if len(payload["entries"]) > most:
        raise Refusal("too_many", "entries", say("server.sync.too_many", most=most))
    lost = frozenset(number["sequence"] for number in payload["lost"])
    batch = receiving.Push(payload["entries"], payload["device_time"], payload["announced"], lost)
    answer = receiving.receive(db.engine, settings(), g.device, batch)
    return identified(
        {
            "results": answer.results,
            "hashes": answer.hashes,
            "head": answer.head.wire(),
            "last_sequence": answer.last_sequence,
        }
    )


@blueprint.get("/pull")
@require_device()
@blueprint.arguments(shapes.Pull, location="query")
@blueprint.response(200, shapes.Pulled)
def pull(query):
    """A page of a feed, from a cursor."""
    with reading(db.engine) as conn:
        return identified(pulling.pull(conn, settings(), g.workshop, **query))


@blueprint.get("/consistency")
@require_device()
@blueprint.arguments(shapes.Span, location="query")
@blueprint.response(200, shapes.Proof)
def consistency(query):
    """Proof that the log of one size is the beginning of the log of another (RFC 9162, 2.1.4)."""
    with reading(db.engine) as conn:
        return identified({"proof": pulling.consistency(conn, g.workshop, query["older"], query["newer"])})


@blueprint.post("/inclusion")
@require_device()
@blueprint.arguments(shapes.Included)
@blueprint.response(200, shapes.InclusionProof)
def inclusion(payload):
    """Proof that the log of a size holds entries at given positions (RFC 9162, 2.1.3), each hash once."""
    with reading(db.engine) as conn:
        return identified(pulling.inclusion(conn, g.workshop, payload["size"], payload["positions"]))


@blueprint.get("/digest")
@require_device()
@blueprint.arguments(shapes.Feed, location="query")
@blueprint.response(200, shapes.FeedDigest)
def digest(query):
    """Count and digest of a feed, to prove that a phone's copy is equal."""
    with reading(db.engine) as conn:
        return identified(pulling.digest(conn, g.workshop, query["feed"], query["upto"]))


def identified(facts: dict, status: int = 200):
    """An answer that says whose it is."""
    who = pulling.identity(settings())
    facts |= {"server": who.server, "epoch": who.epoch, "protocol": pulling.PROTOCOL, "time": now()}
    response = jsonify(facts)
    response.status_code = status
    return response


def _check_protocol(protocol: int) -> None:
    if protocol != pulling.PROTOCOL:
        raise Refusal(
            "protocol",
            "protocol",
            say("server.sync.protocol", ours=str(pulling.PROTOCOL), theirs=str(protocol)),
        )
