"""The shapes of the office's questions and answers about measuring. What a sheet holds is said in trade/sheets."""

from __future__ import annotations

from marshmallow import Schema, fields

from witnessmark.web.schemas import Faults, IdAndName

TEXT = fields.String
OBJECT = {"keys": fields.String(), "required": True}


def _text(said: str = "", **more) -> fields.String:
    return fields.String(required=True, metadata={"description": said} if said else {}, **more)


class Bounds(Schema):
    low = _text()
    high = _text()
    unit = _text()


class Draw(Schema):
    value = fields.Float(required=True, metadata={"description": "for placing ink only"})
    U = fields.Float(required=True, allow_none=True)


class DrawLimit(Schema):
    low = fields.Float(required=True, allow_none=True)
    high = fields.Float(required=True, allow_none=True)


class Verdict(Bounds):
    limit = _text("the limit's own id")
    sort = _text("new, service or machining")
    source = _text()
    standing = _text("within, outside or not proven")
    excess = _text("how far beyond the limit it lies")
    side = _text("low, high or empty")
    probability = _text("that the true value is within, in per cent")
    rule = _text()
    settle = fields.List(TEXT(), required=True, metadata={"description": "what would settle it"})
    draw = fields.Nested(DrawLimit, required=True)


class BudgetLine(Schema):
    source = _text()
    words = _text()
    u = _text("standard uncertainty")
    share = _text("of the variance, in per cent")


class Figure(Schema):
    code = _text()
    words = _text()
    definition = _text()
    value = _text(allow_none=True)
    unit = _text()
    missing = fields.List(TEXT(), required=True)
    # "from" is a word of Python's own.
    made_of = fields.List(TEXT(), required=True, data_key="from", metadata={"description": "codes of readings"})
    u = _text("standard uncertainty", allow_none=True)
    U = _text("expanded uncertainty", allow_none=True)
    k = _text("coverage factor")
    dof = _text("degrees of freedom")
    budget = fields.List(fields.Nested(BudgetLine), required=True)
    unknown = fields.List(TEXT(), required=True, metadata={"description": "why no uncertainty can be given"})
    corrected = _text("“as at 20 °C” where readings were corrected for temperature")
    overdue = fields.List(TEXT(), required=True, metadata={"description": "gauges that were past their date"})
    guide = _text("common practice, never a limit")
    now = fields.List(fields.Nested(Verdict), required=True, metadata={"description": "by what counts now"})
    then = fields.List(
        fields.Nested(Verdict),
        required=True,
        allow_none=True,
        metadata={"description": "by what counted when it was measured; null when that is what counts now"},
    )
    draw = fields.Nested(Draw, required=True, allow_none=True)


class TakenValue(Schema):
    id = _text()
    exhibit = _text()
    value = _text("digits as typed")
    unit = _text()
    gauge = _text()
    gauge_id = _text()
    overdue = fields.Boolean(required=True)
    claimed = _text()


class Taken(Schema):
    mean = _text()
    unit = _text()
    n = fields.Integer(required=True)
    scatter = _text("standard deviation of repeats")
    values = fields.List(fields.Nested(TakenValue), required=True)
    odd = fields.Boolean(required=True)
    borrowed = fields.Dict(**OBJECT, values=TEXT(), allow_none=True)


class SheetPlace(Schema):
    place = _text()
    name = _text()
    bank = _text()
    done = fields.Boolean(required=True)
    missing = fields.List(TEXT(), required=True)
    readings = fields.Dict(keys=TEXT(), values=fields.Nested(Taken), required=True)
    figures = fields.List(fields.Nested(Figure), required=True)


class Across(Schema):
    code = _text()
    words = _text()
    definition = _text()
    value = _text(allow_none=True)
    unit = _text()
    places = fields.List(TEXT(), required=True)
    words_said = _text()


