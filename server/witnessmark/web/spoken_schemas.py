"""The shapes of what is known of sounds: what each recogniser heard, and what a person confirmed."""

from __future__ import annotations

from marshmallow import Schema, fields, validate

from witnessmark.trade.spoken.notes import STATES
from witnessmark.web.common_schemas import IdAndName, Row, boolean, integer, listed, string

UNDECODABLE = "undecodable"
STATE = [*STATES, UNDECODABLE]
HEARD_WORD = ("string", "integer", "integer", "integer")  # the word, from ms, to ms, percent
PARTS = ["place", "point", "quantity", "value", "unit", "condition", "disposition"]


class ConfirmedBy(Schema):
    id = string("the record that says so")
    author = fields.Nested(IdAndName, required=True)
    claimed = fields.String(required=True)
    remark = fields.String(required=True)


class RecordedFromSound(Schema):
    id = fields.String(required=True)
    exhibit = fields.Integer(required=True, allow_none=True)
    said = string("what was recorded, in words, as it stands now")


class RecordDiffers(Schema):
    id = fields.String(required=True)
    exhibit = fields.Integer(required=True, allow_none=True)
    recorded = string("what was recorded, in words, as it stands now")
    heard = string("what the recogniser heard that came nearest to it")
    parts = fields.List(fields.String(validate=validate.OneOf(PARTS)), required=True)


class SpokenDifference(Schema):
    records = listed(RecordDiffers)


class HeardResult(Schema):
    engine = fields.String(required=True)
    version = fields.String(required=True)
    model = fields.String(required=True)
    model_sha256 = fields.String(required=True)
    sort = string(
        "closed: knows the words of the trade alone; free: writes whatever it hears",
        validate=validate.OneOf(["closed", "free"]),
    )
    denoised = boolean()
    vocabulary = string("SHA-256 of the words that it was given")
    text = fields.String(required=True)
    confidence = integer("percent")
    words = fields.List(Row(*HEARD_WORD), metadata={"description": "left out where sounds are listed"})


class SpokenNote(Schema):
    """Lists leave the words and their times out; one record whole has them."""

    state = string("waiting until somebody heard it; confirmed by a person", validate=validate.OneOf(STATE))
    why = string("why it cannot be decoded, or only in part; else empty")
    text = string("the words that stand")
    by = string("who said so", validate=validate.OneOf(["", "machine", "person"]))
    words = fields.List(Row(*HEARD_WORD), required=True, metadata={"description": "of the engine's result"})
    engine = string("the recogniser whose text the machine's is")
    results = listed(HeardResult)
    transcript = fields.String(required=True, allow_none=True, metadata={"description": "the record of the results"})
    confirmed = fields.Nested(ConfirmedBy, required=True, allow_none=True)
    records = listed(RecordedFromSound)
    query = fields.Nested(SpokenDifference, required=True, allow_none=True)


class SpokenQuery(Schema):
    state = fields.String(load_default="", validate=validate.OneOf(["", "query", *STATES]))
    job = fields.UUID(load_default=None, allow_none=True)
    after = fields.String(load_default="", validate=validate.Regexp(r"([01]-[0-9]{1,12})?\Z"))
    limit = fields.Integer(load_default=50, validate=validate.Range(1, 200))


class RecogniserState(Schema):
    id = fields.String(required=True)
    usable = boolean()
    why = string("why it cannot be used, or what it does without")
    next = string("what to do about it")


class SpokenTally(Schema):
    waiting = integer("the file is here and nobody heard it yet")
    coming = integer("the file has not arrived yet")
    undecodable = integer()
    transcribed = integer()
    confirmed = integer()
    queries = integer()
    recognisers = listed(RecogniserState)


class OwnWord(Schema):
    word = fields.String(required=True)
    sounds_like = fields.List(fields.String(), required=True)
    means = string("empty, or part:, condition:, quantity: or disposition: and what it is")
    retired = boolean()


class OwnWordStatement(Schema):
    position = integer()
    entry = fields.String(required=True)
    author = fields.Nested(IdAndName, required=True)
    received = fields.String(required=True)
    word = fields.Nested(OwnWord, required=True)


class OwnWords(Schema):
    words = listed(OwnWordStatement)
