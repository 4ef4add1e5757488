"""The shapes of the office's questions and answers about tightening. A sheet is described in trade/tightening/sheets, a
tool in trade/tightening/tools, a run in trade/tightening."""

from __future__ import annotations

from marshmallow import Schema, fields

from witnessmark.web.schemas import Faults, IdAndName

TEXT = fields.String
OBJECT = {"keys": fields.String(), "required": True}
TOOL = (
    "each torque tool with `entry`, `descriptions` (how many), `counted` (fasteners in the record), "
    "`overdue` (by its date) and `overdue_said` (by date or by count, in sentences)"
)


def _text(said: str = "", **more) -> fields.String:
    return fields.String(required=True, metadata={"description": said} if said else {}, **more)


def _objects(said: str) -> fields.List:
    return fields.List(fields.Dict(), required=True, metadata={"description": said})


class SheetGiven(Schema):
    sheet = fields.Dict(**OBJECT, metadata={"description": 'the id "" makes a new one'})


class SheetSaved(SheetGiven):
    entry = _text("id of the entry")


class SheetRead(SheetGiven, Faults):
    pass


class TighteningSheets(Schema):
    sheets = _objects("each sheet with `entry` and `history`, the newest first; withdrawn ones too")
    tools = _objects(TOOL)


class JointGiven(Schema):
    joint = _text("code of a joint, or a pattern that names several alike")


class ProposedOrder(Schema):
    order = fields.List(TEXT(), required=True, metadata={"description": "labels, the first to be tightened first"})
    loosening = fields.List(TEXT(), required=True, metadata={"description": "the exact reverse"})
    shape = _text("round, long, pair or single")
    words = _text()


class ToolGiven(Schema):
    tool = fields.Dict(**OBJECT, metadata={"description": 'the id "" makes a new one'})


class ToolSaved(ToolGiven):
    entry = _text("id of the entry")


class ToolSaid(ToolGiven):
    position = fields.Integer(required=True)
    entry = _text("id of the entry")
    author = fields.Nested(IdAndName, required=True)
    received = _text()


class ToolShown(ToolSaved):
    counted = fields.Integer(required=True, metadata={"description": "fasteners in the record"})
    overdue = fields.Boolean(required=True, metadata={"description": "past its date"})
    overdue_said = fields.List(TEXT(), required=True, metadata={"description": "by date or by count, in sentences"})
    history = fields.List(fields.Nested(ToolSaid), required=True, metadata={"description": "the newest first"})


class Tools(Schema):
    tools = _objects(TOOL)


class Signed(Schema):
    entry = _text()
    by = _text("id of a person")
    at = _text("claimed time")
    remark = _text()


class Answered(Schema):
    reason = _text()
    by = _text("id of a person")
    entry = _text()
    how = _text("reason or restart")


class Departure(Schema):
    key = _text("stage/fastener/sort/number")
    sort = _text()
    stage = _text("code, empty for the whole run")
    label = _text("fastener, empty for the whole stage")
    words = _text("a sentence")
    answered = fields.Nested(Answered, required=True, allow_none=True)
    needs = _text("reason or manager")


class Done(Schema):
    label = _text()
    value = _text()
    unit = _text()
    given = _text("tap or typed")
    method = _text()
    tool = _text()
    tool_id = _text()
    set_value = _text()
    remark = _text()
    at = _text("claimed time")
    by = _text("id of a person")
    entry = _text()
    position = fields.Integer(required=True, metadata={"description": "as done, from 1"})
    asked = fields.Integer(required=True, metadata={"description": "as asked, from 1; 0 for one that is not asked"})
    again = fields.Boolean(required=True)


class RunStage(Schema):
    code = _text()
    words = _text()
    method = _text("torque, angle or release")
    target = _text()
    unit = _text()
    minus = _text()
    plus = _text()
    order = fields.List(TEXT(), required=True)
    proposed = fields.Boolean(required=True)
    after = _text()
    done = fields.List(fields.Nested(Done), required=True)
    missing = fields.List(TEXT(), required=True)
    skipped = fields.List(TEXT(), required=True)
    restarted = fields.Integer(required=True)
    earlier = fields.List(
        fields.List(fields.Nested(Done)), required=True, metadata={"description": "what was done before each restart"}
    )


class Pace(Schema):
    stage = _text()
    fasteners = fields.Integer(required=True)
    seconds = fields.Integer(required=True)
    words = _text()


class TakenBack(Schema):
    entry = _text()
    kind = _text()
    label = _text()
    stage = _text()
    by = _text("id of a person")
    at = _text("claimed time")


class PreloadLine(Schema):
    usual = _text("a force")
    low = _text()
    high = _text()
    share = _text("of the proof load, empty for a class that is not known")
    by = _text("the friction")


class PreloadStage(Schema):
    code = _text()
    words = _text()
    target = _text()
    advance = _text("of a nut that spins freely, in an angle stage")
    short = fields.Nested(PreloadLine, required=True, allow_none=True)
    long = fields.Nested(PreloadLine, required=True, allow_none=True)


class Preload(Schema):
    """An estimate in words, never a limit."""

    thread = _text()
    unknown = _text("why there is none")
    sizes = _objects("{words, value} of the thread")
    loads = _objects("{words, value} of its property class")
    stages = fields.List(fields.Nested(PreloadStage), required=True)
    assumptions = fields.List(TEXT(), required=True)
    cautions = fields.List(TEXT(), required=True)


class Run(Schema):
    run = _text("id of the run")
    joint = _text()
    joint_name = _text()
    direction = _text("tighten or loosen")
    bolts = _text("new, used or unknown; empty while the beginning has not arrived")
    use = fields.Integer(required=True, metadata={"description": "how often the bolts were tightened before"})
    remark = _text()
    sheet = fields.Dict(**OBJECT, allow_none=True, metadata={"description": "as it was when the run was begun"})
    sheet_entry = _text("id of the entry")
    sheet_newest = fields.Boolean(required=True, metadata={"description": "whether it still reads so"})
    begun = fields.Nested(Signed, required=True, allow_none=True)
    stage = fields.Integer(required=True, allow_none=True, metadata={"description": "index of the current one"})
    next = _text("the fastener asked for next", allow_none=True)
    complete = fields.Boolean(required=True)
    stages = fields.List(fields.Nested(RunStage), required=True)
    departures = fields.List(fields.Nested(Departure), required=True)
    pace = fields.List(fields.Nested(Pace), required=True)
    may_close = fields.Boolean(required=True)
    missing = fields.List(TEXT(), required=True, metadata={"description": "what is missing before it may be closed"})
    closed = fields.Nested(Signed, required=True, allow_none=True)
    witnessed = fields.Nested(Signed, required=True, allow_none=True)
    people = fields.List(fields.Nested(IdAndName), required=True)
    strays = fields.List(fields.Nested(Done), required=True)
    withdrawn = fields.List(fields.Nested(TakenBack), required=True)
    preload = fields.Nested(Preload, required=True, allow_none=True, metadata={"description": "null without a sheet"})
    exhibits = fields.Dict(keys=TEXT(), values=TEXT(), required=True, metadata={"description": "entry -> its number"})


class JobTightening(Schema):
    runs = fields.List(fields.Nested(Run), required=True)