class Sheet(Schema):
    procedure = _text("code, empty for single readings")
    edition = fields.Integer(required=True)
    name = _text()
    part = _text()
    state = _text("as_found, machined or built")
    state_words = _text()
    unit = _text()
    drawing = _text()
    cautions = fields.List(TEXT(), required=True)
    walk = _text()
    axes = fields.List(fields.Dict(), required=True)
    readings_asked = fields.List(fields.Dict(), required=True)
    sizes = fields.Dict(keys=TEXT(), values=fields.Dict(), required=True)
    limits_now = fields.List(fields.Dict(), required=True)
    places = fields.List(fields.Nested(SheetPlace), required=True)
    across = fields.List(fields.Nested(Across), required=True)
    overdue = fields.List(fields.Dict(), required=True)
    gauges = fields.List(fields.Dict(), required=True)
    rule = _text()
    rule_words = _text()


class ProposalInput(Schema):
    name = _text()
    value = _text()
    source = _text()


class Proposal(Schema):
    sort = _text()
    title = _text()
    lines = fields.List(TEXT(), required=True)
    inputs = fields.List(fields.Nested(ProposalInput), required=True)
    formula = _text()
    cautions = fields.List(TEXT(), required=True)
    forced_by = fields.Dict(**OBJECT, values=TEXT(), allow_none=True)


class Change(Schema):
    place = _text()
    figure = _text()
    words = _text()
    change = _text()
    unit = _text()
    per = _text("the change per `per_words`, empty when the distances are not known")
    per_words = _text()


class EarlierVisit(Schema):
    job = _text()
    number = _text()
    opened = _text(allow_none=True)
    distance = _text()
    procedure = _text()
    state = _text("the last state it was measured in then")
    changes = fields.List(fields.Nested(Change), required=True)


class JobFigures(Schema):
    sheets = fields.List(fields.Nested(Sheet), required=True)
    proposals = fields.List(fields.Nested(Proposal), required=True)
    wear = fields.List(fields.Nested(EarlierVisit), required=True)
    rules = fields.Dict(keys=TEXT(), values=TEXT(), required=True)
    distance = _text()


class Said(Schema):
    """Who said something, and when."""

    position = fields.Integer(required=True)
    entry = _text("id of the entry")
    author = fields.Nested(IdAndName, required=True)
    received = _text()


class GaugeGiven(Schema):
    gauge = fields.Dict(**OBJECT)


class GaugeSaid(Said, GaugeGiven):
    pass


class GaugeSaved(GaugeGiven):
    entry = _text("id of the entry")


class Gauges(Schema):
    gauges = fields.List(
        fields.Dict(),
        required=True,
        metadata={"description": "each gauge with `entry`, `descriptions` (how many), `overdue`"},
    )


class GaugeUse(Schema):
    job = _text()
    number = _text()
    procedure = _text()
    name = _text("of the procedure")
    readings = fields.Integer(required=True)
    overdue = fields.Integer(required=True, metadata={"description": "of these, made after the date that was due then"})


class GaugeShown(GaugeSaved):
    overdue = fields.Boolean(required=True)
    history = fields.List(fields.Nested(GaugeSaid), required=True, metadata={"description": "the newest first"})
    figures = fields.List(fields.Nested(GaugeUse), required=True)


class LimitOrSize(Schema):
    limit = fields.Dict(keys=TEXT(), metadata={"description": 'this or a size; the id "" makes a new one'})
    size = fields.Dict(keys=TEXT())


class LimitSaved(LimitOrSize):
    entry = _text("id of the entry")


class Limits(Schema):
    limits = fields.List(
        fields.Dict(),
        required=True,
        metadata={"description": "each limit with `entry` and `history`, the newest first; withdrawn ones too"},
    )
    sizes = fields.List(fields.Dict(), required=True)


class ProcedureGiven(Schema):
    procedure = fields.Dict(**OBJECT)


class ProcedureSaved(ProcedureGiven):
    entry = _text("id of the entry")


class ProcedureListed(ProcedureGiven):
    built_in = fields.Boolean(required=True)
    entry = _text("id of the entry, empty for what comes with the program")
    position = fields.Integer(required=True, allow_none=True)


class Procedures(Schema):
    procedures = fields.List(fields.Nested(ProcedureListed), required=True)


class ProcedureRead(ProcedureGiven, Faults):
    pass


class RulesGiven(Schema):
    rules = fields.Dict(**OBJECT)


class RulesSaid(Said, RulesGiven):
    pass


class Rules(RulesGiven):
    history = fields.List(fields.Nested(RulesSaid), required=True, metadata={"description": "the newest first"})
