"""The shapes of what a workshop says of its measuring: gauges, limits, sizes, procedures and rules. What each may hold
is checked by trade/measuring."""

from __future__ import annotations

from marshmallow import Schema, fields, validate

from witnessmark.web.common_schemas import AsRecorded, Faults, Statement, boolean, integer, listed, string, strings

LIMIT_SORTS = validate.OneOf(["new", "service", "machining"])
WALKS = validate.OneOf(["place", "reading"])


class Gauge(Schema):
    id = string('"" makes a new one')
    name = string()
    sort = string()
    serial = string()
    unit = string()
    low = string()
    high = string()
    resolution = string()
    mpe = string("maximum permissible error, plus or minus")
    repeatability = string("standard deviation of single readings")
    certificate = string()
    calibrated = string("a day, or empty")
    due = string("a day, or empty")
    retired = boolean()
    notes = string()


class Limit(Schema):
    id = string()
    engine_type = string()
    procedure = string()
    figure = string()
    sort = string(validate=LIMIT_SORTS)
    low = string("empty for an open end")
    high = string("empty for an open end")
    unit = string()
    where = strings("place codes with * for a whole segment; none: everywhere")
    source = string()
    valid_from = string()
    valid_until = string()
    withdrawn = boolean()
    note = string()


class Size(Schema):
    id = string()
    engine_type = string()
    procedure = string()
    code = string()
    values = strings()
    unit = string()
    where = strings()
    source = string()
    withdrawn = boolean()
    note = string()


class CodeAndWords(Schema):
    code = string()
    words = string()


class SheetAxis(Schema):
    axis = string()
    words = string()
    values = listed(CodeAndWords)


class BorrowedReading(Schema):
    procedure = string()
    figure = string()
    part = string()


class ProcedureReading(Schema):
    code = string()
    words = string()
    quantity = string()
    optional = boolean()
    borrow = fields.Nested(BorrowedReading, required=True, allow_none=True)


class ProcedureSize(Schema):
    code = string()
    words = string()
    quantity = string("empty for a text, such as a material")
    many = boolean()


class FigureGuide(Schema):
    words = string()
    of = string()
    by = string()


class FigureLine(Schema):
    code = string()
    words = string()
    kind = string()
    do = string()
    of = strings()
    along = string()
    by = string()
    definition = string()
    guide = fields.Nested(FigureGuide, required=True, allow_none=True)


class AcrossLine(Schema):
    code = string()
    words = string()
    do = string()
    of = string()
    share = string()
    definition = string()


class Procedure(Schema):
    code = string()
    edition = integer()
    name = string()
    part = string()
    quantity = string()
    about = string()
    cautions = strings()
    grid = listed(SheetAxis)
    readings = listed(ProcedureReading)
    optional = strings()
    sizes = listed(ProcedureSize)
    figures = listed(FigureLine)
    across = listed(AcrossLine)
    walk = string(validate=WALKS)
    drawing = string()


class MeasuringRules(Schema):
    rule = string(validate=validate.OneOf(["guarded", "guarded_95", "simple"]))
    shown_length = string("a unit, empty as typed")
    shown_pressure = string()
    shown_volume = string()
    shown_torque = string()
    shown_temperature = string()
    compression_share = string("per cent of the highest cylinder that the others should reach")
    temperature_half_width = string("K")
    expansion_half_width = string("per cent")
    note = string()


class GaugeGiven(Schema):
    gauge = AsRecorded(Gauge, required=True)


class GaugeStatement(Statement, GaugeGiven):
    pass


class GaugeSaved(GaugeGiven):
    entry = string("id of the entry")


class GaugeListed(Gauge):
    entry = string("id of the entry")
    descriptions = integer("how many there are")
    overdue = boolean()


class Gauges(Schema):
    gauges = fields.List(AsRecorded(GaugeListed), required=True)


class GaugeUse(Schema):
    job = string()
    number = string()
    procedure = string()
    name = string("of the procedure")
    readings = integer()
    overdue = integer("of these, made after the date that was due then")


class GaugeShown(GaugeSaved):
    overdue = boolean()
    history = listed(GaugeStatement, "the newest first")
    figures = listed(GaugeUse)


class LimitOrSize(Schema):
    limit = AsRecorded(Limit, metadata={"description": 'this or a size; the id "" makes a new one'})
    size = AsRecorded(Size)


class LimitSaved(LimitOrSize):
    entry = string("id of the entry")


class LimitStatement(Statement):
    limit = AsRecorded(Limit, required=True)


class SizeStatement(Statement):
    size = AsRecorded(Size, required=True)


class LimitListed(Limit):
    entry = string("id of the entry")
    history = listed(LimitStatement, "the newest first")


class SizeListed(Size):
    entry = string("id of the entry")
    history = listed(SizeStatement, "the newest first")


class Limits(Schema):
    limits = fields.List(AsRecorded(LimitListed), required=True, metadata={"description": "withdrawn ones too"})
    sizes = fields.List(AsRecorded(SizeListed), required=True)


class ProcedureGiven(Schema):
    procedure = AsRecorded(Procedure, required=True)


class ProcedureSaved(ProcedureGiven):
    entry = string("id of the entry")


class ProcedureListed(ProcedureGiven):
    built_in = boolean()
    entry = string("id of the entry, empty for what comes with the program")
    position = fields.Integer(required=True, allow_none=True)


class Procedures(Schema):
    procedures = listed(ProcedureListed)


class ProcedureRead(ProcedureGiven, Faults):
    pass


class RulesGiven(Schema):
    rules = AsRecorded(MeasuringRules, required=True)


class RulesStatement(Statement, RulesGiven):
    pass


class Rules(RulesGiven):
    history = listed(RulesStatement, "the newest first")
