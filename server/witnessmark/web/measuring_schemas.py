"""The shapes of a job's measurement sheets. What a sheet holds is described in trade/sheets."""

from __future__ import annotations

from marshmallow import Schema, fields, validate

from witnessmark.web.common_schemas import boolean, integer, listed, string, strings
from witnessmark.web.measuring_statements import LIMIT_SORTS, WALKS, MeasuringRules, SheetAxis


class Bounds(Schema):
    low = string()
    high = string()
    unit = string()


class Draw(Schema):
    value = fields.Float(required=True, metadata={"description": "for placing ink only"})
    U = fields.Float(required=True, allow_none=True)


class DrawLimit(Schema):
    low = fields.Float(required=True, allow_none=True)
    high = fields.Float(required=True, allow_none=True)


class Verdict(Bounds):
    limit = string("the limit's own id")
    sort = string(validate=LIMIT_SORTS)
    source = string()
    standing = string(validate=validate.OneOf(["within", "outside", "not proven", "no limit"]))
    excess = string("how far beyond the limit it lies")
    side = string("which end of the limit it is about", validate=validate.OneOf(["", "low", "high"]))
    probability = string("that the true value is within, in per cent")
    rule = string()
    settle = strings("what would settle it")
    draw = fields.Nested(DrawLimit, required=True)


class BudgetLine(Schema):
    source = string()
    words = string()
    u = string("standard uncertainty")
    share = string("of the variance, in per cent")


class Figure(Schema):
    code = string()
    words = string()
    definition = string()
    value = string(allow_none=True)
    unit = string()
    missing = strings()
    # "from" is a word of Python's own.
    made_of = strings("codes of readings", data_key="from")
    u = string("standard uncertainty", allow_none=True)
    U = string("expanded uncertainty", allow_none=True)
    k = string("coverage factor")
    dof = string("degrees of freedom")
    budget = listed(BudgetLine)
    unknown = strings("why no uncertainty can be given")
    corrected = string("“corrected to 20 °C” where readings were corrected for temperature")
    overdue = strings("gauges that were past their date")
    guide = string("common practice, never a limit")
    now = listed(Verdict, "by what counts now")
    then = fields.List(
        fields.Nested(Verdict),
        required=True,
        allow_none=True,
        metadata={"description": "by what counted when it was measured; null when that is what counts now"},
    )
    draw = fields.Nested(Draw, required=True, allow_none=True)


class TakenValue(Schema):
    id = string()
    exhibit = string()
    value = string("digits as typed")
    unit = string()
    gauge = string()
    gauge_id = string()
    overdue = boolean()
    claimed = string()


class BorrowedFrom(Schema):
    procedure = string()
    place = string()
    state = string()


class Taken(Schema):
    mean = string()
    unit = string()
    n = integer()
    scatter = string("standard deviation of repeats")
    values = listed(TakenValue)
    odd = boolean()
    borrowed = fields.Nested(BorrowedFrom, required=True, allow_none=True)


class SheetPlace(Schema):
    place = string()
    name = string()
    bank = string()
    done = boolean()
    missing = strings()
    readings = fields.Dict(keys=fields.String(), values=fields.Nested(Taken), required=True)
    figures = listed(Figure)


class Across(Schema):
    code = string()
    words = string()
    definition = string()
    value = string(allow_none=True)
    unit = string()
    places = strings()
    words_said = string()


class SheetSize(Schema):
    values = strings()
    unit = string()
    source = string()


class ReadingAsked(Schema):
    code = string()
    words = string()
    quantity = string()
    optional = boolean()
    borrowed = boolean("may be taken over from another procedure")


class SheetLimit(Bounds):
    figure = string()
    sort = string(validate=LIMIT_SORTS)
    source = string()
    where = strings("place codes with * for a whole segment; none: everywhere")


class SheetOverdue(Schema):
    gauge = string("its name")
    due = string()
    count = integer("its readings on this sheet")


class SheetGauge(Schema):
    name = string()
    id = string()
    resolution = string()
    mpe = string("maximum permissible error, plus or minus")
    unit = string()
    due = string()


class Sheet(Schema):
    procedure = string("code, empty for single readings")
    edition = integer()
    name = string()
    part = string()
    state = string("as_found, machined or built")
    state_words = string()
    unit = string()
    drawing = string()
    cautions = strings()
    walk = string(validate=WALKS)
    axes = listed(SheetAxis)
    readings_asked = listed(ReadingAsked)
    sizes = fields.Dict(keys=fields.String(), values=fields.Nested(SheetSize), required=True)
    limits_now = listed(SheetLimit)
    places = listed(SheetPlace)
    across = listed(Across)
    overdue = listed(SheetOverdue)
    gauges = listed(SheetGauge)
    rule = string()
    rule_words = string()


class ForcedBy(Schema):
    place = string()
    reading = string()
    value = string()


class ProposalInput(Schema):
    name = string()
    value = string()
    source = string()


class Proposal(Schema):
    sort = string(validate=validate.OneOf(["machining", "shim", "preload", "ratio", "fit"]))
    title = string()
    lines = strings()
    inputs = listed(ProposalInput)
    formula = string()
    cautions = strings()
    forced_by = fields.Nested(ForcedBy, required=True, allow_none=True)


class Change(Schema):
    place = string()
    figure = string()
    words = string()
    change = string()
    unit = string()
    per = string("the change per `per_words`, empty when the distances are not known")
    per_words = string()


class EarlierVisit(Schema):
    job = string()
    number = string()
    opened = string(allow_none=True)
    distance = string()
    procedure = string()
    state = string("the last state it was measured in then")
    changes = listed(Change)


class JobFigures(Schema):
    sheets = listed(Sheet)
    proposals = listed(Proposal)
    wear = listed(EarlierVisit)
    rules = fields.Nested(MeasuringRules, required=True)
    distance = string()
