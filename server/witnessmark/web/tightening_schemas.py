"""The shapes of the runs of a job, as trade/record/runs.py gives them."""

from __future__ import annotations

from marshmallow import Schema, fields, validate

from witnessmark.trade.tightening.departures import SORTS
from witnessmark.web.common_schemas import IdAndName, boolean, integer, listed, string, strings
from witnessmark.web.tightening_statements import METHODS, TighteningSheet


class RunSigned(Schema):
    entry = string()
    by = string("id of a person")
    at = string("claimed time")
    remark = string()


class DepartureAnswered(Schema):
    reason = string()
    by = string("id of a person")
    entry = string()
    how = string(validate=validate.OneOf(["reason", "restart"]))


class Departure(Schema):
    key = string("stage/fastener/sort/number")
    sort = string(validate=validate.OneOf(list(SORTS)))
    stage = string("code, empty for the whole run")
    label = string("fastener, empty for the whole stage")
    words = string("a sentence")
    answered = fields.Nested(DepartureAnswered, required=True, allow_none=True)
    needs = string(validate=validate.OneOf(["reason", "manager"]))


class FastenerDone(Schema):
    label = string()
    value = string()
    unit = string()
    given = string("tap or typed")
    method = string()
    tool = string()
    tool_id = string()
    set_value = string()
    remark = string()
    at = string("claimed time")
    by = string("id of a person")
    entry = string()
    position = integer("as done, from 1")
    asked = integer("as asked, from 1; 0 for one that is not asked")
    again = boolean()


class RunStage(Schema):
    code = string()
    words = string()
    method = string(validate=METHODS)
    target = string()
    unit = string()
    minus = string()
    plus = string()
    order = strings()
    proposed = boolean()
    after = string()
    done = listed(FastenerDone)
    missing = strings()
    skipped = strings()
    restarted = integer()
    earlier = fields.List(
        fields.List(fields.Nested(FastenerDone)),
        required=True,
        metadata={"description": "what was done before each restart"},
    )


class Pace(Schema):
    stage = string()
    fasteners = integer()
    seconds = integer()
    words = string()


class RunEntryWithdrawn(Schema):
    entry = string()
    kind = string()
    label = string()
    stage = string()
    by = string("id of a person")
    at = string("claimed time")


class PreloadLine(Schema):
    usual = string("a force")
    low = string()
    high = string()
    share = string("of the proof load, empty for a class that is not known")
    by = string("the friction")


class PreloadStage(Schema):
    code = string()
    words = string()
    target = string()
    advance = string("of a nut that spins freely, in an angle stage")
    short = fields.Nested(PreloadLine, required=True, allow_none=True)
    long = fields.Nested(PreloadLine, required=True, allow_none=True)


class WordsAndValue(Schema):
    words = string()
    value = string()


class Preload(Schema):
    """An estimate in words, never a limit."""

    thread = string()
    unknown = string("why there is none")
    sizes = listed(WordsAndValue, "of the thread")
    loads = listed(WordsAndValue, "of its property class")
    stages = listed(PreloadStage)
    assumptions = strings()
    cautions = strings()


class TighteningRun(Schema):
    run = string("id of the run")
    joint = string()
    joint_name = string()
    direction = string(validate=validate.OneOf(["tighten", "loosen"]))
    bolts = string("new, used or unknown; empty while the beginning has not arrived")
    use = integer("how often the bolts were tightened before")
    remark = string()
    sheet = fields.Nested(
        TighteningSheet, required=True, allow_none=True, metadata={"description": "as it was when the run was begun"}
    )
    sheet_entry = string("id of the entry")
    sheet_newest = boolean("whether it still reads so")
    begun = fields.Nested(RunSigned, required=True, allow_none=True)
    stage = fields.Integer(required=True, allow_none=True, metadata={"description": "index of the current one"})
    next = string("the fastener asked for next", allow_none=True)
    complete = boolean()
    stages = listed(RunStage)
    departures = listed(Departure)
    pace = listed(Pace)
    may_close = boolean()
    missing = strings("what is missing before it may be closed")
    closed = fields.Nested(RunSigned, required=True, allow_none=True)
    witnessed = fields.Nested(RunSigned, required=True, allow_none=True)
    people = listed(IdAndName)
    strays = listed(FastenerDone)
    withdrawn = listed(RunEntryWithdrawn)
    preload = fields.Nested(Preload, required=True, allow_none=True, metadata={"description": "null without a sheet"})
    exhibits = fields.Dict(
        keys=fields.String(), values=fields.String(), required=True, metadata={"description": "entry -> its number"}
    )


class JobTightening(Schema):
    runs = listed(TighteningRun)
