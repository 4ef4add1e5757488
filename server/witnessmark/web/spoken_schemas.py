"""The shapes of what is known of sounds: who heard what, and what a person says is said."""

from __future__ import annotations

from marshmallow import Schema, fields, validate

from witnessmark.trade.spoken.notes import STATES

UNDECODABLE = "undecodable"
STATE = [*STATES, UNDECODABLE]
PARTS = ["place", "point", "quantity", "value", "unit", "condition", "disposition"]


def _text(told: str, **more):
    return fields.String(required=True, metadata={"description": told}, **more)


class WhoSaid(Schema):
    id = fields.String(required=True)
    name = fields.String(required=True)


class ConfirmedBy(Schema):
    id = _text("the record that says so")
    author = fields.Nested(WhoSaid, required=True)
    claimed = fields.String(required=True)
    remark = fields.String(required=True)


class RecordedFromSound(Schema):
    id = fields.String(required=True)
    exhibit = fields.Integer(required=True, allow_none=True)
    said = _text("what was recorded, in words, as it stands now")


class RecordDiffers(Schema):
    id = fields.String(required=True)
    exhibit = fields.Integer(required=True, allow_none=True)
    recorded = _text("what was recorded, in words, as it stands now")
    heard = _text("what the recogniser heard that came nearest to it")
    parts = fields.List(fields.String(validate=validate.OneOf(PARTS)), required=True)


class SpokenDifference(Schema):
    records = fields.List(fields.Nested(RecordDiffers), required=True)


class HeardResult(Schema):
    engine = fields.String(required=True)
    version = fields.String(required=True)
    model = fields.String(required=True)
    model_sha256 = fields.String(required=True)
    sort = _text("closed: knows the words of the trade alone; free: writes whatever it hears")
    denoised = fields.Boolean(required=True)
    vocabulary = _text("SHA-256 of the words that it was given")
    text = fields.String(required=True)
    confidence = fields.Integer(required=True, metadata={"description": "percent"})
    words = fields.List(fields.List(fields.Raw()), metadata={"description": "word, from ms, to ms, percent"})


class SpokenNote(Schema):
    """Lists leave the words and their times out; one record whole has them."""

    state = _text("waiting until somebody heard it; confirmed by a person", validate=validate.OneOf(STATE))
    why = _text("why it cannot be decoded, or only in part; else empty")
    text = _text("the words that stand")
    by = _text("who said so: machine, person or empty")
    words = fields.List(fields.List(fields.Raw()), required=True, metadata={"description": "of the engine's result"})
    engine = _text("the recogniser whose text the machine's is")
    results = fields.List(fields.Nested(HeardResult), required=True)
    transcript = fields.String(required=True, allow_none=True, metadata={"description": "the record of the results"})
    confirmed = fields.Nested(ConfirmedBy, required=True, allow_none=True)
    records = fields.List(fields.Nested(RecordedFromSound), required=True)
    query = fields.Nested(SpokenDifference, required=True, allow_none=True)


class SpokenQuery(Schema):
    state = fields.String(load_default="", validate=validate.OneOf(["", "query", *STATES]))
    job = fields.UUID(load_default=None, allow_none=True)
    after = fields.String(load_default="", validate=validate.Regexp(r"([01]-[0-9]{1,12})?\Z"))
    limit = fields.Integer(load_default=50, validate=validate.Range(1, 200))


class RecogniserState(Schema):
    id = fields.String(required=True)
    usable = fields.Boolean(required=True)
    why = _text("why it cannot be used, or what it does without")
    next = _text("what to do about it")


class SpokenTally(Schema):
    waiting = fields.Integer(required=True, metadata={"description": "the file is here and nobody heard it yet"})
    coming = fields.Integer(required=True, metadata={"description": "the file has not arrived yet"})
    undecodable = fields.Integer(required=True)
    transcribed = fields.Integer(required=True)
    confirmed = fields.Integer(required=True)
    queries = fields.Integer(required=True)
    recognisers = fields.List(fields.Nested(RecogniserState), required=True)


class OwnWord(Schema):
    word = fields.String(required=True)
    sounds_like = fields.List(fields.String(), required=True)
    means = _text("empty, or part:, condition:, quantity: or disposition: and what it is")
    retired = fields.Boolean(required=True)


class OwnWordSaid(Schema):
    position = fields.Integer(required=True)
    entry = fields.String(required=True)
    author = fields.Nested(WhoSaid, required=True)
    received = fields.String(required=True)
    word = fields.Nested(OwnWord, required=True)


class OwnWords(Schema):
    words = fields.List(fields.Nested(OwnWordSaid), required=True)
