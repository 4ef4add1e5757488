"""Wire shapes of /api/sync. Unknown fields are refused."""

from __future__ import annotations

from marshmallow import Schema, fields, validate

from witnessmark.web.common_schemas import IdAndName, boolean, integer, listed, string

OFFERED = {
    "type": "object",
    "properties": {
        "bytes": {"type": "string", "description": "the entry as the phone made it, canonical JSON"},
        "signature": {"type": "string", "description": "over those bytes"},
    },
    "required": ["bytes", "signature"],
}
# What one request may ask proofs for: each may need a block of 256 leaves of its own.
MOST_POSITIONS = 500
COUNT = {"validate": validate.Range(0, 2**53 - 1)}


class Join(Schema):
    protocol = fields.Integer(required=True, strict=True)
    code = fields.String(required=True, validate=validate.Length(1, 40))
    name = fields.String(required=True, validate=validate.Length(1, 200))
    public_key = fields.String(required=True, validate=validate.Length(1, 400))
    platform = fields.String(load_default="", validate=validate.Length(max=400))
    device = fields.UUID(load_default=None, metadata={"description": "the id it had, if this server lost it"})
    # Not required here, so that an app from before it is told to reload in words.
    proof = fields.String(
        load_default="",
        validate=validate.Length(max=100),
        metadata={"description": "its signature over the request: that it holds the private half of its key"},
    )


class SignedHead(Schema):
    bytes = string("the head of the log, canonical JSON")
    signature = string("of the server, over those bytes")


class Identified(Schema):
    """What every answer says of who gives it."""

    server = string()
    epoch = string()
    protocol = integer()
    time = string()


class JoinedPhone(IdAndName):
    letter = string()


class PhoneState(JoinedPhone):
    last_sequence = integer()
    last_hash = string()
    revoked = boolean()


class Pin(Schema):
    salt = string()
    iterations = integer()
    hash = string()


class Colleague(IdAndName):
    role = string()
    active = boolean()
    pin = fields.Nested(Pin, required=True, allow_none=True)


class Joined(Identified):
    server_key = string()
    workshop = fields.Nested(IdAndName, required=True)
    device = fields.Nested(JoinedPhone, required=True)
    token = string()
    people = listed(Colleague)


class SyncState(Identified):
    workshop = fields.Nested(IdAndName, required=True)
    device = fields.Nested(PhoneState, required=True)
    people = listed(Colleague)
    head = fields.Nested(SignedHead, required=True)
    size = integer()
    chunk_bytes = integer()
    durable_size = integer()
    build = string()


class LostNumber(Schema):
    sequence = fields.Integer(required=True, strict=True, validate=validate.Range(min=1))


class Push(Schema):
    protocol = fields.Integer(required=True, strict=True)
    device_time = fields.String(required=True, validate=validate.Length(max=40))
    announced = fields.Integer(required=True, strict=True, **COUNT)
    # Taken as they come: each entry is checked by itself, so that one bad entry cannot turn away the others.
    entries = fields.List(fields.Raw(allow_none=True, metadata=OFFERED), required=True)
    lost = fields.List(fields.Nested(LostNumber), load_default=list, validate=validate.Length(max=1000))


class PushResult(Schema):
    id = string()
    hash = string()
    result = string(validate=validate.OneOf(["stored", "duplicate", "refused", "later"]))
    code = string()
    message = string()
    position = fields.Integer(required=True, allow_none=True)
    received = fields.String(required=True, allow_none=True)
    stamp = fields.String(required=True, allow_none=True)
    path = fields.List(
        fields.Integer(),
        required=True,
        allow_none=True,
        metadata={"description": "from the stamp to the head's root: places among `hashes` (RFC 9162, 2.1.3)"},
    )


class Pushed(Identified):
    results = listed(PushResult)
    hashes = fields.List(fields.String(), required=True)
    head = fields.Nested(SignedHead, required=True)
    last_sequence = integer()


class Pull(Schema):
    feed = fields.String(required=True, validate=validate.Length(1, 60))
    after = fields.Integer(load_default=0, **COUNT)
    before = fields.Integer(load_default=None, allow_none=True, validate=validate.Range(1, 2**53 - 1))
    limit = fields.Integer(load_default=500, validate=validate.Range(1, 1000))


class PulledEntry(Schema):
    position = integer()
    bytes = string()
    signature = string()
    received = string()
    offset_ms = fields.Integer(required=True, allow_none=True)


class Pulled(Identified):
    feed = string()
    entries = listed(PulledEntry)
    next = integer()
    more = boolean()
    size = integer()
    head = fields.Nested(SignedHead, required=True)


class Span(Schema):
    older = fields.Integer(required=True, data_key="from", validate=validate.Range(1, 2**53 - 1))
    newer = fields.Integer(required=True, data_key="to", validate=validate.Range(1, 2**53 - 1))


class Proof(Identified):
    proof = fields.List(fields.String(), required=True)


class Included(Schema):
    size = fields.Integer(required=True, strict=True, validate=validate.Range(1, 2**53 - 1))
    positions = fields.List(
        fields.Integer(strict=True, validate=validate.Range(1, 2**53 - 1)),
        required=True,
        validate=validate.Length(1, MOST_POSITIONS),
    )


class InclusionProof(Identified):
    hashes = fields.List(fields.String(), required=True)
    paths = fields.List(fields.List(fields.Integer()), required=True)


class Feed(Schema):
    feed = fields.String(required=True, validate=validate.Length(1, 60))
    upto = fields.Integer(required=True, **COUNT)


class FeedDigest(Identified):
    count = integer()
    digest = string()
