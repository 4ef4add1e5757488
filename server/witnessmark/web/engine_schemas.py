"""The shapes of engine types. What one may hold is checked by trade/engine/types."""

from __future__ import annotations

from marshmallow import Schema, fields, validate

from witnessmark.web.common_schemas import AsRecorded, Faults, IdAndName, boolean, integer, listed, string, strings

SIDE = validate.OneOf(["inlet", "exhaust"])


class Bank(Schema):
    code = string()
    name = string()
    cylinders = fields.List(fields.Integer(), required=True, metadata={"description": "front to rear"})
    stagger_mm = fields.Float(required=True)


class ValvesPerCylinder(Schema):
    inlet = integer()
    exhaust = integer()


class Camshaft(Schema):
    code = string()
    bank = string()
    drives = fields.List(fields.String(validate=SIDE), required=True)


class Fastener(Schema):
    label = string()
    x_mm = fields.Float(required=True)
    y_mm = fields.Float(required=True)


class Joint(Schema):
    code = string()
    name = string()
    fasteners = listed(Fastener)


class EngineType(Schema):
    id = string()
    name = string()
    invented = boolean()
    layout = string(validate=validate.OneOf(["inline", "v", "flat", "single"]))
    bank_angle = fields.Float(required=True)
    cylinders = integer()
    banks = listed(Bank)
    crankpins = fields.List(
        fields.List(fields.Integer()),
        required=True,
        metadata={"description": "from the front: which cylinders each carries"},
    )
    mains = integer()
    firing_order = fields.List(fields.Integer(), required=True)
    rotation = string("seen from the front", validate=validate.OneOf(["clockwise", "anticlockwise"]))
    front = string(validate=validate.OneOf(["away_from_flywheel", "flywheel_end"]))
    valves = fields.Nested(ValvesPerCylinder, required=True)
    camshafts = listed(Camshaft)
    joints = listed(Joint)
    pieces = strings("optional parts that it has")
    notes = string()


class EngineTypeGiven(Schema):
    engine_type = AsRecorded(EngineType, required=True, metadata={"description": 'the id "" makes a new one'})


class EngineTypeSaved(Schema):
    engine_type = AsRecorded(EngineType, required=True)


class EngineTypes(Schema):
    engine_types = fields.List(AsRecorded(EngineType), required=True)


class EngineTypeDescribed(Schema):
    position = integer()
    author = fields.Nested(IdAndName, required=True)
    received = string()
    name = string()


class EngineTypeShown(EngineTypeSaved):
    history = listed(EngineTypeDescribed)


class EngineTypeRead(EngineTypeSaved, Faults):
    pass
