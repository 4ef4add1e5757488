"""The shapes of what a workshop says of its tightening: sheets and torque tools. What each may hold is checked by
trade/tightening/sheets and trade/tightening/tools."""

from __future__ import annotations

from marshmallow import Schema, fields, validate

from witnessmark.web.common_schemas import (
    AsRecorded,
    Faults,
    IdAndName,
    OneOfShapes,
    Statement,
    boolean,
    integer,
    listed,
    string,
    strings,
)

METHODS = validate.OneOf(["torque", "angle", "release"])


class Thread(Schema):
    size = string()
    pitch = string()
    property_class = string(data_key="class")


class Friction(Schema):
    k = string()
    thread = string()
    head = string()


class TighteningStage(Schema):
    code = string()
    words = string()
    method = string(validate=METHODS)
    target = string()
    unit = string()
    minus = string()
    plus = string()
    order = strings("each fastener of the joint once")
    proposed = boolean("until a person has confirmed a proposed order")
    after = string()


class MeasuredHold(Schema):
    sort = string(validate=validate.OneOf(["measured"]))
    procedure = string()
    figure = string()
    where = strings()


class TickedHold(Schema):
    sort = string(validate=validate.OneOf(["ticked"]))
    stage = string()
    item = string()


class TighteningSheet(Schema):
    id = string()
    engine_type = string()
    joint = string("a joint, or a pattern with * for a whole segment")
    name = string()
    thread = fields.Nested(Thread, required=True)
    state = string("of the thread, empty when not said")
    bolt = string(validate=validate.OneOf(["reusable", "stretch"]))
    uses_most = integer("0: as long as their length allows")
    length_most = string("mm, empty for none")
    stages = listed(TighteningStage)
    friction = fields.Nested(Friction, required=True)
    two_people = boolean()
    holds = fields.List(OneOfShapes(MeasuredHold, TickedHold), required=True)
    source = string()
    withdrawn = boolean()
    note = string()


class TorqueTool(Schema):
    id = string()
    name = string()
    sort = string()
    serial = string()
    unit = string()
    low = string()
    high = string()
    accuracy_class = string(data_key="class")
    deviation = string("per cent of the value, plus or minus; empty for what its class permits")
    calibrated = string("a day, or empty")
    due = string("a day, or empty")
    cycles_most = integer("fasteners until it is calibrated again; 0: they are not counted")
    cycles_at_calibration = integer("fasteners in the record when it was calibrated")
    certificate = string()
    retired = boolean()
    notes = string()


class ToolListed(TorqueTool):
    entry = string("id of the entry")
    descriptions = integer("how many there are")
    counted = integer("fasteners in the record")
    overdue = boolean("past its date")
    overdue_said = strings("by date or by count, in sentences")


class SheetGiven(Schema):
    sheet = AsRecorded(TighteningSheet, required=True, metadata={"description": 'the id "" makes a new one'})


class SheetSaved(SheetGiven):
    entry = string("id of the entry")


class SheetRead(SheetGiven, Faults):
    pass


class SheetStatement(Statement):
    sheet = AsRecorded(TighteningSheet, required=True)


class SheetListed(TighteningSheet):
    entry = string("id of the entry")
    history = listed(SheetStatement, "the newest first")


class TighteningSheets(Schema):
    sheets = fields.List(AsRecorded(SheetListed), required=True, metadata={"description": "withdrawn ones too"})
    tools = fields.List(AsRecorded(ToolListed), required=True)


class JointGiven(Schema):
    joint = string("code of a joint, or a pattern that names several alike")


class ProposedOrder(Schema):
    order = strings("labels, the first to be tightened first")
    loosening = strings("the exact reverse")
    shape = string(validate=validate.OneOf(["round", "long", "pair", "single"]))
    words = string()


class ToolGiven(Schema):
    tool = AsRecorded(TorqueTool, required=True, metadata={"description": 'the id "" makes a new one'})


class ToolSaved(ToolGiven):
    entry = string("id of the entry")


class ToolStatement(ToolGiven):
    position = integer()
    entry = string("id of the entry")
    author = fields.Nested(IdAndName, required=True)
    received = string()


class ToolShown(ToolSaved):
    counted = integer("fasteners in the record")
    overdue = boolean("past its date")
    overdue_said = strings("by date or by count, in sentences")
    history = listed(ToolStatement, "the newest first")


class Tools(Schema):
    tools = fields.List(AsRecorded(ToolListed), required=True)
