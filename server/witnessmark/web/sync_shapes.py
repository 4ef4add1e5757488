"""Wire shapes of /api/sync. Fields nobody knows are refused."""

from __future__ import annotations

from marshmallow import Schema, fields, validate

OFFERED = {"type": "object", "required": ["bytes", "signature"]}


class Join(Schema):
    protocol = fields.Integer(required=True, strict=True)
    code = fields.String(required=True, validate=validate.Length(1, 40))
    name = fields.String(required=True, validate=validate.Length(1, 200))
    public_key = fields.String(required=True, validate=validate.Length(1, 400))
    platform = fields.String(load_default="", validate=validate.Length(max=400))
    device = fields.UUID(load_default=None, metadata={"description": "the id it had, if this server lost it"})


class Head(Schema):
    bytes = fields.String()
    signature = fields.String()


class Identified(Schema):
    """What every answer says of who gives it."""

    server = fields.String()
    epoch = fields.String()
    protocol = fields.Integer()
    time = fields.String()


class Named(Schema):
    id = fields.String()
    name = fields.String()


class Phone(Named):
    letter = fields.String()


class PhoneState(Phone):
    last_sequence = fields.Integer()
    last_hash = fields.String()
    revoked = fields.Boolean()


class Pin(Schema):
    salt = fields.String()
    iterations = fields.Integer()
    hash = fields.String()


class Colleague(Named):
    role = fields.String()
    active = fields.Boolean()
    pin = fields.Nested(Pin, allow_none=True)


class Joined(Identified):
    server_key = fields.String()
    workshop = fields.Nested(Named)
    device = fields.Nested(Phone)
    token = fields.String()
    people = fields.List(fields.Nested(Colleague))


class State(Identified):
    workshop = fields.Nested(Named)
    device = fields.Nested(PhoneState)
    people = fields.List(fields.Nested(Colleague))
    head = fields.Nested(Head)
    size = fields.Integer()
    chunk_bytes = fields.Integer()
    durable_size = fields.Integer()
    build = fields.String()


class Signed(Schema):
    """An entry as the phone made it: its canonical JSON as text, and the signature over those bytes."""

    bytes = fields.String(required=True)
    signature = fields.String(required=True)


class Lost(Schema):
    sequence = fields.Integer(required=True, strict=True, validate=validate.Range(min=1))


class Push(Schema):
    protocol = fields.Integer(required=True, strict=True)
    device_time = fields.String(required=True, validate=validate.Length(max=40))
    announced = fields.Integer(required=True, strict=True, validate=validate.Range(0, 2**53 - 1))
    # Taken as they come: each entry is checked by itself, so that one bad entry cannot turn away the others.
    entries = fields.List(fields.Raw(allow_none=True, metadata=OFFERED), required=True)
    lost = fields.List(fields.Nested(Lost), load_default=list, validate=validate.Length(max=1000))


class Result(Schema):
    id = fields.String()
    hash = fields.String()
    result = fields.String(validate=validate.OneOf(["stored", "duplicate", "refused", "later"]))
    code = fields.String()
    message = fields.String()
    position = fields.Integer(allow_none=True)
    received = fields.String(allow_none=True)
    stamp = fields.String(allow_none=True)


class Pushed(Identified):
    results = fields.List(fields.Nested(Result))
    head = fields.Nested(Head)
    last_sequence = fields.Integer()


class Pull(Schema):
    feed = fields.String(required=True, validate=validate.Length(1, 60))
    after = fields.Integer(load_default=0, validate=validate.Range(0, 2**53 - 1))
    before = fields.Integer(load_default=None, allow_none=True, validate=validate.Range(1, 2**53 - 1))
    limit = fields.Integer(load_default=500, validate=validate.Range(1, 1000))


class Pulled(Identified):
    feed = fields.String()
    entries = fields.List(
        fields.Nested(
            {
                "position": fields.Integer(),
                "bytes": fields.String(),
                "signature": fields.String(),
                "received": fields.String(),
                "offset_ms": fields.Integer(allow_none=True),
            }
        )
    )
    next = fields.Integer()
    more = fields.Boolean()
    size = fields.Integer()
    head = fields.Nested(Head)


class Span(Schema):
    older = fields.Integer(required=True, data_key="from", validate=validate.Range(1, 2**53 - 1))
    newer = fields.Integer(required=True, data_key="to", validate=validate.Range(1, 2**53 - 1))


class Proof(Identified):
    proof = fields.List(fields.String())


class Feed(Schema):
    feed = fields.String(required=True, validate=validate.Length(1, 60))
    upto = fields.Integer(required=True, validate=validate.Range(0, 2**53 - 1))


class Digest(Identified):
    count = fields.Integer()
    digest = fields.String()
